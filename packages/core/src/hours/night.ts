import type { EngineGenerator } from '../plant/generator.ts';
import { inputFor } from '../plant/inverter.ts';
import type { PreparedYear } from '../year.ts';
import type { Offered } from './offer.ts';
import type { StepParts } from './parts.ts';

/** Stocks between which a generator that looks ahead to the night runs, one entry a step. */
export interface NightYear {
  /** It starts at this stock or below; less than nothing in steps in which nothing is decided. */
  readonly start_kWh: Float64Array;
  /** It goes on below this stock. */
  readonly stop_kWh: Float64Array;
}

/**
 * What the bank has to hold in each step so that it comes through the night that lies ahead, reckoned from the past
 * alone.
 *
 * Expected of a step are the means of what was asked and offered in the steps a whole number of days before it, over
 * `look_back_days` of them or as many as there have been. Nothing of the step's own day ahead goes in, so the columns
 * at step i depend on sun and load up to step i only. It ends with the first step in which the array is expected to
 * carry the loads, a day ahead at most. In the first day nothing is known, and nothing is started for the night.
 *
 * Without `decide_minute` it may start in each step in which the sun falls below the need, now as well as in the days
 * before. With it, it may start only in the step in which that minute lies, and what the sun is expected to bring until
 * dusk counts.
 *
 * Not foreseen: flexible loads, shore power, alternator, heaters, self-discharge, tiers shed. Days are of 24 hours: on those after a
 * change of the clocks the loads of the hour beside are looked at.
 *
 * Source: persistence forecast, the mean of the last days at the same hour; common practice, no source.
 *
 * @param offered what the arrays offer, `year.clock.steps` entries a column
 * @param dc_load_kW loads on the DC side, as many; null without
 * @returns null for a generator that does not look ahead
 */
export function nightYear(
  { clock, loads }: PreparedYear,
  generator: EngineGenerator | null,
  parts: StepParts,
  { tracked_kWh, ac_sun_kWh }: Pick<Offered, 'tracked_kWh' | 'ac_sun_kWh'>,
  dc_load_kW: Float64Array | null,
): NightYear | null {
  if (generator === null || generator.night === null || parts.generator === null) return null;
  const { decide_minute, look_back_days, margin_share } = generator.night;
  const { start_kWh: reserve_kWh, stop_kWh: highest_kWh } = parts.generator;
  const { steps, step_h, step_min, local_minute } = clock;
  const day = Math.round(24 / step_h);
  const ac_kWh = loads.total_kW.map((kW, i) => (kW - (dc_load_kW === null ? 0 : dc_load_kW[i]!)) * step_h);
  const most = parts.inverter_rating_kWh;
  const spare = parts.charger_kWh > 0 ? parts.charger_efficiency : 0;
  /** What is missing on the DC side, or left over below zero. */
  const lackOf = (ac: number, dc: number, sun: number, acSun: number): number =>
    inputFor(parts.inverter, Math.min(Math.max(0, ac - acSun), most)) +
    dc -
    sun -
    spare * Math.max(0, acSun - ac);

  // Expected change of the stock, summed up; and the first step from each on in which nothing is missing.
  const lackUpTo_kWh = new Float64Array(steps + day + 1);
  const short = new Uint8Array(steps + day);
  for (let j = 0; j < steps + day; j++) {
    let ac = 0;
    let dc = 0;
    let sun = 0;
    let acSun = 0;
    let days = 0;
    for (let d = 1; d <= look_back_days; d++) {
      const past = j - d * day;
      if (past < 0) break;
      ac += ac_kWh[past]!;
      if (dc_load_kW !== null) dc += dc_load_kW[past]! * step_h;
      sun += tracked_kWh[past]!;
      acSun += ac_sun_kWh[past]!;
      days++;
    }
    const lack = days === 0 ? 0 : lackOf(ac / days, dc / days, sun / days, acSun / days);
    short[j] = lack > 0 ? 1 : 0;
    lackUpTo_kWh[j + 1] =
      lackUpTo_kWh[j]! + (lack > 0 ? lack * parts.per_discharge_efficiency : lack * parts.charge_efficiency);
  }
  const endOf = new Uint32Array(steps + day + 1).fill(steps + day);
  for (let j = steps + day - 1; j >= 0; j--) endOf[j] = short[j] === 1 ? endOf[j + 1]! : j;

  const start_kWh = new Float64Array(steps).fill(-1);
  const stop_kWh = new Float64Array(steps).fill(Math.min(reserve_kWh, highest_kWh));
  const decide = (i: number, end: number, mayStart: boolean): void => {
    const need = Math.max(0, lackUpTo_kWh[end]! - lackUpTo_kWh[i]!);
    const enough = Math.min(reserve_kWh + (1 + margin_share) * need, highest_kWh);
    stop_kWh[i] = enough;
    // The margin lies between stop and start also where the bank can't hold all of the need: it does not flutter there.
    if (mayStart) start_kWh[i] = enough - margin_share * need;
  };
  if (decide_minute === null) {
    for (let i = 0; i < steps; i++) {
      if (short[i] === 0) continue;
      const dc = dc_load_kW === null ? 0 : dc_load_kW[i]! * step_h;
      const lack = lackOf(ac_kWh[i]!, dc, tracked_kWh[i]!, ac_sun_kWh[i]!);
      decide(i, Math.min(endOf[i]!, i + day), lack > 0);
    }
    return { start_kWh, stop_kWh };
  }
  for (let i = 0; i < steps; i++) {
    const since = decide_minute - local_minute[i]!;
    if (since < 0 || since >= step_min) continue;
    let dusk = i;
    while (dusk < i + day && short[dusk] === 0) dusk++;
    const end = Math.min(endOf[dusk]!, i + day);
    for (let j = i; j < Math.min(end, steps); j++) decide(j, end, j === i);
  }
  return { start_kWh, stop_kWh };
}
