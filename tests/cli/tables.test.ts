/** The tables of `run`: CSV for any locale, hours, days or months, and Parquet. Each is read by another library. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { read, utils } from '@e965/xlsx';
import { LEDGER_COLUMNS, type Report } from '@longnight/core';
import { parse } from 'csv-parse/sync';
import { parquetMetadata, parquetReadObjects } from 'hyparquet';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { converted, OFFICE, OFFICE_MISSING } from './support/office.ts';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const plant = join(DEMO, 'holds-with-generator.yaml');
const WITHIN = 6;

type Row = Record<string, string>;
const plainRows = (out: string, name: string): Row[] =>
  parse(readFileSync(join(folder, out, name), 'utf8'), { columns: true });
const written = (out: string, ...options: string[]) => {
  const ended = longnight(['run', plant, '--out', join(folder, out), ...options]);
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
};

let report: Report;
let hours: Row[];
beforeAll(() => {
  written('plain', '--parquet');
  report = JSON.parse(readFileSync(join(folder, 'plain/report.json'), 'utf8'));
  hours = plainRows('plain', 'hours.csv');
});

const sum = (rows: readonly Row[], column: string): number =>
  rows.reduce((total, row) => total + Number(row[column]), 0);

test.each([
  ['a semicolon, as spreadsheets of comma countries want it', ';', ['--csv-decimal', 'comma']],
  ['a tab', '\t', ['--csv-decimal', 'comma', '--csv-delimiter', 'tab']],
])('decimal commas, cells parted by %s, are the same figures', (_, delimiter, options) => {
  written('comma', ...options);
  const text = readFileSync(join(folder, 'comma/hours.csv'), 'utf8');
  // No cell of this table has a sign of its own that would be taken for another.
  expect(text.replaceAll(',', '.').replaceAll(delimiter, ',')).toBe(
    readFileSync(join(folder, 'plain/hours.csv'), 'utf8'),
  );
  expect(text.split('\r\n')[0]!.split(delimiter).slice(0, 4)).toEqual([
    'time_local',
    'utc_offset_min',
    'time_utc',
    'ghi_W_m2',
  ]);
  // A day as another library reads it.
  const day: Row[] = parse(text.split('\r\n').slice(0, 25).join('\r\n'), { columns: true, delimiter });
  const pointed = day.map((row) =>
    Object.fromEntries(Object.entries(row).map(([key, value]) => [key, value.replace(',', '.')])),
  );
  expect(pointed).toEqual(hours.slice(0, 24));
});

test('a semicolon with decimal points changes nothing but what parts the cells', () => {
  written('points', '--csv-delimiter', ';');
  const text = readFileSync(join(folder, 'points/hours.csv'), 'utf8');
  expect(text.replaceAll(';', ',')).toBe(readFileSync(join(folder, 'plain/hours.csv'), 'utf8'));
  const day = parse(text.split('\r\n').slice(0, 25).join('\r\n'), { columns: true, delimiter: ';' });
  expect(day).toEqual(hours.slice(0, 24));
});

test.each([
  [['--csv-decimal', 'comma', '--csv-delimiter', ',', '--out', 'x'], /fix: add --csv-delimiter ';'/],
  [['--xlsx'], /--xlsx: [\s\S]*fix: add --out DIR/],
  [
    ['--every', 'day', '--csv-decimal', 'comma'],
    /--every day --csv-decimal comma: [\s\S]*fix: add --out DIR/,
  ],
  [
    ['--csv-delimiter', '|', '--out', 'x'],
    /--csv-delimiter '\|': [\s\S]*expected one of ,, ;, tab\n {4}fix: /,
  ],
])('%j is refused with the fix, and nothing is written', (options, words) => {
  const before = contents(folder);
  const ended = longnight(['run', plant, ...options], folder);
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(words);
  expect(contents(folder)).toEqual(before);
});

describe.each([
  ['day', 'days.csv', 365],
  ['month', 'months.csv', 12],
])('--every %s', (every, name, count) => {
  let rows: Row[];
  beforeAll(() => {
    written(every, '--every', every);
    rows = plainRows(every, name);
  });

  test('has a row for each, beginning at local midnight, in a file of that name', () => {
    expect(rows.length).toBe(count);
    expect(Object.keys(contents(join(folder, every)))).not.toContain('hours.csv');
    for (const row of rows) expect(row.time_local).toMatch(/^\d{4}-\d\d-\d\d 00:00$/);
  });

  test('adds up sums, ends with states, averages means', () => {
    const length = every === 'day' ? 10 : 7;
    for (const row of [rows[0]!, rows[Math.floor(count / 2)]!, rows.at(-1)!]) {
      const within = hours.filter(
        (hour) => hour.time_local!.slice(0, length) === row.time_local!.slice(0, length),
      );
      expect(within.length).toBeGreaterThan(22);
      for (const { name: column, kind } of LEDGER_COLUMNS)
        expect(Number(row[column]), column).toBeCloseTo(
          kind === 'state' ? Number(within.at(-1)![column]) : sum(within, column),
          WITHIN,
        );
      expect(Number(row.air_temperature_C)).toBeCloseTo(
        sum(within, 'air_temperature_C') / within.length,
        WITHIN,
      );
    }
  });

  test('sums to the report', () => {
    expect(sum(rows, 'load_served_kWh')).toBeCloseTo(report.load.served_kWh, WITHIN);
    expect(sum(rows, 'fuel_L')).toBeCloseTo(report.generator!.fuel_L, WITHIN);
    if (every === 'month')
      expect(rows.map((row) => Number(row.curtailed_kWh).toFixed(4))).toEqual(
        report.array.curtailed_by_month_kWh.map((energy) => energy.toFixed(4)),
      );
  });
});

test('--every hour joins the steps of an hour', () => {
  const text = readFileSync(plant, 'utf8').replace(/^run:\n/m, 'run:\n  step_min: 15\n');
  const folderOf = temporaryFolder();
  try {
    expect(text).toContain('step_min: 15');
    writeFileSync(join(folderOf, 'p.yaml'), text);
    for (const [every, out] of [
      ['step', 'steps'],
      ['hour', 'hours'],
    ] as const)
      expect(longnight(['run', 'p.yaml', '--out', out, '--every', every], folderOf).stderr).toBe('');
    const of = (out: string): string[] =>
      readFileSync(join(folderOf, out, 'hours.csv'), 'utf8')
        .split('\r\n')
        .slice(0, -1);
    const [quarters, joined] = [of('steps'), of('hours')];
    expect([quarters.length, joined.length]).toEqual([1 + 4 * 8760, 1 + 8760]);
    const read = (lines: readonly string[], from: number, to: number): Row[] =>
      parse([lines[0], ...lines.slice(1 + from, 1 + to)].join('\r\n'), { columns: true });
    for (const hour of [0, 4000, 8759]) {
      const [row] = read(joined, hour, hour + 1);
      const four = read(quarters, 4 * hour, 4 * hour + 4);
      expect(row!.time_local).toBe(four[0]!.time_local);
      expect(Number(row!.array_available_kWh)).toBeCloseTo(sum(four, 'array_available_kWh'), 9);
      expect(row!.bank_soc).toBe(four[3]!.bank_soc);
    }
  } finally {
    removeFolder(folderOf);
  }
});

test('columns.csv has a line for each column of hours.csv, in its order', () => {
  const lines = plainRows('plain', 'columns.csv');
  expect(lines.map((line) => line.column)).toEqual(Object.keys(hours[0]!));
  for (const line of lines) expect(line.meaning!.length, line.column).toBeGreaterThan(5);
  // Plain ASCII: no program has to guess how it is encoded.
  expect(readFileSync(join(folder, 'plain/columns.csv'), 'utf8')).toMatch(/^[\x20-\x7e\r\n]+$/);
});

test('a spreadsheet library takes the times of the CSV for dates with their time', () => {
  // The columns of times alone: of the others it makes numbers, which takes it long.
  const text = readFileSync(join(folder, 'plain/hours.csv'), 'utf8')
    .split('\r\n')
    .map((line) => line.split(',').slice(0, 3).join(','))
    .join('\r\n');
  const sheet = Object.values(read(text, { type: 'string', cellDates: false, UTC: true }).Sheets)[0]!;
  const wrong: string[] = [];
  hours.forEach((hour, k) => {
    for (const [letter, name] of [
      ['A', 'time_local'],
      ['C', 'time_utc'],
    ] as const) {
      const { t, v } = sheet[`${letter}${k + 2}`];
      const days = (Date.parse(`${hour[name]}Z`) - Date.UTC(1899, 11, 30)) / 86_400_000;
      if (t !== 'n' || Math.abs(v - days) > 1e-6) wrong.push(`${name} ${hour[name]}: ${t} ${v}`);
    }
    if (sheet[`B${k + 2}`].v !== Number(hour.utc_offset_min)) wrong.push(`offset of ${hour.time_local}`);
  });
  expect(wrong).toEqual([]);
});

test('Parquet holds what hours.csv holds', async () => {
  const bytes = readFileSync(join(folder, 'plain/hours.parquet'));
  const rows = await parquetReadObjects({
    file: bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length),
  });
  expect(rows.length).toBe(hours.length);
  const numbers = Object.keys(hours[0]!).filter((column) => !column.startsWith('time_'));
  for (const k of [0, 4321, 8759]) {
    for (const name of ['time_local', 'time_utc'])
      expect((rows[k]![name] as Date).getTime()).toBe(Date.parse(`${hours[k]![name]}Z`));
    for (const column of numbers) expect(rows[k]![column], column).toBeCloseTo(Number(hours[k]![column]), 10);
  }
  expect(Object.keys(rows[0]!)).toEqual(Object.keys(hours[0]!));
  const { schema } = parquetMetadata(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
  // The format's mark for a wall clock's time, which is no instant.
  expect(schema.find(({ name }) => name === 'time_local')!.logical_type).toEqual({
    type: 'TIMESTAMP',
    isAdjustedToUTC: false,
    unit: 'MILLIS',
  });
  const total = rows.reduce((all, row) => all + (row.load_served_kWh as number), 0);
  expect(total).toBeCloseTo(report.load.served_kWh, 9);
});

describe.skipIf(OFFICE === undefined)(`in LibreOffice (${OFFICE ?? OFFICE_MISSING})`, () => {
  // Language of the import, by its Windows number: 1033 is English (US), 1031 German. 76 is UTF-8, 34 the quote.
  test.each([
    ['points in English', [], 44, 1033],
    ['commas in German', ['--csv-decimal', 'comma'], 59, 1031],
  ] as const)('%s are numbers, and their sum is the report', (_, options, delimiter, language) => {
    written('office', '--every', 'day', ...options);
    const saved = converted(
      join(folder, 'office'),
      join(folder, 'office/days.csv'),
      'xlsx',
      `CSV:${delimiter},34,76,1,,${language},false,true`,
    );
    const sheet = utils.sheet_to_json<Record<string, unknown>>(
      Object.values(read(readFileSync(saved)).Sheets)[0]!,
    );
    expect(sheet.length).toBe(365);
    const served = sheet.map((row) => row.load_served_kWh);
    expect(served.every((value) => typeof value === 'number')).toBe(true);
    const total = (served as number[]).reduce((all, value) => all + value, 0);
    expect(total).toBeCloseTo(report.load.served_kWh, WITHIN);
  });
});
