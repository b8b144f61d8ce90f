/** The open formats: TMY3 and EPW, their stamps, sites, joints and leap days. All files are invented. */
import { describe, expect, it } from 'vitest';
import { InputError, type Issue } from '../../packages/core/src/basis/errors.ts';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { OpenFormatWeather, Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';
import { epwRow, epwRows, hoursOf, inventedSky, tmy3Rows } from '../support/weather-files.ts';

const RAD = Math.PI / 180;
const SITE: Site = {
  name: 'Invented',
  latitude_deg: 42,
  longitude_deg: -73,
  elevation_m: 120,
  time_zone: 'America/New_York',
};
const YEAR = 2026;
const from = inventedSky(SITE, -5, YEAR);
const tmy3 = tmy3Rows(from);
const epw = epwRows(from);

const asked = (kind: 'tmy3' | 'epw', extra: Partial<OpenFormatWeather> = {}): OpenFormatWeather =>
  ({
    kind,
    file: 'w.csv',
    years: 'typical',
    gaps: { fill: 'refuse', longest_h: 0 },
    ...extra,
  }) as OpenFormatWeather;

function read(
  rows: readonly string[],
  weather: OpenFormatWeather = asked(rows === epw ? 'epw' : 'tmy3'),
  { year = YEAR, site = SITE, step_min = 60 } = {},
): SkyYear {
  const clock = buildClock(year, site.time_zone, step_min);
  const texts = new Map([['w.csv', `${rows.join('\r\n')}\r\n`]]);
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
const brief = (issues: readonly Issue[]): string[] =>
  issues.map(({ code, place }) => `${code} ${place?.line ?? '-'}${place?.field ? ` ${place.field}` : ''}`);
const farthest = (a: Float64Array, b: Float64Array): number =>
  a.reduce((most, x, i) => Math.max(most, Math.abs(x - b[i]!)), 0);
const why = (sky: SkyYear, path: string): string =>
  sky.assumptions.find((assumption) => assumption.path === path)?.why ?? '';
const ids = (sky: SkyYear): string[] => sky.notices.map((notice) => notice.id);

describe.each([
  ['tmy3', tmy3],
  ['epw', epw],
] as const)('%s', (kind, rows) => {
  it('gives the very hours that it was written from, and says how stamps were read', () => {
    const sky = read(rows, asked(kind));
    expect(farthest(sky.ghi_W_m2, from.sky.ghi_W_m2)).toBeLessThan(0.001);
    expect(farthest(sky.dhi_W_m2, from.sky.dhi_W_m2)).toBeLessThan(0.001);
    expect(farthest(sky.dni_W_m2, from.sky.dni_W_m2)).toBeLessThan(0.001);
    expect(farthest(sky.air_temperature_C, from.sky.air_temperature_C)).toBeLessThan(0.001);
    expect(sky.wind_m_s.every((wind) => wind === 2)).toBe(true);
    expect(sky.notices).toEqual([]);
    expect(why(sky, 'weather.file')).toMatch(/^kind \w+: a stamp ends its (hour|row).*-05:00 all year/);
    expect(why(sky, 'model.sky.typical_year')).toContain('2026');
  });

  it('joins months of different years without a jump: the sun is that of the year run, at every joint too', () => {
    const sky = read(rows, asked(kind));
    const plain = (kind === 'epw' ? epwRows : tmy3Rows)(from, () => YEAR);
    const one = read(plain, asked(kind));
    for (const name of ['ghi_W_m2', 'dni_W_m2', 'dhi_W_m2', 'air_temperature_C'] as const)
      expect(sky[name]).toEqual(one[name]);
    // Global is diffuse and beam in every hour of the two days beside a joint: the sun stands where the light comes from.
    const clock = buildClock(YEAR, SITE.time_zone, 60);
    const sun = sunYear(clock, SITE);
    let lit = 0;
    for (let i = 25; i < clock.steps; i++) {
      if (clock.month[i] === clock.month[i - 1]) continue;
      for (let k = i - 24; k < i + 24; k++) {
        const beam = sky.dni_W_m2[k]! * Math.max(0, Math.sin(sun.altitude_deg[k]! * RAD));
        expect(Math.abs(sky.ghi_W_m2[k]! - sky.dhi_W_m2[k]! - beam)).toBeLessThan(0.01);
        if (sky.ghi_W_m2[k]! > 0) lit++;
      }
    }
    expect(lit).toBeGreaterThan(11 * 18);
  });

  it('plays 28 February twice in a leap year, and says so', () => {
    const sky = read(rows, asked(kind), { year: 2028 });
    const clock = buildClock(2028, SITE.time_zone, 60);
    const [first, second] = [58, 59].map((day) => clock.day_start[day]!);
    for (let h = 0; h < 24; h++) {
      expect(sky.ghi_W_m2[second! + h]).toBe(sky.ghi_W_m2[first! + h]);
      expect(sky.ghi_W_m2[second! + 24 + h]).toBeCloseTo(from.sky.ghi_W_m2[59 * 24 + h]!, 2);
    }
    expect(why(sky, 'weather.leap_day')).toMatch(/28 February is used twice/);
    expect(why(read(rows, asked(kind)), 'weather.leap_day')).toBe('');
  });

  it('leaves a 29 February out of a common year, and says so', () => {
    const leap = inventedSky(SITE, -5, 2028);
    const text = (kind === 'epw' ? epwRows : tmy3Rows)(leap, () => 2028);
    const sky = read(text, asked(kind));
    expect(sky.ghi_W_m2.length).toBe(8760);
    expect(sky.ghi_W_m2[59 * 24 + 12]).toBeCloseTo(leap.sky.ghi_W_m2[60 * 24 + 12]!, 2);
    expect(why(sky, 'weather.leap_day')).toMatch(/its rows are left out/);
    // The year of the stamps has the day: played as itself nothing is said.
    const own = read(text, asked(kind, { years: 'own' }), { year: 2028 });
    expect(why(own, 'weather.leap_day')).toBe('');
    expect(own.ghi_W_m2.length).toBe(8784);
  });

  it('takes the hours at the turn of the year from the other end where the site has another zone', () => {
    const site = { ...SITE, time_zone: 'America/Chicago' };
    const sky = read(rows, asked(kind), { site });
    expect(ids(sky)).toEqual(['file-zone-apart', 'year-closed']);
    expect(farthest(sky.ghi_W_m2.subarray(0, 8759), from.sky.ghi_W_m2.subarray(1))).toBeLessThan(0.001);
    expect(sky.air_temperature_C[8759]).toBeCloseTo(from.sky.air_temperature_C[0]!, 2);
    const east = read(rows, asked(kind), { site: { ...SITE, time_zone: 'America/Halifax' } });
    expect(ids(east)).toEqual(['file-zone-apart', 'year-closed']);
    expect(farthest(east.ghi_W_m2.subarray(1), from.sky.ghi_W_m2.subarray(0, 8759))).toBeLessThan(0.001);
    expect(east.air_temperature_C[0]).toBeCloseTo(from.sky.air_temperature_C[8759]!, 2);
  });

  it('keeps the mean of each hour in finer steps, and lets the light follow the sun', () => {
    const sky = read(rows, asked(kind), { step_min: 15 });
    const clock = buildClock(YEAR, SITE.time_zone, 15);
    const sun = sunYear(clock, SITE);
    let apart = 0;
    for (let hour = 0; hour < 8760; hour++) {
      const mean = (column: Float64Array): number =>
        [0, 1, 2, 3].reduce((sum, k) => sum + column[4 * hour + k]! / 4, 0);
      expect(Math.abs(mean(sky.ghi_W_m2) - from.sky.ghi_W_m2[hour]!)).toBeLessThan(0.001);
      expect(Math.abs(mean(sky.dhi_W_m2) - from.sky.dhi_W_m2[hour]!)).toBeLessThan(0.001);
      for (let i = 4 * hour; i < 4 * hour + 4; i++) {
        if (sun.up_share[i] === 0 && mean(sun.up_share) > 0) expect(sky.ghi_W_m2[i]).toBe(0);
        const beam = sky.dni_W_m2[i]! * Math.max(0, Math.sin(sun.altitude_deg[i]! * RAD));
        apart = Math.max(apart, Math.abs(sky.ghi_W_m2[i]! - sky.dhi_W_m2[i]! - beam));
      }
    }
    expect(apart).toBeLessThan(5);
    expect(ids(sky)).toEqual(['coarse-series']);
    expect(why(sky, 'model.sky.within_rows')).toContain('follows the sun');
  });

  it('that is cut off is a gap with its last row, or too short to be a file', () => {
    const issues = issuesOf(() => read(rows.slice(0, 5000), asked(kind)));
    expect(brief(issues)).toEqual(['gap 5000']);
    const half = rows.with(-1, rows.at(-1)!.slice(0, 40));
    expect(brief(issuesOf(() => read(half, asked(kind))))).toEqual([`ragged-row ${rows.length}`]);
    expect(issuesOf(() => read(rows.slice(0, 1), asked(kind)))[0]!.code).toBe('other-format');
  });

  it('backwards, or with a row twice, is refused by row', () => {
    const head = rows.length - 8760;
    const body = rows.slice(head);
    const backwards = issuesOf(() => read([...rows.slice(0, head), ...body.toReversed()], asked(kind)));
    expect(brief(backwards)[0]).toBe(`wrong-order ${head + 2}`);
    const twice = rows.toSpliced(head + 100, 0, rows[head + 99]!);
    expect(brief(issuesOf(() => read(twice, asked(kind))))).toEqual([`duplicate-stamp ${head + 101}`]);
  });

  it('of several years is asked to keep them', () => {
    const head = rows.length - 8760;
    const text = [...rows, ...rows.slice(head)];
    const issues = issuesOf(() => read(text, asked(kind)));
    expect(brief(issues)).toEqual([`wrong-order ${rows.length + 1}`]);
    expect(issues[0]!.fix).toContain('weather.years: own');
  });

  it('of months from several years can not keep them', () => {
    const issues = issuesOf(() => read(rows, asked(kind, { years: 'own' })));
    expect(issues[0]!.code).toBe('wrong-order');
    expect(issues.map((issue) => issue.fix)).toContain(
      'a typical year has months of several years: set weather.years: typical',
    );
  });
});

describe('the place that a file is of', () => {
  it.each<[change: Partial<Site>, ids: string[], words: RegExp]>([
    [{ latitude_deg: 42.05, elevation_m: 60 }, [], /^$/],
    [{ latitude_deg: 42.2 }, ['file-site-apart'], /of 42, -73, 22 km from site; its/],
    [{ elevation_m: 640 }, ['file-site-apart'], /0 km from site, and the site is 520 m higher/],
  ])('%j of it', (change, expected, words) => {
    const sky = read(tmy3, asked('tmy3'), { site: { ...SITE, ...change } });
    expect(ids(sky)).toEqual(expected);
    expect(sky.notices[0]?.message ?? '').toMatch(words);
  });

  it.each<[change: Partial<Site>]>([
    [{ longitude_deg: -80 }],
    [{ latitude_deg: 50 }],
    [{ longitude_deg: 73 }],
  ])('%j is another sun', (change) => {
    const issues = issuesOf(() => read(tmy3, asked('tmy3'), { site: { ...SITE, ...change } }));
    expect(brief(issues)).toEqual(['other-place 1']);
    expect(issues[0]!.message).toMatch(/\d+ km from site/);
  });

  it('a zone with the wrong sign is refused by the longitude beside it, one an hour off by the light', () => {
    const zone = (rows: readonly string[], text: string): string[] =>
      rows.with(0, rows[0]!.replace(',-5.0,', `,${text},`));
    expect(brief(issuesOf(() => read(zone(tmy3, '5.0'))))).toEqual(['zone-off-sun 1 time zone']);
    expect(issuesOf(() => read(zone(tmy3, '-6.0')))[0]!.fix).toMatch(/60 min later.*in line 1 of the file/);
    // Every hour of a dull year might be true an hour later.
    const dim = inventedSky(SITE, -5, YEAR, 0.4);
    const overcast = { ...dim.sky, dni_W_m2: new Float64Array(8760), dhi_W_m2: dim.sky.ghi_W_m2 };
    const dull = tmy3Rows({ ...dim, sky: overcast });
    const late = issuesOf(() => read(zone(dull, '-6.0')));
    expect(brief(late)).toEqual(['light-off-sun 1 time zone']);
    expect(late[0]!.message).toContain('60 min later');
    const half = read(zone(dull, '-5.5'));
    expect(half.notices.find(({ id }) => id === 'light-off-sun')!.message).toContain('30 min later');
  });

  it.each([
    ['42,-73,120', 'x,-73,120', 'bad-header 1 latitude'],
    ['42,-73,120', '42,-730,120', 'bad-header 1 longitude'],
    [',-73,120', '', 'bad-header 1 longitude'],
  ])('a header line with "%s" as "%s" is refused', (right, wrong, expected) => {
    const issues = issuesOf(() => read(tmy3.with(0, tmy3[0]!.replace(right, wrong))));
    expect(brief(issues)[0]).toBe(expected);
  });
});

describe('what is missing', () => {
  const cell = (row: string, k: number, value: string): string => row.split(',').with(k, value).join(',');

  it('is known by the codes of EPW, and filled only where that is said', () => {
    const text = epw.with(8 + 12, cell(epw[8 + 12]!, 13, '9999')).with(8 + 40, cell(epw[8 + 40]!, 6, '99.9'));
    const issues = issuesOf(() => read(text, asked('epw')));
    expect(issues.map(({ code, path }) => `${code} ${path}`)).toEqual([
      'gap weather.ghi',
      'gap weather.air_temperature',
    ]);
    const filled = read(text, asked('epw', { gaps: { fill: 'interpolate', longest_h: 1 } }));
    // The beam and diffuse light of the hour are there.
    expect(Math.abs(filled.ghi_W_m2[12]! / from.sky.ghi_W_m2[12]! - 1)).toBeLessThan(0.02);
  });

  it('is known by -9900 in TMY3', () => {
    const text = tmy3.with(2 + 12, cell(tmy3[2 + 12]!, 8, '-9900'));
    expect(issuesOf(() => read(text)).map(({ code, path }) => `${code} ${path}`)).toEqual([
      'gap weather.wind',
    ]);
  });

  it('in a whole column leaves the light to be split, and asks for a wind', () => {
    const without = (k: number, code: string) => epw.map((row, r) => (r < 8 ? row : cell(row, k, code)));
    const sky = read(without(14, '9999'), asked('epw'));
    expect(ids(sky)).toEqual(['empty-column']);
    expect(why(sky, 'model.sky.split')).toContain('beam is the global less the diffuse');
    const windless = issuesOf(() => read(without(21, '999'), asked('epw')));
    expect(windless[0]!.fix).toContain('weather.wind_m_s');
    expect(read(without(21, '999'), asked('epw', { wind_m_s: 3 })).wind_m_s[7]).toBe(3);
    expect(brief(issuesOf(() => read(without(13, '9999'), asked('epw'))))).toEqual([
      'empty-column 9 Global Horizontal Radiation',
    ]);
  });
});

describe('what is no file of the format', () => {
  it('is said with the line that shows it', () => {
    expect(brief(issuesOf(() => read(tmy3, asked('epw'))))).toEqual(['other-format 1']);
    expect(brief(issuesOf(() => read(epw, asked('tmy3'))))).toEqual(['other-format 2']);
    expect(issuesOf(() => read(epw.toSpliced(7, 1), asked('epw')))[0]!.message).toContain('DATA PERIODS');
  });

  it.each([
    ['01:00', '00:00'],
    ['01:00', '25:00'],
    ['01:00', '00:30'],
    ['01/01/', '13/01/'],
    ['01/01/', '01/32/'],
  ])('a stamp of TMY3 with %s as %s is refused by row', (right, wrong) => {
    const issues = issuesOf(() => read(tmy3.with(2, tmy3[2]!.replace(right, wrong))));
    expect(brief(issues)).toEqual(['bad-stamp 3 Date (MM/DD/YYYY)']);
  });

  it('accepts a last hour written as 24:00:00', () => {
    expect(read(tmy3.with(-1, tmy3.at(-1)!.replace('24:00', '24:00:00'))).notices).toEqual([]);
  });
});

describe('EPW with several records an hour', () => {
  it('has energies of its records, stamped with the minute that ends them', () => {
    // One value for all four: less of it, so that it may stand in the dark ones too.
    const flat = inventedSky(SITE, -5, YEAR, 0.3);
    const energies = { ...flat.sky };
    for (const name of ['ghi_W_m2', 'dni_W_m2', 'dhi_W_m2'] as const)
      Object.assign(energies, { [name]: flat.sky[name].map((x) => x / 4) });
    const quarters = { ...from, sky: energies };
    const body = hoursOf(from).flatMap(({ month, day, hour, i }) =>
      [15, 30, 45, 60].map((minute) => epwRow(quarters, i, YEAR, month, day, hour, minute)),
    );
    const head = [...epw.slice(0, 7), 'DATA PERIODS,1,4,Data,Sunday, 1/ 1,12/31'];
    const sky = read([...head, ...body], asked('epw'));
    expect(farthest(sky.ghi_W_m2, flat.sky.ghi_W_m2)).toBeLessThan(0.01);
    expect(farthest(sky.dhi_W_m2, flat.sky.dhi_W_m2)).toBeLessThan(0.01);
    expect(ids(sky)).toContain('averaged-series');
    const hourly = issuesOf(() => read([...epw.slice(0, 8), ...body.slice(0, 9)], asked('epw')));
    expect(hourly[0]!.code).toBe('duplicate-stamp');
  });
});
