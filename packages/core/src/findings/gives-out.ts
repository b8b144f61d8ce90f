import { localTime } from '../clock/clock.ts';
import { UNMET_CAUSES, type UnmetCause } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { dischargeCurrent_A, openCircuit_V } from '../plant/bank-resistive.ts';
import { deratedRating_kW } from '../plant/inverter.ts';
import { isUnmet } from './figures/unmet.ts';
import { emptiestStep, highest } from './totals.ts';
import { type UnmetFindings, unmetColumn } from './unmet.ts';

/** What gave out, or came closest to it. */
export interface GivesOutFirst {
  /** The first limit to leave load unmet, in time; null if none did. */
  readonly first_cause: UnmetCause | null;
  /** When it did, local time. */ readonly first_time: string | null;
  /** The limit behind most unmet energy; null if none. */
  readonly main_cause: UnmetCause | null;
  /** How close the plant came to each limit. Sorted, closest first. */
  readonly closest: readonly Closest[];
  /** What keeps amps of a bank back: the limits of its modules, or of a kinetic bank how fast it gives what it holds. */
  readonly bank_current_by: 'modules' | 'kinetics';
  /** What sheds loads: rules of shedding, or the `min_soc` of flexible loads. */
  readonly shed_by: 'rules' | 'min_soc';
  /** Sun that arrays on the AC side could not give in steps that an empty bank left without power. */
  readonly asleep_sun_kWh: number;
}

/** How close the plant came to a limit: 1 is at it. */
export interface Closest {
  /** A limit of the plant, the one that came closest first. */ readonly limit:
    | 'bank_energy'
    | 'bank_current'
    | 'inverter_rating'
    | 'generator_rating';
  /** How far the limit was used at most, 1 is at it; means over a step. */ readonly used_share: number;
  /** When that was, local time. */ readonly time: string;
}

/** Share of the discharge amps used in each step. */
function dischargeAmps_share({ plant: { bank }, columns, step_h, start_stock_kWh }: Ledger): Float64Array {
  const { model } = bank;
  const discharged = columns.bank_discharge_kWh;
  if (model.kind !== 'resistive') return discharged.map((kWh) => kWh / step_h / bank.max_discharge_kW);
  const most_A = bank.current_modules * bank.module_max_discharge_A;
  const resistance_ohm = model.module_resistance_ohm / bank.current_modules;
  const keep = 1 - bank.self_discharge_per_h * step_h;
  return discharged.map((kWh, i) => {
    const before_kWh = i > 0 ? columns.bank_stock_kWh[i - 1]! : start_stock_kWh;
    const stock_kWh = bank.floor_kWh + (before_kWh - bank.floor_kWh) * keep;
    const voltage_V = openCircuit_V(model.open_circuit, stock_kWh / bank.capacity_kWh);
    return dischargeCurrent_A(voltage_V, resistance_ohm, (1000 * kWh) / step_h) / most_A;
  });
}

/** How near each limit came, closest first: 1 is at it. Hourly means, so moments within a step are not seen. */
function closestLimits(ledger: Ledger): readonly Closest[] {
  const { year, columns, step_h } = ledger;
  const { bank, inverter, generator } = ledger.plant;
  const emptiest = emptiestStep(ledger);
  const near = (limit: Closest['limit'], used_share: number, step: number): Closest => ({
    limit,
    used_share,
    time: localTime(year.clock, step),
  });
  const ampsUsed = dischargeAmps_share(ledger);
  const amps = highest(ampsUsed);
  // Loads that take surplus take what the others leave of it.
  const inverterOut = columns.inverter_out_kWh.map((kWh, i) =>
    Math.max(0, kWh - columns.surplus_load_kWh[i]!),
  );
  const derated_kW = deratedRating_kW(inverter, year.sky.air_temperature_C);
  const rated_share = inverterOut.map((kWh, i) => kWh / step_h / (derated_kW?.[i] ?? inverter.rating_kW));
  const inverted = highest(rated_share);
  const list = [
    near(
      'bank_energy',
      (bank.capacity_kWh - columns.bank_stock_kWh[emptiest]!) / (bank.capacity_kWh - bank.floor_kWh),
      emptiest,
    ),
    near('bank_current', ampsUsed[amps]!, amps),
    near('inverter_rating', rated_share[inverted]!, inverted),
  ];
  if (generator !== null) {
    // Loads only: charging takes whatever the loads leave and would show every generator at its rating. Sun on the AC
    // side goes to loads before it goes anywhere else.
    const carried = columns.load_served_kWh.map((served, i) =>
      columns.generator_run_h[i]! > 0
        ? Math.max(0, served - inverterOut[i]! - columns.dc_load_served_kWh[i]! - columns.array_ac_kWh[i]!)
        : 0,
    );
    const most = highest(carried);
    list.push(near('generator_rating', carried[most]! / step_h / generator.rating_kW, most));
  }
  return list.sort((a, b) => b.used_share - a.used_share);
}

/** The first limit to leave load unmet and the one behind most of it; else the limit that came closest. */
export function givesOutFindings(ledger: Ledger, unmet: UnmetFindings): GivesOutFirst {
  const { year, plant, columns, steps } = ledger;
  let first = 0;
  while (first < steps && !isUnmet(columns.unmet_kWh[first]!)) first++;
  // Where several limits bound in the first dark step, the one with most of its unmet energy.
  const at = (cause: UnmetCause): number => unmetColumn(columns, cause)[first]!;
  const most = (of: (cause: UnmetCause) => number): UnmetCause | null =>
    first === steps ? null : UNMET_CAUSES.reduce((best, cause) => (of(cause) > of(best) ? cause : best));
  return {
    first_cause: most(at),
    first_time: first === steps ? null : localTime(year.clock, first),
    main_cause: most((cause) => unmet.by_cause_kWh[cause]),
    closest: closestLimits(ledger),
    bank_current_by: plant.bank.model.kind === 'kinetic' ? 'kinetics' : 'modules',
    shed_by: plant.shedding.length === 0 ? 'min_soc' : 'rules',
    asleep_sun_kWh: asleepSun_kWh(ledger),
  };
}

/** An empty plant does not start from arrays on its AC side, whatever the sun: more bank hides that, and mends it late. */
function asleepSun_kWh({ columns, steps }: Ledger): number {
  let stood_kWh = 0;
  for (let i = 0; i < steps; i++)
    if (columns.unmet_bank_floor_kWh[i]! > 0) stood_kWh += columns.curtailed_inverter_off_kWh[i]!;
  return stood_kWh;
}
