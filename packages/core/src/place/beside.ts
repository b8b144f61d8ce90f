import { Info } from 'luxon';
import { expectArguments } from '../basis/arguments.ts';
import { type Notice, notice } from '../basis/notices.ts';
import { expectWhole } from '../basis/within.ts';
import { expectZone, standardOffset_min } from '../clock/zone.ts';
import type { MonthlyMeansWeather, Site } from '../scenario/schema/schema.ts';
import type { FirstGuess } from './first-guess.ts';

/** A scenario's own monthly means beside those of the table. Twelve each, January first. */
export interface BesideGuess {
  /** Irradiation of a mean day by the table. */
  readonly ghi_kWh_m2_day: readonly number[];
  /** The scenario's over the table's; null where the table has none. */
  readonly own_share: readonly (number | null)[];
  /** Months, 1 to 12, that are too far off to be taken without a look. */
  readonly far_months: readonly number[];
}

/**
 * Of 1,716 months of 143 stations 0.4 % are farther from the table than this, none by 40 %; measured with the table's
 * entry in the models. What little light may differ by is rounding.
 */
const FAR = { share: 0.3, kWh_m2_day: 0.1 } as const;

/** Borders of zones are drawn coarsely in tables of coordinates: an hour more or less is none of our business. */
const ZONES_APART_h = 2;

/**
 * Holds a scenario's monthly means against a first guess of its place.
 *
 * @param guess as `firstGuess` gives it for the site
 */
export function besideGuess({ ghi_kWh_m2_day: own }: MonthlyMeansWeather, guess: FirstGuess): BesideGuess {
  const { ghi_kWh_m2_day } = guess;
  const own_share = ghi_kWh_m2_day.map((value, m) => (value > 0 ? own[m]! / value : null));
  const isFar = (value: number, m: number): boolean => {
    const apart = Math.abs(own[m]! - value);
    return apart > FAR.kWh_m2_day && apart > FAR.share * value;
  };
  const far_months = ghi_kWh_m2_day.flatMap((value, m) => (isFar(value, m) ? [m + 1] : []));
  return { ghi_kWh_m2_day, own_share, far_months };
}

/** Notices of months that are far off, and of figures that are called a first guess and are not. */
export function besideNotices(weather: MonthlyMeansWeather, guess: FirstGuess): Notice[] {
  const { far_months, own_share } = besideGuess(weather, guess);
  const isOther = weather.ghi_kWh_m2_day.some((own, m) => Math.abs(own - guess.ghi_kWh_m2_day[m]!) > 0.015);
  const far = far_months.map((month) => {
    const [own, table] = [weather.ghi_kWh_m2_day[month - 1]!, guess.ghi_kWh_m2_day[month - 1]!];
    const share = own_share[month - 1];
    return `${MONTHS[month - 1]} ${own} for ${table}${share == null ? '' : ` (${signed(100 * (share - 1))} %)`}`;
  });
  return [
    ...(far.length === 0
      ? []
      : [
          notice(
            'month-off-first-guess',
            far.length,
          )`weather.ghi_kWh_m2_day: ${far.join(', ')} kWh/m² a day by a
            first guess of the place; of stations one month in 250 is more than 30 % off it. Check unit, order of
            months, and that the plane is level; deep valleys, fog and mountain islands can be the reason`,
        ]),
    ...(weather.source === 'first_guess' && isOther
      ? [
          notice(
            'first-guess-changed',
          )`weather.source says first_guess, and the figures are not those of the table
            for this place: if they are your own, take weather.source out`,
        ]
      : []),
  ];
}

/**
 * A notice where the site's clock is hours from that of its coordinates.
 *
 * @param zone IANA name of the zone that a table has for the coordinates
 */
export function zoneNotices(site: Site, zone: string, year: number): Notice[] {
  expectArguments('zoneNotices', { site });
  const { time_zone } = site;
  expectZone('zoneNotices', 'site.time_zone', time_zone);
  expectZone('zoneNotices', 'zone', zone);
  expectWhole('zoneNotices', 'year', year, 1900, 2200);
  const apart_h = Math.abs(standardOffset_min(time_zone, year) - standardOffset_min(zone, year)) / 60;
  // Across the date line the clocks are a day apart and show the same hour.
  if (Math.min(apart_h, 24 - apart_h) < ZONES_APART_h) return [];
  return [
    notice(
      'zone-off-place',
    )`site.time_zone: ${time_zone} is ${apart_h} h from ${zone}, the zone of these coordinates
      by a table; check site.time_zone, and latitude and longitude with their signs`,
  ];
}

const signed = (percent: number): string => `${percent > 0 ? '+' : ''}${percent.toFixed(0)}`;

const MONTHS = Info.months('long', { locale: 'en' });
