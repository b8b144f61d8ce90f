import { quantileSorted } from 'simple-statistics';
import { expectArguments } from '../../basis/arguments.ts';
import { localTime } from '../../clock/clock.ts';
import { coldYear, drawableFloor_kWh } from '../../plant/cold.ts';
import { expectSound } from '../../plant/expect-sound.ts';
import type { Plant } from '../../plant/plant.ts';
import type { PreparedYear } from '../../year.ts';
import { lowestStock_kWh, sunlessDraw_kWh } from './draw.ts';
import { sunlessHoursByStep } from './steps.ts';

/** How long a full bank lasts. */
export interface Autonomy {
  /** Usable bank over mean daily load (IEEE 1013 3.3); inverter and bank losses are not in it. Null without load. */
  readonly nominal_days: number | null;
  /** Hours a full bank carries the loads with no sun and no generator, losses in it, over every start in the year. */
  readonly sunless_hours: {
    /** Shortest time a full bank carries the loads with no sun and no generator, losses in it, over every start in the year. */ readonly least: number;
    /** The same, undercut by one start in twenty. */ readonly p05: number;
    /** The same, from the median start. */ readonly median: number;
    /** Start of the step with the least. */
    readonly least_start: string;
    /** True if a start outlasts the year, so that the figures are lower bounds. */
    readonly capped: boolean;
    /** The same for all starts at once: how many last how long. */
    readonly survival: readonly SurvivalPoint[];
  };
}

/** Share of all starts from which a full bank lasts so many hours or longer in the dark. */
export interface SurvivalPoint {
  /** Sunless hours that a share of all starts is told for. */ readonly hours: number;
  /** Share of all starts from which a full bank lasts so long or longer. */ readonly starts_share: number;
}

/**
 * Hours that a full bank carries the loads alone, with no sun and no generator, from the start of every step of the
 * year, all losses included; the loads of the year follow each other in a ring. A step whose load is above what the
 * inverter or the modules' amps allow draws what they allow: this asks how long the energy lasts. The last step
 * counts in the share that it was carried.
 *
 * With self-discharge s per step the stock above the floor is E(j+1) = E(j)(1-s) - d(j) after step j. Scaled by
 * (1-s)^-j this is a plain running sum of the draws, and a later start from full can't end earlier, so one pass with
 * two pointers finds every end. Heaters of the bank draw with the loads; what the cold keeps back, or the inverter's cut-off, ends it
 * sooner.
 *
 * Banks of other than fixed efficiency are played from every start (dark-steps.ts).
 *
 * @returns hours, one per step; capped at the length of the year
 */
export function sunlessHours(year: PreparedYear, plant: Plant): { hours: Float64Array; capped: boolean } {
  expectArguments('sunlessHours', { year, plant });
  expectSound('sunlessHours', plant);
  const byStep = sunlessHoursByStep(year, plant);
  if (byStep !== null) return byStep;
  const { steps, step_h } = year.clock;
  const { bank } = plant;
  const asked_kWh = sunlessDraw_kWh(year, plant);
  const keep = 1 - bank.self_discharge_per_h * step_h;
  const { heat_kWh, drawable_floor_kWh } = coldYear(bank, year.bank_temperature_C, step_h);
  const heatedFloor_kWh = bank.heater === null ? 0 : drawableFloor_kWh(bank, bank.heater.keep_C);
  const draw = new Float64Array(steps);
  const keptBack = new Float64Array(steps);
  const lowest_kWh = lowestStock_kWh(year, plant);
  for (let i = 0; i < steps; i++) {
    draw[i] = (asked_kWh[i]! + (heat_kWh?.[i] ?? 0)) / bank.discharge_efficiency;
    // Heaters that run hold the bank warm; without them the cold keeps some of the stock back.
    const kept = (heat_kWh?.[i] ?? 0) > 0 ? heatedFloor_kWh : (drawable_floor_kWh?.[i] ?? bank.floor_kWh);
    keptBack[i] = Math.max(kept, lowest_kWh) - bank.floor_kWh;
  }
  const scale = new Float64Array(2 * steps + 1);
  const drawn = new Float64Array(2 * steps + 1);
  scale[0] = 1;
  for (let j = 0; j < 2 * steps; j++) {
    scale[j + 1] = scale[j]! / keep;
    drawn[j + 1] = drawn[j]! + draw[j % steps]! * scale[j + 1]!;
  }
  const usable_kWh = bank.capacity_kWh - bank.floor_kWh;
  const hours = new Float64Array(steps);
  let capped = false;
  let end = 0;
  for (let i = 0; i < steps; i++) {
    const full = usable_kWh * scale[i]!;
    if (end < i) end = i;
    // `end` is the first step that the bank does not carry to its end.
    while (
      end < i + steps &&
      full - (drawn[end + 1]! - drawn[i]!) - keptBack[end % steps]! * scale[end + 1]! >= -1e-12 * full
    ) {
      end++;
    }
    if (end === i + steps) {
      capped = true;
      hours[i] = steps * step_h;
      continue;
    }
    const before_kWh = ((full - (drawn[end]! - drawn[i]!)) / scale[end]!) * keep - keptBack[end % steps]!;
    const need_kWh = draw[end % steps]!;
    const carried = need_kWh > 0 ? Math.min(1, Math.max(0, before_kWh / need_kWh)) : 0;
    hours[i] = (end - i + carried) * step_h;
  }
  return { hours, capped };
}

/**
 * Autonomy as the standard's nominal days and as sunless hours.
 *
 * Source: IEEE Std 1013-2000, definition 3.3, for the days; quantiles by simple-statistics.
 */
export function autonomyFindings(year: PreparedYear, plant: Plant, mean_load_kWh_day: number): Autonomy {
  const { hours, capped } = sunlessHours(year, plant);
  let least = 0;
  for (let i = 1; i < hours.length; i++) if (hours[i]! < hours[least]!) least = i;
  const sorted = Array.from(Float64Array.from(hours).sort());
  return {
    nominal_days:
      mean_load_kWh_day > 0 ? (plant.bank.capacity_kWh - plant.bank.floor_kWh) / mean_load_kWh_day : null,
    sunless_hours: {
      least: hours[least]!,
      p05: quantileSorted(sorted, 0.05),
      median: quantileSorted(sorted, 0.5),
      least_start: localTime(year.clock, least),
      capped,
      survival: survival(sorted),
    },
  };
}

/** Distances between points of the curve, hours. */
const STEPS_h = [1, 2, 3, 6, 12, 24, 48, 120, 240];
const MOST_POINTS = 60;

/**
 * Of all starts in the year, how many a full bank carries for so many hours and longer: from all at 0 h down to none.
 *
 * @param sorted sunless hours, ascending, one a start
 * @returns points at equal distances, of which the last is the first with none
 */
export function survival(sorted: readonly number[]): readonly SurvivalPoint[] {
  const longest = sorted.at(-1) ?? 0;
  const step_h = STEPS_h.find((step) => longest / step < MOST_POINTS) ?? STEPS_h.at(-1)!;
  const points: SurvivalPoint[] = [];
  let ended = 0;
  for (let k = 0; ended < sorted.length; k++) {
    while (ended < sorted.length && sorted[ended]! < k * step_h) ended++;
    points.push({ hours: k * step_h, starts_share: 1 - ended / sorted.length });
  }
  return points;
}
