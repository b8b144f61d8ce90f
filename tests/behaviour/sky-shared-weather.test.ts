/**
 * Against weather that others published. The files lie beside the project where it is developed and are no part of it:
 * without them everything here is skipped. Figures are printed, because a bias is worth knowing even within its bound.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { prepareArray } from '../../packages/core/src/array/prepare.ts';
import { buildClock, type Clock } from '../../packages/core/src/clock/clock.ts';
import type { ArraySpec, SeriesWeather, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { splitGlobal } from '../../packages/core/src/sky/decompose.ts';
import { compareLight, lightNotices } from '../../packages/core/src/sky/light-check.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import { type FileWeather, weatherRows } from '../../packages/core/src/sky/rows.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import type { SunYear } from '../../packages/core/src/sun/year.ts';
import { sunOverIntervals, sunYear } from '../../packages/core/src/sun/year.ts';
import { MEASURED_STATIONS } from '../support/measured-stations.ts';
import { WEATHER_FOLDER as FOLDER, weatherThere as there } from '../support/shared-weather.ts';

const lines = (file: string): string[] => readFileSync(resolve(FOLDER, file), 'utf8').trim().split(/\r?\n/);
const RAD = Math.PI / 180;
const HOUR = 3_600_000;
const total = (x: Float64Array): number => x.reduce((s, v) => s + v, 0);
const percent = (x: number): string => `${(100 * x).toFixed(2)} %`;

interface Station {
  readonly site: Site;
  readonly offset_h: number;
  /** Hours by local standard time in the order of the file: January to December, each month of its own year. */
  readonly sun: SunYear;
  readonly etr: Float64Array;
  readonly ghi: Float64Array;
  readonly dni: Float64Array;
  readonly dhi: Float64Array;
}

/** A typical year of NREL's third kind: the stamp ends its hour, local standard time. */
function typicalYear(file: string, name: string): Station {
  const [head, , ...body] = lines(file);
  const [latitude_deg, longitude_deg, elevation_m] = head!
    .replace(/"[^"]*"/, '')
    .split(',')
    .slice(4)
    .map(Number);
  const offset_h = Number(head!.replace(/"[^"]*"/, '').split(',')[3]);
  const site = {
    name,
    latitude_deg: latitude_deg!,
    longitude_deg: longitude_deg!,
    elevation_m: elevation_m!,
    time_zone: 'Etc/UTC',
  };
  const rows = body.map((line) => line.split(','));
  const end = rows.map((cells) => {
    const [month, day, year] = cells[0]!.split('/').map(Number);
    return Date.UTC(year!, month! - 1, day!, Number(cells[1]!.split(':')[0])) - offset_h * HOUR;
  });
  const column = (k: number): Float64Array => Float64Array.from(rows, (cells) => Number(cells[k]));
  // Each month comes from a year of its own, and the sun is asked for a run of hours.
  const months: SunYear[] = [];
  for (let first = 0; first < rows.length; ) {
    const month = rows[first]![0]!.split('/')[0];
    let last = first;
    while (last < rows.length && rows[last]![0]!.split('/')[0] === month) last++;
    const ends = Float64Array.from(end.slice(first, last));
    months.push(
      sunOverIntervals(
        ends.map((t) => t - HOUR),
        ends,
        site,
        1367,
      ),
    );
    first = last;
  }
  const join = (key: keyof SunYear): Float64Array => Float64Array.from(months.flatMap((m) => [...m[key]]));
  const sun: SunYear = {
    up_share: join('up_share'),
    altitude_deg: join('altitude_deg'),
    azimuth_deg: join('azimuth_deg'),
    extraterrestrial_normal_W_m2: join('extraterrestrial_normal_W_m2'),
    extraterrestrial_horizontal_W_m2: join('extraterrestrial_horizontal_W_m2'),
    air_mass: join('air_mass'),
  };
  return { site, offset_h, sun, etr: column(2), ghi: column(4), dni: column(7), dhi: column(10) };
}

const SPEC = {
  name: 'plane',
  size_kWp: 1,
  tilt_deg: 40,
  azimuth_deg: 180,
  power_temperature_coefficient_per_K: -0.0035,
  mounting: 'open_rack',
  losses: { soiling_share: 0, snow_share: 0, mismatch_share: 0, wiring_share: 0, ageing_share: 0 },
  albedo: 0.2,
} as ArraySpec;

describe.skipIf(!there).each([
  ['Boston', '725090_Boston_MA_TMY3.csv'],
  ['Golden', '724666_Golden_CO_TMY3.csv'],
])('%s, typical year', (name, file) => {
  const station = there ? typicalYear(file, name) : (undefined as unknown as Station);

  it('light above the air: the year within 0.3 %, each hour within 6 W/m²', () => {
    const ours = station.sun.extraterrestrial_horizontal_W_m2;
    const year = total(ours) / total(station.etr) - 1;
    const worst = ours.reduce((most, x, i) => Math.max(most, Math.abs(x - station.etr[i]!)), 0);
    console.info(
      `${name}: extraterrestrial ${percent(year)} against the file, worst hour ${worst.toFixed(1)} W/m²`,
    );
    expect(Math.abs(year)).toBeLessThan(0.003);
    expect(worst).toBeLessThan(6);
  });

  it('its three columns close with our sun: 0.5 % of the year, 3 W/m² rms with the sun above 10 degrees', () => {
    const { sun, ghi, dni, dhi } = station;
    const made = ghi.map((_, i) => dhi[i]! + dni[i]! * Math.sin(Math.max(0, sun.altitude_deg[i]!) * RAD));
    let squares = 0;
    let hours = 0;
    for (let i = 0; i < ghi.length; i++)
      if (sun.altitude_deg[i]! > 10) {
        squares += (made[i]! - ghi[i]!) ** 2;
        hours++;
      }
    const rms = Math.sqrt(squares / hours);
    console.info(`${name}: closure ${percent(total(made) / total(ghi) - 1)}, rms ${rms.toFixed(2)} W/m²`);
    expect(Math.abs(total(made) / total(ghi) - 1)).toBeLessThan(0.005);
    expect(rms).toBeLessThan(3);
  });

  it('split of the global column alone: diffuse within 5 % of the file’s over the year, plane within 1 %', () => {
    const { sun, ghi, dni, dhi, site } = station;
    const split = splitGlobal(ghi, sun);
    const bias = total(split.dhi_W_m2) / total(dhi) - 1;
    const rms = Math.sqrt(dhi.reduce((s, x, i) => s + (x - split.dhi_W_m2[i]!) ** 2, 0) / dhi.length);
    const clock = buildClock(2025, 'Etc/UTC', 60);
    const still = {
      air_temperature_C: new Float64Array(8760).fill(15),
      wind_m_s: new Float64Array(8760).fill(1),
    };
    const none = { notices: [], assumptions: [] };
    const plane = (parts: Pick<SkyYear, 'dni_W_m2' | 'dhi_W_m2'>): number =>
      total(prepareArray(SPEC, site, clock, sun, { ghi_W_m2: ghi, ...parts, ...still, ...none }).plane_W_m2) /
      1000;
    const measured = plane({ dni_W_m2: dni, dhi_W_m2: dhi });
    const modelled = plane(split);
    console.info(
      `${name}: Erbs diffuse ${percent(bias)}, rms ${rms.toFixed(0)} W/m²; 40 degrees south ${measured.toFixed(0)} kWh/m² by the file's parts, ${percent(modelled / measured - 1)} by Erbs`,
    );
    expect(Math.abs(bias)).toBeLessThan(0.05);
    expect(Math.abs(modelled / measured - 1)).toBeLessThan(0.01);
  });

  it('a year drawn from its monthly means: planes of three tilts within 3 % of its own hours', () => {
    const { sun, ghi, dni, dhi, site, offset_h } = station;
    const zone = `Etc/GMT+${-offset_h}`;
    const clock = buildClock(2025, zone, 60);
    const air = new Float64Array(8760).fill(15);
    const hours = {
      ghi_W_m2: ghi,
      dni_W_m2: dni,
      dhi_W_m2: dhi,
      air_temperature_C: air,
      wind_m_s: new Float64Array(8760).fill(1),
      notices: [],
      assumptions: [],
    };
    const means = new Float64Array(12);
    for (let i = 0; i < 8760; i++) means[clock.month[i]! - 1]! += ghi[i]! / 1000;
    const days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    const local = { ...site, time_zone: zone };
    const ours = sunYear(clock, local);
    const seeds = [1, 2, 3, 4, 5, 6];
    for (const tilt_deg of [20, 40, 90]) {
      const spec = { ...SPEC, tilt_deg };
      const byHours = total(prepareArray(spec, site, clock, sun, hours).plane_W_m2) / 1000;
      let drawn = 0;
      for (const seed of seeds) {
        const weather = {
          kind: 'monthly_means' as const,
          decomposition: 'erbs' as const,
          ghi_kWh_m2_day: days.map((count, m) => means[m]! / count),
          air_temperature_C: Array<number>(12).fill(15),
          turbidity_linke: 3,
          daily_swing_K: 8,
          wind_m_s: 1,
          seed,
        };
        const sky = prepareSky(weather, local, clock, ours, new Map(), 'test.yaml');
        drawn += total(prepareArray(spec, local, clock, ours, sky).plane_W_m2) / 1000 / seeds.length;
      }
      console.info(
        `${name}, tilt ${tilt_deg}: ${byHours.toFixed(0)} kWh/m² by the file's hours, drawn from its means ${percent(drawn / byHours - 1)}`,
      );
      expect(Math.abs(drawn / byHours - 1)).toBeLessThan(0.03);
    }
  });
});

/** Rank of each day's clearness within its month, and how much of it lives on in the next day. */
function persistence(ghi: Float64Array, sun: SunYear, clock: Clock): number {
  const got = new Float64Array(clock.days);
  const sent = new Float64Array(clock.days);
  for (let i = 0; i < clock.steps; i++) {
    got[clock.day[i]!]! += ghi[i]!;
    sent[clock.day[i]!]! += sun.extraterrestrial_horizontal_W_m2[i]!;
  }
  const rank = new Float64Array(clock.days);
  for (let month = 1; month <= 12; month++) {
    const days = [...got.keys()].filter((d) => clock.month[clock.day_start[d]!] === month);
    const order = days.toSorted((a, b) => got[a]! / sent[a]! - got[b]! / sent[b]!);
    for (const [k, d] of order.entries()) rank[d] = (k + 0.5) / days.length - 0.5;
  }
  let top = 0;
  for (let d = 1; d < rank.length; d++) top += rank[d]! * rank[d - 1]!;
  return top / rank.reduce((s, x) => s + x * x, 0);
}

/** Monthly sums of the global column, kWh/m², January first. */
const MONTHLY: Readonly<Record<string, readonly number[]>> = Object.fromEntries(
  MEASURED_STATIONS.map(({ name, ghi_kWh_m2 }) => [name, ghi_kWh_m2]),
);

/** How a scenario would name each file. */
const STATIONS: Readonly<Record<string, { weather: FileWeather; site: Site; year: number }>> = {
  Boston: {
    weather: {
      kind: 'tmy3',
      file: '725090_Boston_MA_TMY3.csv',
      years: 'typical',
      decomposition: 'erbs',
      gaps: { fill: 'refuse', longest_h: 0 },
    },
    site: {
      name: 'Boston',
      latitude_deg: 42.367,
      longitude_deg: -71.017,
      elevation_m: 6,
      time_zone: 'America/New_York',
    },
    year: 2026,
  },
  Golden: {
    weather: {
      kind: 'tmy3',
      file: '724666_Golden_CO_TMY3.csv',
      years: 'typical',
      decomposition: 'erbs',
      gaps: { fill: 'refuse', longest_h: 0 },
    },
    site: {
      name: 'Golden',
      latitude_deg: 39.742,
      longitude_deg: -105.179,
      elevation_m: 1829,
      time_zone: 'America/Denver',
    },
    year: 2026,
  },
  Melbourne: {
    weather: {
      kind: 'series',
      file: '086282_Melbourne_AU_TMY.csv',
      delimiter: ',',
      time: { column: 'local time', zone: '+10:00', label: 'start', year: 2026 },
      gaps: { fill: 'refuse', longest_h: 0 },
      ghi: { column: 'ghi mean', unit: 'W_m2' },
      air_temperature: { column: 'air temp mean', unit: 'C' },
      decomposition: 'erbs',
      wind_m_s: 1,
    },
    site: {
      name: 'Melbourne',
      latitude_deg: -37.6655,
      longitude_deg: 144.8321,
      elevation_m: 113,
      time_zone: 'Etc/GMT-10',
    },
    year: 2026,
  },
  Lyngby: {
    weather: {
      kind: 'series',
      file: 'DTU_Lyngby_DK_2016_hourly_mean_UTC.csv',
      delimiter: ',',
      time: { column: 'hour_start_utc', zone: 'UTC', label: 'start' },
      gaps: { fill: 'interpolate', longest_h: 24 },
      ghi: { column: 'ghi_w_m2', unit: 'W_m2' },
      air_temperature: { column: 'air_temp_c', unit: 'C' },
      decomposition: 'erbs',
      wind_m_s: 3,
    },
    site: {
      name: 'Lyngby',
      latitude_deg: 55.79064,
      longitude_deg: 12.52505,
      elevation_m: 50,
      time_zone: 'Etc/UTC',
    },
    year: 2016,
  },
};

describe.skipIf(!there).each(Object.entries(STATIONS))('%s as a scenario names it', (name, station) => {
  const { weather, site, year } = station;
  const texts = (): Map<string, string> =>
    new Map([[weather.file, readFileSync(resolve(FOLDER, weather.file), 'utf8')]]);

  it('has the monthly sums of its source', () => {
    const clock = buildClock(year, site.time_zone, 60);
    const sky = prepareSky(weather, site, clock, sunYear(clock, site), texts(), 'test.yaml');
    const sums = Array<number>(12).fill(0);
    for (let i = 0; i < clock.steps; i++) sums[clock.month[i]! - 1]! += sky.ghi_W_m2[i]! / 1000;
    if (name === 'Lyngby') {
      // The source counts its 20 missing hours as dark, the sky fills them: the rows as read are summed.
      expect(Math.abs(sums.reduce((a, b) => a + b) - 1010.2)).toBeLessThan(4);
      sums.fill(0);
      const { series } = weatherRows(weather, year, texts(), 'test.yaml');
      for (const [r, ghi] of series.values.get('ghi')!.entries())
        if (ghi > 0) sums[new Date(series.start_ms[r]!).getUTCMonth()]! += ghi / 1000;
    }
    for (const [m, sum] of sums.entries())
      expect(Math.abs(sum - MONTHLY[name]![m]!), `month ${m + 1}`).toBeLessThan(0.0501);
    expect(sky.notices.map((n) => n.id)).not.toContain('light-off-sun');
    expect(sky.notices.map((n) => n.id)).not.toContain('file-site-apart');
  });

  it('is found out by its light if it is shifted by an hour or by half of one', () => {
    const { series } = weatherRows(weather, year, texts(), 'test.yaml');
    const late = (shift_min: number): number => {
      const start_ms = series.start_ms.map((t) => t + shift_min * 60_000);
      const end_ms = series.end_ms.map((t) => t + shift_min * 60_000);
      const sun = sunOverIntervals(start_ms, end_ms, site);
      const shifted = { ...series, start_ms, end_ms };
      const light = compareLight(shifted, sun, site.longitude_deg);
      expect(lightNotices(light, shifted, 'ghi').length, `${shift_min} min`).toBe(shift_min === 0 ? 0 : 1);
      return light.late_min;
    };
    const found = [-60, -30, 0, 30, 60].map((shift) => [shift, late(shift)] as const);
    console.info(
      `${name}: ${found.map(([shift, min]) => `${shift} min found as ${min.toFixed(1)}`).join(', ')}`,
    );
    for (const [shift, min] of found) expect(Math.abs(min - shift)).toBeLessThan(3);
  });
});

describe.skipIf(!there)('measured years, read as a scenario reads them', () => {
  const lyngby: SeriesWeather = {
    kind: 'series',
    file: 'DTU_Lyngby_DK_2016_hourly_mean_UTC.csv',
    delimiter: ',',
    time: { column: 'hour_start_utc', zone: 'UTC', label: 'start' },
    gaps: { fill: 'interpolate', longest_h: 24 },
    ghi: { column: 'ghi_w_m2', unit: 'W_m2' },
    dni: { column: 'dni_w_m2', unit: 'W_m2' },
    dhi: { column: 'dhi_w_m2', unit: 'W_m2' },
    air_temperature: { column: 'air_temp_c', unit: 'C' },
    decomposition: 'erbs',
    wind_m_s: 3,
  };
  const read = (spec: SeriesWeather, site: Site, year: number) => {
    const clock = buildClock(year, site.time_zone, 60);
    const sun = sunYear(clock, site);
    const text = readFileSync(resolve(FOLDER, spec.file), 'utf8');
    return { clock, sun, sky: prepareSky(spec, site, clock, sun, new Map([[spec.file, text]]), 'test.yaml') };
  };

  it('Lyngby 2016: 1010 kWh/m², closes, and passes every check of a row', () => {
    const site = {
      name: 'Lyngby',
      latitude_deg: 55.79064,
      longitude_deg: 12.52505,
      elevation_m: 50,
      time_zone: 'Etc/UTC',
    };
    const { clock, sun, sky } = read(lyngby, site, 2016);
    const { dni: _dni, dhi: _dhi, ...globalOnly } = lyngby;
    const erbs = read(globalOnly, site, 2016).sky;
    const lag = persistence(sky.ghi_W_m2, sun, clock);
    console.info(
      `Lyngby: global ${(total(sky.ghi_W_m2) / 1000).toFixed(1)} kWh/m², Erbs diffuse ${percent(total(erbs.dhi_W_m2) / total(sky.dhi_W_m2) - 1)}, day to day ${lag.toFixed(3)}; ${sky.notices.map((n) => n.message).join('; ')}`,
    );
    expect(Math.abs(total(sky.ghi_W_m2) / 1000 - 1010.2)).toBeLessThan(4);
    expect(sky.notices.map((n) => n.id)).not.toContain('light-off-sun');
    expect(sky.notices.map((n) => n.id)).not.toContain('light-does-not-close');
    // Seventeen hours of January are filled: with the night in them.
    expect(sky.notices.map((n) => n.id)).not.toContain('quality-night-light');
    expect(Math.abs(total(erbs.dhi_W_m2) / total(sky.dhi_W_m2) - 1)).toBeLessThan(0.15);
    expect(lag).toBeGreaterThan(0.1);
    expect(lag).toBeLessThan(0.35);
  });

  it('Melbourne, typical year: southern sun, beam without diffuse, clock found by the light', () => {
    const site = {
      name: 'Melbourne',
      latitude_deg: -37.6655,
      longitude_deg: 144.8321,
      elevation_m: 113,
      time_zone: 'Etc/GMT-10',
    };
    const melbourne: SeriesWeather = {
      ...lyngby,
      file: '086282_Melbourne_AU_TMY.csv',
      time: {
        column: 'local time',
        zone: '+10:00',
        label: 'start',
        format: 'yyyy-MM-dd HH:mm:ss',
        year: 2010,
      },
      ghi: { column: 'ghi mean', unit: 'W_m2' },
      dni: { column: 'dni mean', unit: 'W_m2' },
      air_temperature: { column: 'air temp mean', unit: 'C' },
      decomposition: 'erbs',
    };
    const { dhi: _dhi, ...withoutDiffuse } = melbourne;
    const { clock, sun, sky } = read(withoutDiffuse, site, 2010);
    const lag = persistence(sky.ghi_W_m2, sun, clock);
    console.info(
      `Melbourne: global ${(total(sky.ghi_W_m2) / 1000).toFixed(1)} kWh/m², day to day ${lag.toFixed(3)}`,
    );
    expect(Math.abs(total(sky.ghi_W_m2) / 1000 - 1548.8)).toBeLessThan(1);
    expect(sky.notices.map((n) => n.id)).not.toContain('light-off-sun');
    expect(lag).toBeGreaterThan(0.1);
    expect(lag).toBeLessThan(0.35);
    const wrong = { ...withoutDiffuse, time: { ...withoutDiffuse.time, label: 'end' as const } };
    expect(() => read(wrong, site, 2010)).toThrow(/earlier in the day than the sun/);
  });
});
