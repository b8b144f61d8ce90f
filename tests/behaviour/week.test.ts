/** The winter-week question against closed forms, and over the years of a file. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  askWeek,
  InputError,
  type Plant,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
  type WeekAsk,
} from '@longnight/core';
import { askEveryYear } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { weatherCsv, weatherRows } from '../cli/support/weather.ts';
import { type Parts, plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const messageOf = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  throw new Error('nothing was refused');
};

const DAYS = 30;
const WEEK: WeekAsk = { days: 7, start: null, soc: 1, generator: true };
/** Thirty days of the same load and no sun. */
const dark = (load_kW: number, step_min = 60) => {
  const steps = (DAYS * 1440) / step_min;
  return yearOf({
    dc_kW_per_kWp: [new Float64Array(steps)],
    load_kW: new Float64Array(steps).fill(load_kW),
    step_min,
  });
};
/** 5 kWh a module, 4 of them above the floor, 3.6 of which come out of it. */
const BANK: Parts = { capacity_Ah: 100, voltage_V: 50, floor_soc: 0.2, round_trip: 0.81 };
const USABLE_kWh = 0.9 * 4;

describe('a bank alone in the dark', () => {
  it('rides usable energy × efficiency over load, counted to the first unmet step', () => {
    const load_kW = 0.0985;
    const answer = askWeek(dark(load_kW), plantWith(BANK), WEEK);
    const carried_h = Math.floor(USABLE_kWh / load_kW);
    expect(carried_h).toBe(36);
    expect(answer.rides_days).toBe(carried_h / 24);
    expect(answer.first_unmet).toMatch(/^2025-01-02T12:00:00/);
    expect(answer.unmet_kWh).toBeCloseTo(168 * load_kW - USABLE_kWh, 9);
    expect(answer.unmet_hours).toBe(168 - carried_h);
    expect(answer.lowest_soc).toBeCloseTo(0.2, 12);
    // In half hours the same energy lasts to the middle of an hour.
    expect(askWeek(dark(load_kW, 30), plantWith(BANK), WEEK).rides_days).toBe(36.5 / 24);
  });

  it('needs as many modules as the load of the days asks for', () => {
    for (const load_kW of [0.01, 0.0985, 0.2, 0.35]) {
      const answer = askWeek(dark(load_kW), plantWith(BANK), WEEK);
      expect(answer.modules_to_ride, `${load_kW}`).toBe(Math.ceil((168 * load_kW) / USABLE_kWh));
    }
    expect(askWeek(dark(0.01), plantWith({ ...BANK, modules_parallel: 3 }), WEEK)).toMatchObject({
      modules_parallel: 3,
      modules_to_ride: 1,
      unmet_kWh: 0,
      first_unmet: null,
      load_share_to_ride: 1,
    });
  });

  it('rides out the share of the load that its energy is of it, in thousandths', () => {
    for (const load_kW of [0.0985, 0.2, 0.35]) {
      const { load_share_to_ride } = askWeek(dark(load_kW), plantWith(BANK), WEEK);
      expect(load_share_to_ride).toBe(Math.floor((1000 * USABLE_kWh) / (168 * load_kW)) / 1000);
    }
  });

  it('has less to give the emptier it begins', () => {
    const load_kW = 0.0985;
    for (const soc of [0.2, 0.45, 0.8]) {
      const usable_kWh = 0.9 * 5 * (soc - 0.2);
      const answer = askWeek(dark(load_kW), plantWith(BANK), { ...WEEK, soc });
      expect(answer.initial_soc).toBe(soc);
      expect(answer.rides_days).toBe(Math.floor(usable_kWh / load_kW + 1e-9) / 24);
      expect(answer.unmet_kWh).toBeCloseTo(168 * load_kW - usable_kWh, 9);
    }
    // A larger bank begins with the same share.
    const { modules_to_ride } = askWeek(dark(load_kW), plantWith(BANK), { ...WEEK, soc: 0.6 });
    expect(modules_to_ride).toBe(Math.ceil((168 * load_kW) / (0.9 * 5 * 0.4)));
  });

  it('is said to ride for ever only if ten rounds of the days leave nothing unmet', () => {
    const load_kW = USABLE_kWh / (24 * 71);
    expect(askWeek(dark(load_kW), plantWith(BANK), WEEK).rides_days).toBeNull();
    const { rides_days } = askWeek(dark(USABLE_kWh / (24 * 69)), plantWith(BANK), WEEK);
    expect(rides_days).toBeCloseTo(69, 1);
  });

  it('finds no number of modules where power is what is short, and no share below the idle draw', () => {
    const weak = askWeek(dark(1), plantWith({ ...BANK, modules_parallel: 50, rating_kW: 0.5 }), WEEK);
    expect(weak.modules_to_ride).toBeNull();
    expect(weak.load_share_to_ride).toBe(0.5);
    const idle = askWeek(dark(0.1), plantWith({ ...BANK, idle_W: 100 }), WEEK);
    expect(idle.load_share_to_ride).toBeNull();
  });

  it('keeps its own modules out of the question if there is no load', () => {
    expect(askWeek(dark(0), plantWith(BANK), WEEK)).toMatchObject({
      wanted_kWh: 0,
      sun_to_load: null,
      unmet_kWh: 0,
      modules_to_ride: 1,
      load_share_to_ride: 1,
      rides_days: null,
    });
  });
});

describe('a stretch of days with sun', () => {
  const steps = DAYS * 24;
  const light = Float64Array.from({ length: steps }, (_, i) => {
    const dull = i >= 240 && i < 312;
    return i % 24 >= 10 && i % 24 < 14 ? (dull ? 0.05 : 0.5) : 0;
  });
  const year = yearOf({ dc_kW_per_kWp: [light], load_kW: new Float64Array(steps).fill(0.1) });
  const plant: Plant = plantWith({ ...BANK, size_kWp: 3 });

  it('looks for the leanest days, and takes the charge of the played year where asked to', () => {
    const answer = askWeek(year, plant, { ...WEEK, days: 3, soc: null });
    expect(answer.start).toBe('2025-01-11');
    const played = playYear(year, plant).columns;
    expect(answer.initial_soc).toBe(played.bank_soc[239]);
    expect(answer.played_initial_soc).toBe(answer.initial_soc);
    // The very hours of the year.
    const hours = [...Array(72).keys()];
    for (const i of hours)
      expect(answer.ledger.columns.bank_soc[i]).toBeCloseTo(played.bank_soc[240 + i]!, 12);
    expect(answer.by_day.map((day) => day.date)).toEqual(['2025-01-11', '2025-01-12', '2025-01-13']);
    expect(answer.sun_to_load).toBeCloseTo((3 * 3 * 4 * 0.05) / (72 * 0.1), 12);
  });

  it('takes given days, from the first to the last of the year', () => {
    expect(askWeek(year, plant, { ...WEEK, start: '2025-01-01' }).start).toBe('2025-01-01');
    expect(askWeek(year, plant, { ...WEEK, start: '2025-01-24' }).by_day.at(-1)!.date).toBe('2025-01-30');
    expect(messageOf(() => askWeek(year, plant, { ...WEEK, start: '2025-01-25' }))).toMatch(
      /--start: .*past the end/,
    );
    expect(messageOf(() => askWeek(year, plant, { ...WEEK, start: '2024-12-20' }))).toMatch(
      /no day of the year 2025/,
    );
    expect(messageOf(() => askWeek(year, plant, { ...WEEK, days: 31 }))).toMatch(/--days: .*does not fit/);
    expect(messageOf(() => askWeek(year, plant, { ...WEEK, soc: 0.19 }))).toMatch(
      /--soc: 0\.19 is not between/,
    );
    expect(askWeek(year, plant, { ...WEEK, soc: 0.2 }).initial_soc).toBe(0.2);
  });

  it('with a generator serves all, without it what the bank does', () => {
    const engine = plantWith({
      ...BANK,
      size_kWp: 3,
      charger: { max_charge_A: 40, max_output_kW: 2, efficiency: 1 },
      generator: {
        rating_kW: 2,
        fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
        start_soc: 0.3,
        stop_soc: 0.9,
        min_load_share: 0,
        min_run_h: 1,
        connection: 'transfer',
      },
    });
    const ask = { ...WEEK, days: 3 };
    const with_ = askWeek(year, engine, ask);
    expect(with_).toMatchObject({ generator: true, unmet_kWh: 0 });
    expect(with_.generator_run_hours).toBeGreaterThan(0);
    const { generator: _, ...alone } = askWeek(year, engine, { ...ask, generator: false });
    const { generator: __, ...without } = askWeek(year, { ...engine, generator: null }, ask);
    expect(alone.unmet_kWh).toBeGreaterThan(0);
    expect(JSON.stringify(alone)).toBe(JSON.stringify(without));
  });
});

describe('every year of a file', () => {
  const SCENARIO = readFileSync(resolve(import.meta.dirname, '../cli/bad/good-series.yaml'), 'utf8');
  const first = weatherRows();
  const DAY_ms = 86_400_000;
  /** The rows of 2025 a year later, with less sun in December. */
  const second = first.map((row) => {
    const [stamp, ghi, air] = row.split(',');
    const at = new Date(Date.parse(stamp!) + 365 * DAY_ms);
    const december = at.getTime() >= Date.UTC(2026, 11, 1);
    return `${at.toISOString().slice(0, 16)}Z,${december ? Math.round(0.4 * Number(ghi)) : ghi},${air}`;
  });
  const textsOf = (rows: readonly string[]) => new Map([['year.csv', weatherCsv(rows)]]);
  const both = textsOf([...first, ...second]);
  const read = readScenario(SCENARIO, 's.yaml');

  it('dangers are those of whole years: a week of July does not tell how cold January gets', () => {
    const strings = `panels: 6
    panel_kWp: 0.38
    panel: { voc_V: 40, vmp_V: 33, isc_A: 12, imp_A: 11.5, voc_temperature_coefficient_per_K: -0.0025 }
    panels_in_series: 3`;
    const text = SCENARIO.replace('size_kWp: 2', strings).replace(
      'max_charge_A: 60 }',
      'max_charge_A: 60, max_input_V: 131, max_input_A: 50 }',
    );
    const cold = readScenario(text, 's.yaml');
    const year = prepareYear(cold, 's.yaml', textsOf(first));
    const { dangers } = askWeek(year, plantOf(cold.scenario), { ...WEEK, start: '2025-07-01' });
    // The rows go down to -5 °C, 10 K above a record: three of 40 V, a tenth more at 40 K below 25 °C.
    expect(dangers).toMatchObject([{ id: 'string_voltage', figure: expect.closeTo(3 * 44, 1), limit: 131 }]);
    // A year without frost beside it, 130.5 V, takes nothing off.
    const warm = second.map((row) => row.replace(/,-[\d.]+$/, ',0'));
    const all = askEveryYear(cold, 's.yaml', textsOf([...first, ...warm]), WEEK);
    expect(all.dangers).toMatchObject([{ id: 'string_voltage', figure: expect.closeTo(3 * 44, 1) }]);
    expect(all.years.map(({ answer }) => answer.dangers.length)).toEqual([1, 0]);
  });

  it('is each year asked alone, and the darker one is the hardest', () => {
    const { years, worst, left_out } = askEveryYear(read, 's.yaml', both, WEEK);
    expect(years.map(({ year }) => year)).toEqual([2025, 2026]);
    expect(left_out).toEqual([]);
    expect(worst).toBe(1);
    for (const { year, answer } of years) {
      const scenario = { ...read.scenario, run: { ...read.scenario.run, year } };
      const alone = askWeek(prepareYear({ ...read, scenario }, 's.yaml', both), plantOf(scenario), WEEK);
      const { year: _, ledger: __, ...expected } = alone;
      expect(answer).toMatchObject(expected);
    }
    const [bright, dim] = years.map(({ answer }) => answer);
    expect(dim!.available_kWh).toBeLessThan(bright!.available_kWh);
    expect(dim!.start.slice(0, 7)).toBe('2026-12');
  });

  it('leaves out years that the file holds in part, and says why', () => {
    const third = second.slice(0, 3000).map((row) => {
      const [stamp, ...rest] = row.split(',');
      return [`${new Date(Date.parse(stamp!) + 365 * DAY_ms).toISOString().slice(0, 16)}Z`, ...rest].join(
        ',',
      );
    });
    const { years, left_out } = askEveryYear(read, 's.yaml', textsOf([...first, ...second, ...third]), WEEK);
    expect(years.map(({ year }) => year)).toEqual([2025, 2026]);
    expect(left_out).toHaveLength(1);
    expect(left_out[0]).toMatchObject({ year: 2027, why: 'the file holds 125 of its 365 days' });
  });

  it('is refused where there are no years to ask', () => {
    expect(messageOf(() => askEveryYear(read, 's.yaml', textsOf(first), WEEK))).toMatch(
      /--every-year: the weather file holds one whole year, 2025\n {4}fix: /,
    );
    expect(messageOf(() => askEveryYear(read, 's.yaml', both, { ...WEEK, start: '2025-12-20' }))).toMatch(
      /--start/,
    );
    const drawn = readScenario(
      readFileSync(resolve(import.meta.dirname, '../../data/demo/holds.yaml'), 'utf8'),
      'h.yaml',
    );
    expect(messageOf(() => askEveryYear(drawn, 'h.yaml', new Map(), WEEK))).toMatch(
      /drawn from monthly means.*\n {4}fix: .*seed/,
    );
  });
});

describe('modules with a generator, which starts by state of charge', () => {
  // Invented: two dull days and a dark one, an engine of few hours a day.
  const steps = 10 * 24;
  const hour = (i: number): number => i % 24;
  const year = yearOf({
    load_kW: Float64Array.from({ length: steps }, (_, i) => (hour(i) >= 17 && hour(i) < 22 ? 1.1 : 0.15)),
    dc_kW_per_kWp: [
      Float64Array.from({ length: steps }, (_, i) => {
        const share = [0.5, 0.1, 0.3, 0, 0.2][Math.floor(i / 24) % 5]!;
        return hour(i) >= 9 && hour(i) < 15 ? share : 0;
      }),
    ],
  });
  const plantOfModules = (modules_parallel: number, hours: number, initial_soc: number): Plant =>
    plantWith({
      ...BANK,
      size_kWp: 1.5,
      modules_parallel,
      initial_soc: null,
      charger: { max_charge_A: 40, max_output_kW: 2, efficiency: 0.9 },
      generator: {
        rating_kW: 1.5,
        fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
        start_soc: initial_soc,
        stop_soc: 0.8,
        min_load_share: 0,
        min_run_h: 2,
        max_run_h_per_day: hours,
        connection: 'transfer',
      },
    });

  it('are looked for from what is there, and said not to help steadily where they do not', () => {
    let unsteady = 0;
    for (const hours of [2, 4]) {
      for (const initial_soc of [0.3, 0.5]) {
        const answers = Array.from({ length: 9 }, (_, k) =>
          askWeek(year, plantOfModules(k + 1, hours, initial_soc), { ...WEEK, soc: 0.5 }),
        );
        const rides = (n: number): boolean => answers[n - 1]!.first_unmet === null;
        for (let has = 1; has <= 6; has++) {
          const { modules_to_ride: needed, modules_unsteady } = answers[has - 1]!;
          if (rides(has)) {
            expect(needed).toBeLessThanOrEqual(has);
            for (let n = needed!; n <= has; n++) expect(rides(n)).toBe(true);
            if (needed! > 1) expect(rides(needed! - 1)).toBe(false);
          } else if (needed !== null) {
            // Never "none needed" after a no.
            expect(needed).toBeGreaterThan(has);
            if (needed <= 9) expect(rides(needed)).toBe(true);
            for (let n = has; n < Math.min(needed, 10); n++) expect(rides(n)).toBe(false);
          }
          if (modules_unsteady === null) continue;
          unsteady++;
          const { holds, fails } = modules_unsteady;
          expect(holds).toBeLessThan(fails);
          if (fails <= 9) expect([rides(holds), rides(fails)]).toEqual([true, false]);
        }
      }
    }
    expect(unsteady).toBeGreaterThan(0);
  });

  it('begin as empty as the bank does', () => {
    const empty = askWeek(dark(0.1), plantWith(BANK), { ...WEEK, soc: 0.2 });
    expect(empty).toMatchObject({ begins_empty: true, modules_to_ride: null });
    expect(askWeek(dark(0.1), plantWith(BANK), { ...WEEK, soc: 0.21 }).begins_empty).toBe(false);
  });
});
