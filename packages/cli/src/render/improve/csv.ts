import type { Improvement } from '@longnight/core';
import type { TriedChange } from '@longnight/core/study';
import { type Cell, cellsCsv } from '../tables/cells.ts';
import { changeWords, typedWords } from './words.ts';

/** A try, the group it belongs to and its place there. */
interface Row extends TriedChange {
  readonly group: string;
  readonly rank: number;
}

const columnsOf = ({ now }: Improvement): readonly (readonly [head: string, cell: (row: Row) => Cell])[] => [
  ['group', ({ group }) => group],
  ['rank', ({ rank }) => rank],
  ['change', changeWords],
  ['in_the_scenario', ({ values }) => typedWords(values)],
  ['holds_then', (row) => row.holds_then],
  ['unmet_before_kWh', () => now.unmet_kWh],
  ['unmet_after_kWh', ({ outcome }) => outcome.unmet_kWh],
  ['unmet_after_higher_tiers_kWh', ({ outcome }) => outcome.unmet_higher_tiers_kWh],
  ['run_before_h', () => now.generator_run_h],
  ['run_after_h', ({ outcome }) => outcome.generator_run_h],
  ['fuel_after_L', ({ outcome }) => outcome.fuel_L],
  ['lowest_soc_after', ({ outcome }) => outcome.lowest_soc],
  ['extra_money', (row) => row.extra_money],
  ['money_per_removed_kWh', (row) => row.money_per_removed_kWh],
];

/** improve.csv, RFC 4180: one row a try. */
export function improveCsv(improvement: Improvement): string {
  const { helping, repeated, pairs: pair, together, harming, idle } = improvement;
  const groups = { helping, repeated, pair, together, harming, 'no difference': idle };
  const rows = Object.entries(groups).flatMap(([group, tries]) =>
    tries.map((tried, k): Row => ({ ...tried, group, rank: k + 1 })),
  );
  return cellsCsv(rows, columnsOf(improvement));
}
