import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { refusal } from '../../basis/errors.ts';
import { countsAs } from '../../findings/figures/figures.ts';
import { parsePath } from '../../scenario/text/path.ts';
import { type Axis, digitsOf } from '../designs/axes.ts';
import type { DesignFigureName, Figures } from '../designs/play.ts';
import type { FigureOf } from '../years/over-years.ts';
import { front } from './front.ts';
import { keptYears, type Requirement, statisticOf } from './requirement.ts';

/** One played design of a sizing question. */
export interface Candidate {
  /** Of the design in its study. */ readonly index: number;
  /**
   * Its figures in each of its years, in their order; one without years. Null if the values of the design contradict
   * each other.
   */
  readonly figures: readonly Figures[] | null;
}

/** What a sizing question asks for. */
export interface SizeAsk {
  /** Bounds that a design must keep; those with a statistic over all its years, the others year by year. */
  readonly holds: readonly Requirement[];
  /** The figure to make least among the designs that hold. */ readonly least: DesignFigureName;
  /** In how many of the years every requirement without a statistic must be kept; 1 where one is played. */
  readonly years_to_hold: number;
}

/** What is kept of a played design. Over many years figures are those at the rank that must hold: the 95th best of 100. */
export interface Tried {
  readonly index: number;
  /** True if every requirement is kept in as many years as asked for, and the design is no danger. */
  readonly holds: boolean;
  /** Dangers found, of the year with most: such a design is never an answer, whatever else it keeps. */
  readonly dangers: number;
  readonly years_held: number;
  /** Place of the year with most unmet energy; of equals, with most generator hours, then with the lowest charge. */
  readonly hardest_year: number;
  /** The figure to make least; null where the plant has none, or a price is missing. */
  readonly least: number | null;
  readonly capital: number | null;
  readonly unmet_kWh: number;
  /** Null without a generator. */
  readonly run_hours: number | null;
  /** The figure of each bound, in the order of `holds`: its statistic, or what stands at that rank. */
  readonly bounds: readonly (number | null)[];
}

/** Which design to take, and what lies beside it. */
export interface SizeAnswer {
  /**
   * Index of the design that holds with the least figure; ties go to the one that costs less to buy, then to the smaller index.
   * Null if none holds, or none that does has such a figure.
   */
  readonly best: number | null;
  /** If none holds: the one that misses by least. */ readonly nearest: number | null;
  /** Designs that keep every requirement. */ readonly holding: number;
  /** Designs that were played. */ readonly played: number;
  /** Designs whose values contradict each other. */ readonly contradictory: number;
  /** Designs that are a danger: neither answer, nor nearest, nor on the front. */ readonly dangerous: number;
  /** Designs that hold and have no such figure: a price is missing. */ readonly unranked: number;
  /**
   * Indices of the designs that no other beats, least figure first: every one with a lower figure leaves more unmet, or
   * as much with more generator hours.
   */
  readonly front: readonly number[];
  /** Indices of the designs that can be chosen, in the order in which they would be. */
  readonly candidates: readonly number[];
  /** What is kept of a played design. */ readonly tried: (index: number) => Tried | undefined;
}

/** Sections that say what a plant is played in, and are not of it. */
const CIRCUMSTANCES = {
  site: 'where the plant stands',
  weather: 'the weather',
  run: 'which year is played, and how',
  loads: 'what the loads want',
} as const;

/**
 * Refuses axes that are no choice of whoever builds the plant: the design with the least figure would be the one in the
 * easiest of them.
 *
 * @throws InputError for an axis under site, weather, run or loads
 */
export function refuseCircumstances(axes: readonly Axis[]): void {
  expectArguments('refuseCircumstances', { axes });
  for (const { path } of axes) {
    const section = parsePath(path)[0];
    const words = Object.entries(CIRCUMSTANCES).find(([name]) => name === section)?.[1];
    if (words === undefined) continue;
    throw refusal(
      'circumstance',
      `--vary ${path}`,
      `is ${words}, which is not to be chosen: the answer would be the easiest of its values`,
      'size once for each of them, with --set PATH=VALUE; --seeds N plays drawn years; longnight sweep shows how designs fare along any key',
      'keys of the plant, such as bank.modules_parallel or arrays[0].panels',
    );
  }
}

/** The largest value of a figure that `years` of the years do not exceed: the 95th of 100, the only one of 1. */
function figureAtRank(figures: readonly Figures[], name: DesignFigureName, years: number): number | null {
  const values = figures.map((year) => year[name]).filter((value) => value !== null);
  if (values.length < figures.length) return null;
  return values.sort((a, b) => a - b)[Math.min(years, values.length) - 1] ?? null;
}

/** The same for a bound: what its figure keeps to in `years` of the years, be it below or above. */
export function boundAtRank(figures: readonly Figures[], bound: Requirement, years: number): number | null {
  if (bound.statistic !== null) return statisticOf(bound, figures.map(figureIn));
  const rank = bound.relation.startsWith('<') ? years : figures.length - years + 1;
  return figureAtRank(figures, bound.name as DesignFigureName, Math.max(1, rank));
}

/** Figures of a year by their names. */
export const figureIn =
  (year: Figures): FigureOf =>
  (name) =>
    year[name as DesignFigureName];

/** Sums up the years of one design. */
export function triedDesign(index: number, figures: readonly Figures[], ask: SizeAsk): Tried {
  const years = ask.years_to_hold;
  const { years_held, statistics_hold } = keptYears(ask.holds, figures.map(figureIn));
  const dangers = Math.max(0, ...figures.map((year) => year.dangers ?? 0));
  return {
    index,
    holds: years_held >= years && statistics_hold && dangers === 0,
    dangers,
    years_held,
    hardest_year: hardestOf(figures),
    least: figureAtRank(figures, ask.least, years),
    capital: figureAtRank(figures, 'money.capital', years),
    unmet_kWh: figureAtRank(figures, 'unmet.energy_kWh', years)!,
    run_hours: figureAtRank(figures, 'generator.run_hours', years),
    bounds: ask.holds.map((hold) => boundAtRank(figures, hold, years)),
  };
}

/** Place of the hardest of a design's years, the earlier of equals. */
const hardestOf = (figures: readonly Figures[]): number =>
  figures.reduce((worst, year, k) => (isHarder(year, figures[worst]!) ? k : worst), 0);

const isHarder = (a: Figures, b: Figures): boolean =>
  ((a['unmet.energy_kWh'] ?? 0) - (b['unmet.energy_kWh'] ?? 0) ||
    (a['generator.run_hours'] ?? 0) - (b['generator.run_hours'] ?? 0) ||
    (b['bank.lowest_soc'] ?? 0) - (a['bank.lowest_soc'] ?? 0)) > 0;

/** Takes designs one by one, in any order, and picks among them: exact on what it was given. */
export interface Chooser {
  take(candidate: Candidate): void;
  answer(): SizeAnswer;
}

/** Picks among designs that come in any order: take each, then ask for the answer. */
export function newChooser(ask: SizeAsk): Chooser {
  expectArgument('newChooser', 'ask', ask, 'size_ask');
  const known = new Map<number, Tried>();
  let contradictory = 0;
  return {
    take({ index, figures }) {
      if (figures === null) contradictory++;
      else known.set(index, triedDesign(index, figures, ask));
    },
    answer() {
      // By index, so that the order in which threads delivered can't show.
      const all = [...known.values()].sort((a, b) => a.index - b.index);
      const fit = all.filter((design) => design.dangers === 0);
      const holding = fit.filter((design) => design.holds);
      const ranked = holding.filter((design) => design.least !== null);
      const candidates = [...ranked].sort(byPreference).map(({ index }) => index);
      return {
        best: candidates[0] ?? null,
        candidates,
        nearest: holding.length > 0 ? null : nearestOf(fit, ask.holds),
        holding: holding.length,
        played: all.length,
        contradictory,
        dangerous: all.length - fit.length,
        unranked: holding.length - ranked.length,
        front: front(
          fit.map((design) => design.least),
          ranksOf(fit),
        ).map((k) => fit[k]!.index),
        tried: (index) => known.get(index),
      };
    },
  };
}

/** Places by unmet energy, then by generator hours; equals share a place. */
function ranksOf(all: readonly Tried[]): readonly number[] {
  const apart = (a: Tried, b: Tried): number =>
    a.unmet_kWh - b.unmet_kWh || (a.run_hours ?? 0) - (b.run_hours ?? 0);
  const order = all.map((_, k) => k).sort((a, b) => apart(all[a]!, all[b]!));
  const ranks = new Array<number>(all.length);
  order.forEach((k, place) => {
    const before = order[place - 1];
    ranks[k] = before !== undefined && apart(all[before]!, all[k]!) === 0 ? ranks[before]! : place;
  });
  return ranks;
}

const priceOf = ({ capital }: Tried): number => capital ?? Number.POSITIVE_INFINITY;

/** The least figure first; of equals what costs less to buy, then the smaller index. */
const byPreference = (a: Tried, b: Tried): number =>
  a.least! - b.least! || Math.sign(priceOf(a) - priceOf(b)) || a.index - b.index;

/** Picks from designs that were all played. */
export function chooseDesign(candidates: Iterable<Candidate>, ask: SizeAsk): SizeAnswer {
  const chooser = newChooser(ask);
  for (const candidate of candidates) chooser.take(candidate);
  return chooser.answer();
}

/**
 * How far a figure is beyond a bound, as a share of the bound; of 1 where required is 0.
 *
 * @param figure in the unit of the figure that the bound names
 */
export function missedBy({ name, relation, bound }: Requirement, figure: number | null): number {
  const value = countsAs(name, figure);
  if (value === null) return Number.POSITIVE_INFINITY;
  const beyond = relation.startsWith('<') ? value - bound : bound - value;
  return Math.max(0, beyond) / (Math.abs(bound) || 1);
}

/** The design whose worst bound is missed by least; then the one that holds in more years, then the cheaper one. */
function nearestOf(all: readonly Tried[], bounds: readonly Requirement[]): number | null {
  const worst = (design: Tried): number =>
    Math.max(0, ...bounds.map((hold, k) => missedBy(hold, design.bounds[k]!)));
  let nearest: { design: Tried; miss: number } | null = null;
  for (const design of all) {
    const miss = worst(design);
    const isNearer =
      nearest === null ||
      miss < nearest.miss ||
      (miss === nearest.miss &&
        (design.years_held > nearest.design.years_held ||
          (design.years_held === nearest.design.years_held && priceOf(design) < priceOf(nearest.design))));
    if (isNearer) nearest = { design, miss };
  }
  return nearest?.design.index ?? null;
}

/** A design one step along one axis from another. */
export interface Neighbour {
  readonly index: number;
  readonly axis: number;
  readonly value: number | string;
}

/** The designs one step along each axis from a design, in the order of the axes; fewer at the edge of the grid. */
export function neighboursOf(axes: readonly Axis[], index: number): readonly Neighbour[] {
  const digits = digitsOf(axes, index);
  const beside: Neighbour[] = [];
  let stride = 1;
  const strides = axes.map(() => 0);
  for (let k = axes.length - 1; k >= 0; k--) {
    strides[k] = stride;
    stride *= axes[k]!.values.length;
  }
  axes.forEach(({ values }, axis) => {
    for (const step of [-1, 1]) {
      const value = values[digits[axis]! + step];
      if (value !== undefined) beside.push({ index: index + step * strides[axis]!, axis, value });
    }
  });
  return beside;
}
