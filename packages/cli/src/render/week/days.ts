import type { DayFigures } from '@longnight/core';
import { figures, type Table, tableOf } from '../document/document.ts';
import { fixed, socPercent } from '../document/figures.ts';

/** Days one after another, as figures; a plant without a generator has no column for one. */
export const daysTable = (
  days: readonly DayFigures[],
  { start, generator }: { readonly start: string; readonly generator: boolean },
): Table =>
  tableOf(`Day by day from ${start}`, days, [
    ['day', (day) => day.date],
    [figures('wanted', 'kWh'), (day) => fixed(day.wanted_kWh, 2)],
    [figures('sun offered', 'kWh'), (day) => fixed(day.available_kWh, 2)],
    generator && [figures('generator', 'kWh'), (day) => fixed(day.generator_kWh, 2)],
    [figures('unmet', 'kWh'), (day) => fixed(day.unmet_kWh, 2)],
    [figures('lowest SoC', '%'), (day) => socPercent(day.lowest_soc)],
    [figures('SoC at midnight', '%'), (day) => socPercent(day.end_soc)],
  ]);
