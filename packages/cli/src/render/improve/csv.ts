import type { Improvement } from '@longnight/core';
import type { TriedChange } from '@longnight/core/study';
import { countsYears } from '../check/judge-words.ts';
import { figureName } from '../check/requirements.ts';
import { type Cell, cellsCsv } from '../tables/cells.ts';
import { changeWords, typedWords } from './words.ts';

/** A try, the group it belongs to and its place there. */
interface Row extends TriedChange {
  readonly group: string;
  readonly rank: number;
}

/** Told where years are counted. */
const yearsHeld = (now: Improvement['now']): readonly Column[] => [
  ['years_held_before', () => now.years_held],
  ['years_held_after', ({ outcome }) => outcome.years_held],
];

type Column = readonly [head: string, cell: (row: Row) => Cell];

const columnsOf = ({ now, judge }: Improvement): readonly Column[] => [
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
  ...(countsYears(judge) ? yearsHeld(now) : []),
  ...(judge.all_served ? [] : judge.requirements).flatMap((hold, k): Column[] => [
    [`${figureName(hold)}_before`, () => now.bounds[k]!],
    [`${figureName(hold)}_after`, ({ outcome }) => outcome.bounds[k]!],
  ]),
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
