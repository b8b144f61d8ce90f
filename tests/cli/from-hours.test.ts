/**
 * What the screen says of a year, told anew from hours.csv alone: no function, column list or rounding of the program
 * is used, only the cells of the table and the meaning that columns.csv gives them.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, test } from 'vitest';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const PLANTS = join(DEMO, '..', 'plants');
const FILES = [DEMO, PLANTS].flatMap((from) =>
  readdirSync(from)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => join(from, name)),
);

/** Three digits, more only to keep whole ones; a comma from five digits on. */
function said(value: number): string {
  if (value === 0) return '0';
  if (value < 0.01) return 'under 0.01';
  if (value >= 99.95)
    return Math.round(value)
      .toString()
      .replace(/^(\d+)(\d{3})$/, (all, k, rest) => (all.length > 4 ? `${k},${rest}` : all));
  return value.toFixed(value < 9.995 ? 2 : 1);
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

describe.each(FILES.map((path) => [basename(path), path]))('%s', (name, path) => {
  const out = join(folder, name);
  const ended = longnight(['run', path, '--out', out]);
  /** The screen as one line: it wraps at 80 columns. */
  const screen = ended.stdout.replace(/\s+/g, ' ');
  const rows: Record<string, string>[] = parse(readFileSync(join(out, 'hours.csv')), { columns: true });
  const column = (title: string): number[] => rows.map((row) => Number(row[title]));
  const sumOf = (title: string): number => column(title).reduce((sum, x) => sum + x, 0);
  const unmet = column('unmet_kWh');
  const soc = column('bank_soc');
  const time = rows.map((row) => row.time_local!);
  const step_h = (Date.parse(rows[1]!.time_utc!) - Date.parse(rows[0]!.time_utc!)) / 3_600_000;
  const isDark = unmet.map((kWh) => kWh > 1e-9);
  const hours = (count: number): string => `${Math.round(count * 10) / 10}`;
  const wanted_kWh = sumOf('load_wanted_kWh');
  const unmet_kWh = sumOf('unmet_kWh');

  test('does it hold, and in which months not', () => {
    if (!isDark.includes(true)) {
      expect(screen).toContain(`Holds: all ${said(wanted_kWh)} kWh wanted in 2026 are served.`);
      return;
    }
    let longest = 0;
    let run = 0;
    for (const dark of isDark) {
      run = dark ? run + 1 : 0;
      longest = Math.max(longest, run);
    }
    const dark_h = isDark.filter(Boolean).length * step_h;
    expect(screen).toMatch(
      new RegExp(
        `Does not hold: ${said(unmet_kWh)} kWh of ${said(wanted_kWh)} kWh wanted in 2026 go unmet ` +
          `\\(${((100 * unmet_kWh) / wanted_kWh).toFixed(2)} %\\), in ${hours(dark_h)} hours?; ` +
          `the longest outage lasts ${hours(longest * step_h)} h`,
      ),
    );
    const byMonth = MONTHS.map((month, m) => ({
      month,
      kWh: unmet.reduce((sum, kWh, i) => (Number(time[i]!.slice(5, 7)) === m + 1 ? sum + kWh : sum), 0),
    })).filter(({ kWh }) => kWh > 1e-9);
    // Equals in the order of the calendar.
    byMonth.sort((a, b) => b.kWh - a.kWh);
    const shown = byMonth.length > 4 ? byMonth.slice(0, 4) : byMonth;
    const more = byMonth.length > 4 ? ` and ${byMonth.length - 4} more` : '';
    expect(screen).toContain(
      `Unmet by month: ${shown.map(({ month, kWh }) => `${month} ${said(kWh)} kWh`).join(', ')}${more}.`,
    );
  });

  test('the leanest week', () => {
    const dates = [...new Set(time.map((stamp) => stamp.slice(0, 10)))];
    const load = column('load_wanted_kWh');
    const sun = column('array_available_kWh');
    const daily = new Map(dates.map((date) => [date, { load: 0, sun: 0, unmet: 0, from: -1, to: -1 }]));
    time.forEach((stamp, i) => {
      const day = daily.get(stamp.slice(0, 10))!;
      day.load += load[i]!;
      day.sun += sun[i]!;
      day.unmet += unmet[i]!;
      if (day.from < 0) day.from = i;
      day.to = i;
    });
    const days = dates.map((date) => daily.get(date)!);
    const over = (first: number, of: 'load' | 'sun' | 'unmet'): number =>
      days.slice(first, first + 7).reduce((sum, day) => sum + day[of], 0);
    const starts = dates.slice(0, -6).map((_, first) => over(first, 'sun') / over(first, 'load'));
    const first = starts.indexOf(Math.min(...starts));
    const [from, to] = [days[first]!.from, days[first + 6]!.to];
    const lowest = Math.min(...soc.slice(from, to + 1));
    const ratio = starts[first]!;
    const sunSaid = ratio > 1.5 ? `${said(ratio)} times what` : `${Math.round(100 * ratio)} % of what`;
    const missed = over(first, 'unmet');
    expect(screen).toContain(
      `In the 7 days from ${dates[first]} the array offers ${sunSaid} the loads want; the bank goes in with ` +
        `${Math.round(100 * soc[from - 1]!)} %, comes down to ${Math.round(100 * lowest)} %, and ` +
        `${missed > 1e-9 ? `${said(missed)} kWh go` : 'nothing goes'} unmet.`,
    );
  });

  test('what gives out first, from when on, and how much of it that is', () => {
    const first = isDark.indexOf(true);
    if (first < 0) {
      expect(screen).toContain('Nothing gave out.');
      return;
    }
    const WORDS: Readonly<Record<string, string>> = {
      unmet_bank_floor_kWh: 'The bank ran down to its floor',
      unmet_leg_kWh: 'One leg of the inverters was full while another was not',
      unmet_shed_kWh: 'went without on purpose',
    };
    const causes = Object.keys(rows[0]!).filter((title) => /^unmet_\w+_kWh$/.test(title));
    const most = (of: (title: string) => number): string => causes.reduce((a, b) => (of(b) > of(a) ? b : a));
    const cause = most((title) => Number(rows[first]![title]));
    expect(Object.keys(WORDS)).toContain(cause);
    expect(screen).toContain(`${WORDS[cause]}`);
    expect(screen).toContain(`, from ${time[first]} on.`);
    const main = most(sumOf);
    const share = Math.round((100 * sumOf(main)) / unmet_kWh);
    expect(screen).toMatch(
      main === cause
        ? new RegExp(`That is behind ${share} % of the unmet energy`)
        : new RegExp(`Behind most of the unmet energy \\(${share} %\\): `),
    );
  });

  test('array, bank and engine', () => {
    const [offered, used] = [sumOf('array_available_kWh'), sumOf('array_used_kWh')];
    expect(screen).toContain(
      `offered ${said(offered)} kWh; ${said(used)} kWh used, ${Math.round(100 * (1 - used / offered))} % curtailed.`,
    );
    const lowest = Math.min(...soc);
    // Of equals, but for the dust of sums, the first.
    const when = soc.findIndex((value) => value < lowest + 1e-9);
    expect(screen).toContain(`lowest ${Math.round(100 * lowest)} % at ${time[when]}`);
    const ran = column('generator_run_h');
    const run_h = sumOf('generator_run_h');
    const starts = ran.filter((h, i) => h > 0 && !(ran[i - 1]! > 0)).length;
    if (run_h > 0)
      expect(screen).toContain(`${hours(run_h)} h in ${starts} starts, ${said(sumOf('fuel_L'))} L of fuel`);
    else expect(screen).toMatch(/Generator (None in this plant|It never ran)/);
  });
});
