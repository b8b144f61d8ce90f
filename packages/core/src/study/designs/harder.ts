import { mapLoads } from '../../loads/types.ts';
import type { PreparedYear } from '../../year.ts';

/** A year made harder than it was drawn: what a study asks to see how firm its answer stands. */
export interface Harder {
  /** Factor on every load. */
  readonly load: number;
  /** Factor on what the arrays offer in the dark season. */
  readonly dark_season: number;
}

/** Nothing harder than the year is. */
export const NOT_HARDER: Harder = { load: 1, dark_season: 1 };

/** The same year with every load multiplied. */
export const withLoadTimes = (year: PreparedYear, load: number): PreparedYear =>
  newHardener({ load, dark_season: 1 })(year);

/**
 * Makes years harder. The dark season is the three consecutive calendar months (December and January are neighbours)
 * with the least global irradiation. Columns already made are used again for as long as the function is held.
 */
export function newHardener({ load, dark_season }: Harder): (year: PreparedYear) => PreparedYear {
  const made = new WeakMap<Float64Array, Float64Array>();
  const once = (column: Float64Array, make: () => Float64Array): Float64Array => {
    const known = made.get(column) ?? make();
    made.set(column, known);
    return known;
  };
  const heavier = (kW: Float64Array): Float64Array =>
    load === 1 ? kW : once(kW, () => kW.map((value) => value * load));
  return (year) => {
    const { month } = year.clock;
    const factor = (): Float64Array =>
      once(year.sky.ghi_W_m2, () => {
        const isDark = darkSeason(year);
        return Float64Array.from(month, (m) => (isDark(m) ? dark_season : 1));
      });
    const darker = (kW: Float64Array): Float64Array =>
      dark_season === 1
        ? kW
        : once(kW, () => {
            const factors = factor();
            return kW.map((value, i) => value * factors[i]!);
          });
    return {
      ...year,
      arrays: year.arrays.map((array) => ({ ...array, dc_kW_per_kWp: darker(array.dc_kW_per_kWp) })),
      loads: load === 1 ? year.loads : mapLoads(year.loads, heavier),
    };
  };
}

/** Tells whether a calendar month, 1 to 12, belongs to the dark season of a year. */
function darkSeason({ clock, sky }: PreparedYear): (month: number) => boolean {
  const byMonth = new Float64Array(12);
  for (let i = 0; i < clock.steps; i++) byMonth[clock.month[i]! - 1]! += sky.ghi_W_m2[i]!;
  const quarter = (m: number): number => byMonth[m]! + byMonth[(m + 1) % 12]! + byMonth[(m + 2) % 12]!;
  let darkest = 0;
  for (let m = 1; m < 12; m++) if (quarter(m) < quarter(darkest)) darkest = m;
  return (month) => (month - 1 - darkest + 12) % 12 < 3;
}
