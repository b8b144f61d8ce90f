import { refused } from '../../basis/errors.ts';
import { tidy } from '../../basis/rounding.ts';
import { withParts } from '../../scenario/parts/parts.ts';
import type { ReadScenario } from '../../scenario/read.ts';
import { type Path, parsePath, pathText, valueAt } from '../../scenario/text/path.ts';
import { setAt } from '../designs/designer.ts';
import { checkPath } from '../designs/paths.ts';
import { placesOf } from '../designs/places.ts';
import { PLAUSIBLE, type Plausible, type Scale } from './plausible.ts';

/** What is no key of a file: a whole year's sun and air, what panels give, all loads. */
const CIRCUMSTANCES: readonly string[] = ['sun', 'panels', 'load', 'air'];

/** One thing that was guessed, and what it is moved to. */
export interface Guess {
  /** `sun`, `panels`, `load`, `air`, or a key of the scenario; `[*]` stands for every item of a list. */
  readonly key: string;
  /** Keys that it moves; none of a circumstance. */
  readonly paths: readonly string[];
  /** Whether its values stand for themselves, are a factor on what is there, or are added to it. */
  readonly scale: Scale;
  /** As the scenario has it: 1 of a factor, 0 of what is added. */
  readonly today: number | string | boolean;
  /** Whether the file or a part says it; false of a default, null of a circumstance, which nobody states as such. */
  readonly stated: boolean | null;
  /** Ends of the range, low first; or the values that were named. */
  readonly to: readonly (number | string)[];
  /** True of ends: what lies between and a little beyond is looked at too. */
  readonly is_range: boolean;
  /** Nothing below or above is looked at. */
  readonly least: number;
  readonly most: number;
  /** Why so far, with its source; null where the user said it. */
  readonly why: string | null;
  /** Keys beside each path that are set where they are not. */
  readonly beside: Readonly<Record<string, number>>;
}

const refuse = refused.bind(null, 'move');

/**
 * The guesses of a plant: those that are plausible for every plant and have a place in this one, and those asked for.
 *
 * @param moves each `KEY=LOW:HIGH` or `KEY=A,B,C`; a key that has a range by default gets this one instead
 * @param inFrost whether its air gets below freezing
 * @throws InputError for what is no guess, or a key that the scenario has not
 */
export function guessesOf(read: ReadScenario, moves: readonly string[], inFrost: boolean): readonly Guess[] {
  const asked = moves.map((text) => askedGuess(read, text));
  const again = asked.find(({ key }, k) => asked.findIndex((other) => other.key === key) < k);
  if (again !== undefined)
    throw refuse(`--move ${again.key}`)`it is moved twice | give all its values in one list`;
  const own = PLAUSIBLE.filter(
    ({ key, in_frost }) => (inFrost || in_frost === undefined) && asked.every((other) => other.key !== key),
  ).flatMap((plausible) => plausibleGuess(read, plausible));
  return [...asked, ...own];
}

/** Where it stands today; nothing where the plant does not have it, or its ends are where it is. */
function plausibleGuess(read: ReadScenario, plausible: Plausible): readonly Guess[] {
  const { key, keys = [key], by, low, high, least, most, why, beside = {} } = plausible;
  const isCircumstance = CIRCUMSTANCES.includes(key);
  const paths = isCircumstance ? [] : keys.flatMap((each) => pathsOf(read, each).filter(isMovable(read)));
  if (!isCircumstance && paths.length === 0) return [];
  const one = isCircumstance ? null : sameNumber(read, paths);
  const within = (value: number): number => tidy(Math.min(most, Math.max(least, value)));
  const shape =
    by === 'times'
      ? one === null
        ? { scale: 'factor' as const, today: 1, to: [low, high], least, most }
        : {
            scale: 'value' as const,
            today: one,
            to: [tidy(one * low), tidy(one * high)],
            least: one * least,
            most: one * most,
          }
      : one === null
        ? { scale: 'added' as const, today: 0, to: [low, high], ...roomOf(read, paths, least, most) }
        : { scale: 'value' as const, today: one, to: [within(one + low), within(one + high)], least, most };
  if (shape.to.every((end) => end === shape.today)) return [];
  return [{ key, paths, ...shape, stated: statedOf(read, paths), is_range: true, why, beside }];
}

/** How far a list or unequal numbers may be moved before the first leaves its bounds. */
function roomOf({ scenario }: ReadScenario, paths: readonly string[], least: number, most: number) {
  const values = paths.flatMap((path) => valueAt(scenario, parsePath(path)) as number | readonly number[]);
  if (values.length === 0) return { least, most };
  return { least: tidy(least - Math.max(...values)), most: tidy(most - Math.min(...values)) };
}

const MOVE = /^\s*([^=\s]+)\s*=\s*(.+?)\s*$/;
const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`;
const IS_NUMBER = new RegExp(`^${NUMBER}$`);
const RANGE = new RegExp(`^(${NUMBER})\\s*:\\s*(${NUMBER})$`);

function askedGuess(read: ReadScenario, text: string): Guess {
  const asked = `--move ${text}`;
  const [, key = '', values = ''] = MOVE.exec(text) ?? [];
  if (key === '')
    throw refuse(
      asked,
    )`it is no guess | write for example load=0.9:1.3 or inverter.idle_W=20:60 | KEY=LOW:HIGH or
      KEY=A,B,C, where KEY is sun, panels, load, air or a key of the scenario`;
  const isCircumstance = CIRCUMSTANCES.includes(key);
  const paths = isCircumstance ? [] : pathsOf(read, key, asked);
  const usual = PLAUSIBLE.find((plausible) => plausible.key === key);
  const today = isCircumstance ? (usual!.by === 'times' ? 1 : 0) : sameValue(read, paths);
  const range = RANGE.exec(values);
  const to = range
    ? [Number(range[1]), Number(range[2])]
    : values.split(',').map((item) => (IS_NUMBER.test(item.trim()) ? Number(item) : item.trim()));
  if (range && to[0]! >= to[1]!)
    throw refuse(asked)`its low end is not below its high one | write ${key}=${to[1]}:${to[0]}`;
  if (to.includes(''))
    throw refuse(asked)`it has an empty value | remove the comma too many, or give a value`;
  if (isCircumstance && to.some((value) => typeof value !== 'number' || (key !== 'air' && value < 0)))
    throw refuse(
      asked,
    )`${key} takes numbers${key === 'air' ? '' : ' from 0 on'} | 1 stands for what it is in the file, 0.9 for a tenth less`;
  if (today === null || (range && typeof today !== 'number'))
    throw refuse(
      asked,
    )`it has no one number today: it is not stated, differs between items, or is a list | state it as one number first, or move one item`;
  return {
    key,
    paths,
    scale: !isCircumstance ? 'value' : key === 'air' ? 'added' : 'factor',
    today,
    stated: statedOf(read, paths),
    to,
    is_range: range !== null,
    least: isCircumstance ? (key === 'air' ? -100 : 0) : Number.NEGATIVE_INFINITY,
    most: Number.POSITIVE_INFINITY,
    why: null,
    beside: usual?.beside ?? {},
  };
}

/** Paths of a key, `[*]` written out; with `asked` an unknown one is refused, without it is left out. */
function pathsOf(read: ReadScenario, key: string, asked?: string): readonly string[] {
  const { source, scenario } = read;
  const places = placesOf(scenario, parsePath(key));
  // Defaults may stand in a section that is not written, which a study of the file's own keys can't reach.
  const there = places
    .filter((place) => valueAt(scenario, place) !== undefined && canBeSet(read, place))
    .map(pathText);
  if (asked === undefined || (there.length > 0 && there.length === places.length)) return there;
  return checkPath(source.written, source.shelf, key, asked).map(pathText);
}

/** False of an item of a list that a part brings: the file has no such place. */
function canBeSet({ source }: ReadScenario, path: Path): boolean {
  try {
    setAt(source.written.data, path, null);
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

const isNumbers = (value: unknown): boolean =>
  typeof value === 'number' || (Array.isArray(value) && value.every((one) => typeof one === 'number'));

const isMovable =
  ({ scenario }: ReadScenario) =>
  (path: string): boolean =>
    isNumbers(valueAt(scenario, parsePath(path)));

/** What stands at all of the paths, where it is one plain value. */
function sameValue({ scenario }: ReadScenario, paths: readonly string[]): number | string | boolean | null {
  const [first, ...rest] = paths.map((path) => valueAt(scenario, parsePath(path)));
  return rest.every((value) => value === first) &&
    (typeof first === 'number' || typeof first === 'string' || typeof first === 'boolean')
    ? first
    : null;
}

function sameNumber(read: ReadScenario, paths: readonly string[]): number | null {
  const value = sameValue(read, paths);
  return typeof value === 'number' ? value : null;
}

/** Whether the file, or a part that it names, says all of them. */
function statedOf({ source }: ReadScenario, paths: readonly string[]): boolean | null {
  if (paths.length === 0) return null;
  const { data } = withParts(source.written, source.shelf);
  return paths.every((path) => valueAt(data, parsePath(path)) !== undefined);
}
