/** Weather files as people have them, wrong in one thing each: refused by row and column, or read right. All invented. */
import { closeSync, openSync, readFileSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { epwRows, inventedSky, tmy3Rows } from '../support/weather-files.ts';
import { type Ended, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { weatherCsv, weatherRows } from './support/weather.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const GOOD = readFileSync(join(import.meta.dirname, 'bad/good-series.yaml'), 'utf8');
const rows = weatherRows();
const SITE = { name: 'x', latitude_deg: 50, longitude_deg: 10, elevation_m: 200, time_zone: 'Europe/Berlin' };

/** The good scenario with another weather file; keys of `weather` are put in or replaced by whole lines. */
function scenario(text: string, lines: readonly string[] = [], file = 'w.csv'): string {
  writeFileSync(join(folder, file), text);
  const keys = lines.map((line) => line.slice(0, line.indexOf(':') + 1));
  const kept = GOOD.replace('file: year.csv', `file: ${file}`)
    .split('\n')
    .filter((line) => !keys.some((key) => line.startsWith(`  ${key}`)));
  const at = kept.indexOf('weather:');
  writeFileSync(join(folder, 's.yaml'), kept.toSpliced(at + 1, 0, ...lines.map((l) => `  ${l}`)).join('\n'));
  return 's.yaml';
}

/** The good scenario with weather in an open format. */
function openFormat(kind: string, text: string, year = 2025): string {
  writeFileSync(join(folder, 'w.txt'), text);
  const weather = `weather:\n  kind: ${kind}\n  file: w.txt\narrays:`;
  const changed = GOOD.replace(/weather:\n[\s\S]*\narrays:/, weather).replace('year: 2025', `year: ${year}`);
  writeFileSync(join(folder, 's.yaml'), changed);
  return 's.yaml';
}

const run = (name: string): Ended => longnight(['run', name, '--json'], folder);
function report(name: string): Report {
  const ended = run(name);
  expect(ended.stderr.replace(/^note: .*\n/gm, '')).toBe('');
  return JSON.parse(ended.stdout);
}
const cells = (change: (cells: string[], r: number) => void): string =>
  weatherCsv(
    rows.map((row, r) => {
      const parts = row.split(',');
      change(parts, r);
      return parts.join(',');
    }),
  );
/** The file with its light multiplied. */
const times = (factor: number): string =>
  cells((c) => {
    c[1] = `${factor * Number(c[1])}`;
  });
const germanRow = (row: string): string => row.replaceAll(',', ';').replaceAll('.', ',');

/** A row in UTC with the wall clock of Berlin. */
const berlin = (row: string): string => {
  const comma = row.indexOf(',');
  return CLOCK_OF_BERLIN.format(new Date(row.slice(0, comma))) + row.slice(comma);
};
const CLOCK_OF_BERLIN = new Intl.DateTimeFormat('sv-SE', {
  timeZone: 'Europe/Berlin',
  dateStyle: 'short',
  timeStyle: 'short',
});

describe('is refused, and nothing is printed', () => {
  const refusals: [what: string, name: () => string, place: RegExp, words: RegExp][] = [
    [
      'a row cut off in its middle',
      () => scenario(weatherCsv(rows.slice(0, 4000)).slice(0, -9)),
      /^w\.csv:4001: /m,
      /2 cells where the header has 3/,
    ],
    [
      'a year cut off after a row',
      () => scenario(weatherCsv(rows.slice(0, 4000))),
      /^w\.csv:4001: /m,
      /4,760 h missing in one gap/,
    ],
    [
      'values 3.6 times too large',
      () => scenario(times(3.6)),
      /^w\.csv:\d+ column "ghi": /m,
      /3\.6 times too large/,
    ],
    [
      'values 1,000 times too large',
      () => scenario(times(1000)),
      /^w\.csv:\d+ column "ghi": /m,
      /1000 times too large/,
    ],
    [
      'values 1,000 times too small',
      () => scenario(times(1 / 1000)),
      /^w\.csv:\d+ column "ghi": /m,
      /1000 times too small/,
    ],
    [
      'two header rows',
      () => scenario(weatherCsv(['UTC,W/m2,C', ...rows])),
      /^w\.csv:2: /m,
      /units, or a second header\n {4}fix: set skip_rows: 1/,
    ],
    [
      'a decimal comma among points',
      () => scenario(weatherCsv(rows.with(99, rows[99]!.replace(/,([^,]*)$/, ',"3,5"')))),
      /^w\.csv:101 column "t_air": /m,
      /"3,5" is not a number\n {4}fix: write a decimal point, or set decimal: comma/,
    ],
    [
      'a decimal point among commas',
      () =>
        scenario(['time;ghi;t_air', ...rows.map(germanRow).with(99, '2025-01-04T02:00Z;0;3.5')].join('\n'), [
          'delimiter: ";"',
          'decimal: comma',
        ]),
      /^w\.csv:101 column "t_air": /m,
      /"3\.5" is not a number with a decimal comma\n {4}fix: write a comma/,
    ],
    [
      'unquoted decimal commas between commas',
      () => scenario(weatherCsv(rows.map((row) => row.replaceAll('.', ','))), ['decimal: comma']),
      /^w\.csv:2: /m,
      /4 cells where the header has 3\n {4}fix: .*another delimiter/,
    ],
    [
      'marks between thousands',
      () => scenario(weatherCsv(rows.with(4000, '2025-06-16T15:00Z,"1,012.5",20'))),
      /^w\.csv:4002 column "ghi": /m,
      /without marks between thousands/,
    ],
    [
      'a leap day in a common year',
      () => scenario(weatherCsv(rows.toSpliced(1417, 0, '2025-02-29T00:00Z,0,1'))),
      /^w\.csv:1419 column "time": /m,
      /only leap years have a 29 February/,
    ],
    [
      'an hour that is there three times where the clocks go back',
      () => {
        const local = rows.map(berlin);
        const at = local.findIndex((row) => row.startsWith('2025-10-26 02:00'));
        return scenario(weatherCsv(local.toSpliced(at, 0, local[at]!)), [
          'time: { column: time, zone: Europe/Berlin, label: start }',
        ]);
      },
      /^w\.csv:71\d\d: /m,
      /same time as the row before|earlier than the row before/,
    ],
    [
      'an hour that never was where the clocks go forward',
      () => {
        const naive = rows.map((row, r) => {
          const at = new Date(Date.UTC(2025, 0, 1) + r * 3_600_000);
          return `${at.toISOString().slice(0, 16)}${row.slice(row.indexOf(','))}`;
        });
        return scenario(weatherCsv(naive), ['time: { column: time, zone: Europe/Berlin, label: start }']);
      },
      /^w\.csv:21\d\d: /m,
      /2025-03-30 02:00 never came in Europe\/Berlin.*\n {4}fix: .*"\+01:00"/,
    ],
    [
      'reversed order',
      () => scenario(weatherCsv(rows.toReversed())),
      /^w\.csv:3: /m,
      /earlier than the row before/,
    ],
    [
      'ten years of minutes',
      () => {
        const name = scenario('time,ghi,t_air\n', [], 'minutes.csv');
        const handle = openSync(join(folder, 'minutes.csv'), 'a');
        // Its length is all that is looked at: one minute over and over.
        const chunk = '2025-01-01T00:00Z,0.0,-1.00\n'.repeat(52_560);
        for (let k = 0; k < 100; k++) writeSync(handle, chunk);
        closeSync(handle);
        return name;
      },
      /^minutes\.csv: /m,
      /too long \(140\.\d MB\).*\n {4}fix: average its rows/,
    ],
  ];
  test.each(refusals)('%s', (_what, name, place, words) => {
    const ended = run(name());
    expect(ended.stderr).toMatch(place);
    expect(ended.stderr).toMatch(words);
    expect(ended.stderr, 'no stack trace').not.toMatch(/\n\s+at |node:internal|Error:/);
    expect(ended.stdout).toBe('');
    expect(ended.status).toBe(2);
  });
});

describe('is read right', () => {
  let good: Report;
  beforeAll(() => {
    good = report(scenario(weatherCsv(rows)));
  });
  /** Everything but what is said about the way in. */
  const answers = ({ notices: _n, assumptions: _a, ...rest }: Report): unknown => rest;

  const readings: [what: string, name: () => string][] = [
    [
      'decimal commas between semicolons, with a row of units, comments and codes for what is missing',
      () => {
        const body = rows.map(germanRow).map((row) => row.replace(/;0;/, ';0,0;'));
        const text = [
          '# invented',
          'time;ghi;t_air',
          'UTC;W/m²;°C',
          ...body.slice(0, 9),
          '# a note',
          ...body.slice(9),
        ];
        return scenario(text.join('\r\n'), [
          'delimiter: ";"',
          'decimal: comma',
          'comment: "#"',
          'skip_rows: 1',
          'missing: [-9999]',
        ]);
      },
    ],
    [
      'tabs, fahrenheit, kJ',
      () =>
        scenario(
          cells((c) => {
            c[1] = `${3.6 * Number(c[1])}`;
            c[2] = `${(1.8 * Number(c[2]) + 32).toFixed(6)}`;
          }).replaceAll(',', '\t'),
          [
            'delimiter: "\\t"',
            'ghi: { column: ghi, unit: kJ_m2 }',
            'air_temperature: { column: t_air, unit: F }',
          ],
        ),
    ],
    [
      'the wall clock of the site, with the doubled hour of October and without the one of March',
      () =>
        scenario(weatherCsv(rows.map(berlin)), ['time: { column: time, zone: Europe/Berlin, label: start }']),
    ],
    [
      'quarters of an hour',
      () =>
        scenario(
          weatherCsv(
            rows.flatMap((row) =>
              ['00', '15', '30', '45'].map((minute) => row.replace(/:00Z/, `:${minute}Z`)),
            ),
          ),
        ),
    ],
  ];
  test.each(readings)('%s', (_what, name) => {
    const read = report(name());
    const wanted = JSON.stringify(answers(good), rounded);
    expect(JSON.stringify(answers(read), rounded)).toBe(wanted);
  });
  const rounded = (_key: string, value: unknown): unknown =>
    typeof value === 'number' ? (Math.abs(value) < 1e-9 ? 0 : Number(value.toPrecision(6))) : value;

  test('values 3.6 times too small, with a note that names the brightest row', () => {
    const ended = run(scenario(times(1 / 3.6)));
    expect(ended.status).toBe(0);
    expect(ended.stderr).toMatch(/^note: weather: .*3\.6 times too small.*w\.csv:\d+ column "ghi"/m);
  });

  test('a missing value by its code is a gap by its row', () => {
    const text = cells((c, r) => {
      if (r === 50) c[1] = '-9999';
    });
    const ended = run(scenario(text, ['missing: [-9999, 9999]']));
    expect(ended.stderr).toMatch(/^w\.csv:51 column "ghi": weather\.ghi: 1 h missing in one gap/m);
    // Not said to be a code it is put in from the rows beside it, and named.
    const put = run(scenario(text));
    expect(put.status).toBe(0);
    expect(put.stderr).toMatch(/1 value of column "ghi" can't be .*line 52: -9999 W\/m² is below/);
  });

  test('an hourly file in steps of a quarter keeps its energy, and it is said that the light follows the sun', () => {
    const name = scenario(weatherCsv(rows));
    writeFileSync(
      join(folder, name),
      readFileSync(join(folder, name), 'utf8').replace('2025 }', '2025, step_min: 15 }'),
    );
    const fine = report(name);
    expect(fine.run.steps).toBe(35_040);
    expect(Math.abs(fine.array.plane_kWh_m2 / good.array.plane_kWh_m2 - 1)).toBeLessThan(0.03);
    // The last hour of some days of this file is dark though its first quarter has sun: the quality tests say so.
    expect(fine.notices.map((notice) => notice.id)).toContain('coarse-series');
    expect(fine.assumptions.map((assumption) => assumption.path)).toContain('model.sky.within_rows');
  });

  test.each([
    ['tmy3', tmy3Rows],
    ['epw', epwRows],
  ] as const)('%s, in any year', (kind, rowsOf) => {
    const text = rowsOf(inventedSky(SITE, 1, 2025)).join('\n');
    const common = report(openFormat(kind, text));
    expect(common.run.weather).toBe(kind);
    expect(common.notices).toEqual([]);
    expect(common.assumptions.find(({ path }) => path === 'weather.file')!.why).toContain('+01:00');
    const leap = report(openFormat(kind, text, 2028));
    expect(leap.run.steps).toBe(8784);
    expect(leap.assumptions.find(({ path }) => path === 'weather.leap_day')!.why).toContain(
      '28 February is used twice',
    );
    expect(longnight(['run', 's.yaml'], folder).stdout).toContain(
      `the ${kind.toUpperCase()} file the scenario names`,
    );
  });
});
