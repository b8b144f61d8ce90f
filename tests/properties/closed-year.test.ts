/**
 * A year that closes begins with the state it ends with. Against years played in a row, each from the whole state that
 * the one before left, which is what the short way stands for; and against a closed form. Weeks of a year at the played
 * state are the year's own hours.
 */

import { readFileSync } from 'node:fs';
import {
  askWeek,
  audit,
  type Columns,
  findings,
  LEDGER_COLUMNS,
  type Ledger,
  newReusedColumns,
  type Plant,
  type PreparedYear,
  plantOf,
  playEnsemble,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { whyText } from '../../packages/cli/src/render/report/notice-words.ts';
import { type BareGenerator, type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const DAYS = 90;
const STEPS = DAYS * 24;
const total = (column: Float64Array): number => column.reduce((sum, kWh) => sum + kWh, 0);

/** A flexible load from `from` on for some hours of each day, over midnight if need be; its last window is whole. */
function waits(from: number, hours: number, energy_kWh: number, min_soc: number) {
  const [asked_kWh, most_kWh, later_kWh] = [0, 1, 2].map(() => new Float64Array(STEPS));
  for (let day = 0; day + (from + hours > 24 ? 1 : 0) < DAYS; day++) {
    asked_kWh![24 * day + from] = energy_kWh;
    for (let k = 0; k < hours; k++) {
      most_kWh![24 * day + from + k] = 1;
      later_kWh![24 * day + from + k] = hours - 1 - k;
    }
  }
  return { name: 'waits', asked_kWh: asked_kWh!, most_kWh: most_kWh!, later_kWh: later_kWh!, min_soc };
}

const ENGINE: BareGenerator = {
  rating_kW: 2,
  fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
  start_soc: 0.3,
  stop_soc: 0.7,
  min_load_share: 0.3,
  min_run_h: 3,
  connection: 'transfer',
};
const CHARGER = { max_charge_A: 40, max_output_kW: 2, efficiency: 0.9 };

/** Plants that remember different things, with random sizes. */
const KINDS: Readonly<Record<string, Parts>> = {
  'a bank alone': {},
  'a bank that takes years to fill or drain': { capacity_Ah: 4000, self_discharge_share_per_month: 0 },
  'a kinetic bank': {},
  'tiers shed': { shedding: [{ tier: 2, shed_soc: 0.5, restore_soc: 0.9 }] },
  'a generator that goes on through midnight': {
    generator: { ...ENGINE, warm_up_min: 15 },
    charger: CHARGER,
  },
  'a tank and few hours a day': {
    generator: { ...ENGINE, tank: { capacity_L: 4, refill_every_days: 11 }, max_run_h_per_day: 5 },
    charger: CHARGER,
  },
  'the night ahead': {
    generator: {
      ...ENGINE,
      starts: { kind: 'before_night', look_back_days: 5, margin_share: 0.2 },
      tank: { capacity_L: 9, refill_every_days: 8 },
    },
    charger: CHARGER,
    shedding: [{ tier: 2, shed_soc: 0.35, restore_soc: 0.6 }],
  },
  'an inverter that cuts off': { cut_off: { cut_off_soc: 0.2, reconnect_soc: 0.5 } },
  'loads that wait': {},
};

function trial(kind: string, seed: number): { year: PreparedYear; plant: Plant } {
  const draw = stream(seed);
  const given = randomYear(draw, STEPS, 1);
  const kW = [0.6, 0.4].map((share) => given.load_kW.map((load) => share * load));
  const more = kind === 'loads that wait' || kind === 'a kinetic bank';
  const year = yearOf({
    ...given,
    tiers: { numbers: [1, 2], kW },
    more: more
      ? {
          flexible: [waits(21, 8, 3, 0.3), waits(9, 6, 2, 0)],
          surplus: [{ name: 's', most_kWh: new Float64Array(STEPS).fill(0.5), max_kWh_day: 2 }],
        }
      : {},
  });
  const plant = plantWith({
    size_kWp: 2 + 6 * draw(),
    capacity_Ah: 100 + 500 * draw(),
    floor_soc: 0.1,
    round_trip: 0.9,
    rating_kW: 4,
    idle_W: 20,
    self_discharge_share_per_month: 0.03,
    taper_start_soc: 0.9,
    ...KINDS[kind],
    initial_soc: null,
  });
  if (kind !== 'a kinetic bank') return { year, plant };
  const model = { kind: 'kinetic', available_share: 0.3, rate_per_h: 0.4 } as const;
  return { year, plant: { ...plant, bank: { ...plant.bank, model } } };
}

const copyOf = (columns: Columns): Columns =>
  Object.fromEntries(LEDGER_COLUMNS.map(({ name }) => [name, columns[name].slice()])) as Columns;

/** Largest difference of any column. */
function apart(a: Columns, b: Columns): number {
  let most = 0;
  for (const { name } of LEDGER_COLUMNS) {
    for (let i = 0; i < a[name].length; i++) most = Math.max(most, Math.abs(a[name][i]! - b[name][i]!));
  }
  return most;
}

describe('a year that closes', () => {
  // One desk for all: what another plant left in it must not show.
  const desk = newReusedColumns(STEPS);

  it.each(Object.keys(KINDS))('is the last of years played in a row: %s', (kind) => {
    let closed = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const { year, plant } = trial(kind, seed);
      const ledger = playYear(year, plant, desk);
      const short = { ...ledger, columns: copyOf(ledger.columns) };
      let last: Ledger = playYear(year, { ...plant, initial_soc: 1 });
      for (let round = 1; round < short.begun.rounds; round++) {
        last = playYear(year, plant, newReusedColumns(STEPS), last.end);
      }
      expect(apart(short.columns, last.columns), `seed ${seed}`).toBeLessThan(1e-9);
      expect(short.start_stock_kWh).toBeCloseTo(last.start_stock_kWh, 9);
      expect(audit(short).largest_imbalance_kWh).toBeLessThan(1e-9);
      if (short.begun.kind !== 'closed') continue;
      closed++;
      // It comes round: one more year is the same, and leaves the same state.
      expect(short.columns.bank_stock_kWh[STEPS - 1]).toBe(short.end.stock_kWh);
      expect(Math.abs(short.start_stock_kWh - short.end.stock_kWh)).toBeLessThan(1e-11);
      const again = playYear(year, plant, newReusedColumns(STEPS), short.end);
      expect(apart(again.columns, short.columns), `seed ${seed}, again`).toBeLessThan(1e-9);
      expect(again.end.generator_on).toBe(short.end.generator_on);
      expect(again.end.shed).toBe(short.end.shed);
      expect(again.end.inverter_off).toBe(short.end.inverter_off);
      expect(again.end.stock_kWh).toBeCloseTo(short.end.stock_kWh, 9);
      expect(again.end.available_kWh).toBeCloseTo(short.end.available_kWh, 9);
      expect(again.end.fuel_L).toBeCloseTo(short.end.fuel_L, 9);
    }
    expect(closed).toBeGreaterThan(kind.includes('years') ? 0 : 6);
  });

  it('shows what a full bank on the first of January hides: worked out by hand', () => {
    // A lossless bank of 24 kWh, 0.1 kW all day. Five dark days take 12 kWh, five bright ones give 6: from full it holds.
    // From its own end it has 6 when the dark days come, and 6 go unmet.
    const load_kW = new Float64Array(240).fill(0.1);
    const light = load_kW.map((_, i) => (i < 120 ? 0 : 0.15));
    const year = yearOf({ load_kW, dc_kW_per_kWp: [light] });
    const parts: Parts = { size_kWp: 1, voltage_V: 48, capacity_Ah: 500 };
    const full = playYear(year, plantWith({ ...parts, initial_soc: 1 }));
    expect(total(full.columns.unmet_kWh)).toBe(0);
    expect(full.end.stock_kWh).toBeCloseTo(18, 9);
    const closed = playYear(year, plantWith({ ...parts, initial_soc: null }));
    expect(closed.start_stock_kWh).toBeCloseTo(6, 9);
    expect(total(closed.columns.unmet_kWh)).toBeCloseTo(6, 9);
    expect(closed.begun).toEqual({ kind: 'closed', rounds: 4 });
  });

  it('begins where it is told to, and then need not end there', () => {
    const { year, plant } = trial('a bank alone', 3);
    const ledger = playYear(year, { ...plant, initial_soc: 0.4 });
    expect(ledger.start_stock_kWh).toBeCloseTo(0.4 * plant.bank.capacity_kWh, 12);
    expect(ledger.begun).toEqual({ kind: 'given', rounds: 1 });
  });

  it('says so, and by how much, where it does not come round', () => {
    // 100 kWh and a load of 1 kWh a year too much: from year to year it holds 1 kWh less, for a hundred years.
    const load_kW = new Float64Array(240).fill(1 / 240);
    const year = yearOf({ load_kW, dc_kW_per_kWp: [new Float64Array(240)] });
    const plant = plantWith({ size_kWp: 1, voltage_V: 50, capacity_Ah: 2000, initial_soc: null });
    const ledger = playYear(year, plant);
    expect(ledger.begun.kind).toBe('not_closed');
    expect(ledger.start_stock_kWh).toBeCloseTo(100 - (ledger.begun.rounds - 1), 6);
    expect(ledger.end.stock_kWh - ledger.start_stock_kWh).toBeCloseTo(-1, 9);
  });
});

describe('the report', () => {
  const file = 'data/demo/short-of-bank.yaml';
  const text = readFileSync(file, 'utf8');
  const reportOf = (run: string) => {
    const read = readScenario(text.replace('  year: 2026', `  year: 2026${run}`), file);
    const year = prepareYear(read, file, new Map());
    const plant = plantOf(read.scenario);
    return findings(playYear(year, plant));
  };

  it('lists how the year began', () => {
    const closed = reportOf('');
    expect(closed.bank.gained_kWh).toBe(0);
    expect(closed.assumptions.filter(({ path }) => path === 'run.initial_soc')).toEqual([
      {
        path: 'run.initial_soc',
        value: null,
        why: expect.objectContaining({ id: 'year_closes', gained_kWh: 0 }),
        kind: 'default',
        moves: 'verdict_most',
      },
    ]);
    expect(closed.assumptions.map(whyText)).toContainEqual(
      expect.stringMatching(/^the year closes: .* the bank at [\d.]+ %$/),
    );
    const given = reportOf('\n  initial_soc: 0.15');
    expect(given.bank.initial_soc).toBeCloseTo(0.15, 12);
    const [told] = given.assumptions.filter(({ path }) => path === 'run.initial_soc');
    expect(told!.value).toBe(0.15);
    expect(whyText(told!)).toMatch(
      /^the year begins with a bank at 15 % and ends with one at [\d.]+ %: [\d.]+ kWh more/,
    );
  });

  it('has each drawn year close on itself', () => {
    const read = readScenario(text, file);
    const plant = plantOf(read.scenario);
    const prepare = (scenario: typeof read.scenario) => prepareYear({ ...read, scenario }, file, new Map());
    const years = [20, 21].map((seed) => ({ kind: 'drawn', seed }) as const);
    const { by_year } = playEnsemble({ scenario: read.scenario, plant, years, prepare });
    for (const { seed, unmet_kWh } of by_year) {
      const { weather } = read.scenario;
      const alone = playYear(
        prepare({ ...read.scenario, weather: { ...weather, seed } as typeof weather }),
        plant,
      );
      expect(alone.begun.kind).toBe('closed');
      expect(unmet_kWh).toBeCloseTo(total(alone.columns.unmet_kWh), 9);
    }
  });
});

describe('days of a year at the played state', () => {
  it.each(Object.keys(KINDS))("are the year's own hours: %s", (kind) => {
    for (const [seed, day] of [
      [1, 0],
      [2, 3],
      [3, 40],
      [4, 82],
    ] as const) {
      const { year, plant } = trial(kind, seed);
      const played = playYear(year, plant);
      const start = new Date(Date.UTC(2025, 0, 1 + day)).toISOString().slice(0, 10);
      const { ledger, played_initial_soc, initial_soc } = askWeek(year, plant, {
        days: 7,
        start,
        soc: null,
        generator: true,
      });
      expect(initial_soc).toBe(played_initial_soc);
      const own = Object.fromEntries(
        LEDGER_COLUMNS.map(({ name }) => [name, played.columns[name].subarray(24 * day, 24 * (day + 7))]),
      ) as Columns;
      expect(apart(ledger.columns, own), `seed ${seed}, day ${day}`).toBeLessThan(1e-9);
    }
  });
});
