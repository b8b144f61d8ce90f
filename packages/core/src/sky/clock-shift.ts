import { median } from 'simple-statistics';
import { HOUR_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { SunYear } from '../sun/year.ts';
import { cosineOf, later_min, sineOf } from './middle.ts';

/** How the clock of a sky fits the sun. */
export interface ClockShift {
  /** How much later in the solar day the light of the year comes than the sun's, minutes, within half a day; null without light. */
  readonly late_min: number | null;
  /** The same on the clearest days, where no cloudy afternoon shifts it; null if none is clear enough. */
  readonly late_clearest_min: number | null;
  /** How many days that is the median of. */
  readonly clearest_days: number;
  /** True if either says that stamps, zone or longitude are wrong. */
  readonly is_shifted: boolean;
}

/** So many days of most light for their sun are looked at, and only where they are clear; our own choice, no source. */
const CLEAREST_DAYS = 30;
const CLEAR_DAY_clearness = 0.6;

/** Cloudy afternoons shift the year of a station by some ten minutes, haze a clear day by a few; our own limits, no source. */
const LIMIT_min = { year: 20, clearest: 15 } as const;

/**
 * Compares when in the day the light comes with when the sun sends it: by the middle of gravity of the light, in local
 * mean solar time, for the year and for its clearest days alone.
 *
 * @param ghi_W_m2 global on the horizontal, mean of each step
 * @param longitude_deg east positive
 *
 * Source: the middle of gravity of light over a day is common practice, no source.
 */
export function clockShift(
  ghi_W_m2: Float64Array,
  clock: Clock,
  sun: SunYear,
  longitude_deg: number,
): ClockShift {
  const { day_start, days, steps } = clock;
  const dayOf = (from: number, to: number): Middle =>
    middleOf(from, to, ghi_W_m2, clock, sun.extraterrestrial_horizontal_W_m2, longitude_deg);
  const year = dayOf(0, steps);
  if (year.clearness === 0)
    return { late_min: null, late_clearest_min: null, clearest_days: 0, is_shifted: false };
  const clear = Array.from({ length: days }, (_, d) => dayOf(day_start[d]!, day_start[d + 1]!))
    .filter((day) => day.clearness >= CLEAR_DAY_clearness)
    .sort((a, b) => b.clearness - a.clearness)
    .slice(0, CLEAREST_DAYS)
    .map((day) => day.late_min);
  const late_clearest_min = clear.length === 0 ? null : median(clear);
  return {
    late_min: year.late_min,
    late_clearest_min,
    clearest_days: clear.length,
    is_shifted:
      Math.abs(year.late_min) > LIMIT_min.year || Math.abs(late_clearest_min ?? 0) > LIMIT_min.clearest,
  };
}

interface Middle {
  /** Global over extraterrestrial; 0 without light. */
  readonly clearness: number;
  readonly late_min: number;
}

function middleOf(
  from: number,
  to: number,
  ghi_W_m2: Float64Array,
  { start_ms, step_h }: Clock,
  above_W_m2: Float64Array,
  longitude_deg: number,
): Middle {
  let [light, above] = [0, 0];
  const got = { cosine: 0, sine: 0 };
  const sent = { cosine: 0, sine: 0 };
  for (let i = from; i < to; i++) {
    const middle_h = start_ms[i]! / HOUR_ms + step_h / 2;
    const solar_h = middle_h + longitude_deg / 15;
    const [cosine, sine] = [cosineOf(solar_h), sineOf(solar_h)];
    light += ghi_W_m2[i]!;
    got.cosine += ghi_W_m2[i]! * cosine;
    got.sine += ghi_W_m2[i]! * sine;
    above += above_W_m2[i]!;
    sent.cosine += above_W_m2[i]! * cosine;
    sent.sine += above_W_m2[i]! * sine;
  }
  if (light === 0 || above === 0) return { clearness: 0, late_min: 0 };
  return { clearness: light / above, late_min: later_min(got, sent) };
}
