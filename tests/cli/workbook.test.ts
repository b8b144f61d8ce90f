/** plant.xlsx, read by a library other than the one that wrote it, and recalculated by a spreadsheet where there is one. */

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { read, SSF, type WorkBook, type WorkSheet } from '@e965/xlsx';
import { LEDGER_COLUMNS, type Report } from '@longnight/core';
import { parse } from 'csv-parse/sync';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { verdictSentence } from '../../packages/cli/src/render/report/verdict-words.ts';
import { converted, OFFICE, OFFICE_MISSING } from './support/office.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

let report: Report;
let bytes: Buffer;
let book: WorkBook;
beforeAll(() => {
  const ended = longnight(['run', join(DEMO, 'short-of-bank.yaml'), '--out', join(folder, 'out'), '--xlsx']);
  expect(ended.stderr).toBe('');
  report = JSON.parse(readFileSync(join(folder, 'out/report.json'), 'utf8'));
  bytes = readFileSync(join(folder, 'out/plant.xlsx'));
  book = read(bytes, { cellNF: true, cellDates: false });
});

const sheetOf = (name: string, from = book): WorkSheet => from.Sheets[name]!;
const value = (sheet: WorkSheet, cell: string): unknown => sheet[cell]?.v;

/** Header cells of a row, by their text: the letters of their columns. */
function lettersOf(sheet: WorkSheet, row: number): Map<string, string> {
  const found = new Map<string, string>();
  for (const [cell, { v }] of Object.entries(sheet)) {
    const [, letters, number] = cell.match(/^([A-Z]+)(\d+)$/) ?? [];
    if (letters !== undefined && Number(number) === row) found.set(String(v), letters);
  }
  return found;
}

test('has its sheets, under 2 MB', () => {
  expect(book.SheetNames).toEqual(['summary', 'months', 'leanest days', 'hours', 'assumptions', 'columns']);
  expect(bytes.length).toBeLessThan(2e6);
});

test('the same plant gives the same bytes, whenever it is made', () => {
  longnight(['run', join(DEMO, 'short-of-bank.yaml'), '--out', join(folder, 'again'), '--xlsx'], undefined, {
    TZ: 'Pacific/Auckland',
  });
  expect(readFileSync(join(folder, 'again/plant.xlsx')).equals(bytes)).toBe(true);
  // Every local header of the zip carries 1980-01-01, the earliest date it knows.
  expect(bytes.readUInt32LE(0)).toBe(0x04034b50);
  expect(bytes.readUInt16LE(12)).toBe(0x21);
});

test('the hours are those of hours.csv: real dates, units in the formats, header and times frozen', () => {
  const rows: Record<string, string>[] = parse(readFileSync(join(folder, 'out/hours.csv')), {
    columns: true,
  });
  const sheet = sheetOf('hours');
  const letters = lettersOf(sheet, 1);
  expect(letters.get('time_local')).toBe('A');
  const times = ['time_local', 'utc_offset_min', 'time_utc'];
  expect([...letters.keys()].slice(0, 3)).toEqual(times);
  const shown = [...letters.keys()].filter((name) => !times.includes(name));
  const zero = LEDGER_COLUMNS.map(({ name }) => name).filter((name) => !letters.has(name));
  for (const row of rows) for (const name of zero) expect(row[name]).toBe('0');
  for (const k of [0, 100, 8759]) {
    for (const name of shown)
      expect(value(sheet, `${letters.get(name)}${k + 2}`), name).toBeCloseTo(Number(rows[k]![name]), 8);
  }
  expect(sheet.A2.z).toBe('yyyy-mm-dd hh:mm');
  expect(sheet[`${letters.get('load_wanted_kWh')}2`].z).toMatch(/"\s?kWh"$/);
  expect(sheet[`${letters.get('bank_soc')}2`].z).toBe('0.0%');
  expect(sheet.C2.z).toBe('yyyy-mm-dd hh:mm');
  const xml = strFromU8(unzipSync(bytes)['xl/worksheets/sheet4.xml']!);
  expect(xml).toMatch(/<pane xSplit="1" ySplit="1" topLeftCell="B2" state="frozen"/);
  expect(xml).toMatch(/<dimension ref="A1:[A-Z]+8761"\/>/);
});

test('every row has the times of hours.csv to the second, as a sheet cuts them off', () => {
  const rows: Record<string, string>[] = parse(readFileSync(join(folder, 'out/hours.csv')), {
    columns: true,
  });
  const sheet = sheetOf('hours');
  const wrong: string[] = [];
  const two = (n: number): string => String(n).padStart(2, '0');
  rows.forEach((row, k) => {
    for (const [letter, name] of [
      ['A', 'time_local'],
      ['C', 'time_utc'],
    ] as const) {
      const serial = Number(value(sheet, `${letter}${k + 2}`));
      const { y, m, d, H, M, S } = SSF.parse_date_code(serial);
      const shown = `${y}-${two(m)}-${two(d)} ${two(H)}:${two(M)}:${two(S)}`;
      const hour = Math.floor((serial - Math.floor(serial)) * 24);
      if (shown !== `${row[name]}:00` || hour !== H) wrong.push(`${name} ${shown} instead of ${row[name]}`);
    }
    if (value(sheet, `B${k + 2}`) !== Number(row.utc_offset_min)) wrong.push(`offset of ${row.time_local}`);
  });
  expect(rows.length).toBe(8760);
  expect(wrong).toEqual([]);
});

/** Month by month and day by day against report.json, from a workbook that somebody calculated. */
function expectFigures(from: WorkBook): void {
  const months = sheetOf('months', from);
  const letters = lettersOf(months, 3);
  const monthly = (name: string): number[] =>
    Array.from({ length: 12 }, (_, m) => Number(value(months, `${letters.get(name)}${4 + m}`)));
  const expectAll = (actual: readonly number[], expected: readonly number[]) =>
    actual.forEach((one, k) => {
      expect(one).toBeCloseTo(expected[k]!, 4);
    });
  expectAll(monthly('load_wanted_kWh'), report.load.wanted_by_month_kWh);
  expectAll(monthly('unmet_kWh'), report.unmet.by_month_kWh);
  expectAll(monthly('array_available_kWh'), report.array.available_by_month_kWh);
  expectAll(monthly('curtailed_kWh'), report.array.curtailed_by_month_kWh);
  expect(value(months, `${letters.get('load_served_kWh')}16`)).toBeCloseTo(report.load.served_kWh, 4);
  expect(value(months, `${letters.get('losses_kWh')}16`)).toBeCloseTo(report.losses.total_kWh, 4);
  const lowest = letters.get('lowest bank_soc at the end of an hour')!;
  expect(value(months, `${lowest}16`)).toBeCloseTo(report.bank.lowest_soc, 8);

  const lean = sheetOf('leanest days', from);
  const daily = lettersOf(lean, 3);
  report.leanest_days.by_day.forEach((day, k) => {
    const figure = (name: string) => value(lean, `${daily.get(name)}${4 + k}`);
    expect(figure('load_wanted_kWh')).toBeCloseTo(day.wanted_kWh, 6);
    expect(figure('array_available_kWh')).toBeCloseTo(day.available_kWh, 6);
    expect(figure('unmet_kWh')).toBeCloseTo(day.unmet_kWh, 6);
    expect(figure('lowest bank_soc at the end of an hour')).toBeCloseTo(day.lowest_soc, 8);
  });
  expect(report.unmet.energy_kWh).toBeGreaterThan(1);
}

test('months and leanest days are formulas that show the figures of the report', () => {
  expectFigures(book);
  const months = sheetOf('months');
  const letter = lettersOf(months, 3).get('unmet_kWh');
  expect(months[`${letter}4`].f).toMatch(/^SUMIFS\(hours!/);
});

test('the summary has the figures of the report with their meaning, and the cautions', () => {
  const sheet = sheetOf('summary');
  const cells = Object.values(sheet).map((cell) => cell?.v);
  expect(cells).toContain(verdictSentence(report));
  for (const caution of report.cautions) expect(cells).toContain(caution);
  const row = Object.entries(sheet)
    .find(([, cell]) => cell?.v === 'unmet.energy_kWh')![0]
    .slice(1);
  expect(value(sheet, `B${row}`)).toBe(report.unmet.energy_kWh);
  expect(value(sheet, `C${row}`)).toBe('load left unmet in the year');
});

test('every assumption and every column has its row', () => {
  const rows = (name: string): string[] =>
    Object.entries(sheetOf(name))
      .filter(([cell]) => /^A\d+$/.test(cell) && cell !== 'A1')
      .map(([, { v }]) => v);
  expect(rows('assumptions')).toEqual(report.assumptions.map(({ path }) => path));
  const [header] = parse(readFileSync(join(folder, 'out/hours.csv')), { to: 1 }) as string[][];
  expect(rows('columns')).toEqual(header);
});

test('months and lean are drawn by the spreadsheet itself', () => {
  const parts = Object.keys(unzipSync(bytes)).filter((name) => /^xl\/charts\/chart\d+\.xml$/.test(name));
  expect(parts.length).toBe(4);
  const charts = parts.map((name) => strFromU8(unzipSync(bytes)[name]!));
  expect(charts.filter((xml) => xml.includes('<c:grouping val="stacked"/>')).length).toBe(2);
  // Days 1 to 7 of the stretch are 168 rows of the sheet of hours.
  const [, from, to] = charts.join('').match(/hours!\$[A-Z]+\$(\d+):\$[A-Z]+\$(\d+)/)!;
  expect(Number(to) - Number(from) + 1).toBe(168);
});

test.skipIf(OFFICE === undefined)(`recalculates to the report (${OFFICE ?? OFFICE_MISSING})`, () => {
  // Without the figures that we put beside each formula there is nothing to show but what the program works out.
  const files = unzipSync(bytes);
  let taken = 0;
  for (const name of Object.keys(files).filter((path) => path.startsWith('xl/worksheets/sheet'))) {
    const bare = strFromU8(files[name]!).replace(/<\/f><v>[^<]*<\/v>/g, () => {
      taken++;
      return '</f>';
    });
    files[name] = strToU8(bare);
  }
  expect(taken).toBeGreaterThan(100);
  const file = join(folder, 'bare.xlsx');
  writeFileSync(file, zipSync(files));
  expect(value(sheetOf('months', read(readFileSync(file))), 'B4')).toBeUndefined();
  expectFigures(read(readFileSync(converted(folder, file, 'xlsx'))));
});

test('a name loses in it what would turn the direction of writing around, as it does everywhere', () => {
  const scenario = join(folder, 'turned.yaml');
  const text = readFileSync(join(DEMO, 'holds.yaml'), 'utf8');
  writeFileSync(scenario, text.replace(/^( +name: ).*$/m, '$1"up\\u202edown\\u0007"'));
  expect(longnight(['run', scenario, '--xlsx', '--out', join(folder, 'turned')]).status).toBe(0);
  const parts = unzipSync(readFileSync(join(folder, 'turned/plant.xlsx')));
  const all = Object.values(parts)
    .map((bytes) => strFromU8(bytes))
    .join('');
  expect(all).toContain('updown');
  for (const sign of ['\u202e', '\u0007', '_x0007_']) expect(all).not.toContain(sign);
});
