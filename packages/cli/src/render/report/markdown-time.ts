import type { Report } from '@longnight/core';
import { fixed, MONTHS } from '../document/figures.ts';
import { table } from '../document/markdown-text.ts';
import { blockParts } from '../document/to-markdown.ts';
import { daysTable } from '../week/days.ts';

/** Twelve months and their sum. */
export function months(report: Report): string {
  const { load, array, generator, unmet } = report;
  const columns: [string, readonly number[], number][] = [
    ['wanted, kWh', load.wanted_by_month_kWh, 0],
    ['sun available, kWh', array.available_by_month_kWh, 0],
    ['curtailed, kWh', array.curtailed_by_month_kWh, 0],
    ...(generator === null
      ? []
      : ([['generator, h', generator.run_hours_by_month, 0]] as [string, readonly number[], number][])),
    ['unmet, kWh', unmet.by_month_kWh, 2],
  ];
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
  const rows = MONTHS.map((name, m) => [
    name,
    ...columns.map(([, values, decimals]) => fixed(values[m]!, decimals)),
  ]);
  rows.push(['year', ...columns.map(([, values, decimals]) => fixed(sum(values), decimals))]);
  return table([{ title: 'month' }, ...columns.map(([title]) => ({ title, figures: true as const }))], rows);
}

/** The darkest spell, one row a day. */
export const spellDays = ({ darkest_spell: spell, generator }: Report): string =>
  blockParts(daysTable(spell.by_day, { start: spell.start, generator: generator !== null })).join('');
