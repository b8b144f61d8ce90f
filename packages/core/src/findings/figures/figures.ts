import { BANK_FIGURES } from './bank.ts';
import type { Figure } from './figure.ts';
import { LOAD_FIGURES } from './load.ts';
import { PLANT_FIGURES } from './plant.ts';
import { RUN_FIGURES } from './run.ts';
import { SUN_FIGURES } from './sun.ts';

/**
 * Every figure of report.json, each described here and nowhere else: `explain`, the workbook, the columns of a sweep,
 * the rows of a comparison and requirements read it off this table. A test fails until a new one has its line.
 */
export const FIGURES = [...LOAD_FIGURES, ...BANK_FIGURES, ...SUN_FIGURES, ...PLANT_FIGURES, ...RUN_FIGURES];

/** Dotted name of a figure as in report.json. */
export type FigureName = (typeof FIGURES)[number]['name'];

const byName = new Map<string, Figure>(FIGURES.map((figure) => [figure.name, figure]));

/** The figure of a name; undefined for a name that no report has. */
export const figureNamed = <Name extends string>(
  name: Name,
): Name extends FigureName ? Figure<Name> : Figure | undefined => byName.get(name) as never;

/**
 * A figure as a number to be compared: 0 where the plant has none of it, no generator or no socket. Null where it is
 * not known: it is no price of nothing then.
 *
 * @param value in the unit of the figure
 */
export const countsAs = (name: string, value: number | null): number | null =>
  value ?? (figureNamed(name)?.lack === 'none' ? 0 : null);
