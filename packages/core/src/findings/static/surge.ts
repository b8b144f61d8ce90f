import type { OneOf } from '../../basis/notices.ts';
import { localTime } from '../../clock/clock.ts';
import { wallClock } from '../../clock/wall.ts';
import { windowShare } from '../../clock/windows.ts';
import { switchAllOn } from '../../loads/running.ts';
import { peakPower_kW } from '../../plant/bank.ts';
import { inputFor } from '../../plant/inverter.ts';
import type { Plant } from '../../plant/plant.ts';
import type { ApplianceLoad, Load } from '../../scenario/schema/schema.ts';
import type { PreparedYear } from '../../year.ts';
import type { StaticLimits } from './limits.ts';

/** What the appliances can ask for at once; not played. */
export interface Surge {
  /** Every appliance whose window touches the step on at once, other loads at their mean: the largest. */
  readonly running_kW: number;
  /** When that is largest, local time. */ readonly running_time: string;
  /** With the start that adds most; the same as running where no appliance has `start_W`. */
  readonly peak_kW: number;
  /** When that is largest, local time. */ readonly peak_time: string;
  /** The appliance whose start adds most; null if none has `start_W`. */ readonly start: null | {
    /** The appliance whose start adds most. */ readonly name: string;
    /** What it takes at its start. */ readonly start_W: number;
  };
  /** Empty if no conflict was found, which is no proof that there is none. */
  readonly conflicts: readonly SurgeConflict[];
}

/** What is asked for, and what there is. */
export type SurgeConflict = { readonly asked_kW: number; readonly gives_kW: number } & OneOf<{
  /** All of it at once, and what bank and inverter give all the time. */
  running_over_output: object;
  /** With the start, and what the inverter gives for moments. */
  start_over_inverter: object;
  /** The same of the bank: for moments, or all the time where the file has no peak of its modules. */
  start_over_bank: { for_moments: boolean };
  /** What a single leg can't carry, though all legs together might; legs count from 1. */
  running_over_leg: { leg: number };
  start_over_leg: { leg: number };
}>;

/** Figures this close are the same: rounding. */
const SAME_kW = 1e-9;

/**
 * What can be asked for at once: every appliance whose window touches a step switched on in it, other loads at their
 * mean, those from files at their highest row, loads on the DC side left out, and then the one start that adds most. Neither is played: a year of hours sees means.
 *
 * Left out: two starts at once, and how long a start lasts. Common practice, no source.
 */
export function surgeFindings(year: PreparedYear, plant: Plant, limits: StaticLimits): Surge {
  const all = atOnce(year, meanOnAc_kW(year, true), () => 1);
  const { legs } = plant.inverter;
  const byLeg = Array.from({ length: legs === 1 ? 0 : legs }, (_, leg) => ({
    leg: leg + 1,
    ...atOnce(year, meanOnLeg_kW(year, leg, legs), (load) => {
      const own = 'leg' in load ? load.leg : undefined;
      return own === undefined ? 1 / legs : own === leg + 1 ? 1 : 0;
    }),
  }));
  const { clock } = year;
  return {
    running_kW: all.running_kW,
    running_time: localTime(clock, all.running_step),
    peak_kW: all.peak_kW,
    peak_time: localTime(clock, all.peak_step),
    start: all.start === null ? null : { name: all.start.name, start_W: all.start.start_W! },
    conflicts: [...conflicts(plant, limits, all.running_kW, all.peak_kW), ...legConflicts(plant, byLeg)],
  };
}

interface AtOnce {
  readonly running_kW: number;
  readonly running_step: number;
  readonly peak_kW: number;
  readonly peak_step: number;
  /** The appliance whose start adds most; null if none has `start_W`. */ readonly start: ApplianceLoad | null;
}

/** Mean power of the loads behind the inverter, the highest row of those from files; changed by its caller. */
function meanOnAc_kW({ loads, clock }: PreparedYear, withRows: boolean): Float64Array {
  const mean = loads.total_kW.slice();
  for (const dc_kW of loads.dc_tier_kW ?? []) for (let i = 0; i < clock.steps; i++) mean[i]! -= dc_kW[i]!;
  return withRows ? plus(mean, loads.row_peaks?.ac_kW, 1) : mean;
}

/** The same on one leg: what hangs on it alone, and its share of what hangs on none. */
function meanOnLeg_kW(year: PreparedYear, leg: number, legs: number): Float64Array {
  const shared = meanOnAc_kW(year, false);
  const own = new Float64Array(shared.length);
  (year.loads.leg_tier_kW ?? []).forEach((tiers, other) => {
    for (const kW of tiers) {
      for (let i = 0; i < shared.length; i++) {
        shared[i]! -= kW[i]!;
        if (other === leg) own[i]! += kW[i]!;
      }
    }
  });
  const { row_peaks } = year.loads;
  plus(shared, row_peaks?.shared_kW, 1);
  return plus(plus(own, row_peaks?.leg_kW[leg], 1), shared, 1 / legs);
}

/** Adds a column to another, where there is one. */
function plus(sum: Float64Array, term: Float64Array | undefined, factor: number): Float64Array {
  if (term !== undefined) for (let i = 0; i < sum.length; i++) sum[i]! += factor * term[i]!;
  return sum;
}

/**
 * Everything on at once and the start that adds most to it.
 *
 * @param mean_kW of the loads that count; changed
 * @param weightOf share of a load that counts
 */
function atOnce(year: PreparedYear, mean_kW: Float64Array, weightOf: (load: Load) => number): AtOnce {
  const { clock, scenario } = year;
  const wall = wallClock(clock);
  const running_kW = mean_kW;
  const { load_factor } = scenario.run;
  switchAllOn(scenario.loads, wall, running_kW, (load) => load_factor * weightOf(load));
  const starting_kW = new Float64Array(clock.steps);
  const starter: (ApplianceLoad | null)[] = new Array(clock.steps).fill(null);
  for (const load of scenario.loads) {
    if (load.kind !== 'appliance' || load.count === 0 || load.bus === 'dc') continue;
    if (load.start_W === undefined || weightOf(load) === 0) continue;
    const share = windowShare(load, wall);
    const extra_kW = (weightOf(load) * (load.start_W - load.power_W)) / 1000;
    for (let i = 0; i < clock.steps; i++) {
      if (share[i] === 0 || extra_kW <= starting_kW[i]!) continue;
      starting_kW[i] = extra_kW;
      starter[i] = load;
    }
  }
  let most = 0;
  let peak = 0;
  for (let i = 1; i < clock.steps; i++) {
    if (running_kW[i]! > running_kW[most]!) most = i;
    if (running_kW[i]! + starting_kW[i]! > running_kW[peak]! + starting_kW[peak]!) peak = i;
  }
  return {
    running_kW: running_kW[most]!,
    running_step: most,
    peak_kW: running_kW[peak]! + starting_kW[peak]!,
    peak_step: peak,
    start: starter[peak] ?? null,
  };
}

/** What a single leg can't carry. */
function legConflicts(
  { inverter: { rating_kW, surge_kW, legs } }: Plant,
  byLeg: readonly (AtOnce & { readonly leg: number })[],
): SurgeConflict[] {
  return byLeg.flatMap(({ leg, running_kW, peak_kW }) => [
    ...over(running_kW, rating_kW / legs, { id: 'running_over_leg', leg }),
    ...over(peak_kW, surge_kW / legs, { id: 'start_over_leg', leg }),
  ]);
}

function conflicts(plant: Plant, limits: StaticLimits, running_kW: number, peak_kW: number): SurgeConflict[] {
  const { bank, inverter } = plant;
  const for_moments = bank.module_peak_discharge_A !== null;
  const bank_kW = peakPower_kW(bank, bank.module_peak_discharge_A ?? bank.module_max_discharge_A);
  // Beyond its rating the inverter is taken to lose the share that it loses at it.
  const ofBank_kW = (peak_kW * inputFor(inverter.curve, inverter.rating_kW)) / inverter.rating_kW;
  return [
    ...over(running_kW, limits.ac_output.after_inverter_loss_kW, { id: 'running_over_output' }),
    ...over(peak_kW, inverter.surge_kW, { id: 'start_over_inverter' }),
    ...over(ofBank_kW, bank_kW, { id: 'start_over_bank', for_moments }),
  ];
}

type OfConflict<C = SurgeConflict> = C extends SurgeConflict ? Omit<C, 'asked_kW' | 'gives_kW'> : never;

const over = (asked_kW: number, gives_kW: number, conflict: OfConflict): SurgeConflict[] =>
  asked_kW > gives_kW + SAME_kW ? [{ ...conflict, asked_kW, gives_kW } as SurgeConflict] : [];
