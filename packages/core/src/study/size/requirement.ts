import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { type InputError, refusal } from '../../basis/errors.ts';
import { nearest } from '../../basis/nearest.ts';
import { expectWithin, FINITE } from '../../basis/within.ts';
import { countsAs } from '../../findings/figures/figures.ts';
import {
  type FigureOf,
  overYears,
  STATISTICS,
  type Statistic,
  statisticNamed,
  worseEnd,
} from '../years/over-years.ts';

/** A bound on one figure of the report. */
export interface Requirement {
  /** As it was written. */ readonly text: string;
  /** Dotted name as in report.json: `unmet.share`. */ readonly name: string;
  /** What of many years must keep to it; null where it must be kept year by year. */
  readonly statistic: Statistic | null;
  /** Of figure to bound. */ readonly relation: '<=' | '>=' | '<' | '>';
  /** In the figure's unit. */ readonly bound: number;
}

const HOLD = /^\s*([A-Za-z_][\w.]*)\s*(<=|>=|<|>)\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*$/;

/** More names than this are no help in a message. */
const NAMED = 24;

/**
 * Reads a bound such as `unmet.share<=0.001`, or, on many years, `unmet.energy_kWh.p95<=2`.
 *
 * @param known names that can be bound
 * @param overYears names of which a statistic over the years can be; none where one year is played
 * @throws InputError naming the nearest known name
 */
export function readRequirement(
  text: string,
  known: readonly string[],
  overYears: readonly string[] = [],
): Requirement {
  expectArguments('readRequirement', { text });
  expectArgument('readRequirement', 'known', known, 'names');
  expectArgument('readRequirement', 'overYears', overYears, 'names');
  const match = HOLD.exec(text);
  const refuse = refusal.bind(null, 'hold', `--require ${text}`);
  if (match === null) {
    throw refuse(
      'is not a requirement',
      'quote it for the shell: --require "unmet.share<=0.001"',
      'NAME<=NUMBER, or with >=, < or >',
    );
  }
  const [, written, relation, bound] = match;
  const { name, statistic } = named(written!, known, overYears, refuse);
  return {
    text: text.trim(),
    name,
    statistic,
    relation: relation as Requirement['relation'],
    bound: Number(bound),
  };
}

type Refuse = (message: string, fix?: string, expected?: string) => InputError;

/** A figure that is known, and the statistic behind its name. */
function named(
  written: string,
  known: readonly string[],
  over: readonly string[],
  refuse: Refuse,
): Pick<Requirement, 'name' | 'statistic'> {
  if (known.includes(written)) return { name: written, statistic: null };
  const dot = written.lastIndexOf('.');
  const [name, last] = [written.slice(0, Math.max(0, dot)), written.slice(dot + 1)];
  const statistic = statisticNamed(last);
  if (statistic === null && !known.includes(name)) throw unknown(written, known, refuse);
  if (!known.includes(name) && !over.includes(name)) throw unknown(name, known, refuse, `.${last}`);
  if (statistic === null)
    throw refuse(
      `"${last}" is no statistic of ${name}`,
      `take one of them, such as ${name}.p95, or ${name} alone for every year on its own`,
      STATISTICS,
    );
  if (over.length === 0)
    throw refuse(
      `"${last}" is over many years, and one is played`,
      `add --seeds N, or play each year of a weather file; or bound ${name} alone`,
    );
  if (!over.includes(name))
    throw refuse(`${name} is not told of each year`, `bound ${name} alone`, `one of ${over.join(', ')}`);
  if (statistic === 'worst' && worseEnd(name) === null)
    throw refuse(
      `neither end of ${name} is worse than the other`,
      `take a percentile or the mean, such as ${name}.p95`,
    );
  return { name, statistic };
}

function unknown(name: string, known: readonly string[], refuse: Refuse, behind = ''): InputError {
  const near = nearestFigure(name, known);
  const some = known.filter((figure) => !/^(longnight|site|run)\./.test(figure));
  return refuse(
    `there is no figure "${name}" here`,
    near === undefined ? 'take a name from this list' : `did you mean "${near}${behind}"?`,
    near === undefined
      ? `one of ${some.slice(0, NAMED).join(', ')}${some.length > NAMED ? ' and more' : ''}`
      : 'a figure by its dotted name',
  );
}

/** The figure that is most likely meant: by spelling, or by its last words where the section was left out or is wrong. */
export function nearestFigure(name: string, known: readonly string[]): string | undefined {
  expectArguments('nearestFigure', { name });
  expectArgument('nearestFigure', 'known', known, 'names');
  const near = nearest(name, known);
  if (near !== undefined) return near;
  const last = (dotted: string): string => dotted.slice(dotted.lastIndexOf('.') + 1);
  const meant = nearest(last(name), known.map(last));
  const sharing = known.filter((dotted) => last(dotted) === meant);
  return sharing.length === 1 ? sharing[0] : undefined;
}

/**
 * True if the figure is within the bound.
 *
 * A figure that the plant does not have (null) counts as 0: a plant without a generator runs it for no hours, which
 * keeps every cap and misses every floor above 0. What is not known, a price or a life that nobody stated, is not
 * nothing, and keeps no bound.
 *
 * @param figure in the unit of the figure that the bound names
 */
export function holds(
  requirement: Pick<Requirement, 'name' | 'relation' | 'bound'>,
  figure: number | null,
): boolean {
  expectArguments('holds', { requirement });
  expectWithin('holds', 'figure', figure ?? 0, -FINITE, Number.POSITIVE_INFINITY);
  const { name, relation, bound } = requirement;
  const value = countsAs(name, figure);
  if (value === null) return false;
  switch (relation) {
    case '<=':
      return value <= bound;
    case '>=':
      return value >= bound;
    case '<':
      return value < bound;
    case '>':
      return value > bound;
  }
}

/** How many years keep the bounds, and what is over all of them. */
export interface KeptYears {
  /** In how many years every requirement is kept that has no statistic; all years where each has one. */
  readonly years_held: number;
  /** True if every requirement with a statistic is kept. */
  readonly statistics_hold: boolean;
}

/**
 * Holds the years of one plant against requirements: those without a statistic jointly, year by year, the others over all
 * years together. The order of the years makes no difference.
 *
 * @param years at least one
 */
export function keptYears(requirements: readonly Requirement[], years: readonly FigureOf[]): KeptYears {
  const yearly = requirements.filter(({ statistic }) => statistic === null);
  return {
    years_held: years.filter((year) => yearly.every((one) => holds(one, year(one.name)))).length,
    statistics_hold: requirements.every(
      (one) => one.statistic === null || holds(one, statisticOf(one, years)),
    ),
  };
}

/** What a requirement with a statistic bounds; null for one without. */
export const statisticOf = ({ name, statistic }: Requirement, years: readonly FigureOf[]): number | null =>
  statistic === null
    ? null
    : overYears(
        name,
        statistic,
        years.map((year) => year(name)),
      );
