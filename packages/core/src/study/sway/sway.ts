import { expectArgument } from '../../basis/arguments.ts';
import { InputError, refused } from '../../basis/errors.ts';
import { cautions } from '../../findings/static/cautions.ts';
import { type Danger, dangersOf } from '../../findings/static/dangers.ts';
import { playRow } from '../../hours/play.ts';
import { timesLoad } from '../../loads/types.ts';
import { newPlantBuilder } from '../../plant/plant.ts';
import { parsePath, valueAt } from '../../scenario/text/path.ts';
import type { FileTexts } from '../../series/types.ts';
import { AS_IT_IS } from '../../sky/moved.ts';
import { newYearPreparer, type PreparedYear } from '../../year.ts';
import { newDesigner, type PathValue } from '../designs/designer.ts';
import { withOutputTimes } from '../designs/harder.ts';
import { type Figures, newColumns, newFigureReader } from '../designs/play.ts';
import { readSource, type StudyText } from '../designs/study.ts';
import type { OnPlayed } from '../on-played.ts';
import { holds as keeps, type Requirement } from '../size/requirement.ts';
import { type Guess, guessesOf } from './guess.ts';
import { compareSways, movesNothing } from './rank.ts';
import { SWUNG, type Swayed, type SwayPlay } from './swayed.ts';
import { sideOf } from './turn.ts';

/** What is asked beside the plant. */
export interface SwayAsk {
  /** Bounds that the plant must keep to hold; without any it holds if nothing is unmet. */
  readonly requirements?: readonly Requirement[];
  /** Guesses to move beside the usual ones, or otherwise than these: `KEY=LOW:HIGH` or `KEY=A,B,C`. */
  readonly moves?: readonly string[];
}

/** A value that was not played. */
export interface SwayLeftOut {
  /** Of the guess. */ readonly key: string;
  /** That it can't have. */ readonly value: number | string;
  /** What it contradicts. */ readonly why: string;
}

/** What the answer of a plant hangs on. */
export interface Sway {
  /** Whether it keeps every requirement as it stands; without any, whether nothing is unmet. */
  readonly holds: boolean;
  /** Bounds that were asked for. */ readonly requirements: readonly Requirement[];
  /** The year as it stands. */ readonly now: Figures;
  /** Null without a money section. */ readonly currency: string | null;
  /** Guesses that move something, the one that the answer hangs on most first. */
  readonly guesses: readonly Swayed[];
  /** Guesses that move nothing within their ranges. */ readonly idle: readonly Swayed[];
  /** Values that contradict the rest of the scenario, and why: they were not played. */
  readonly left_out: readonly SwayLeftOut[];
  /** Of the plant as it stands. */ readonly dangers: readonly Danger[];
  /** Of the plant as it stands. */ readonly cautions: readonly string[];
  /** How many years were played for the answer. */ readonly played_years: number;
}

/**
 * What the answer hangs on: moves one guess at a time, plays the year with each value, and ranks the guesses by what
 * moves the verdict and the figures. Guesses that are wrong together are not tried.
 *
 * @param texts text of every series file that the scenario names
 * @param onPlayed told how many years have been played, after each
 * @throws InputError if the scenario is not sound, a series can't be used, or a move is not one
 */
export function swayPlant(
  source: StudyText,
  texts: FileTexts,
  { requirements = [], moves = [] }: SwayAsk = {},
  onPlayed: OnPlayed = () => {},
): Sway {
  expectArgument('swayPlant', 'source', source, 'source');
  expectArgument('swayPlant', 'texts', texts, 'map');
  const read = readSource(source);
  const { scenario } = read;
  const yearOf = newYearPreparer(source.file, texts);
  const year = yearOf(scenario);
  const plantOf = newPlantBuilder();
  const columnsOf = newColumns();
  const figuresOf = newFigureReader();
  /** @param made what was made of the year beside the scenario, by a name */
  const play = (year: PreparedYear, made = ''): Figures =>
    figuresOf(playRow(year, plantOf(year.scenario), columnsOf(year)), made);
  const design = newDesigner(read.source.written, read.source.shelf);
  const inFrost = year.sky.air_temperature_C.some((air_C) => air_C < 0);
  const guesses = guessesOf(read, moves, inFrost);
  let played_years = 0;
  const judged = (figures: Figures): { holds: boolean; figures: Figures } => {
    onPlayed(++played_years);
    const holds =
      requirements.length === 0
        ? figures['unmet.hours'] === 0
        : requirements.every((one) => keeps(one, figures[one.name as keyof Figures]));
    return { holds, figures };
  };
  const now = judged(play(year));

  /** True of a key in a section that a part brings whole. */
  const isLent = (path: string): boolean =>
    valueAt(read.source.written.data, parsePath(path).slice(0, -1)) === undefined;
  /** The year with one guess at a value, or why there is none. */
  const playAt = (guess: Guess, value: number | string): SwayPlay | string => {
    if (value === guess.today) return { value, ...now };
    const made = guess.paths.length === 0 ? { scenario } : design(valuesOf(guess, value));
    if (made.scenario === null) return guess.paths.some(isLent) ? LENT : made.contradiction;
    const number = Number(value);
    try {
      const own = yearOf(
        made.scenario,
        guess.key === 'sun'
          ? { sun: number, air_K: 0 }
          : guess.key === 'air'
            ? { sun: 1, air_K: number }
            : AS_IT_IS,
      );
      const moved =
        guess.key === 'load'
          ? { ...own, loads: timesLoad(own.loads, number) }
          : guess.key === 'panels'
            ? { ...own, arrays: own.arrays.map((array) => withOutputTimes(array, () => number)) }
            : own;
      const name = guess.paths.length === 0 ? `${guess.key} ${number}` : '';
      return { value, ...judged(play(moved, name)) };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      return error.issues[0]!.message;
    }
  };
  const valuesOf = ({ paths, scale, beside }: Guess, value: number | string): readonly PathValue[] =>
    paths.flatMap((text) => {
      const path = parsePath(text);
      const under = path.slice(0, -1);
      return [
        { path, value: scaled(valueAt(scenario, path), scale, value) },
        ...Object.entries(beside)
          .map(([key, other]) => ({ path: [...under, key], value: other }))
          .filter((one) => valueAt(scenario, one.path) === undefined),
      ];
    });

  const left_out: SwayLeftOut[] = [];
  const swayed = guesses.map((guess): Swayed => {
    const played = new Map<number | string, SwayPlay | string>();
    const at = (value: number | string): SwayPlay | string => {
      const known = played.get(value) ?? playAt(guess, value);
      played.set(value, known);
      return known;
    };
    const plays = guess.to.flatMap((value): SwayPlay[] => {
      const one = at(value);
      if (typeof one !== 'string') return [one];
      left_out.push({ key: guess.key, value, why: one });
      return [];
    });
    if (plays.length === 0 && guess.why === null)
      throw refused('move', `--move ${guess.key}`)`none of its values can be played: ${at(guess.to[0]!)} |
        take values that this key may have`;
    const holdsAt = (value: number): boolean | null => {
      const one = at(value);
      return typeof one === 'string' ? null : one.holds;
    };
    const { today, least, most } = guess;
    const [low, high] = guess.to as readonly [number, number];
    const sides = !guess.is_range
      ? []
      : [
          ...(low < (today as number) ? [sideOf(today as number, low, least, now.holds, holdsAt)] : []),
          ...(high > (today as number) ? [sideOf(today as number, high, most, now.holds, holdsAt)] : []),
        ];
    const farthest = [today as number, ...sides.map((side) => side.farthest)];
    return {
      ...guess,
      plays,
      swing: Object.fromEntries(
        SWUNG.map((name) => [name, swingOf([now, ...plays].map(({ figures }) => figures[name]))]),
      ) as Swayed['swing'],
      turns: sides.flatMap(({ turn }) => turn ?? []).sort((a, b) => a.reach - b.reach),
      turned_by: guess.is_range
        ? []
        : plays.filter(({ holds }) => holds !== now.holds).map(({ value }) => value),
      span: guess.is_range ? [Math.min(...farthest), Math.max(...farthest)] : null,
    };
  });
  const plant = plantOf(scenario);
  return {
    holds: now.holds,
    requirements,
    now: now.figures,
    currency: scenario.money?.currency ?? null,
    guesses: swayed.filter((one) => !movesNothing(one)).sort(compareSways),
    idle: swayed.filter(movesNothing),
    left_out,
    dangers: dangersOf(year, plant),
    cautions: cautions(plant),
    played_years,
  };
}

const LENT = 'a part brings it whole; it can be moved where the file states its section';

/** What stands at a path, or each number of a list there, moved. */
function scaled(now: unknown, scale: Guess['scale'], by: number | string): unknown {
  if (scale === 'value') return by;
  if (Array.isArray(now)) return now.map((one) => scaled(one, scale, by));
  const [from, amount] = [now as number, by as number];
  // Losses and shares have no less than nothing: an array that loses less than is taken off loses none.
  return scale === 'factor' ? from * amount : Math.max(0, from + amount);
}

/** Null where one of them is not there. */
function swingOf(values: readonly (number | null)[]): number | null {
  if (values.some((value) => value === null)) return null;
  const known = values as readonly number[];
  return Math.max(...known) - Math.min(...known);
}
