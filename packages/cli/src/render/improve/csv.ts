import type { Improvement } from '@longnight/core';
import type { TriedChange } from '@longnight/core/study';
import { written } from '../document/written.ts';
import { changeWords, typedWords } from './words.ts';

const HEADER = [
  'group',
  'rank',
  'change',
  'in_the_scenario',
  'holds_then',
  'unmet_before_kWh',
  'unmet_after_kWh',
  'unmet_after_higher_tiers_kWh',
  'run_before_h',
  'run_after_h',
  'fuel_after_L',
  'lowest_soc_after',
  'extra_money',
  'money_per_removed_kWh',
];

const quoted = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text);
/** An empty cell is "no such figure". */
const cell = (value: string | number | boolean | null): string =>
  value === null ? '' : quoted(String(typeof value === 'number' ? written(value) : value));

/** improve.csv, RFC 4180: one row a try. */
export function improveCsv(improvement: Improvement): string {
  const groups: readonly [string, readonly TriedChange[]][] = [
    ['helping', improvement.helping],
    ['repeated', improvement.repeated],
    ['pair', improvement.pairs],
    ['together', improvement.together],
    ['harming', improvement.harming],
    ['no difference', improvement.idle],
  ];
  const rows = groups.flatMap(([group, tries]) =>
    tries.map((tried, k) => {
      const { outcome } = tried;
      return [
        group,
        k + 1,
        changeWords(tried),
        typedWords(tried.values),
        tried.holds_then,
        improvement.now.unmet_kWh,
        outcome.unmet_kWh,
        outcome.unmet_higher_tiers_kWh,
        improvement.now.generator_run_h,
        outcome.generator_run_h,
        outcome.fuel_L,
        outcome.lowest_soc,
        tried.extra_money,
        tried.money_per_removed_kWh,
      ];
    }),
  );
  return [HEADER, ...rows].map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}
