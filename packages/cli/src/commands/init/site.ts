import { firstGuess, landHeight_m, type SitedKind, siteOfFile } from '@longnight/core/place';
import type { Scenario } from '@longnight/core/scenario';
import { refused } from '@longnight/core/scenario';
import { readText, SERIES_LIMIT_bytes } from '../../files/read.ts';
import type { Io } from '../../io.ts';
import { zoneAt } from '../place.ts';
import { type Place, placeName, readHeight_m, readPlace } from './coordinates.ts';
import { type InitFlags, optionOf, readNumbers, wrong } from './flags.ts';

/** Where a plant stands, and the weather it is played with. */
export interface SiteAnswers {
  readonly site: Pick<
    Scenario['site'],
    'name' | 'latitude_deg' | 'longitude_deg' | 'elevation_m' | 'time_zone'
  >;
  readonly weather: WeatherAnswer;
  readonly tilt_deg: number;
  readonly azimuth_deg: number;
  /** Why a value is what it is, by the key that nobody told. */
  readonly assumed: Readonly<Record<string, string>>;
}

export type WeatherAnswer =
  | {
      readonly kind: 'monthly_means';
      readonly ghi_kWh_m2_day: readonly number[];
      readonly air_temperature_C: readonly number[];
      readonly source?: 'first_guess';
    }
  | { readonly kind: 'clear-sky'; readonly air_temperature_C: readonly number[] }
  | { readonly kind: SitedKind; readonly file: string };

const OF_A_PLACE = ['siteName', 'elevationM', 'timeZone', 'ghi', 'clearSky', 'airTemperature'] as const;

/**
 * The site that options tell, and what follows from its coordinates where they say no more.
 *
 * @returns null if they speak of no place: the example stays where it is
 * @throws InputError if one can't be read, or speaks of a place that is not told
 */
export function siteOf(flags: InitFlags, io: Io): SiteAnswers | null {
  const read = flags.weather === undefined ? null : weatherFile(flags.weather, io);
  if (flags.at === undefined && read === null) {
    const lone = OF_A_PLACE.find((flag) => flags[flag] !== undefined);
    if (lone === undefined) return null;
    throw wrong('--at', `${optionOf(lone)} is of a place that is not told`, 'add --at 44.5,-71.3');
  }
  const place: Place = flags.at === undefined ? read!.site : must('--at', flags.at, readPlace);
  const { latitude_deg, longitude_deg } = place;
  const told_m =
    flags.elevationM === undefined ? undefined : must('--elevation-m', flags.elevationM, readHeight_m);
  const elevation_m = told_m ?? read?.site.elevation_m ?? landHeight_m(latitude_deg, longitude_deg);
  const means = meansOf(flags);
  if (means !== null && read !== null)
    throw wrong('--weather', `${optionOf(means.by)} is given too`, 'leave one of them out');
  const site = {
    name: flags.siteName ?? (read?.site.name || placeName(place)),
    latitude_deg,
    longitude_deg,
    elevation_m,
    time_zone: flags.timeZone ?? zoneAt(latitude_deg, longitude_deg),
  };
  const guess = { ...firstGuess(latitude_deg, longitude_deg, elevation_m), source: 'first_guess' } as const;
  return {
    site,
    weather:
      read !== null
        ? { kind: read.kind, file: flags.weather! }
        : (means?.weather ?? { kind: 'monthly_means', ...guess }),
    tilt_deg: tiltFor_deg(latitude_deg),
    azimuth_deg: latitude_deg < 0 ? 0 : 180,
    assumed: {
      ...(told_m !== undefined || read !== null
        ? {}
        : { 'site.elevation_m': 'assumed, mean height of the land around: put in your own' }),
      ...(flags.timeZone === undefined
        ? { 'site.time_zone': 'by the coordinates; near a border look twice' }
        : {}),
      'arrays.tilt_deg': 'assumed, from the latitude, for its darker half of the year',
      'arrays.azimuth_deg': `assumed, due ${latitude_deg < 0 ? 'north' : 'south'}, where the sun stands at noon`,
    },
  };
}

/**
 * Steeper than the latitude by up to 15 degrees, for winter; not so flat that rain won't wash it. Common practice, no
 * source.
 */
const tiltFor_deg = (latitude_deg: number): number => {
  const latitude = Math.abs(latitude_deg);
  return Math.min(80, Math.max(10, Math.round(latitude + Math.min(15, latitude / 2))));
};

function weatherFile(file: string, io: Io): NonNullable<ReturnType<typeof siteOfFile>> {
  const read = siteOfFile(readText(io.cwd, file, SERIES_LIMIT_bytes), file);
  if (read !== null) return read;
  throw refused('other-format', {
    file,
  })`the file does not say where it is from in a form that is known | give the
    place with --at, then describe the file as weather of kind series: longnight explain weather | a file of the
    formats TMY3 or EPW`;
}

const WEATHER_FIX =
  'add --ghi and --air-temperature with twelve monthly means each; or --clear-sky and --air-temperature, for a sky ' +
  'without clouds; without all of them a first guess is made from the coordinates';

function meansOf({ ghi, clearSky, airTemperature }: InitFlags) {
  if (ghi === undefined && clearSky === undefined && airTemperature === undefined) return null;
  if (airTemperature === undefined) throw wrong('--air-temperature', 'it is missing', WEATHER_FIX);
  if (ghi !== undefined && clearSky === true)
    throw wrong('--ghi', '--clear-sky is given too', 'leave one of them out');
  if (ghi === undefined && clearSky === undefined) throw wrong('--ghi', 'it is missing', WEATHER_FIX);
  const read = (flag: string, text: string, counts: readonly number[]): number[] =>
    must(flag, text, (given) => readNumbers(given, counts));
  const weather: WeatherAnswer =
    ghi === undefined
      ? { kind: 'clear-sky', air_temperature_C: read('--air-temperature', airTemperature, [1, 12]) }
      : {
          kind: 'monthly_means',
          ghi_kWh_m2_day: read('--ghi', ghi, [12]),
          air_temperature_C: read('--air-temperature', airTemperature, [12]),
        };
  return { weather, by: ghi === undefined ? ('clearSky' as const) : ('ghi' as const) };
}

function must<T>(flag: string, text: string, read: (text: string) => T | string): T {
  const value = read(text);
  if (typeof value !== 'string') return value;
  const [message, fix] = value.split('; write ');
  throw wrong(
    flag,
    message!,
    fix === undefined ? `write ${flag} 1,2,3 and so on, January first` : `write ${fix}`,
  );
}
