import type { Columns } from '../ledger/columns.ts';
import { fuelAt_L_per_h, outputFor_kW } from '../plant/fuel.ts';
import { BARRED, FREE, NO_FUEL, NOTHING_kWh } from './flows.ts';
import type { GeneratorParts } from './parts.ts';
import type { Memory, StepGivens } from './step.ts';

/**
 * Decides whether the generator runs in this step and writes that into `memory`. It starts as its strategy says, and
 * whenever a step would otherwise go unmet.
 *
 * @param isFree false if shore power stands behind the loads and serves them all: then it is not wanted
 * @param canCharge true if there is a charger
 */
export function decide(
  generator: GeneratorParts,
  given: StepGivens,
  i: number,
  memory: Memory,
  isFree: boolean,
  canCharge: boolean,
): void {
  const { flows } = memory;
  if (memory.day !== given.day[i]!) newDay(generator, given.day[i]!, memory);
  const ran_h = memory.generator_on ? memory.ran_h : 0;
  let warming = 0;
  if (ran_h < generator.warm_up_h) warming = Math.min(1, (generator.warm_up_h - ran_h) / generator.step_h);
  flows.generator_most_kWh = generator.rating_kWh;
  if (generator.tank_L !== null && warming < 1) {
    const left_L = (memory.fuel_L - warming * generator.least_L) / (1 - warming);
    flows.generator_most_kWh = outputFor_kW(generator.fuel, left_L);
  }
  const most = flows.generator_most_kWh;
  let running = false;
  let hindered = FREE;
  if (isFree) {
    const { ac_rest_kWh: asked, served_else_kWh: served, held_kWh } = flows;
    const charges = canCharge && flows.room_kWh > NOTHING_kWh;
    const carries = Math.min(asked, most);
    running = memory.generator_on
      ? ran_h < generator.min_run_h ||
        (charges && held_kWh < (given.night === null ? generator.stop_kWh : given.night.stop_kWh[i]!))
      : charges && held_kWh <= (given.night === null ? generator.start_kWh : given.night.start_kWh[i]!);
    // It must not take down loads that inverter or socket would carry without it.
    const gives = generator.parallel ? Math.min(asked, carries + flows.served_alone_kWh) : carries;
    if (gives < served - NOTHING_kWh) running = false;
    // A step that would otherwise go unmet starts it, and keeps it running, if it serves more than the rest would.
    const unmet = asked - served > NOTHING_kWh;
    if (unmet && gives > served + NOTHING_kWh) running = true;
    // So does a load on the DC side, if the charger has something to spare for it.
    const unservedDc = flows.dc_short_kWh > NOTHING_kWh;
    const spares = canCharge && most > carries;
    if (unservedDc && spares && gives >= served - NOTHING_kWh) running = true;
    if (running || unmet || unservedDc) {
      hindered = hindrance(generator, given, i, memory);
      if (hindered !== FREE) running = false;
    }
  }
  if (running) memory.ran_today_h += generator.step_h;
  memory.ran_h = running ? ran_h + generator.step_h : 0;
  memory.generator_on = running;
  flows.warming = running ? warming : 0;
  flows.hindered = hindered;
}

/**
 * Books the fuel of a step in which it makes `columns.generator_kWh[i]`, and takes it from the tank: while it warms up it
 * burns as at its least load and makes nothing, then the energy falls to the rest of the step.
 */
export function burnFuel(generator: GeneratorParts, columns: Columns, i: number, memory: Memory): void {
  const made_kWh = columns.generator_kWh[i]!;
  const { warming } = memory.flows;
  const { fuel_L } = columns;
  if (warming === 0) {
    fuel_L[i] = fuelAt_L_per_h(generator.fuel, made_kWh);
  } else {
    const warm = 1 - warming;
    fuel_L[i] =
      warming * generator.least_L + (warm > 0 ? warm * fuelAt_L_per_h(generator.fuel, made_kWh / warm) : 0);
  }
  memory.fuel_L -= fuel_L[i]!;
}

/** A new local day: the daily run limit begins anew, and the tank is filled if it is time. */
function newDay(generator: GeneratorParts, day: number, memory: Memory): void {
  memory.day = day;
  memory.ran_today_h = 0;
  if (generator.tank_L !== null && day % generator.refill_every_days === 0) memory.fuel_L = generator.tank_L;
}

/** What keeps the generator from running in this step. */
function hindrance(generator: GeneratorParts, given: StepGivens, i: number, memory: Memory): number {
  if (given.generator_barred !== null && given.generator_barred[i] === 1) return BARRED;
  if (memory.ran_today_h + generator.step_h > generator.max_run_h_per_day) return BARRED;
  // Fuel for less than the least load of a step is as good as none.
  if (
    generator.tank_L !== null &&
    (memory.fuel_L < generator.least_L || memory.fuel_L <= generator.fuel.L_per_h[0]!)
  )
    return NO_FUEL;
  const fails =
    !memory.generator_on && given.start_draw !== null && given.start_draw[i]! < generator.start_failure_share;
  return fails ? BARRED : FREE;
}
