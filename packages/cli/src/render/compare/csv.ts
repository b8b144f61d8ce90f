import type { Comparison } from '@longnight/core';
import type { ComparedName, CompareYears, YearsSpread } from '@longnight/core/study';
import { yearJson } from '../document/json.ts';
import { plain } from '../document/plain-text.ts';
import { written } from '../document/written.ts';
import { DecimalWriter } from '../tables/decimal-writer.ts';
import { textRow } from '../tables/hours-csv.ts';
import { ASKED_WORDS } from './rows.ts';

/** What is told of a figure over many years, in the order of the columns. */
const OVER = ['p5', 'p50', 'p95', 'mean'] as const satisfies readonly (keyof YearsSpread)[];

/**
 * compare.csv: RFC 4180, one row a figure, one column a plant; empty where a plant has no such figure. With many years
 * four more columns a plant, empty where a figure is the same in all of them.
 */
export function compareCsv({ plants, rows, asked, currency, over_years }: Comparison): Uint8Array {
  const labels = plants.map((plant) => plain(plant.label));
  const writer = new DecimalWriter(rows.length * 160);
  const over = over_years === null ? [] : labels.flatMap((label) => OVER.map((name) => `${label} ${name}`));
  writer.text(
    textRow(['figure', 'unit', 'meaning', ...labels, 'best', ...over, ...(over_years ? ['best_mean'] : [])]),
  );
  const priced = asked.rows.map((row) => ({
    ...row,
    unit: `money/${row.per}`,
    meaning: ASKED_WORDS[row.name],
  }));
  for (const row of [...rows, ...priced]) {
    const unit = plain(row.unit.replace('money', currency ?? 'money'));
    writer.text(textRow([row.name, unit, row.meaning]).slice(0, -'\r\n'.length));
    const cells = (values: readonly (number | null)[]): void => {
      for (const value of values)
        if (value === null) writer.ascii(',');
        else writer.cell(value);
    };
    const best = (winners: readonly number[]): string => textRow([winners.map((k) => labels[k]!).join(', ')]);
    cells(row.values);
    if (over_years !== null) {
      writer.text(`,${best(row.winners).slice(0, -'\r\n'.length)}`);
      const spread = over_years.rows.find(({ name }) => name === row.name);
      cells(labels.flatMap((_, p) => OVER.map((name) => spread?.spreads[p]?.[name] ?? null)));
      writer.text(`,${best(spread?.winners ?? [])}`);
    } else writer.text(`,${best(row.winners)}`);
  }
  return writer.bytes();
}

/** years.csv: one row for each year of each plant, the names of compare.csv; empty where a plant has no such figure. */
export function compareYearsCsv({ plants, rows }: Comparison, { years, by_year }: CompareYears): string {
  const names: readonly ComparedName[] = rows.map(({ name }) => name);
  const cell = (value: number | null): string => (value === null ? '' : String(written(value)));
  return [
    ['plant', 'seed', 'calendar_year', ...names],
    ...years.flatMap((year, y) =>
      plants.map(({ label }, p) => {
        const { seed, calendar_year } = yearJson(year);
        return [
          plain(label),
          cell(seed),
          cell(calendar_year),
          ...names.map((name) => cell(by_year[y]![p]![name])),
        ];
      }),
    ),
  ]
    .map((cells) => textRow(cells))
    .join('');
}
