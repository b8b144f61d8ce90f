import type { Columns } from '../ledger/columns.ts';
import { type FuelCurve, fuelAt_L_per_h, fuelPerStep, outputFor_kW } from '../plant/fuel.ts';
import type { EngineGenerator } from '../plant/generator.ts';
import type { Plant } from '../plant/plant.ts';
import { BARRED, FREE, NO_FUEL, NOTHING_kWh } from './flows.ts';
import type { Memory, StepGivens } from './step.ts';

/** A generator as one step sees it; energies in kWh and fuel in litres of a step. */
export interface GeneratorParts {
  readonly step_h: number;
  readonly rating_kWh: number;
  readonly min_load_kWh: number;
  /** Stock at or below which it starts; less than nothing where none starts it. */
  readonly start_kWh: number;
  readonly stop_kWh: number;
  readonly min_run_h: number;
  readonly warm_up_h: number;
  readonly parallel: boolean;
  readonly max_run_h_per_day: number;
  readonly tank_L: number | null;
  readonly refill_every_days: number;
  readonly start_failure_share: number;
  /** Fuel of a whole step at the least load. */
  readonly least_L: number;
  readonly fuel: FuelCurve;
}

/** Works a generator out for steps of `step_h` hours. */
export function generatorPerStep(
  generator: EngineGenerator,
  capacity_kWh: number,
  step_h: number,
): GeneratorParts {
  const fuel = fuelPerStep(generator.fuel, step_h);
  const min_load_kWh = generator.min_load_kW * step_h;
  return {
    step_h,
    rating_kWh: generator.rating_kW * step_h,
    min_load_kWh,
    start_kWh: generator.start_soc === null ? -1 : generator.start_soc * capacity_kWh,
    // A bank that has reached its stop SoC but for rounding has reached it.
    stop_kWh: (generator.stop_soc - 1e-9) * capacity_kWh,
    min_run_h: generator.min_run_h - 1e-9,
    warm_up_h: generator.warm_up_h,
    parallel: generator.parallel,
    // All day is no limit: the day on which clocks go back has 25 hours.
    max_run_h_per_day:
      generator.max_run_h_per_day < 24 ? generator.max_run_h_per_day + 1e-9 : Number.POSITIVE_INFINITY,
    tank_L: generator.tank_L,
    refill_every_days: generator.refill_every_days,
    start_failure_share: generator.start_failure_share,
    least_L: fuelAt_L_per_h(fuel, min_load_kWh),
    fuel,
  };
}

/** Whether the generator runs in a step, as `decide` leaves it in `memory`. */
export interface GeneratorMemory {
  generator_on: boolean;
  /** Hours since the generator last started. */
  ran_h: number;
  /** Hours it has run on the local day `day`. */
  ran_today_h: number;
  day: number;
  /** Fuel on hand; only counted where there is a tank. */
  fuel_L: number;
}

/** Before the first step. Every number stands there from the start, so that the loop meets one shape of memory. */
export const generatorMemory = ({ generator }: Plant): GeneratorMemory => ({
  generator_on: false,
  ran_h: 0,
  ran_today_h: 0,
  day: -1,
  fuel_L: generator?.tank_L ?? 0,
});

/**
 * Decides whether the generator runs in this step and writes that into `memory`. It starts as its strategy says, and
 * whenever a step would otherwise go unserved.
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
    const unserved = asked - served > NOTHING_kWh;
    if (unserved && gives > served + NOTHING_kWh) running = true;
    // So does a load on the DC side, if the charger has something to spare for it.
    const unservedDc = flows.dc_short_kWh > NOTHING_kWh;
    const spares = canCharge && most > carries;
    if (unservedDc && spares && gives >= served - NOTHING_kWh) running = true;
    if (running || unserved || unservedDc) {
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
