import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { QUALITY_TESTS, type WeatherReport } from '@longnight/core/sky';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, test } from 'vitest';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { weatherCsv, weatherRows } from './support/weather.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const demo = join(DEMO, 'short-of-bank.yaml');

/** The demo under another weather section. */
function scenario(name: string, weather: string, year = 2026): string {
  const file = join(folder, name);
  const text = readFileSync(demo, 'utf8')
    .replace(/^weather:\n(?: .*\n)+/m, `weather:\n${weather.replace(/^/gm, '  ')}\n`)
    .replace(/latitude_deg: 61.3/, 'latitude_deg: 50')
    .replace(/longitude_deg: 11.8/, 'longitude_deg: 10')
    .replace(/Europe\/Oslo/, 'Europe/Berlin')
    .replace(/year: 2026/, `year: ${year}`);
  writeFileSync(file, text);
  return file;
}
function series(
  name: string,
  rows: readonly string[],
  gaps = '{ fill: interpolate, longest_h: 48 }',
): string {
  writeFileSync(join(folder, `${name}.csv`), weatherCsv(rows));
  return scenario(
    `${name}.yaml`,
    `kind: series\nfile: ${name}.csv\ntime: { column: time, zone: UTC, label: start }\ngaps: ${gaps}\n` +
      'ghi: { column: ghi, unit: W_m2 }\nair_temperature: { column: t_air, unit: C }',
    2025,
  );
}
const shown = (stdout: string) => stdout.replace(/\s+/g, ' ');
const reportOf = (file: string): WeatherReport => JSON.parse(longnight(['weather', file, '--json']).stdout);

describe.each([
  ['monthly_means', () => demo],
  [
    'clear-sky',
    () =>
      scenario(
        'clear.yaml',
        'kind: clear-sky\nturbidity_linke: 3\nair_temperature_C: [-5, 0, 3, 6, 11, 14, 16, 16, 12, 8, 2, -2]',
      ),
  ],
  ['series', () => series('plain', weatherRows())],
] as const)('weather of kind %s', (kind, fileOf) => {
  const out = join(folder, `out-${kind}`);
  const file = fileOf();
  const ended = longnight(['weather', file, '--out', out]);
  const json = readFileSync(join(out, 'weather.json'), 'utf8');
  const report: WeatherReport = JSON.parse(json);
  const csv = readFileSync(join(out, 'weather.csv'), 'utf8');
  const rows: Record<string, string>[] = parse(csv, { columns: true });

  test('is shown within 80 columns, without a word on standard error', () => {
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    for (const line of ended.stdout.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
    expect(ended.stdout).not.toMatch(/NaN|undefined|null|Infinity/);
    expect(shown(ended.stdout)).toContain('Quality tests: no conflict found');
    // Light that is made with the site's own sun can't contradict its longitude.
    expect(shown(ended.stdout)).toContain(
      kind === 'series' ? 'No conflict found with the label and zone' : 'tells nothing of a wrong longitude',
    );
    expect(Object.keys(contents(out))).toEqual(['weather.csv', 'weather.json', 'weather.sha256']);
    expect(report.run.weather).toBe(kind);
  });

  test('months and year follow from the rows of weather.csv', () => {
    expect(rows).toHaveLength(8760);
    expect(csv.split('\r\n')).toHaveLength(8762);
    for (const [m, month] of [...report.months, report.year].entries()) {
      const within = m === 12 ? rows : rows.filter((row) => Number(row.time_local!.slice(5, 7)) === m + 1);
      const column = (name: string) => within.map((row) => Number(row[name]));
      const sum = (name: string) => column(name).reduce((s, x) => s + x, 0);
      expect(month.ghi_kWh_m2).toBeCloseTo(sum('ghi_W_m2') / 1000, 6);
      expect(month.dni_kWh_m2).toBeCloseTo(sum('dni_W_m2') / 1000, 6);
      expect(month.dhi_kWh_m2).toBeCloseTo(sum('dhi_W_m2') / 1000, 6);
      expect(month.clearness).toBeCloseTo(sum('ghi_W_m2') / sum('extraterrestrial_horizontal_W_m2'), 6);
      expect(month.air_temperature_mean_C).toBeCloseTo(sum('air_temperature_C') / within.length, 6);
      expect(month.air_temperature_least_C).toBeCloseTo(Math.min(...column('air_temperature_C')), 6);
      expect(month.air_temperature_most_C).toBeCloseTo(Math.max(...column('air_temperature_C')), 6);
      expect(ended.stdout).toContain(month.ghi_kWh_m2.toFixed(1));
    }
    // The light is where the sun is.
    const lit = rows.filter((row) => Number(row.dni_W_m2) > 0);
    expect(lit.length).toBeGreaterThan(2000);
    expect(lit.every((row) => Number(row.sun_altitude_deg) > 0)).toBe(true);
  });

  test('is the same with --json, and every time', () => {
    expect(longnight(['weather', file, '--json']).stdout).toBe(json);
    expect(report.quality.map(({ id }) => id)).toEqual(QUALITY_TESTS.map(({ id }) => id));
    expect(report.coverage.hours).toBe(8760);
  });
});

test('monthly means come back, but for what one drawn year strays from them', () => {
  const means = [0.28, 0.92, 2.23, 3.74, 4.83, 5.21, 4.81, 3.71, 2.3, 1.11, 0.37, 0.15];
  const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
  reportOf(demo).months.forEach((month, m) => {
    expect(Math.abs(month.ghi_kWh_m2 / days[m]! / means[m]! - 1)).toBeLessThan(0.4);
  });
});

test('gaps are told with their length and how they were filled', () => {
  const ended = longnight([
    'weather',
    series('gap', [...weatherRows().slice(0, 4000), ...weatherRows().slice(4030)]),
  ]);
  expect(shown(ended.stdout)).toContain('30 h missing in one gap, filled from the values beside it');
  expect(shown(ended.stdout)).toContain('Missing light is filled by its clearness');
  expect(shown(ended.stdout)).toContain('Quality tests: no conflict found');
});

test.each([
  [30, 'later'],
  [-30, 'earlier'],
])('a clock that is off by %d min is named in minutes', (minutes, way) => {
  const off = weatherRows().map((row) => {
    const [time, ghi, air] = row.split(',');
    const at = new Date(Date.parse(time!) + minutes * 60_000).toISOString().slice(0, 16);
    return `${at}Z,${0.7 * Number(ghi)},${air}`;
  });
  const file = series(`off${minutes}`, off);
  const { clock } = reportOf(file);
  expect(clock.is_shifted).toBe(true);
  expect(Math.abs(clock.late_min! - minutes)).toBeLessThan(6);
  expect(shown(longnight(['weather', file]).stdout)).toMatch(
    new RegExp(
      `The light comes \\d+ min ${way} in the day than the sun over the year.*Shifted: check the label`,
    ),
  );
});

test('hours that can hardly be are counted, dated, and noticed by run as well', () => {
  // A week of June without light, as a file has it that writes 0 for what is missing.
  const blank = weatherRows().map((row, i) =>
    i >= 24 * 160 && i < 24 * 167 ? row.replace(/,\d+,/, ',0,') : row,
  );
  const file = series('blank', blank);
  const dark = reportOf(file).quality.find(({ id }) => id === 'dark_day')!;
  expect(dark.first_time).toMatch(/^2025-06-10T0[5-8]:00:00\+02:00$/);
  expect(dark.failed_steps).toBeGreaterThan(70);
  expect(dark.failed_steps).toBeLessThan(7 * 15);
  expect(shown(longnight(['weather', file]).stdout)).toContain(
    `no light with the sun high: ${dark.failed_steps} of`,
  );
  const out = join(folder, 'noticed');
  const ended = longnight(['run', file, '--out', out]);
  expect(ended.stderr).toContain(`note: weather: no light with the sun high, in ${dark.failed_steps} of`);
  expect(readFileSync(join(out, 'report.md'), 'utf8')).toContain('no light with the sun high, in');
});

test('what can not be is told by row; where it is much it is refused, and nothing is written', () => {
  const spoiled = (days: number) =>
    weatherRows().map((row, i) =>
      i % 24 === 11 && i >= 24 * 170 && i < 24 * (170 + days) ? row.replace(/,\d+,/, ',1500,') : row,
    );
  const once = longnight(['weather', series('once', spoiled(1))]);
  expect(once.status).toBe(0);
  expect(shown(once.stdout)).toContain('line 4093: 1500 W/m² is more than the sun can give');
  const file = series('impossible', spoiled(60));
  const ended = longnight(['weather', file, '--out', join(folder, 'none')]);
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(
    /impossible\.csv:4093 column "ghi": weather\.ghi: 1500 W\/m² is more than the sun can give/,
  );
  expect(Object.keys(contents(folder))).not.toContain('none');
  expect(longnight(['weather', 'nowhere.yaml'], folder)).toMatchObject({ status: 2, stdout: '' });
  expect(longnight(['weather', demo, '--out', file], folder)).toMatchObject({ status: 2, stdout: '' });
});

describe('beside a first guess of the place', () => {
  const AIR = '[-1, 1, 5, 9, 13, 17, 19, 18, 14, 9, 4, 0]';
  // A first guess of 50 N, 10 E, and what people make of their own figures.
  const GUESS = reportOf(scenario('any.yaml', means(Array(12).fill(1)))).beside_guess!.ghi_kWh_m2_day;
  function means(ghi: readonly number[], more = ''): string {
    return `kind: monthly_means\nghi_kWh_m2_day: [${ghi.join(', ')}]\nair_temperature_C: ${AIR}\nseed: 1${more}`;
  }
  const noticesOf = (name: string, ghi: readonly number[], more = '') =>
    reportOf(scenario(name, means(ghi, more))).notices;

  test('figures near it are compared, and nothing is made of them', () => {
    const near = GUESS.map((value, m) => value * (m % 2 === 0 ? 1.15 : 0.85));
    const file = scenario('near.yaml', means(near));
    expect(reportOf(file).beside_guess!.far_months).toEqual([]);
    expect(shown(longnight(['weather', file]).stdout)).toMatch(/0\.85 to 1\.15 of a first guess/);
  });

  test('a month that is far off is named with both figures', () => {
    const report = noticesOf('far.yaml', GUESS.with(3, 2.2));
    expect(report.find(({ id }) => id === 'month-off-first-guess')).toMatchObject({ count: 1 });
    expect(JSON.stringify(report)).toContain(`April 2.2 for ${GUESS[3]}`);
    // The months begin with July: nearly all of them.
    const turned = noticesOf(
      'turned.yaml',
      [...GUESS.slice(6), ...GUESS.slice(0, 6)].map((v) => Math.min(v, 1)),
    );
    expect(turned.find(({ id }) => id === 'month-off-first-guess')!.count).toBeGreaterThan(5);
  });

  test('a first guess is said, and figures that are called one and are not', () => {
    const ids = (ghi: readonly number[]) =>
      noticesOf('guess.yaml', ghi, '\nsource: first_guess').map(({ id }) => id);
    expect(ids(GUESS)).toContain('first-guess');
    expect(ids(GUESS)).not.toContain('first-guess-changed');
    expect(ids(GUESS.map((value) => 0.9 * value))).toContain('first-guess-changed');
  });

  test('weather of another kind is not held against it', () => {
    expect(reportOf(series('plain-beside', weatherRows())).beside_guess).toBeNull();
  });
});

test.each(['check', 'weather'])('%s says where the clock is hours from the coordinates', (command) => {
  const file = scenario('zone.yaml', 'kind: clear-sky\nturbidity_linke: 3\nair_temperature_C: 8');
  expect(longnight([command, file]).stderr).not.toMatch(/the zone of these coordinates/);
  writeFileSync(file, readFileSync(file, 'utf8').replace('Europe/Berlin', 'Asia/Baku'));
  expect(longnight([command, file]).stderr).toMatch(/Asia\/Baku is 3 h from Europe\/Berlin/);
});
