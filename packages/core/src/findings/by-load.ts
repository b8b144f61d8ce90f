import { QUARTERS } from '../clock/months.ts';
import type { LoadEnergy } from '../loads/types.ts';
import type { PreparedYear } from '../year.ts';
import { shareOf } from './totals.ts';

/** What one load asks for. */
export interface LoadShare {
  /** As in the scenario. */ readonly name: string;
  /** Of load: appliance, daily, series, temperature, flexible or surplus. */ readonly kind: LoadEnergy['kind'];
  /** Its tier; null for flexible and surplus loads. */ readonly tier: number | null;
  /** Energy it asks for in the year; null for a surplus load, which is never wanted. */
  readonly wanted_kWh: number | null;
  /** The same on a mean day of the year. */ readonly mean_kWh_day: number | null;
  /** Of all that is wanted in the year. */ readonly share: number | null;
  /** Wanted on a mean day of the winter months. */ readonly winter_kWh_day: number | null;
  /** Of all that is wanted in the winter months. */ readonly winter_share: number | null;
}

/** The quarter with the shortest days, months of the calendar: the one about the winter solstice of the hemisphere. */
export const winterMonths = (latitude_deg: number): readonly number[] => QUARTERS[latitude_deg < 0 ? 2 : 0];

/** What each load asks for over the year and in winter, in the order of the scenario. */
export function loadShares({ scenario, clock, loads: { by_load } }: PreparedYear): readonly LoadShare[] {
  const winter = winterMonths(scenario.site.latitude_deg);
  const sumOf = (months: readonly number[] | null): number => months?.reduce((sum, kWh) => sum + kWh, 0) ?? 0;
  const inWinter = (load: LoadEnergy): number =>
    sumOf(winter.map((month) => load.by_month_kWh?.[month - 1] ?? 0));
  const wanted_kWh = by_load.reduce((sum, load) => sum + sumOf(load.by_month_kWh), 0);
  const winter_kWh = by_load.reduce((sum, load) => sum + inWinter(load), 0);
  let winterDays = 0;
  for (let day = 0; day < clock.days; day++)
    if (winter.includes(clock.month[clock.day_start[day]!]!)) winterDays++;
  return by_load.map((load) => {
    const { name, kind, tier, by_month_kWh } = load;
    if (by_month_kWh === null)
      return {
        name,
        kind,
        tier,
        wanted_kWh: null,
        mean_kWh_day: null,
        share: null,
        winter_kWh_day: null,
        winter_share: null,
      };
    return {
      name,
      kind,
      tier,
      wanted_kWh: sumOf(by_month_kWh),
      mean_kWh_day: sumOf(by_month_kWh) / clock.days,
      share: shareOf(sumOf(by_month_kWh), wanted_kWh),
      winter_kWh_day: inWinter(load) / winterDays,
      winter_share: shareOf(inWinter(load), winter_kWh),
    };
  });
}
