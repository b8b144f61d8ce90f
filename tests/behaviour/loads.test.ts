/** Loads against arithmetic on paper. All loads are invented. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  type Clock,
  type FileTexts,
  findings,
  InputError,
  plantOf,
  playYear,
  prepareYear,
  type Report,
  scenarioOf,
} from '@longnight/core';
import { buildClock, localTime } from '@longnight/core/clock';
import { figuresOfReport } from '@longnight/core/findings';
import type { Load } from '@longnight/core/scenario';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { SHAPES } from '../../packages/core/src/loads/daily.ts';
import { prepareLoads as prepare } from '../../packages/core/src/loads/prepare.ts';

const EVERY_DAY = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const EVERY_MONTH = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];

/** With air that no load follows, unless a test gives one. */
const prepareLoads = (
  loads: readonly Load[],
  clock: Clock,
  files: FileTexts,
  air_temperature_C = new Float64Array(clock.steps),
) => prepare(loads, clock, files, air_temperature_C);

type Kind<K extends Load['kind']> = Extract<Load, { kind: K }>;
const appliance = (own: Partial<Kind<'appliance'>>): Load => ({
  kind: 'appliance',
  name: 'appliance',
  tier: 1,
  scale: 1,
  growth_share_per_year: 0,
  daily_variation_share: 0,
  power_W: 1000,
  count: 1,
  windows: ['00:00-24:00'],
  days: [...EVERY_DAY],
  months: EVERY_MONTH,
  duty_share: 1,
  ...own,
});
const daily = (own: Partial<Kind<'daily'>>): Load => ({
  kind: 'daily',
  name: 'daily',
  tier: 1,
  scale: 1,
  growth_share_per_year: 0,
  daily_variation_share: 0,
  energy_kWh_day: 3,
  shape: 'evening',
  month_factors: Array(12).fill(1),
  days: [...EVERY_DAY],
  months: EVERY_MONTH,
  ...own,
});
const metered = (own: Partial<Kind<'series'>>): Load => ({
  kind: 'series',
  name: 'metered',
  tier: 1,
  scale: 1,
  growth_share_per_year: 0,
  file: 'm.csv',
  delimiter: ',',
  time: { column: 'time', zone: 'UTC', label: 'start' },
  gaps: { fill: 'refuse', longest_h: 0 },
  power: { column: 'p', unit: 'kW' },
  ...own,
});

const NO_FILES = new Map<string, string>();
const total_kW = (loads: readonly Load[], clock: Clock, files = NO_FILES): Float64Array =>
  prepareLoads(loads, clock, files).total_kW;
const energy_kWh = (loads: readonly Load[], clock: Clock, files = NO_FILES): number =>
  total_kW(loads, clock, files).reduce((sum, kW) => sum + kW, 0) * clock.step_h;
/** Energy of each local day of a clock whose days begin with a step. */
const dayEnergies_kWh = (loads: readonly Load[], clock: Clock): number[] => {
  const kW = total_kW(loads, clock);
  return Array.from({ length: clock.days }, (_, d) =>
    kW.subarray(clock.day_start[d], clock.day_start[d + 1]).reduce((sum, x) => sum + x * clock.step_h, 0),
  );
};
/** Power of a load in the step that begins at a local time. */
const powerAt = (load: Load, clock: Clock, time: string): number => {
  for (let i = 0; i < clock.steps; i++)
    if (localTime(clock, i).startsWith(time)) return total_kW([load], clock)[i]!;
  throw new Error(`no step begins at ${time}`);
};

const utc = buildClock(2025, 'UTC', 60);
const oslo = buildClock(2025, 'Europe/Oslo', 60);

describe('an appliance', () => {
  it.each([60, 30, 15, 10, 5])(
    'of 60 W, four of them, five hours a day: 438 kWh a year in steps of %i min',
    (step_min) => {
      const lamps = appliance({ power_W: 60, count: 4, windows: ['17:30-22:30'] });
      for (const zone of ['UTC', 'Europe/Oslo', 'Asia/Kolkata', 'Asia/Kathmandu', 'Australia/Lord_Howe'])
        expect(energy_kWh([lamps], buildClock(2025, zone, step_min)), zone).toBeCloseTo(
          0.06 * 4 * 5 * 365,
          8,
        );
    },
  );

  it('is drawn in its windows only, as a mean over each step', () => {
    const lamp = appliance({ windows: ['17:30-22:15'], duty_share: 0.5 });
    const evening = Array.from({ length: 8 }, (_, k) => total_kW([lamp], utc)[16 + k]);
    expect(evening).toEqual([0, 0.25, 0.5, 0.5, 0.5, 0.5, 0.125, 0]);
  });

  it('adds its windows up, and draws nothing without power, count or duty', () => {
    expect(
      energy_kWh([appliance({ windows: ['06:00-07:00', '12:00-12:30', '23:00-24:00'] })], utc),
    ).toBeCloseTo(2.5 * 365, 8);
    for (const none of [{ power_W: 0 }, { count: 0 }, { duty_share: 0 }])
      expect(energy_kWh([appliance(none)], utc)).toBe(0);
  });

  it('past midnight belongs to the day on which it starts', () => {
    // Wednesday 1 January 2025. Fridays: 3 January, ..., 52 of them; the window of 26 December ends on the 27th.
    const friday = appliance({ windows: ['22:00-06:00'], days: ['fri'] });
    expect(energy_kWh([friday], utc)).toBeCloseTo(52 * 8, 8);
    expect(powerAt(friday, utc, '2025-01-03T21:00')).toBe(0);
    expect(powerAt(friday, utc, '2025-01-03T22:00')).toBe(1);
    expect(powerAt(friday, utc, '2025-01-04T05:00')).toBe(1);
    expect(powerAt(friday, utc, '2025-01-04T06:00')).toBe(0);
    expect(powerAt(friday, utc, '2025-01-03T05:00')).toBe(0);
  });

  it('past midnight runs into the year from the last evening before it, and out of it', () => {
    const night = appliance({ windows: ['22:00-06:00'] });
    expect(energy_kWh([night], utc)).toBeCloseTo(8 * 365, 8);
    expect(total_kW([night], utc)[0]).toBe(1);
    // 31 December 2024 was a Tuesday; 31 December 2025 is a Wednesday.
    expect(total_kW([appliance({ windows: ['22:00-06:00'], days: ['tue'] })], utc)[0]).toBe(1);
    expect(total_kW([appliance({ windows: ['22:00-06:00'], days: ['wed'] })], utc)[0]).toBe(0);
    expect(energy_kWh([appliance({ windows: ['22:00-06:00'], months: [12] })], utc)).toBeCloseTo(
      30 * 8 + 2 + 6,
      8,
    );
  });

  it('counts days of the week and months by the local calendar', () => {
    // 2025: 52 of each weekday and one Wednesday more; June has 30 days, five of them Mondays.
    expect(energy_kWh([appliance({ days: ['wed'] })], oslo)).toBeCloseTo(53 * 24, 8);
    expect(energy_kWh([appliance({ days: ['mon'] })], oslo)).toBeCloseTo(52 * 24, 8);
    expect(energy_kWh([appliance({ days: ['mon'], months: [6] })], oslo)).toBeCloseTo(5 * 24, 8);
    expect(energy_kWh([appliance({ months: [2] })], buildClock(2024, 'Europe/Oslo', 60))).toBeCloseTo(
      29 * 24,
      8,
    );
  });

  it('follows the wall clock when it changes', () => {
    // 01:00 to 04:00 lasts two hours on 30 March and four on 26 October in Oslo.
    const clock = oslo;
    const days = dayEnergies_kWh([appliance({ windows: ['01:00-04:00'] })], clock);
    expect(days[88]).toBe(2);
    expect(days[298]).toBe(4);
    expect(days.filter((kWh) => kWh === 3).length).toBe(363);
    // Half an hour on Lord Howe, where it falls into the middle of a step of an hour.
    const lordHowe = buildClock(2025, 'Australia/Lord_Howe', 60);
    expect(energy_kWh([appliance({ windows: ['01:00-04:00'] })], lordHowe)).toBeCloseTo(3 * 365, 8);
    expect(energy_kWh([appliance({ windows: ['01:00-04:00'], months: [4] })], lordHowe)).toBeCloseTo(
      3 * 30 + 0.5,
      8,
    );
    expect(energy_kWh([appliance({ windows: ['01:00-04:00'], months: [10] })], lordHowe)).toBeCloseTo(
      3 * 31 - 0.5,
      8,
    );
  });

  it('draws through all of a year that a zone cut short or drew out', () => {
    const hours = (year: number, zone: string) => {
      const clock = buildClock(year, zone, 60);
      return [energy_kWh([appliance({})], clock), clock.steps];
    };
    expect(hours(2011, 'Pacific/Apia')).toEqual([8736, 8736]);
    expect(hours(2016, 'America/Caracas')).toEqual([8784, 8784]);
    expect(hours(2015, 'Asia/Pyongyang')).toEqual([8761, 8761]);
  });
});

describe('a daily energy', () => {
  it.each(['flat', 'evening', 'working_day'] as const)(
    '%s is exact on every day, of 23 and of 25 hours too',
    (shape) => {
      for (const clock of [oslo, buildClock(2025, 'Australia/Melbourne', 30)]) {
        const days = dayEnergies_kWh([daily({ shape })], clock);
        expect(days.length).toBe(365);
        for (const kWh of days) expect(kWh).toBeCloseTo(3, 10);
      }
    },
  );

  it('is exact on Lord Howe, whose days begin within a step for half the year', () => {
    const clock = buildClock(2025, 'Australia/Lord_Howe', 60);
    expect(energy_kWh([daily({})], clock)).toBeCloseTo(3 * 365, 8);
    expect(energy_kWh([daily({ months: [4] })], clock)).toBeCloseTo(3 * 30, 8);
    expect(energy_kWh([daily({ days: ['sun'], months: [4] })], clock)).toBeCloseTo(3 * 4, 8);
  });

  it('is spread by the weights of the clock hours', () => {
    const weights = Array.from({ length: 24 }, (_, hour) => (hour === 7 ? 1 : hour === 18 ? 2 : 0));
    const load = daily({ shape: weights, energy_kWh_day: 6 });
    expect(powerAt(load, oslo, '2025-05-05T07:00')).toBeCloseTo(2, 12);
    expect(powerAt(load, oslo, '2025-05-05T18:00')).toBeCloseTo(4, 12);
    expect(powerAt(load, oslo, '2025-05-05T12:00')).toBe(0);
    expect(powerAt(load, buildClock(2025, 'Europe/Oslo', 15), '2025-05-05T18:45')).toBeCloseTo(4, 12);
    const total = SHAPES.evening.reduce((sum, w) => sum + w, 0);
    expect(powerAt(daily({}), utc, '2025-05-05T19:00')).toBeCloseTo((3 * SHAPES.evening[19]!) / total, 12);
  });

  it('is scaled by month and left out on other days', () => {
    const month_factors = [2, 1, 1, 1, 1, 0.5, 1, 1, 1, 1, 1, 0];
    const load = daily({ month_factors });
    expect(energy_kWh([load], oslo)).toBeCloseTo(3 * (365 + 31 - 15 - 31), 8);
    expect(energy_kWh([daily({ days: ['sat', 'sun'] })], oslo)).toBeCloseTo(3 * 104, 8);
    expect(energy_kWh([daily({ months: [2] })], oslo)).toBeCloseTo(3 * 28, 8);
  });

  it('is spread evenly where the clocks skip all of its hours', () => {
    const weights = Array.from({ length: 24 }, (_, hour) => (hour === 2 ? 1 : 0));
    const days = dayEnergies_kWh([daily({ shape: weights })], oslo);
    for (const kWh of days) expect(kWh).toBeCloseTo(3, 10);
    expect(powerAt(daily({ shape: weights }), oslo, '2025-03-30T12:00')).toBeCloseTo(3 / 23, 12);
    // The doubled hour shares it.
    expect(powerAt(daily({ shape: weights }), oslo, '2025-10-26T02:00')).toBeCloseTo(1.5, 12);
  });

  it('of zero is no load', () => {
    expect(energy_kWh([daily({ energy_kWh_day: 0 })], oslo)).toBe(0);
  });

  it('is right in a year whose last step runs on into the next', () => {
    // The last half hour is the first of the next year: it has the power of any such half hour, not a day's energy.
    const caracas = buildClock(2016, 'America/Caracas', 60);
    expect(energy_kWh([daily({ shape: 'flat' })], caracas)).toBeCloseTo(3 * 366 + 3 / 48, 8);
    const pyongyang = buildClock(2015, 'Asia/Pyongyang', 60);
    expect(energy_kWh([daily({ shape: 'flat' })], pyongyang)).toBeCloseTo(3 * 365 + 3 / 48, 8);
  });
});

describe('a metered load', () => {
  const rows = (value: (i: number) => string, count = 8760, step_min = 60): string =>
    Array.from(
      { length: count },
      (_, i) =>
        `${new Date(Date.UTC(2025, 0, 1) + i * step_min * 60_000).toISOString().slice(0, 16)},${value(i)}`,
    ).join('\n');
  const files = (text: string, header = 'time,p') => new Map([['m.csv', `${header}\n${text}\n`]]);

  it.each([
    ['W', 60, 500, 0.5],
    ['kW', 60, 0.5, 0.5],
    ['Wh', 60, 500, 0.5],
    ['kWh', 30, 0.25, 0.5],
    ['Wh', 15, 125, 0.5],
  ] as const)('in %s every %i min', (unit, step_min, value, kW) => {
    const text = rows(() => String(value), (8760 * 60) / step_min, step_min);
    const load = metered({ power: { column: 'p', unit } });
    const powers = total_kW([load], utc, files(text));
    expect(powers.every((power) => Math.abs(power - kW) < 1e-12)).toBe(true);
  });

  it('may stand in one file with others', () => {
    const text = rows((i) => `${i % 3},${i % 7}`);
    const loads = [
      metered({ name: 'a' }),
      metered({ name: 'b', tier: 2, power: { column: 'q', unit: 'W' } }),
    ];
    const { tiers, tier_kW } = prepareLoads(loads, utc, files(text, 'time,p,q'));
    expect(tiers).toEqual([1, 2]);
    expect([...tier_kW[0]!.subarray(0, 8)]).toEqual([0, 1, 2, 0, 1, 2, 0, 1]);
    expect([...tier_kW[1]!.subarray(0, 8)]).toEqual([0, 1, 2, 3, 4, 5, 6, 0].map((w) => w / 1000));
  });

  it('passes on what was done to the series', () => {
    const text = rows((i) => (i === 50 ? '' : '1'));
    const { notices } = prepareLoads(
      [metered({ gaps: { fill: 'interpolate', longest_h: 1 } })],
      utc,
      files(text),
    );
    expect(notices.map((n) => [n.id, n.count, n.message.startsWith('loads[0]')])).toEqual([
      ['gap-filled', 1, true],
    ]);
  });

  it('says of all files what is wrong with them', () => {
    const issues = (loads: Load[], texts: Map<string, string>) => {
      try {
        prepareLoads(loads, utc, texts);
      } catch (error) {
        if (error instanceof InputError)
          return error.issues.map((i) => `${i.code} ${i.path}${i.place?.line ?? ''}`);
        throw error;
      }
      return [];
    };
    const negative = files(rows((i) => (i % 4000 === 7 ? '-1' : '1')));
    expect(issues([metered({})], negative)).toEqual([
      'negative-load 9',
      'negative-load 4009',
      'negative-load 8009',
    ]);
    expect(issues([metered({}), metered({ file: 'other.csv' })], negative)).toEqual([
      'negative-load 9',
      'negative-load 4009',
      'negative-load 8009',
      'missing-file loads[1].file',
    ]);
    expect(issues([appliance({}), metered({})], files(rows(() => '1', 8759)))).toEqual(['gap loads[1]8760']);
  });

  it.each([
    ['100001', 'kW', 'm.csv:9 column "p": 100001 kW is more than 100,000 kW'],
    ['1e200', 'kW', 'm.csv:9 column "p": "1e200" is beyond any quantity'],
    ['-1e101', 'W', 'm.csv:9 column "p": "-1e101" is beyond any quantity'],
  ] as const)('a cell of %s %s is refused at its row and column', (cell, unit, what) => {
    const texts = files(rows((i) => (i === 7 ? cell : '1')));
    expect(() => prepareLoads([metered({ power: { column: 'p', unit } })], utc, texts)).toThrow(what);
  });

  /** What is noticed of rows of 1 kW, some of which are others. */
  const spikes = (own: Readonly<Record<number, string>>) =>
    prepareLoads([metered({})], utc, files(rows((i) => own[i] ?? '1'))).notices.filter(
      ({ id }) => id === 'load-spike',
    );

  it('a row of a hundred times those beside it is noticed, and not one of a watt less', () => {
    expect(spikes({ 7: '99.999' })).toEqual([]);
    expect(spikes({ 7: '100' }).map(({ message }) => message)).toEqual([
      expect.stringMatching(
        /^loads\[0\]: 100 kW at m\.csv:9 column "p" is at least 100 times the rows beside it and 10 times any other; used as it is$/,
      ),
    ]);
    // Ten times any other row: 11 kW elsewhere is too much beside 100, 10 kW is not.
    expect(spikes({ 7: '100', 900: '11', 901: '11' })).toEqual([]);
    expect(spikes({ 7: '100', 900: '10', 901: '10' })).toHaveLength(1);
    // Where there are more than three, the load is like that.
    expect(spikes({ 7: '100', 90: '100', 900: '100' })).toHaveLength(3);
    expect(spikes({ 7: '100', 90: '100', 900: '100', 990: '100' })).toEqual([]);
  });
});

describe('all loads together', () => {
  const some: Load[] = [
    appliance({ tier: 3, windows: ['22:00-06:00'], days: ['mon', 'thu'] }),
    daily({ tier: 1 }),
    appliance({ tier: 1, power_W: 7 }),
    daily({ tier: 9, shape: 'working_day', days: ['mon', 'tue', 'wed', 'thu', 'fri'] }),
    appliance({ tier: 3, power_W: 333, months: [1, 7] }),
  ];

  it('are summed by tier, lowest first', () => {
    const { tiers, tier_kW, total_kW: total } = prepareLoads(some, oslo, NO_FILES);
    expect(tiers).toEqual([1, 3, 9]);
    for (const [k, tier] of tiers.entries()) {
      const alone = total_kW(
        some.filter((load) => 'tier' in load && load.tier === tier),
        oslo,
      );
      expect(tier_kW[k]).toEqual(alone);
    }
    for (let i = 0; i < oslo.steps; i += 97)
      expect(total[i]).toBeCloseTo(
        tier_kW.reduce((sum, kW) => sum + kW[i]!, 0),
        12,
      );
  });

  it('do not depend on their order', () => {
    const a = prepareLoads(some, oslo, NO_FILES);
    const b = prepareLoads(some.toReversed(), oslo, NO_FILES);
    expect(b.tiers).toEqual(a.tiers);
    for (const [k, kW] of a.tier_kW.entries())
      expect(Math.max(...kW.map((power, i) => Math.abs(power - b.tier_kW[k]![i]!)))).toBeLessThan(1e-12);
  });

  it('are left as they were, and say which shapes are invented', () => {
    const before = structuredClone(some);
    const { assumptions } = prepareLoads(some, oslo, NO_FILES);
    expect(some).toEqual(before);
    expect(assumptions.map((a) => [a.path, a.value])).toEqual([
      ['loads[1].shape', 'evening'],
      ['loads[3].shape', 'working_day'],
    ]);
    expect(prepareLoads([daily({ shape: 'flat' })], oslo, NO_FILES).assumptions).toEqual([]);
  });

  it('may be of no power at all', () => {
    const { total_kW: total } = prepareLoads([appliance({ power_W: 0 })], oslo, NO_FILES);
    expect(total.every((kW) => kW === 0)).toBe(true);
  });
});

describe('the scale of a load', () => {
  it('multiplies every kind of load and nothing else', () => {
    const text = `time,p\n${Array.from({ length: 8760 }, (_, h) => `${new Date(Date.UTC(2025, 0, 1, h)).toISOString()},0.5`).join('\n')}\n`;
    const files = new Map([['m.csv', text]]);
    for (const load of [appliance({}), daily({}), metered({})]) {
      const whole = energy_kWh([load], utc, files);
      expect(whole).toBeGreaterThan(1000);
      expect(energy_kWh([{ ...load, scale: 0.25 }], utc, files)).toBeCloseTo(whole / 4, 8);
      expect(energy_kWh([{ ...load, scale: 0 }], utc, files)).toBe(0);
      expect(energy_kWh([{ ...load, scale: 3 }, appliance({ power_W: 1000 })], utc, files)).toBeCloseTo(
        3 * whole + 8760,
        6,
      );
    }
  });
});

describe('the factor on all loads', () => {
  it('is the same as that scale on each of them, whatever its kind and wherever it hangs', () => {
    const file = 'data/plants/both-sides.yaml';
    const data = parse(readFileSync(resolve(import.meta.dirname, '../..', file), 'utf8'));
    const waits = { kind: 'flexible', name: 'car', energy_kWh: 3, max_power_W: 900, window: '09:00-15:00' };
    const takes = { kind: 'surplus', name: 'boiler', max_power_W: 700, max_kWh_day: 2 };
    const loads = [...data.loads, waits, takes].map((load: object) => ({ scale: 0.8, ...load }));
    const reportOf = (own: object) => {
      const read = scenarioOf({ ...data, ...own }, file);
      return findings(playYear(prepareYear(read), plantOf(read.scenario)));
    };
    const byFactor = reportOf({ loads, run: { ...data.run, load_factor: 1.25 } });
    const byScale = reportOf({ loads: loads.map((load) => ({ ...load, scale: 1.25 * load.scale })) });
    const plain = reportOf({ loads });
    const numbers = (report: Report): readonly number[] =>
      [...figuresOfReport(report)].flatMap(([name, value]) =>
        typeof value === 'number' && !name.startsWith('audit.') ? [value] : [],
      );
    expect(numbers(byFactor).length).toBeGreaterThan(90);
    expect(numbers(byFactor).map((value) => value.toPrecision(6))).toEqual(
      numbers(byScale).map((value) => value.toPrecision(6)),
    );
    expect(byFactor.load.wanted_kWh / plain.load.wanted_kWh).toBeCloseTo(1.25, 9);
    expect(byFactor.load.by_load.map(({ name, wanted_kWh }) => [name, wanted_kWh?.toFixed(6)])).toEqual(
      byScale.load.by_load.map(({ name, wanted_kWh }) => [name, wanted_kWh?.toFixed(6)]),
    );
    expect(byFactor.surge.running_kW).toBeCloseTo(byScale.surge.running_kW, 9);
    expect(byFactor.surge.running_time).toBe(byScale.surge.running_time);
  });
});

describe('a metered load laid out another way', () => {
  // A year without its own number, decimal commas, a row of units, a note and a code, as a meter may write it.
  const rows = Array.from({ length: 8760 }, (_, h) => {
    const at = new Date(Date.UTC(2025, 0, 1) + h * 3_600_000).toISOString();
    return `${at.slice(8, 10)}.${at.slice(5, 7)}. ${at.slice(11, 16)};${h === 30 ? '-1' : `0,${100 + (h % 24)}`}`;
  });
  const text = ['Zeit;Leistung', '-;kW', '# invented', ...rows].join('\r\n');
  const load = metered({
    delimiter: ';',
    decimal: 'comma',
    skip_rows: 1,
    comment: '#',
    missing: [-1],
    time: { column: 'Zeit', zone: 'UTC', label: 'start', format: 'dd.MM. HH:mm', year: 2028 },
    gaps: { fill: 'interpolate', longest_h: 1 },
    power: { column: 'Leistung', unit: 'kW' },
  });

  it('is read, and a leap year plays its 28 February twice and says so', () => {
    const clock = buildClock(2028, 'Etc/UTC', 60);
    const year = prepareLoads([load], clock, new Map([['m.csv', text]]), new Float64Array(clock.steps));
    expect(year.total_kW.every((kW, i) => Math.abs(kW - (100 + (i % 24)) / 1000) < 1e-12)).toBe(true);
    expect(year.notices.map((notice) => notice.id)).toEqual(['gap-filled']);
    expect(year.assumptions).toEqual([
      expect.objectContaining({
        path: 'loads[0].leap_day',
        why: expect.stringContaining('28 February is used twice'),
      }),
    ]);
  });

  it('of a year in UTC serves a site in another zone, its turn of the year closed', () => {
    const clock = buildClock(2028, 'Etc/GMT-3', 60);
    const year = prepareLoads([load], clock, new Map([['m.csv', text]]), new Float64Array(clock.steps));
    expect(year.total_kW[0]).toBeCloseTo(0.121, 12);
    expect(year.total_kW[3]).toBeCloseTo(0.1, 12);
    expect(year.notices.map((notice) => notice.id)).toEqual(['year-closed', 'gap-filled']);
  });
});
