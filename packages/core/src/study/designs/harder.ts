import type { ArrayYear } from '../../array/prepare.ts';
import { ofObject } from '../../basis/memo.ts';
import { type LoadYear, timesLoad } from '../../loads/types.ts';
import type { PreparedYear } from '../../year.ts';

/** A year made harder than it was drawn: what a study asks to see how firm its answer stands. */
export interface Harder {
  /** Factor on every load. */
  readonly load: number;
  /** Factor on what the arrays offer in the dark season. */
  readonly dark_season: number;
  /** Years of use that the plant has behind it (`newAger`); 0 for a new one. */
  readonly age_years: number;
}

/** Nothing harder than the year is. */
export const NOT_HARDER: Harder = { load: 1, dark_season: 1, age_years: 0 };

/** The same array giving so many times as much in each step. */
export const withOutputTimes = (array: ArrayYear, factor: (step: number) => number): ArrayYear => ({
  ...array,
  dc_kW_per_kWp: array.dc_kW_per_kWp.map((kW, i) => kW * factor(i)),
});

/**
 * Makes years harder. The dark season is the three consecutive calendar months (December and January are neighbours)
 * with the least global irradiation. Arrays and loads made before are used again for as long as the function is held.
 */
export function newHardener({ load, dark_season }: Harder): (year: PreparedYear) => PreparedYear {
  if (load === 1 && dark_season === 1) return (year) => year;
  const heavier = ofObject((loads: LoadYear) => timesLoad(loads, load));
  // By array: each belongs to one sky.
  const darker = new WeakMap<ArrayYear, ArrayYear>();
  return (year) => {
    for (const array of year.arrays) {
      if (darker.has(array)) continue;
      const isDark = darkSeason(year);
      const { month } = year.clock;
      darker.set(
        array,
        withOutputTimes(array, (i) => (isDark(month[i]!) ? dark_season : 1)),
      );
    }
    return { ...year, arrays: year.arrays.map((array) => darker.get(array)!), loads: heavier(year.loads) };
  };
}

/** Tells whether a calendar month, 1 to 12, belongs to the dark season of a year. */
function darkSeason({ clock, sky }: PreparedYear): (month: number) => boolean {
  const byMonth = new Float64Array(12);
  for (let i = 0; i < clock.steps; i++) byMonth[clock.month[i]! - 1]! += sky.ghi_W_m2[i]!;
  const quarter = (m: number): number => byMonth[m]! + byMonth[(m + 1) % 12]! + byMonth[(m + 2) % 12]!;
  let leanest = 0;
  for (let m = 1; m < 12; m++) if (quarter(m) < quarter(leanest)) leanest = m;
  return (month) => (month - 1 - leanest + 12) % 12 < 3;
}
