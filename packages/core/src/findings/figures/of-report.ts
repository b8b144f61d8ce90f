import { expectArguments } from '../../basis/arguments.ts';
import type { Report } from '../report.ts';
import { FIGURES } from './figures.ts';

/** Units of what is no number. */
const NO_NUMBERS = new Set(['text', 'time', 'flag', 'reason']);

/**
 * Every single number of a report by its dotted name, as it stands in report.json; of `dangers` how many there are.
 * What stands in a list is left out, and so is what nobody asked for; null is what the plant lacks or nobody knows.
 */
export function figuresOfReport(report: Report): ReadonlyMap<string, number | null> {
  expectArguments('figuresOfReport', { report });
  const figures = new Map<string, number | null>();
  for (const { name, unit, list, within } of FIGURES) {
    if (list || NO_NUMBERS.has(unit) || (within !== null && at(report, within) === null)) continue;
    const value = at(report, name);
    figures.set(name, Array.isArray(value) ? value.length : (value as number | null));
  }
  return figures;
}

/** What stands at a dotted name; null where an object on the way there is null. */
const at = (report: Report, name: string): unknown =>
  name
    .split('.')
    .reduce<unknown>((inside, key) => (inside as Record<string, unknown> | null)?.[key] ?? null, report);
