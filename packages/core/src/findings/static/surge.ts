import { localTime } from '../../clock/clock.ts';
import { wallClock } from '../../clock/wall.ts';
import { windowShare } from '../../clock/windows.ts';
import { switchAllOn } from '../../loads/running.ts';
import { peakPower_kW } from '../../plant/bank.ts';
import { inputFor } from '../../plant/inverter.ts';
import type { Plant } from '../../plant/plant.ts';
import type { ApplianceLoad, Load } from '../../scenario/schema/schema.ts';
import type { PreparedYear } from '../../year.ts';
import type { Report } from '../report.ts';
import type { StaticLimits } from './limits.ts';

/** Figures this close are the same: rounding. */
const SAME_kW = 1e-9;

/**
 * What can be asked for at once: every appliance whose window touches a step switched on in it, other loads at their
 * mean, those from files at their highest row, loads on the DC side left out, and then the one start that adds most. Neither is played: a year of hours sees means.
 *
 * Left out: two starts at once, and how long a start lasts. Common practice, no source.
 */
export function surgeFindings(year: PreparedYear, plant: Plant, limits: StaticLimits): Report['surge'] {
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
  readonly start: ApplianceLoad | null;
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
  switchAllOn(scenario.loads, wall, running_kW, weightOf);
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

/** What a single leg can't carry, though all legs together might. */
function legConflicts({ inverter }: Plant, legs: readonly (AtOnce & { readonly leg: number })[]): string[] {
  const kW = (value: number): string => `${value.toFixed(2)} kW`;
  const most_kW = inverter.rating_kW / inverter.legs;
  const surge_kW = inverter.surge_kW / inverter.legs;
  return legs.flatMap(({ leg, running_kW, peak_kW }) => [
    ...(running_kW > most_kW + SAME_kW
      ? [`On leg ${leg} all of it at once is ${kW(running_kW)}; the leg gives ${kW(most_kW)} all the time.`]
      : []),
    ...(peak_kW > surge_kW + SAME_kW
      ? [`On leg ${leg} with the start it is ${kW(peak_kW)}; the leg gives ${kW(surge_kW)} for moments.`]
      : []),
  ]);
}

function conflicts(plant: Plant, limits: StaticLimits, running_kW: number, peak_kW: number): string[] {
  const { bank, inverter } = plant;
  const found: string[] = [];
  const kW = (value: number): string => `${value.toFixed(2)} kW`;
  const { after_inverter_loss_kW } = limits.ac_output;
  if (running_kW > after_inverter_loss_kW + SAME_kW) {
    found.push(
      `All of it at once is ${kW(running_kW)}; bank and inverter give ${kW(after_inverter_loss_kW)} all the time, without sun.`,
    );
  }
  if (peak_kW > inverter.surge_kW + SAME_kW) {
    found.push(
      `With the start it is ${kW(peak_kW)}; the inverter gives ${kW(inverter.surge_kW)} for moments.`,
    );
  }
  const peak_A = bank.module_peak_discharge_A ?? bank.module_max_discharge_A;
  const bank_kW = peakPower_kW(bank, peak_A);
  // Beyond its rating the inverter is taken to lose the share that it loses at it.
  const asked_kW = (peak_kW * inputFor(inverter.curve, inverter.rating_kW)) / inverter.rating_kW;
  if (asked_kW > bank_kW + SAME_kW) {
    const which =
      bank.module_peak_discharge_A === null ? 'all the time; their peak is not in the file' : 'for moments';
    found.push(
      `With the start it asks the bank for ${kW(asked_kW)}; its modules give ${kW(bank_kW)} ${which}.`,
    );
  }
  return found;
}
