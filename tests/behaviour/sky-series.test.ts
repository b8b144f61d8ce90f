/** Weather files: units, checks against the sun, and what is said about rows that can't be. */
import { describe, expect, it } from 'vitest';
import { InputError, type Issue } from '../../packages/core/src/basis/errors.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { SeriesWeather, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { clockShift } from '../../packages/core/src/sky/clock-shift.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

const RAD = Math.PI / 180;
const SITE: Site = {
  name: 'test',
  latitude_deg: 45,
  longitude_deg: 10,
  elevation_m: 100,
  time_zone: 'Etc/UTC',
};
const clock = buildClock(2025, 'Etc/UTC', 60);
const sun = sunYear(clock, SITE);
const clear = prepareSky(
  {
    kind: 'clear-sky',
    turbidity_linke: 3,
    air_temperature_C: 12,
    daily_swing_K: 10,
    wind_m_s: 1,
  },
  SITE,
  clock,
  sun,
  new Map(),
  'test.yaml',
);

interface Row {
  time: string;
  ghi: number | string;
  dni: number | string;
  dhi: number | string;
  air: number | string;
  wind: number | string;
}
/** The clear sky dimmed to 70 %, as rows of a file; `change` may spoil some. */
function rows(change: (row: Row, i: number) => void = () => {}): Row[] {
  return Array.from({ length: clock.steps }, (_, i) => {
    const row: Row = {
      time: new Date(clock.start_ms[i]!).toISOString(),
      ghi: 0.7 * clear.ghi_W_m2[i]!,
      dni: 0.7 * clear.dni_W_m2[i]!,
      dhi: 0.7 * clear.dhi_W_m2[i]!,
      air: clear.air_temperature_C[i]!,
      wind: 3.6,
    };
    change(row, i);
    return row;
  });
}
const csv = (table: Row[]): string =>
  ['time,ghi,dni,dhi,air,wind', ...table.map((r) => Object.values(r).join(','))].join('\n');

const weather = (extra: Partial<SeriesWeather> = {}): SeriesWeather => ({
  kind: 'series',
  file: 'w.csv',
  delimiter: ',',
  time: { column: 'time', zone: 'UTC', label: 'start' },
  gaps: { fill: 'refuse', longest_h: 0 },
  ghi: { column: 'ghi', unit: 'W_m2' },
  air_temperature: { column: 'air', unit: 'C' },
  decomposition: 'erbs',
  wind_m_s: 1,
  ...extra,
});
const read = (text: string, spec: SeriesWeather = weather()): SkyYear =>
  prepareSky(spec, SITE, clock, sun, new Map([['w.csv', text]]), 'test.yaml');
function issuesOf(text: string, spec: SeriesWeather = weather()): readonly Issue[] {
  try {
    read(text, spec);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as InputError).issues;
  }
  return [];
}
const farthest = (a: Float64Array, b: (i: number) => number): number =>
  a.reduce((most, x, i) => Math.max(most, Math.abs(x - b(i))), 0);

describe('units', () => {
  it.each([
    ['W_m2', 1],
    ['Wh_m2', 1],
    ['kWh_m2', 1 / 1000],
    ['kJ_m2', 3.6],
    ['MJ_m2', 0.0036],
  ] as const)('irradiance in %s of an hour', (unit, factor) => {
    const sky = read(
      csv(
        rows((r) => {
          r.ghi = (r.ghi as number) * factor;
        }),
      ),
      weather({ ghi: { column: 'ghi', unit } }),
    );
    expect(farthest(sky.ghi_W_m2, (i) => 0.7 * clear.ghi_W_m2[i]!)).toBeLessThan(1e-9);
  });
  it('an energy belongs to the length of its row: 15 min', () => {
    const table: Row[] = [];
    for (const r of rows())
      for (let k = 0; k < 4; k++)
        table.push({
          ...r,
          time: new Date(Date.parse(r.time) + k * 900_000).toISOString(),
          ghi: (r.ghi as number) / 4000,
        });
    const sky = read(csv(table), weather({ ghi: { column: 'ghi', unit: 'kWh_m2' } }));
    expect(farthest(sky.ghi_W_m2, (i) => 0.7 * clear.ghi_W_m2[i]!)).toBeLessThan(1e-9);
  });
  it.each([
    ['C', (c: number) => c],
    ['F', (c: number) => 1.8 * c + 32],
    ['K', (c: number) => c + 273.15],
  ] as const)('temperature in %s, wind in km/h', (unit, from) => {
    const sky = read(
      csv(
        rows((r) => {
          r.air = from(r.air as number);
        }),
      ),
      weather({
        air_temperature: { column: 'air', unit },
        wind: { column: 'wind', unit: 'km_h' },
      }),
    );
    expect(farthest(sky.air_temperature_C, (i) => clear.air_temperature_C[i]!)).toBeLessThan(1e-9);
    expect(farthest(sky.wind_m_s, () => 1)).toBeLessThan(1e-12);
  });
});

describe('columns', () => {
  const closes = (sky: SkyYear): number =>
    farthest(
      sky.ghi_W_m2,
      (i) => sky.dhi_W_m2[i]! + sky.dni_W_m2[i]! * Math.sin(Math.max(0, sun.altitude_deg[i]!) * RAD),
    );
  const dni = { column: 'dni', unit: 'W_m2' } as const;
  const dhi = { column: 'dhi', unit: 'W_m2' } as const;
  it.each([
    ['global alone', {}],
    ['global and beam', { dni }],
    ['global and diffuse', { dhi }],
    ['all three', { dni, dhi }],
  ])('%s: the sky closes', (_name, extra) => {
    const sky = read(csv(rows()), weather(extra));
    expect(closes(sky)).toBeLessThan(1e-6);
    expect(sky.notices).toEqual([]);
    if ('dni' in extra || 'dhi' in extra)
      expect(farthest(sky.dni_W_m2, (i) => 0.7 * clear.dni_W_m2[i]!)).toBeLessThan(1e-6);
    for (const column of [sky.ghi_W_m2, sky.dni_W_m2, sky.dhi_W_m2])
      expect(column.every(Number.isFinite)).toBe(true);
  });
  it('without a wind column the given wind blows, and the report hears of it', () => {
    const sky = read(csv(rows()), weather({ wind_m_s: 2.5 }));
    expect(sky.wind_m_s.every((v) => v === 2.5)).toBe(true);
    expect(sky.assumptions.map((a) => a.path)).toContain('model.sky.wind');
  });
  it('measured beam of a step is cut to what its lit part can hold: none with the sun down', () => {
    const glowing = rows((r) => {
      if (r.dni === 0) r.dni = 30;
    });
    const sky = read(csv(glowing), weather({ dni, dhi }));
    expect(sky.dni_W_m2.findIndex((x, i) => sun.up_share[i] === 0 && x !== 0)).toBe(-1);
    expect(sky.notices.map((n) => n.id)).toEqual(['beam-cut-to-sun']);
    expect(sky.notices[0]!.count).toBe(sun.up_share.reduce((n, up) => n + (up === 0 ? 1 : 0), 0));
    expect(sky.notices[0]!.message).toContain('by 30 W/m² at most');
  });
  it('three columns that contradict each other are noticed', () => {
    const spoilt = rows((r) => {
      r.dni = 0.5 * (r.dni as number);
    });
    expect(read(csv(spoilt), weather({ dni, dhi })).notices.map((n) => n.id)).toEqual([
      'light-does-not-close',
      'quality-closure',
    ]);
  });
});

describe('gaps in the light', () => {
  // From 14:00 on July 1 to 10:00 two days later.
  const from = 24 * 181 + 14;
  const to = from + 44;
  const gap = { gaps: { fill: 'interpolate', longest_h: 48 } } as const;
  const dni = { column: 'dni', unit: 'W_m2' } as const;
  const dhi = { column: 'dhi', unit: 'W_m2' } as const;
  const sum = (column: Float64Array) => column.subarray(from, to).reduce((s, x) => s + x, 0);

  it('are filled with days and nights, not with a straight line: global light within 5 % of what was there, beam within 7 %, diffuse within 8.5 %', () => {
    const without = rows().filter((_, i) => i < from || i >= to);
    const sky = read(csv(without), weather({ ...gap, dni, dhi }));
    const flat = (dni: Float64Array) =>
      dni.map((x, i) => x * Math.sin(Math.max(0, sun.altitude_deg[i]!) * RAD));
    const within = (filled: Float64Array, full: Float64Array) =>
      Math.abs(sum(filled) / sum(full.map((x) => 0.7 * x)) - 1);
    expect(within(sky.ghi_W_m2, clear.ghi_W_m2)).toBeLessThan(0.05);
    // The lower the sun, the more of a clear sky's light is diffuse; a share that stays the same all day is too much at noon.
    expect(within(sky.dhi_W_m2, clear.dhi_W_m2)).toBeLessThan(0.085);
    // A share of the sun's beam that stays the same all day is too much in the morning, on a horizontal that hardly counts.
    expect(within(flat(sky.dni_W_m2), flat(clear.dni_W_m2))).toBeLessThan(0.07);
    for (let i = from; i < to; i++) {
      if (sun.up_share[i] === 0) expect(sky.ghi_W_m2[i]! + sky.dni_W_m2[i]! + sky.dhi_W_m2[i]!).toBe(0);
      expect(sky.ghi_W_m2[i]!).toBeLessThanOrEqual(sun.extraterrestrial_horizontal_W_m2[i]!);
    }
    expect(sky.notices.map((n) => n.id)).toEqual(['gap-filled']);
    expect(sky.assumptions.map((a) => a.path)).toContain('model.sky.gaps');
    // What was not missing is as it was.
    expect(sky.ghi_W_m2[from - 1]!).toBeCloseTo(0.7 * clear.ghi_W_m2[from - 1]!, 9);
    expect(sky.ghi_W_m2[to]!).toBeCloseTo(0.7 * clear.ghi_W_m2[to]!, 9);
  });
  it('of one column alone are filled in that column alone', () => {
    const table = rows((r, i) => {
      if (i >= from && i < to) r.dhi = '';
    });
    const sky = read(csv(table), weather({ ...gap, dni, dhi }));
    expect(farthest(sky.ghi_W_m2, (i) => 0.7 * clear.ghi_W_m2[i]!)).toBeLessThan(1e-9);
    // Two measured columns leave the third no choice.
    expect(farthest(sky.dhi_W_m2, (i) => 0.7 * clear.dhi_W_m2[i]!)).toBeLessThan(1e-9);
  });
  it('at an end of the file take the clearness of the one side there is', () => {
    const sky = read(csv(rows().slice(30)), weather(gap));
    const day = (column: Float64Array) => column.subarray(0, 24).reduce((s, x) => s + x, 0);
    expect(Math.abs(day(sky.ghi_W_m2) / day(clear.ghi_W_m2) / 0.7 - 1)).toBeLessThan(0.15);
  });
});

describe('rows that can not be', () => {
  const NOON = 24 * 180 + 11;
  it('night offsets down to -20 are set to 0 and counted', () => {
    const sky = read(
      csv(
        rows((r) => {
          if (r.ghi === 0) r.ghi = -4.2;
        }),
      ),
    );
    const nights = clear.ghi_W_m2.reduce((n, x) => n + (x === 0 ? 1 : 0), 0);
    expect(Math.min(...sky.ghi_W_m2)).toBe(0);
    expect(sky.notices).toHaveLength(1);
    expect(sky.notices[0]).toMatchObject({ id: 'night-offset-zeroed', count: nights });
  });
  it('lower values, and more than the sun sends, are put in from the rows beside them where they are few', () => {
    const bad = [30, NOON, NOON + 24 * 40];
    const sky = read(
      csv(
        rows((r, i) => {
          if (i === 30) r.ghi = -21;
          if (i === NOON || i === NOON + 24 * 40) r.ghi = 5000;
        }),
      ),
    );
    // The sky is an even 0.7 of the clear one, so that its clearness hardly changes from hour to hour.
    for (const i of bad) expect(Math.abs(sky.ghi_W_m2[i]! - 0.7 * clear.ghi_W_m2[i]!)).toBeLessThan(20);
    expect(sky.ghi_W_m2[NOON - 1]).toBeCloseTo(0.7 * clear.ghi_W_m2[NOON - 1]!, 9);
    expect(sky.notices.map(({ id, count }) => [id, count])).toEqual([
      ['value-cannot-be', 1],
      ['value-cannot-be', 2],
    ]);
    const day = new Date(Date.parse(rows()[NOON]!.time)).toISOString().slice(0, 10);
    expect(sky.notices[1]!.message).toContain(`(line ${NOON + 2}: 5000 W/m² is more than the sun can give`);
    expect(sky.notices[1]!.message).toContain(day);
  });
  it('in a run of more than three lit hours stay missing, as gaps are', () => {
    const long = csv(
      rows((r, i) => {
        if (i >= NOON && i < NOON + 4) r.ghi = 5000;
      }),
    );
    const [first, ...rest] = issuesOf(long);
    expect(first).toMatchObject({ code: 'above-extraterrestrial', place: { line: NOON + 2 } });
    expect(rest).toEqual([]);
    const filled = read(long, weather({ gaps: { fill: 'interpolate', longest_h: 4 } }));
    expect(filled.notices.map(({ id, count }) => [id, count])).toEqual([
      ['value-cannot-be', 4],
      ['gap-filled', 4],
    ]);
  });
  it('refuse the file beyond one in two hundred, with every row and the hint once', () => {
    const days = (n: number) =>
      csv(
        rows((r, i) => {
          if (i % 24 !== 12 || i >= 24 * n) return;
          r.ghi = 1400;
          r.dhi = 1300;
        }),
      );
    const spec = weather({ dhi: { column: 'dhi', unit: 'W_m2' } });
    expect(issuesOf(days(43), spec)).toEqual([]);
    const issues = issuesOf(days(44), spec);
    expect(issues.map(({ code, path, place }) => [code, path, place?.line])).toEqual([
      ['above-extraterrestrial', 'weather.ghi', 14],
      ['above-extraterrestrial', 'weather.dhi', 14],
    ]);
    expect(issues[0]!.message).toContain('44 rows like it: lines 14, 38, 62,');
    expect(issues[0]!.message).toMatch(/ and 14 more$/);
    expect(issues.map(({ fix }) => fix !== undefined)).toEqual([true, false]);
  });
  it('a bright cloud edge of five minutes is no error, at 1.2 times the light from space; twice that is', () => {
    const table: Row[] = [];
    for (const [i, r] of rows().entries())
      for (let k = 0; k < 12; k++) {
        const time = new Date(Date.parse(r.time) + k * 300_000).toISOString();
        table.push({ ...r, time, ...(i === NOON && k === 6 ? { ghi: 1450 } : {}) });
      }
    expect(issuesOf(csv(table))).toEqual([]);
    expect(read(csv(table)).notices.map(({ id }) => id)).not.toContain('value-cannot-be');
    table[12 * NOON + 6]!.ghi = 2900;
    const said = read(csv(table)).notices.find(({ id }) => id === 'value-cannot-be');
    expect(said?.message).toContain(`line ${12 * NOON + 6 + 2}: 2900 W/m²`);
  });
  it("air that can't be in the first row has none beside it: refused with what stands there", () => {
    const table = rows((r, i) => {
      if (i === 0) r.air = 100000;
    });
    expect(issuesOf(csv(table))).toMatchObject([
      { message: "100000 °C can't be", place: { line: 2, field: 'air' }, expected: '-90 to 60 °C' },
    ]);
  });
  it('impossible beam, diffuse, temperature and wind are each found', () => {
    const sky = read(
      csv(
        rows((r, i) => {
          if (i === NOON) {
            r.dni = 1500;
            r.dhi = 1400;
            r.air = 75;
            r.wind = -1;
          }
        }),
      ),
      weather({
        dni: { column: 'dni', unit: 'W_m2' },
        dhi: { column: 'dhi', unit: 'W_m2' },
        wind: { column: 'wind', unit: 'm_s' },
      }),
    );
    const said = sky.notices.filter(({ id }) => id === 'value-cannot-be').map(({ message }) => message);
    expect(said.map((message) => message.split(':')[0])).toEqual([
      'weather.dni',
      'weather.dhi',
      'weather.air_temperature',
      'weather.wind',
    ]);
    for (const message of said) expect(message).toContain(`line ${NOON + 2}:`);
    const air = rows().map((r) => Number(r.air));
    expect(sky.air_temperature_C[NOON]).toBeCloseTo((air[NOON - 1]! + air[NOON + 1]!) / 2, 9);
  });
  it('a file that was not given is one issue of the scenario', () => {
    const issues = (() => {
      try {
        prepareSky(weather(), SITE, clock, sun, new Map(), 'test.yaml');
      } catch (error) {
        return (error as InputError).issues;
      }
      return [];
    })();
    expect(issues).toMatchObject([
      { code: 'missing-file', path: 'weather.file', place: { file: 'test.yaml' } },
    ]);
  });
});

describe('hints about the whole file', () => {
  it.each([
    ['kJ read as Wh', 3.6, 'Wh_m2', '3.6 times too large'],
    ['Wh read as kWh', 1000, 'kWh_m2', '1000 times too large'],
  ] as const)('%s', (_name, factor, unit, hint) => {
    const scale = unit === 'kWh_m2' ? 1 : factor;
    const issues = issuesOf(
      csv(
        rows((r) => {
          r.ghi = (r.ghi as number) * scale;
        }),
      ),
      weather({ ghi: { column: 'ghi', unit } }),
    );
    expect(issues[0]!.fix).toContain(hint);
  });
  it.each([
    ['kWh read as Wh', 1000, '1000 times too small'],
    ['kWh read as kJ', 3600, '3600 times too small'],
  ])('%s passes every row, and the year is refused at its brightest one', (_name, factor, words) => {
    const table = rows((r) => {
      r.ghi = (r.ghi as number) / factor;
    });
    const issues = issuesOf(csv(table), weather({ ghi: { column: 'ghi', unit: 'Wh_m2' } }));
    const brightest = clear.ghi_W_m2.indexOf(Math.max(...clear.ghi_W_m2));
    expect(issues.map((i) => [i.code, i.place])).toEqual([
      ['wrong-unit', { file: 'w.csv', line: brightest + 2, field: 'ghi' }],
    ]);
    expect(issues[0]!.message).toContain(words);
  });
  it('Wh read as kJ is noticed with the brightest row: somebody may have dimmed a file on purpose', () => {
    const table = rows((r) => {
      r.ghi = (r.ghi as number) / 3.6;
    });
    const brightest = clear.ghi_W_m2.indexOf(Math.max(...clear.ghi_W_m2));
    expect(read(csv(table)).notices.map((n) => n.message)).toEqual([
      expect.stringContaining('3.6 times too small'),
    ]);
    expect(read(csv(table)).notices[0]!.message).toContain(`w.csv:${brightest + 2} column "ghi"`);
  });
  it('stamps at the end read as starts: refused where impossible, with the shift in the fix', () => {
    // At its full light: the dimmed sky stays below the sun even an hour late.
    const late = rows((r) => {
      r.ghi = (r.ghi as number) / 0.7;
      r.time = new Date(Date.parse(r.time) + 3_600_000).toISOString();
    });
    const gaps = { fill: 'interpolate', longest_h: 1 } as const;
    const issues = issuesOf(csv(late), weather({ gaps }));
    expect(issues[0]!.code).toBe('above-extraterrestrial');
    expect(issues[0]!.fix).toMatch(/60 min later .* weather.time.label/);
    const right = read(csv(late), weather({ gaps, time: { column: 'time', zone: 'UTC', label: 'end' } }));
    expect(farthest(right.ghi_W_m2, (i) => clear.ghi_W_m2[i]!)).toBeLessThan(1e-9);
    expect(right.notices).toEqual([]);
  });
  it.each([
    [840, '600 min earlier in the day than the sun, or 840 min later'],
    [847, '593 min earlier in the day than the sun, or 847 min later'],
    [420, '420 min later in the day than the sun, or 1020 min earlier'],
    [-120, '120 min earlier in the day than the sun: check'],
  ])('a clock that is %i min late is named rightly', (late_min, words) => {
    const table = rows((r) => {
      r.time = new Date(Date.parse(r.time) + late_min * 60_000).toISOString();
    });
    const gaps = { fill: 'interpolate', longest_h: 24 } as const;
    expect(issuesOf(csv(table), weather({ gaps }))[0]!.fix).toContain(words);
  });
  it.each([
    [14, -600],
    [7, 420],
    [-2, -120],
  ])('a sky that is %i hours late is found %i min late on the round of a day', (hours, minutes) => {
    const n = clock.steps;
    const late = clear.ghi_W_m2.map((_, i) => clear.ghi_W_m2[(i - hours + n) % n]!);
    const shift = clockShift(late, clock, sun, SITE.longitude_deg);
    expect(Math.abs(shift.late_min! - minutes)).toBeLessThan(10);
    expect(Math.abs(shift.late_clearest_min! - minutes)).toBeLessThan(10);
  });
  it('light above that of space is refused as a whole where no row is and no unit explains it', () => {
    // Five-minute rows may be 1.5 times it: bright cloud edges are.
    const minutes = buildClock(clock.year, clock.time_zone, 5);
    const above = sunYear(minutes, SITE).extraterrestrial_horizontal_W_m2;
    const [row] = rows();
    const table = Array.from(above, (value, i): Row => {
      return { ...row!, time: new Date(minutes.start_ms[i]!).toISOString(), ghi: 1.3 * value };
    });
    const issues = issuesOf(csv(table));
    expect(issues.map(({ code }) => code)).toEqual(['wrong-unit']);
    expect(issues[0]!.message).toMatch(/1\.2\d? of the light from space|look/);
  });
  it('half an hour of shift that stays below the sun is noticed all the same', () => {
    const dim = rows((r) => {
      r.ghi = 0.5 * (r.ghi as number);
      r.time = new Date(Date.parse(r.time) + 1_800_000).toISOString();
    });
    const sky = read(csv(dim), weather({ gaps: { fill: 'interpolate', longest_h: 1 } }));
    expect(sky.notices.map((n) => n.id)).toContain('light-off-sun');
    expect(sky.notices.find((n) => n.id === 'light-off-sun')!.message).toContain('30 min later');
  });
  it('a file without light is refused', () => {
    const dark = rows((r) => {
      r.ghi = 0;
    });
    const [issue] = issuesOf(csv(dark));
    expect(issue).toMatchObject({ place: { line: 2, field: 'ghi' } });
    expect(issue!.message).toContain('all in all the values are 0 of the light from space');
  });
  it('rows of a day are refused', () => {
    const table = rows().filter((_, i) => i % 24 === 0);
    expect(issuesOf(csv(table)).map((issue) => issue.code)).toEqual(['row-too-long']);
  });
});
