import type { DayFigures } from '@longnight/core';
import type { Table } from '../document/document.ts';
import { figureColumns } from '../document/document.ts';
import { fixed, socPercent } from '../document/figures.ts';

/** Days one after another, as figures; a plant without a generator has no column for one. */
export function daysTable(
  days: readonly DayFigures[],
  { start, generator }: { readonly start: string; readonly generator: boolean },
): Table {
  return {
    kind: 'table',
    caption: `Day by day from ${start}`,
    columns: [
      { title: 'day' },
      ...figureColumns(
        ['wanted', 'kWh'],
        ['sun offered', 'kWh'],
        ...(generator ? ([['generator', 'kWh']] as const) : []),
        ['unmet', 'kWh'],
        ['lowest SoC', '%'],
        ['SoC at midnight', '%'],
      ),
    ],
    rows: days.map((day) => [
      day.date,
      fixed(day.wanted_kWh, 2),
      fixed(day.available_kWh, 2),
      ...(generator ? [fixed(day.generator_kWh, 2)] : []),
      fixed(day.unmet_kWh, 2),
      socPercent(day.lowest_soc),
      socPercent(day.end_soc),
    ]),
  };
}
