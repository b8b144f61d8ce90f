import { ampsAtVolts_kW } from '../basis/units.ts';
import { localTime } from '../clock/clock.ts';
import { wallClock } from '../loads/wall.ts';
import { windowShare } from '../loads/windows.ts';
import { dcForAc_kW } from '../plant/inverter.ts';
import type { Plant } from '../plant/plant.ts';
import type { ApplianceLoad } from '../scenario/schema.ts';
import type { PreparedYear } from '../year.ts';
import type { Report, StaticLimits } from './report.ts';

/** Figures this close are the same: rounding. */
const SAME_kW = 1e-9;

/**
 * What can be asked for at once: every appliance whose window touches a step switched on in it, other loads at their
 * mean, and then the one start that adds most. Neither is played: a year of hours sees means.
 *
 * Left out: two starts at once, and how long a start lasts. Common practice, no source.
 */
export function surgeFindings(year: PreparedYear, plant: Plant, limits: StaticLimits): Report['surge'] {
  const { clock, loads, scenario } = year;
  const wall = wallClock(clock);
  const running_kW = loads.total_kW.slice();
  const starting_kW = new Float64Array(clock.steps);
  const starter: (ApplianceLoad | null)[] = new Array(clock.steps).fill(null);
  for (const load of scenario.loads) {
    if (load.kind !== 'appliance' || load.count === 0) continue;
    const share = windowShare(load, wall);
    const all_kW = (load.count * load.power_W * load.scale) / 1000;
    const extra_kW = load.start_W === undefined ? 0 : (load.start_W - load.power_W) / 1000;
    for (let i = 0; i < clock.steps; i++) {
      if (share[i] === 0) continue;
      running_kW[i]! += all_kW * (1 - share[i]! * load.duty_share);
      if (extra_kW <= starting_kW[i]!) continue;
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
  const start = starter[peak] ?? null;
  const peak_kW = running_kW[peak]! + starting_kW[peak]!;
  return {
    running_kW: running_kW[most]!,
    running_time: localTime(clock, most),
    peak_kW,
    peak_time: localTime(clock, peak),
    start: start === null ? null : { name: start.name, start_W: start.start_W! },
    conflicts: conflicts(plant, limits, running_kW[most]!, peak_kW),
  };
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
  const bank_kW = ampsAtVolts_kW(bank.modules_parallel * peak_A, bank.nominal_voltage_V);
  // Beyond its rating the inverter is taken to lose the share that it loses at it.
  const asked_kW = (peak_kW * dcForAc_kW(inverter, inverter.rating_kW)) / inverter.rating_kW;
  if (asked_kW > bank_kW + SAME_kW) {
    const which =
      bank.module_peak_discharge_A === null ? 'all the time; their peak is not in the file' : 'for moments';
    found.push(
      `With the start it asks the bank for ${kW(asked_kW)}; its modules give ${kW(bank_kW)} ${which}.`,
    );
  }
  return found;
}
