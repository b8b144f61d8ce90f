/**
 * Files as two public archives hand them out, and tables whose dates stand in several columns. All but those beside the
 * project are invented.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { InputError, type Issue } from '../../packages/core/src/basis/errors.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { Site, Weather } from '../../packages/core/src/scenario/schema/schema.ts';
import { weather as weatherSchema } from '../../packages/core/src/scenario/schema/weather.ts';
import { compareLight } from '../../packages/core/src/sky/light-check.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import { type FileWeather, weatherRows } from '../../packages/core/src/sky/rows.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import { sunOverIntervals, sunYear } from '../../packages/core/src/sun/year.ts';
import { FORMATS_FOLDER, formatsThere } from '../support/shared-weather.ts';
import { inventedSky, nasaPowerRows, nsrdbRows } from '../support/weather-files.ts';

const WEST: Site = {
  name: 'Invented',
  latitude_deg: 42,
  longitude_deg: -73,
  elevation_m: 120,
  time_zone: 'Etc/GMT+5',
};
const NULL_MERIDIAN: Site = { ...WEST, longitude_deg: 1, time_zone: 'Etc/UTC' };
const YEAR = 2026;
const west = inventedSky(WEST, -5, YEAR);
const middle = inventedSky(NULL_MERIDIAN, 0, YEAR);
const nsrdb = nsrdbRows(west);
const bare = nsrdbRows(west, { head: false });
const power = nasaPowerRows(middle);

const asked = (kind: string, extra: object = {}): Weather =>
  weatherSchema.parse({ kind, file: 'w.csv', ...extra });

function read(
  rows: readonly string[],
  weather: Weather,
  { site = WEST, year = YEAR, step_min = 60 } = {},
): SkyYear {
  const clock = buildClock(year, site.time_zone, step_min);
  const texts = new Map([['w.csv', rows.join('\n')]]);
  return prepareSky(weather, site, clock, sunYear(clock, site), texts, 'test.yaml');
}
function issuesOf(work: () => unknown): readonly Issue[] {
  try {
    work();
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as InputError).issues;
  }
  return [];
}
const changed = (rows: readonly string[], at: number, to: (row: string) => string): string[] =>
  rows.map((row, k) => (k === at ? to(row) : row));
const farthest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);

describe('nsrdb', () => {
  it('gives the very hours that it was written from, whatever the order of its columns', () => {
    const sky = read(nsrdb, asked('nsrdb'));
    for (const name of ['ghi_W_m2', 'dni_W_m2', 'dhi_W_m2', 'air_temperature_C', 'wind_m_s'] as const)
      expect(farthest(sky[name], west.sky[name]), name).toBeLessThan(0.001);
    expect(sky.notices).toEqual([]);
    const said = sky.assumptions.find(({ path }) => path === 'weather.file')?.why;
    expect(said).toMatch(/a stamp is the middle of its row, .* -05:00 all year/);
  });

  it('asks for the zone of a file without a head, and takes it', () => {
    expect(issuesOf(() => read(bare, asked('nsrdb')))[0]).toMatchObject({
      code: 'no-zone',
      path: 'weather.zone',
    });
    const sky = read(bare, asked('nsrdb', { zone: '-05:00' }));
    expect(sky.ghi_W_m2).toEqual(read(nsrdb, asked('nsrdb')).ghi_W_m2);
    expect(issuesOf(() => read(nsrdb, asked('nsrdb', { zone: '-06:00' })))[0]!.code).toBe('other-zone');
  });

  it.each([
    ['another unit', 1, (row: string) => row.replace('w/m2', 'kWh/m2'), 'wrong-unit', 2],
    ['a place that is none', 1, (row: string) => row.replace('42', '142'), 'bad-header', 2],
    ['no light', 2, (row: string) => row.replace(',GHI', ',Light'), 'missing-column', 3],
    ['no date', 2, (row: string) => row.replace('Minute', 'M'), 'other-format', 3],
    ['a stamp that is none', 6, (row: string) => row.replace(/^1,/, '13,'), 'bad-stamp', 7],
    ['a cell too few', 6, (row: string) => row.slice(0, -1), 'ragged-row', 7],
  ])('refuses %s where it stands', (_, at, to, code, line) => {
    const [first] = issuesOf(() => read(changed(nsrdb, at, to), asked('nsrdb')));
    expect(first).toMatchObject({ code, place: { file: 'w.csv', line } });
  });

  it('asks for the wind where there is no such column, and has a missing code in no value', () => {
    const still = nsrdb.map((row, k) => (k === 2 ? row.replace(',Wind Speed', ',Gusts') : row));
    expect(issuesOf(() => read(still, asked('nsrdb')))[0]!.path).toBe('weather.wind_m_s');
    expect(read(still, asked('nsrdb', { wind_m_s: 3 })).wind_m_s[0]).toBe(3);
    const lost = changed(nsrdb, 15, (row) => row.replace(/^1,[^,]*/, '1,-9999'));
    expect(issuesOf(() => read(lost, asked('nsrdb')))[0]).toMatchObject({ code: 'gap', path: 'weather.ghi' });
  });

  it('holds the half row that a year of instants lacks at its end', () => {
    const halves = nsrdb.flatMap((row, k) => {
      if (k < 3) return [row.replace(',DNI', ',Other')];
      const cells = row.split(',');
      return ['0', '30'].map((minute) => cells.map((cell, c) => (c === 4 ? minute : cell)).join(','));
    });
    const sky = read(halves, asked('nsrdb'));
    expect(sky.notices.find(({ id }) => id === 'gap-filled')).toMatchObject({ count: 1 });
    expect(sky.air_temperature_C.every(Number.isFinite)).toBe(true);
    // A row that is missing within is still an error.
    expect(issuesOf(() => read(halves.toSpliced(900, 1), asked('nsrdb')))[0]!.code).toBe('gap');
  });
});

describe('nasa_power', () => {
  const over = { site: NULL_MERIDIAN };

  it('gives the very hours that it was written from, with the site and the missing code of its head', () => {
    const sky = read(power, asked('nasa_power'), over);
    for (const name of ['ghi_W_m2', 'air_temperature_C', 'wind_m_s'] as const)
      expect(farthest(sky[name], middle.sky[name]), name).toBeLessThan(0.001);
    expect(sky.notices).toEqual([]);
    const lost = changed(power, 24, (row) => row.replace(/,[^,]*,([^,]*)$/, ',-999.0,$1'));
    expect(issuesOf(() => read(lost, asked('nasa_power'), over))[0]).toMatchObject({
      code: 'gap',
      path: 'weather.ghi',
    });
    const far = { site: { ...NULL_MERIDIAN, latitude_deg: 52 } };
    expect(issuesOf(() => read(power, asked('nasa_power'), far))[0]!.code).toBe('other-place');
  });

  it('is in UTC whatever the place, and not refused for a zone far from its sun', () => {
    const site = { ...WEST, time_zone: 'Etc/UTC' };
    const sky = read(nasaPowerRows(inventedSky(WEST, 0, YEAR)), asked('nasa_power'), { site });
    expect(sky.notices.map(({ id }) => id)).not.toContain('light-off-sun');
  });

  it.each([
    ['the time of the sun', 2, 'UTC', 'LST', 'not-utc', 3],
    ['a unit that is not ours', 9, 'Wh/m^2', 'MJ/hr', 'wrong-unit', 10],
    ['a head without place', 3, 'Latitude', 'Lat', 'bad-header', 1],
    ['a head without end', 10, '-END', 'END', 'bad-header', 120],
    ['a missing code that could be a value', 5, '-999', '20', 'bad-header', 6],
    ['days', 11, 'HR', 'H', 'missing-column', 12],
  ])('refuses %s where it stands', (_, at, from, to, code, line) => {
    const [first] = issuesOf(() =>
      read(
        changed(power, at, (row) => row.replace(from, to)),
        asked('nasa_power'),
        over,
      ),
    );
    expect(first).toMatchObject({ code, place: { file: 'w.csv', line } });
  });
});

describe('a table whose dates stand in several columns', () => {
  const described = {
    time: {
      column: ['Year', 'Month', 'Day', 'Hour', 'Minute'],
      format: 'yyyy M d H m',
      zone: '-05:00',
      label: 'middle',
    },
    ghi: { column: 'GHI', unit: 'W_m2' },
    dni: { column: 'DNI', unit: 'W_m2' },
    dhi: { column: 'DHI', unit: 'W_m2' },
    air_temperature: { column: 'Temperature', unit: 'C' },
    wind: { column: 'Wind Speed', unit: 'm_s' },
  };

  it('is weather of kind series, in the order that the scenario says', () => {
    const sky = read(bare, asked('series', described));
    expect(sky.ghi_W_m2).toEqual(read(nsrdb, asked('nsrdb')).ghi_W_m2);
  });

  it('names the stamp and a format where none is given', () => {
    const { format: _, ...time } = described.time;
    const [first] = issuesOf(() => read(bare, asked('series', { ...described, time })));
    expect(first).toMatchObject({ code: 'bad-stamp', place: { line: 2, field: 'Year' } });
    expect(first!.fix).toContain('time.format, such as "yyyy M d H m"');
  });

  it('is offered, to be pasted, where a file is of no known format; what no header tells is asked for', () => {
    const [first] = issuesOf(() => read(bare, asked('epw')));
    expect(first!.fix).toContain('its columns are "Month", "GHI", "Year"');
    const offered = first!.fix!.slice(first!.fix!.indexOf('weather:\n'));
    expect(weatherSchema.safeParse(parse(offered).weather).success).toBe(false);
    const units = ['W_m2', 'W_m2', 'W_m2', 'C', 'm_s'];
    const filled = offered
      .replace('ZONE', '"-05:00"')
      .replace('LABEL', 'middle')
      .replaceAll('UNIT', () => units.shift()!);
    const sky = read(bare, weatherSchema.parse(parse(filled).weather));
    expect(sky.ghi_W_m2).toEqual(read(nsrdb, asked('nsrdb')).ghi_W_m2);
    // A unit in the header is taken over.
    const german = [
      'Datum;Zeit;Globalstrahlung (W/m²);Lufttemperatur (°C)',
      '1.1.2026;00:00;0;-3,5',
      '1.1.2026;01:00;0;-3,6',
    ];
    const [other] = issuesOf(() => read(german, asked('tmy3')));
    expect(other!.fix).toContain('ghi: { column: "Globalstrahlung (W/m²)", unit: W_m2 }');
    expect(other!.fix).toContain('delimiter: ";"');
  });

  it.each([
    ['nsrdb', nsrdb],
    ['nasa_power', power],
  ])('names kind %s where the file is of it', (kind, rows) => {
    expect(issuesOf(() => read(rows, asked('epw')))[0]!.fix).toContain(`set weather.kind: ${kind}`);
  });
});

// Sums and conventions: SOURCES.md beside the files.
describe.runIf(formatsThere)('files as the archives handed them out', () => {
  const texts = (file: string) => new Map([[file, readFileSync(join(FORMATS_FOLDER, file), 'utf8')]]);
  const rowsOf = (kind: string, file: string, extra: object = {}) => {
    const weather = asked(kind, { file, ...extra }) as FileWeather;
    return weatherRows(weather, 2025, texts(file), 'test.yaml');
  };
  /** Minutes by which the light of its clearest days is late. */
  const late_min = (
    { series }: ReturnType<typeof rowsOf>,
    site: Pick<Site, 'latitude_deg' | 'longitude_deg'>,
  ) =>
    compareLight(
      series,
      sunOverIntervals(series.start_ms, series.end_ms, { ...WEST, ...site }),
      site.longitude_deg,
    ).late_min;
  const MALTA = {
    ...WEST,
    latitude_deg: 35.9375,
    longitude_deg: 14.3754,
    elevation_m: 50,
    time_zone: 'Europe/Malta',
  };
  const MALTA_FILE = 'POWER_Point_Hourly_Malta_20250101_20260531_UTC.csv';

  it('has the light of a year and no light in the next', () => {
    const clock = buildClock(2025, MALTA.time_zone, 60);
    const gaps = { fill: 'interpolate', longest_h: 1 };
    const weather = asked('nasa_power', { file: MALTA_FILE, gaps });
    const sky = prepareSky(weather, MALTA, clock, sunYear(clock, MALTA), texts(MALTA_FILE), 'test.yaml');
    expect(sky.ghi_W_m2.reduce((sum, ghi) => sum + ghi, 0) / 1000).toBeCloseTo(1894.2, 1);
    const { series } = rowsOf('nasa_power', MALTA_FILE);
    const next = series.start_ms.findIndex((start) => start >= Date.UTC(2026, 0, 1));
    expect(series.values.get('ghi')!.subarray(next).every(Number.isNaN)).toBe(true);
    const air = series.values.get('air_temperature')!.subarray(next);
    expect(air.filter(Number.isFinite).length).toBeGreaterThan(24 * 120);
  });

  it('stamps where the sun says: starts of hours, middles of rows', () => {
    expect(Math.abs(late_min(rowsOf('nasa_power', MALTA_FILE), MALTA))).toBeLessThan(3);
    const file = 'nsrdb_40.53N_108.54W_2017_30min.csv';
    const rows = rowsOf('nsrdb', file);
    expect(rows.series.start_ms.length).toBe(17_520);
    expect(rows.site).toMatchObject({
      latitude_deg: 40.53,
      longitude_deg: -108.54,
      offset_min: -420,
      elevation_m: 2168,
    });
    expect(Math.abs(late_min(rows, { latitude_deg: 40.53, longitude_deg: -108.54 }))).toBeLessThan(3);
  });

  it('reads five minutes without a head', () => {
    const { series } = rowsOf('nsrdb', 'nsrdb_2019_5min_no_head.csv', { zone: '-07:00' });
    expect(series.start_ms.length).toBe(288);
    expect(series.end_ms[0]! - series.start_ms[0]!).toBe(300_000);
    expect(series.values.get('air_temperature')![0]).toBe(-19.6);
  });
});
