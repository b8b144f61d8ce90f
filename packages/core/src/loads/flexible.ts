import type { Clock } from '../clock/clock.ts';
import type { WallClock } from '../clock/wall.ts';
import { DAY_min, parseWindow } from '../clock/window.ts';
import { windowShare } from '../clock/windows.ts';
import type { FlexibleLoad, SurplusLoad } from '../scenario/schema/schema.ts';
import type { FlexibleYear, SurplusYear } from './types.ts';

/**
 * Lays a flexible load over the year: what it asks for at the start of each window, and how much of that can still
 * wait at each step. A window that the year's end cuts asks for no more than it can draw until then; one that began
 * before the year asks for nothing.
 */
export function flexibleYear(load: FlexibleLoad, clock: Clock, wall: WallClock): FlexibleYear {
  const { steps, step_h, step_min } = clock;
  const { start_min } = parseWindow(load.window);
  const most_kWh = windowShare({ windows: [load.window], days: load.days, months: load.months }, wall);
  const scale_kWh = (load.max_power_W / 1000) * load.scale * step_h;
  for (let i = 0; i < steps; i++) most_kWh[i]! *= scale_kWh;
  // The local day on which the window of a step began, judged at the end of the step.
  const dayOf = (i: number): number =>
    Math.floor((clock.day[i]! * DAY_min + clock.local_minute[i]! + step_min - 1e-6 - start_min) / DAY_min);
  const asked_kWh = new Float64Array(steps);
  const later_kWh = new Float64Array(steps);
  const open = Array.from({ length: steps }, (_, i) => i).filter((i) => most_kWh[i]! > 0);
  let sum = 0;
  for (let k = open.length - 1; k >= 0; k--) {
    const i = open[k]!;
    const day = dayOf(i);
    if (k + 1 === open.length || dayOf(open[k + 1]!) !== day) sum = 0;
    later_kWh[i] = sum;
    sum += most_kWh[i]!;
    const begins = k === 0 || dayOf(open[k - 1]!) !== day;
    if (begins && day >= 0) asked_kWh[i] = Math.min(load.energy_kWh * load.scale, sum);
  }
  return { name: load.name, asked_kWh, most_kWh, later_kWh, min_soc: load.min_soc };
}

/** Lays a load that takes surplus over the year. */
export function surplusYear(load: SurplusLoad, clock: Clock, wall: WallClock): SurplusYear {
  const most_kWh = windowShare(load, wall);
  const scale_kWh = (load.max_power_W / 1000) * load.scale * clock.step_h;
  for (let i = 0; i < clock.steps; i++) most_kWh[i]! *= scale_kWh;
  return {
    name: load.name,
    most_kWh,
    max_kWh_day: (load.max_kWh_day ?? Number.POSITIVE_INFINITY) * load.scale,
  };
}
