import type { Axis, Scenario } from '@longnight/core';
import { digitsOf, factorOf, readAxis, type Setting } from '@longnight/core/study';
import { decimal } from './figures.ts';
import { plain } from './plain-text.ts';
import { quoted } from './shell.ts';

/** A key of the scenario that takes several values, and what people call it. */
export interface NamedAxis extends Axis {
  /** `panels`: enough beside keys that are called otherwise. */
  readonly short: string;
  /** With the part it belongs to: `panels, ground row south`. */
  readonly words: string;
  /** What its values are counted in; empty where its words say it, or there is none. */
  readonly unit: string;
}

/** Keys whose own words tell less than people say; the part is left out where the words name it. */
const SAID: Readonly<Record<string, readonly [words: string, ofPart?: true]>> = {
  'arrays.size_kWp': ['array', true],
  'arrays.strings_parallel': ['strings side by side', true],
  'arrays.losses.snow_share': ['light lost to snow', true],
  'arrays.losses.soiling_share': ['light lost to dirt', true],
  'bank.modules_parallel': ['battery modules'],
  'bank.part': ['battery module'],
  'bank.floor_soc': ['floor of the bank'],
  'generator.start_soc': ['SoC that starts the generator'],
  'generator.stop_soc': ['SoC that stops the generator'],
  'generator.starts.kind': ['what starts the generator'],
  'loads.scale': ['factor', true],
  'run.initial_soc': ['SoC as the year begins'],
  'run.load_factor': ['factor on all loads'],
  'weather.seed': ['drawn year'],
};

/** Ends of keys that are units. */
const UNITS: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    ['kWp', 'kWh', 'kW', 'W', 'A', 'Ah', 'V', 'K', 'L', 'h', 'm', 'min'].map((u) => [u, u]),
  ),
  deg: '°',
  C: '°C',
  mOhm: 'mΩ',
  mm2: 'mm²',
  m_s: 'm/s',
  kWh_day: 'kWh a day',
  h_per_day: 'h a day',
  W_per_K: 'W/K',
  L_per_h: 'L/h',
  per_K: 'per K',
  per_L: 'a litre',
  per_kWh: 'a kWh',
  per_year: 'a year',
  per_month: 'a month',
  share_per_year: 'a year',
  share_per_month: 'a month',
  share: '',
};
const UNIT = new RegExp(
  `_(${Object.keys(UNITS)
    .sort((a, b) => b.length - a.length)
    .join('|')})$`,
);

const spoken = (key: string): string => key.replaceAll('_', ' ').replace(/\bsoc\b/g, 'SoC');

/** Words for a path of the scenario such as `arrays[0].panels`: the one place that makes them. */
export function keyWords(path: string, scenario: Scenario): Omit<NamedAxis, keyof Axis> {
  const steps = [...path.matchAll(/([^.[\]]+)(?:\[(\d+|\*)\])?/g)].map(([, key, at]) => ({
    key: key!,
    at: at === '*' ? ('all' as const) : at === undefined ? null : Number(at),
  }));
  const parts: string[] = [];
  let inside: unknown = scenario;
  for (const { key, at } of steps.slice(0, -1)) {
    inside = (inside as Record<string, unknown> | undefined)?.[key];
    if (at !== null) inside = (inside as readonly unknown[] | undefined)?.[at === 'all' ? 0 : at];
    const name = (inside as { readonly name?: unknown } | undefined)?.name;
    if (at === null) parts.unshift(spoken(key));
    else if (at === 'all') parts.unshift(`all ${spoken(key)}`);
    else parts.unshift(typeof name === 'string' ? plain(name) : `${spoken(key)} ${at + 1}`);
  }
  const leaf = steps.at(-1)!;
  const unit = UNIT.exec(leaf.key)?.[1];
  const known = SAID[path.replace(/\[(\d+|\*)\]/g, '')];
  // `inverter.part`: the part is what varies, and it is called by what it is.
  const isPart = leaf.key === 'part' && parts.length > 0;
  const own = isPart
    ? steps.at(-2)!.key.replace(/^arrays$/, 'panel')
    : spoken(unit === undefined ? leaf.key : leaf.key.slice(0, -unit.length - 1));
  const short = known?.[0] ?? own;
  const rest =
    known !== undefined
      ? known[1]
        ? parts
        : []
      : isPart && steps.at(-2)!.at === null
        ? parts.slice(1)
        : parts;
  // What holds for the whole year or all costs is of no part.
  const said = rest.filter((part) => !['run', 'money', 'weather'].includes(part));
  return { short, words: [short, ...said].join(', '), unit: unit === undefined ? '' : UNITS[unit]! };
}

/** The axes of a study by their words; those with one short name take their long ones. */
export function namedAxes(axes: readonly Axis[], scenario: Scenario): readonly NamedAxis[] {
  const named = axes.map((axis): NamedAxis => {
    const words = keyWords(axis.path, scenario);
    // Times what the file says, or a name: no number of anything.
    return { ...axis, ...words, unit: axis.values.every(isNumber) ? words.unit : '' };
  });
  return named.map((axis) =>
    named.some((other) => other !== axis && other.short === axis.short)
      ? { ...axis, short: axis.words }
      : axis,
  );
}

/** `tilt, south roof, °`: over an axis. */
export const axisTitle = (axis: NamedAxis): string => {
  const unit = isFactor(axis) ? 'times what the file says' : axis.unit;
  return unit === '' ? axis.words : `${axis.words}, ${unit}`;
};

export const valueText = (value: number | string): string =>
  typeof value === 'number' ? decimal(value) : plain(value);

/** `panels, ground row south: 24`. */
export const axisValue = (axis: NamedAxis, value: number | string, by: 'words' | 'short' = 'words'): string =>
  `${axis[by]}: ${valueText(value)}${axis.unit === '' ? '' : axis.unit === '°' ? '°' : ` ${axis.unit}`}`;

/** The value of an axis in a design. */
export const valueAt = (axes: readonly Axis[], index: number, k: number): string =>
  valueText(axes[k]!.values[digitsOf(axes, index)[k]!]!);

/** `panels, ground row south: 12; battery modules: 4`. */
export const designText = (axes: readonly NamedAxis[], index: number): string =>
  digitsOf(axes, index)
    .map((digit, k) => axisValue(axes[k]!, axes[k]!.values[digit]!))
    .join('; ');

/** `panels, ground row south: 6 to 30 (13 values); battery modules: 2, 3, 4`. */
export const axesText = (axes: readonly NamedAxis[]): string =>
  axes
    .map((axis) => {
      const { values } = axis;
      const [first, last] = [valueText(values[0]!), valueText(values.at(-1)!)];
      return axisValue(
        axis,
        values.length <= 4
          ? values.map(valueText).join(', ')
          : `${first} to ${last} (${values.length} values)`,
      );
    })
    .join('; ');

/**
 * Says of which keys a design has the least or the greatest value. Names have no beyond, years no order, and a key with
 * one value was not asked about.
 *
 * @returns null if there are none
 */
export function edgeText(axes: readonly NamedAxis[], indices: readonly number[]): string | null {
  const at = indices.flatMap((index) =>
    digitsOf(axes, index).flatMap((digit, k) => {
      const axis = axes[k]!;
      const { path, values } = axis;
      const numbers = scaleOf(axis);
      if (numbers === null || values.length < 2 || path === 'weather.seed') return [];
      const value = numbers[digit]!;
      const end =
        value === Math.min(...numbers) ? 'least' : value === Math.max(...numbers) ? 'greatest' : null;
      return end === null ? [] : [`${axisValue(axis, values[digit]!)} is the ${end} of its values`];
    }),
  );
  return at.length === 0
    ? null
    : `At the edge of what was played: ${[...new Set(at)].join('; ')}. There may be a better one beyond.`;
}

/** Where the values of an axis stand on a scale: numbers, or factors on what the file says; null of names. */
export function scaleOf({ values }: Axis): readonly number[] | null {
  const factors = values.map(factorOf).filter((factor) => factor !== null);
  if (factors.length === values.length) return factors;
  return values.every(isNumber) ? values : null;
}

/** True if the values of an axis are factors on what the file says. */
export const isFactor = ({ values }: Axis): boolean => values.every((value) => factorOf(value) !== null);

const isNumber = (value: unknown): value is number => typeof value === 'number';

/** The options that ask for settings again. */
export const settingOptions = (set: readonly Setting[]): readonly string[] =>
  set.map((setting) => `--set ${quoted(settingText(setting))}`);

const settingText = ({ path, value }: Setting): string => `${path}=${valueText(value)}`;

/** What is not as in the file, in a sentence; none if nothing is. */
export const settingWords = (set: readonly Setting[]): readonly string[] =>
  set.length === 0 ? [] : [`Played with other values than the file has: ${set.map(settingText).join('; ')}.`];

/** The options that ask for axes again: a range where it reads back as the same values, a list otherwise. */
export const varyOptions = (axes: readonly Axis[]): readonly string[] =>
  axes.map((axis) => `--vary ${quoted(varied(axis))}`);

function varied({ path, values }: Axis): string {
  const [first, second, third] = values;
  if (typeof first === 'number' && typeof second === 'number' && third !== undefined) {
    const step = Number((second - first).toPrecision(12));
    const range = `${path}=${[first, values.at(-1)!, step].map(valueText).join(':')}`;
    // Asked before it is read: what is no range might be one of too many values.
    const evenly = Math.abs((Number(values.at(-1)) - first) / step - (values.length - 1)) < 0.5;
    const read = evenly ? readAxis(range).values : [];
    if (read.length === values.length && read.every((value, k) => value === values[k])) return range;
  }
  return `${path}=${values.map(valueText).join(',')}`;
}
