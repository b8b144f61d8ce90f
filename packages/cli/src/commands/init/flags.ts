import type { InputError } from '@longnight/core';
import { refusal } from '@longnight/core/scenario';
import { type FoundPart, readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import { given, readNumbers } from './questions.ts';
import type { Answers, Named } from './starter/filled.ts';

/** Options of `longnight init` as they were given. */
export interface InitFlags {
  readonly force?: true;
  readonly json?: true;
  readonly example?: true;
  readonly siteName?: string;
  readonly siteLatitude?: number;
  readonly siteLongitude?: number;
  readonly siteElevation?: number;
  readonly siteTimeZone?: string;
  readonly ghi?: string;
  readonly clearSky?: true;
  readonly airTemperature?: string;
  readonly loadKwhDay?: number;
  readonly parts?: readonly string[];
  readonly panel?: string;
  readonly panels?: number;
  readonly arrayKwp?: number;
  readonly arrayTilt?: number;
  readonly arrayAzimuth?: number;
  readonly module?: string;
  readonly modules?: number;
  readonly inverter?: string;
  /** A name; true for the example's. */
  readonly generator?: string | true;
}

/** True if an option says anything of the plant: then nothing is asked. */
export const sayAnything = ({ force: _, json: __, ...others }: InitFlags): boolean =>
  Object.keys(others).length > 0;

/**
 * The answers that options give.
 *
 * @throws InputError if one is given without those that it needs: half a site, a site without its weather
 */
export function answersOf(flags: InitFlags, io: Io): Answers {
  const { generator, panel, panels, module, inverter, parts } = flags;
  const site = together(flags, {
    siteName: '--site-name',
    siteLatitude: '--site-latitude',
    siteLongitude: '--site-longitude',
    siteElevation: '--site-elevation',
    siteTimeZone: '--site-time-zone',
  });
  const weather = weatherOf(flags);
  if (site && weather === undefined) {
    throw wrong('--ghi', "the example's weather is of another place", WEATHER_FIX);
  }
  if (site && (flags.arrayTilt === undefined || flags.arrayAzimuth === undefined)) {
    const fix = 'add --array-tilt and --array-azimuth, such as 180 for south';
    throw wrong('--array-tilt', "the example's array faces the sun of another place", fix);
  }
  if (panels !== undefined && flags.arrayKwp !== undefined) {
    throw wrong('--array-kwp', '--panels says the size too', 'leave one of them out');
  }
  if ((panel === undefined) !== (panels === undefined)) {
    throw wrong('--panels', '--panel and --panels go together', 'give both, or --array-kwp');
  }
  const found = parts === undefined ? [] : readPartsOf(io.cwd, parts);
  const names = {
    panel,
    module,
    inverter,
    generatorPart: typeof generator === 'string' ? generator : undefined,
  };
  const size = {
    size_kWp: flags.arrayKwp,
    panels,
    tilt_deg: flags.arrayTilt,
    azimuth_deg: flags.arrayAzimuth,
  };
  return given({
    site: site
      ? {
          name: flags.siteName!,
          latitude_deg: flags.siteLatitude!,
          longitude_deg: flags.siteLongitude!,
          elevation_m: flags.siteElevation!,
          time_zone: flags.siteTimeZone!,
        }
      : undefined,
    weather,
    load_kWh_day: flags.loadKwhDay,
    array: Object.values(size).some((value) => value !== undefined) ? given(size) : undefined,
    modules_parallel: flags.modules,
    // A plant that holds by an engine nobody asked for would be a wrong answer; the example is told with one.
    generator: generator === undefined && sayAnything(flags) && flags.example !== true ? false : undefined,
    parts_files: parts === undefined ? undefined : [...new Set(found.map(({ file }) => file))],
    ...Object.fromEntries(Object.entries(names).map(([key, name]) => [key, name && namedIn(found, name)])),
  });
}

const WEATHER_FIX =
  'add --ghi and --air-temperature with twelve monthly means each; or --clear-sky and --air-temperature, for a sky without clouds';

function weatherOf({ ghi, clearSky, airTemperature }: InitFlags): Answers['weather'] {
  if (ghi === undefined && clearSky === undefined && airTemperature === undefined) return undefined;
  if (airTemperature === undefined) throw wrong('--air-temperature', 'it is missing', WEATHER_FIX);
  if (ghi !== undefined && clearSky === true)
    throw wrong('--ghi', '--clear-sky is given too', 'leave one of them out');
  if (ghi === undefined && clearSky === undefined) throw wrong('--ghi', 'it is missing', WEATHER_FIX);
  const read = (flag: string, text: string, counts: readonly number[]): number[] => {
    const values = readNumbers(text, counts);
    if (typeof values === 'string') throw wrong(flag, values, `write ${flag} 1,2,3 and so on, January first`);
    return values;
  };
  return {
    ghi_kWh_m2_day: ghi === undefined ? null : read('--ghi', ghi, [12]),
    air_temperature_C: read('--air-temperature', airTemperature, ghi === undefined ? [1, 12] : [12]),
  };
}

/** True if all of some options are given, false if none; anything between is an error. */
function together(flags: InitFlags, names: Partial<Record<keyof InitFlags, string>>): boolean {
  const all = Object.entries(names) as [keyof InitFlags, string][];
  const missing = all.filter(([key]) => flags[key] === undefined).map(([, name]) => name);
  if (missing.length === all.length) return false;
  if (missing.length > 0) {
    throw wrong(missing[0]!, 'it is missing', `add ${missing.join(', ')}: the five go together`);
  }
  return true;
}

/** A part that is not there is told by the reading of the scenario, with the names that are. */
const namedIn = (found: readonly FoundPart[], name: string): Named => ({
  name,
  part: found.find(({ part }) => part.name === name)?.part,
});

const wrong = (flag: string, message: string, fix: string): InputError =>
  refusal('bad-option', { file: flag }, message, fix);
