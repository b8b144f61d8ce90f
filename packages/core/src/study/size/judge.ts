import { mean } from 'simple-statistics';
import type { Figures } from '../designs/play.ts';
import type { PossibleYear } from '../years/possible-years.ts';
import { keptYears, type Requirement } from './requirement.ts';
import { boundAtRank, figureIn, missedBy } from './size.ts';

/** In which years plants are to be judged, and by what. Empty means the scenario's own year, and nothing unmet. */
export interface JudgeAsk {
  /** As `possibleYears` gave them; left out, the scenario's own year alone. */
  readonly years?: readonly PossibleYear[] | undefined;
  /** In how many of them all that is required year by year must be kept; left out, in all. */
  readonly years_to_hold?: number | undefined;
  /** Bounds on figures of a design; left out, nothing may go unmet. */
  readonly requirements?: readonly Requirement[] | undefined;
}

/** The same with all that was left out. */
export interface Judge {
  /** Empty stands for the scenario's own year. */ readonly years: readonly PossibleYear[];
  readonly years_to_hold: number;
  readonly requirements: readonly Requirement[];
  /** True if nobody asked for anything but that nothing goes unmet. */ readonly all_served: boolean;
}

/** What the years say of a plant. */
export interface Judged {
  /** In how many of them all is kept that is required year by year. */ readonly years_held: number;
  /** True if those are as many as asked for, and what is required over all years is kept. */
  readonly keeps: boolean;
  /** Figure of each requirement: its statistic, or what as many years as asked for keep to. */
  readonly bounds: readonly (number | null)[];
  /**
   * How far it is from keeping them: unmet energy, the mean of the years; with requirements how far each is missed, as
   * a share of its bound, summed.
   */
  readonly missed: number;
}

const NOTHING_UNMET: Requirement = {
  text: 'unmet.hours<=0',
  name: 'unmet.hours',
  statistic: null,
  relation: '<=',
  bound: 0,
};

/** Fills in what nobody asked for. */
export function judgeOf({ years = [], years_to_hold, requirements = [] }: JudgeAsk): Judge {
  return {
    years,
    years_to_hold: years_to_hold ?? Math.max(1, years.length),
    requirements: requirements.length === 0 ? [NOTHING_UNMET] : requirements,
    all_served: requirements.length === 0,
  };
}

/**
 * Judges a plant by what it did in the years.
 *
 * @param figures year by year, in the order of `judge.years`; of the scenario's own alone where it is empty
 */
export function judgeYears(figures: readonly Figures[], judge: Judge): Judged {
  const { requirements, years_to_hold, all_served } = judge;
  const { years_held, statistics_hold } = keptYears(requirements, figures.map(figureIn));
  const bounds = requirements.map((bound) => boundAtRank(figures, bound, years_to_hold));
  return {
    years_held,
    keeps: years_held >= years_to_hold && statistics_hold,
    bounds,
    missed: all_served
      ? mean(figures.map((year) => year['unmet.energy_kWh']!))
      : requirements.reduce((sum, bound, k) => sum + missedBy(bound, bounds[k]!), 0),
  };
}
