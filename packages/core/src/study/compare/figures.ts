import type { Figure } from '../../findings/figures/figure.ts';
import { type FigureName, figureNamed } from '../../findings/figures/figures.ts';
import { figuresOfReport } from '../../findings/figures/of-report.ts';
import type { Report } from '../../findings/report.ts';
import { HEADLINE } from '../designs/headline.ts';
import { winnersAmong } from './winners.ts';

/** The figures that plants are compared by, in the order of the rows. */
export const COMPARED = [
  'limits.ac_output.after_inverter_loss_kW',
  'limits.solar_charging.figure_kW',
  'limits.ac_charging.figure_kW',
  ...HEADLINE,
  'shore.energy_kWh',
  'alternator.energy_kWh',
  'money.capital',
  'money.replacements',
  'money.fuel',
  'money.shore',
  'money.service',
  'money.total',
  'money.per_served_kWh',
] as const satisfies readonly FigureName[];

/** Name of a figure that plants are compared by. */
export type ComparedName = (typeof COMPARED)[number];

/** What plants are compared by; null where a plant has no such figure. */
export type ComparedFigures = Readonly<Record<ComparedName, number | null>>;

/** The figures of a report that plants are compared by. */
export function comparedOf(report: Report): ComparedFigures {
  const figures = figuresOfReport(report);
  return Object.fromEntries(COMPARED.map((name) => [name, figures.get(name) ?? null])) as ComparedFigures;
}

/** A figure as a row of a comparison tells it. */
export interface Told extends Pick<Figure, 'unit' | 'meaning' | 'better'> {
  readonly name: ComparedName;
}

export function toldOf(name: ComparedName): Told {
  const { unit, meaning, better } = figureNamed(name);
  return { name, unit, meaning, better };
}

/**
 * Plants with the best of some values of a figure.
 *
 * @param may false for a plant that is a danger or misses what is required: it spends less for it, and is never the best
 *   in what is spent
 */
export const winnersIn = (
  name: ComparedName,
  values: readonly (number | null)[],
  may: readonly boolean[],
): readonly number[] =>
  winnersAmong(
    values,
    figureNamed(name).better,
    may.map((able) => able || !name.startsWith('money.')),
  );
