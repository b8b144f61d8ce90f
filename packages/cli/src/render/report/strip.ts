import type { Ledger, Report } from '@longnight/core';
import { localDate } from '@longnight/core/clock';
import { present } from '../document/document.ts';
import { counted, hours, kWh, MONTHS } from '../document/figures.ts';

/** What bars are drawn with: eight heights, and the sign for nothing at all. */
interface Glyphs {
  readonly heights: string;
  readonly none: string;
}

export const BLOCKS: Glyphs = { heights: '▁▂▃▄▅▆▇█', none: '·' };
/** For terminals without them: eighths as digits. */
export const DIGITS: Glyphs = { heights: '12345678', none: '.' };

/** The bar of a share of the tallest, in eighths; what is not nothing gets the lowest at least. */
export function bar(share: number, { heights, none }: Glyphs): string {
  if (!(share > 0)) return none;
  return heights[Math.min(7, Math.floor(share * 8))]!;
}

const CELL = 4;

/**
 * The twelve months as rows of bars, each row to its own tallest month, which is named behind it: 63 columns.
 *
 * @returns no row for what the year has none of, but always those of the loads
 */
export function monthStrip(report: Report, glyphs: Glyphs): readonly string[] {
  const { load, unmet, array, generator } = report;
  const rows: [string, readonly number[], (value: number) => string][] = present([
    ['served', load.wanted_by_month_kWh.map((wanted, m) => wanted - unmet.by_month_kWh[m]!), kWh],
    ['unmet', unmet.by_month_kWh, kWh],
    ['curtailed', array.curtailed_by_month_kWh, kWh],
    generator && ['generator', generator.run_hours_by_month, hours],
  ]);
  const label = Math.max(...rows.map(([name]) => name.length)) + 1;
  const head = ' '.repeat(label) + MONTHS.map((name) => name[0]!.padStart(CELL - 1)).join('');
  return [
    `${head}   most`,
    ...rows.map(([name, values, words]) => {
      const most = Math.max(...values);
      const bars = values
        .map((value) => bar(most > 0 ? value / most : 0, glyphs).padStart(CELL - 1))
        .join('');
      const behind = most > 0 ? `${MONTHS[values.indexOf(most)]} ${words(most)}` : 'none';
      return `${name.padEnd(label)}${bars}   ${behind}`;
    }),
  ];
}

/** Bars of a stretch: few enough for a line, and whole days of them where days are few. */
const MOST_BARS = 60;

/**
 * The charge of the leanest days as a line of bars, each the lowest state of charge within its stretch; a full bank is the
 * tallest.
 *
 * @returns a caption and the line
 */
export function leanStrip(
  ledger: Ledger,
  { days, start }: Report['leanest_days'],
  glyphs: Glyphs,
): readonly string[] {
  const { clock } = ledger.year;
  const first = clock.day_start.findIndex((step) => localDate(clock, step) === start);
  const soc = ledger.columns.bank_soc.subarray(clock.day_start[first]!, clock.day_start[first + days]!);
  const bars = days <= MOST_BARS ? days * Math.min(8, Math.floor(MOST_BARS / days)) : MOST_BARS;
  let line = '';
  for (let k = 0; k < bars; k++) {
    const from = Math.floor((k * soc.length) / bars);
    const to = Math.max(from + 1, Math.floor(((k + 1) * soc.length) / bars));
    line += bar(Math.min(...soc.subarray(from, to)), glyphs);
  }
  const each_h = (soc.length * ledger.step_h) / bars;
  const span = each_h < 48 ? hours(each_h) : counted(Math.round(each_h / 24), 'day');
  return [`Charge in stretches of ${span}, a full bank is ${glyphs.heights[7]}:`, line];
}
