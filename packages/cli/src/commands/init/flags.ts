import type { InputError } from '@longnight/core';
import { refusal } from '@longnight/core/scenario';
import { type FoundPart, readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import type { Answers, PartSection } from './starter/filled.ts';

/** What `init` can be told: the key of the scenario that it becomes, and how it is asked on a terminal. */
export const ASKED = {
  siteName: ['site.name', 'Name of the site (Enter: the example, with its weather):'],
  siteLatitude: ['site.latitude_deg', 'Latitude in degrees, north positive:'],
  siteLongitude: ['site.longitude_deg', 'Longitude in degrees, east positive:'],
  siteElevation: ['site.elevation_m', 'Metres above sea level:'],
  siteTimeZone: ['site.time_zone', 'Time zone, such as Europe/Oslo:'],
  loadKwhDay: [
    'loads.energy_kWh_day',
    "Energy that all loads take on a mean day, kWh (Enter: the example's appliances):",
  ],
  panels: ['arrays.panels', 'How many panels?'],
  arrayKwp: ['arrays.size_kWp', "Size of the array, kWp (Enter: the example's):"],
  arrayTilt: ['arrays.tilt_deg', 'Its tilt from horizontal, degrees:'],
  arrayAzimuth: ['arrays.azimuth_deg', 'Where it faces, degrees clockwise from north, 180 for south:'],
  modules: ['bank.modules_parallel', "How many battery modules (Enter: the example's):"],
} as const;
export type Asked = keyof typeof ASKED;

/** The sections that may name a part, by the option that names it. */
export const PARTS = {
  panel: { section: 'arrays', ask: 'Panels' },
  module: { section: 'bank', ask: 'Battery modules' },
  inverter: { section: 'inverter', ask: 'Inverter' },
  generator: { section: 'generator', ask: 'Generator' },
} as const satisfies Record<string, { readonly section: PartSection; readonly ask: string }>;
export type PartOption = keyof typeof PARTS;

/** Options of `longnight init` as they were given, or as answers amount to. */
export interface InitFlags
  extends Readonly<
    Partial<Record<Asked, string | number> & Record<Exclude<PartOption, 'generator'>, string>>
  > {
  readonly force?: true;
  readonly json?: true;
  readonly example?: true;
  readonly ghi?: string;
  readonly clearSky?: true;
  readonly airTemperature?: string;
  readonly parts?: readonly string[];
  /** A name; true for the example's, false for none. */
  readonly generator?: string | boolean;
}

/** True if an option says anything of the plant: then nothing is asked. */
export const sayAnything = ({ force: _, json: __, ...others }: InitFlags): boolean =>
  Object.keys(others).length > 0;

/** `--site-name` of `siteName`. */
const optionOf = (flag: string): string =>
  `--${flag.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

/**
 * The answers that options give.
 *
 * @throws InputError if one is given without those that it needs: half a site, a site without its weather
 */
export function answersOf(flags: InitFlags, io: Io): Answers {
  const { generator, panel, panels, parts = [] } = flags;
  const told = (Object.keys(ASKED) as Asked[]).filter((flag) => flags[flag] !== undefined);
  const ofSite = (Object.keys(ASKED) as Asked[]).filter((flag) => flag.startsWith('site'));
  const missing = ofSite.filter((flag) => !told.includes(flag)).map(optionOf);
  const hasSite = missing.length < ofSite.length;
  if (hasSite && missing.length > 0)
    throw wrong(missing[0]!, 'it is missing', `add ${missing.join(', ')}: the five go together`);
  const weather = weatherOf(flags);
  if (hasSite && weather === undefined)
    throw wrong('--ghi', "the example's weather is of another place", WEATHER_FIX);
  if (hasSite && (flags.arrayTilt === undefined || flags.arrayAzimuth === undefined)) {
    const fix = 'add --array-tilt and --array-azimuth, such as 180 for south';
    throw wrong('--array-tilt', "the example's array faces the sun of another place", fix);
  }
  if (panels !== undefined && flags.arrayKwp !== undefined)
    throw wrong('--array-kwp', '--panels says the size too', 'leave one of them out');
  if (panel === undefined ? panels !== undefined : panels === undefined && flags.arrayKwp === undefined)
    throw wrong('--panels', '--panel and --panels go together', 'give both, or --array-kwp');
  const found = parts.length === 0 ? [] : readPartsOf(io.cwd, parts);
  return {
    values: Object.fromEntries(told.map((flag) => [ASKED[flag][0], flags[flag]!])),
    ...(weather === undefined ? {} : { weather }),
    parts_files: [...new Set(found.map(({ file }) => file))],
    parts: namedParts(flags, found),
    // A plant that holds by an engine nobody asked for would be a wrong answer; the example is told with one.
    hasGenerator: !sayAnything(flags) || flags.example === true || Boolean(generator),
  };
}

/** Parts by the sections that name them. One that is not there is told by the reading of the scenario, with those that are. */
function namedParts(flags: InitFlags, found: readonly FoundPart[]): Answers['parts'] {
  const named = (Object.keys(PARTS) as PartOption[]).flatMap((option) => {
    const name = flags[option];
    if (typeof name !== 'string') return [];
    const part = found.find((one) => one.part.name === name)?.part;
    return [[PARTS[option].section, { name, part }] as const];
  });
  return Object.fromEntries(named);
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

/**
 * Figures between blanks, commas or semicolons.
 *
 * @returns what is wrong, if they are not numbers or not as many as they should be
 */
export function readNumbers(text: string, counts: readonly number[]): number[] | string {
  const words = text.split(/[\s;,]+/).filter((word) => word !== '');
  const values = words.map(Number);
  const odd = words.find((_, k) => !Number.isFinite(values[k]));
  if (odd !== undefined)
    return `"${odd}" is no number; write a point for decimals and blanks or commas between figures`;
  return counts.includes(values.length)
    ? values
    : `${counts.join(' or ')} figures are needed, found ${values.length}`;
}

const wrong = (flag: string, message: string, fix: string): InputError =>
  refusal('bad-option', { file: flag }, message, fix);
