import type { InputError } from '@longnight/core';
import { refusal } from '@longnight/core/scenario';
import { type FoundPart, readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import { readLoadsHead } from './loads.ts';
import { siteOf } from './site.ts';
import type { Answers, PartSection } from './starter/filled.ts';

/** What `init` can be told: the option, the key of the scenario that it becomes, and how it is asked on a terminal. */
export const ASKED = {
  dailyKWh: [
    '--daily-kWh',
    'loads.energy_kWh_day',
    "Energy that all loads take on a mean day, kWh (Enter: the example's appliances):",
  ],
  panels: ['--panels', 'arrays.panels', 'How many panels?'],
  arrayKWp: ['--array-kWp', 'arrays.size_kWp', "Size of the array, kWp (Enter: the example's):"],
  arrayTilt: ['--array-tilt', 'arrays.tilt_deg', 'Its tilt from horizontal, degrees'],
  arrayAzimuth: [
    '--array-azimuth',
    'arrays.azimuth_deg',
    'Where it faces, degrees clockwise from north, 180 for south',
  ],
  modules: ['--modules', 'bank.modules_parallel', "How many battery modules (Enter: the example's):"],
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
  extends Readonly<Partial<Record<Asked, number> & Record<Exclude<PartOption, 'generator'>, string>>> {
  readonly force?: true;
  readonly json?: true;
  readonly example?: true;
  readonly at?: string;
  readonly elevationM?: string;
  readonly siteName?: string;
  readonly timeZone?: string;
  readonly weather?: string;
  readonly loads?: string;
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
export const optionOf = (flag: string): string =>
  `--${flag.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;

/**
 * The answers that options give.
 *
 * @throws InputError if one can't be read or is given without those that it needs
 */
export function answersOf(flags: InitFlags, io: Io): Answers {
  const { generator, panel, panels, parts = [] } = flags;
  if (panels !== undefined && flags.arrayKWp !== undefined)
    throw wrong('--array-kWp', '--panels says the size too', 'leave one of them out');
  if (panel === undefined ? panels !== undefined : panels === undefined && flags.arrayKWp === undefined)
    throw wrong('--panels', '--panel and --panels go together', 'give both, or --array-kWp');
  if (flags.loads !== undefined && flags.dailyKWh !== undefined)
    throw wrong('--loads', '--daily-kWh is given too', 'leave one of them out');
  const place = siteOf(flags, io);
  const loads = flags.loads === undefined ? null : readLoadsHead(flags.loads, io);
  const told = (Object.keys(ASKED) as Asked[]).filter((flag) => flags[flag] !== undefined);
  const values: Record<string, string | number> = {
    ...(place && {
      ...Object.fromEntries(Object.entries(place.site).map(([key, value]) => [`site.${key}`, value])),
      'arrays.tilt_deg': place.tilt_deg,
      'arrays.azimuth_deg': place.azimuth_deg,
    }),
    ...Object.fromEntries(told.map((flag) => [ASKED[flag][1], flags[flag]!])),
    ...(loads && { 'run.year': loads.year }),
  };
  const assumed: Record<string, string> = {
    ...place?.assumed,
    ...(loads && { 'run.year': 'the year of the first row of the loads' }),
  };
  const found = parts.length === 0 ? [] : readPartsOf(io.cwd, parts);
  return {
    values,
    assumed: Object.fromEntries(
      Object.entries(assumed).filter(([path]) => !told.some((flag) => ASKED[flag][1] === path)),
    ),
    ...(place && { weather: place.weather }),
    ...(loads && { loads }),
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

export const wrong = (flag: string, message: string, fix: string): InputError =>
  refusal('bad-option', { file: flag }, message, fix);
