/** What the answer hangs on, where algebra says how much and from where on. No outside source. Every plant is invented. */
import {
  InputError,
  newYearPreparer,
  prepareYear,
  readScenario,
  type Sway,
  swayPlant,
} from '@longnight/core';
import { readRequirement, type Swayed } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { stringify } from 'yaml';
import { newPlayer } from '../../packages/core/src/study/designs/play.ts';

type Data = Record<string, unknown>;
const FILE = 'test.yaml';

/** Lossless, without idle draw, sun at the equator, days of 24 h in UTC; sections given replace these. */
const plant = (own: Data = {}, ownBank: Data = {}, size_kWp = 0): Data => ({
  site: { name: 'test', latitude_deg: 0, longitude_deg: 0, elevation_m: 0, time_zone: 'Etc/UTC' },
  weather: { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 20, daily_swing_K: 0 },
  arrays: [
    {
      name: 'array',
      size_kWp,
      tilt_deg: 0,
      azimuth_deg: 180,
      power_temperature_coefficient_per_K: 0,
      mounting: 'open_rack',
      losses: { soiling_share: 0, ageing_share: 0, mismatch_share: 0, wiring_share: 0 },
      tracker: { max_power_kW: 1000, max_charge_A: 100_000, efficiency_share: 1 },
    },
  ],
  bank: {
    chemistry: 'lfp',
    modules_parallel: 1,
    module: {
      nominal_voltage_V: 50,
      capacity_Ah: CAPACITY_kWh * 20,
      max_charge_A: 100_000,
      max_discharge_A: 100_000,
    },
    round_trip_efficiency_share: 1,
    floor_soc: 0,
    taper_start_soc: 1,
    self_discharge_share_per_month: 0,
    min_charge_temperature_C: 0,
    temperature: { kind: 'indoors', temperature_C: 20 },
    ...ownBank,
  },
  inverter: { rating_kW: 50, surge_kW: 99, idle_W: 0, efficiency: { loss_linear: 0, loss_quadratic: 0 } },
  loads: [{ kind: 'daily', name: 'all', energy_kWh_day: 12, shape: 'flat' }],
  run: { year: 2025 },
  ...own,
});
/** Of the year's load, and a tenth more in the bank. */
const LOAD_kWh = 365 * 12;
const CAPACITY_kWh = 1.1 * LOAD_kWh;

const source = (data: Data) => ({ text: stringify(data), file: FILE, partsTexts: new Map() });
const swayOf = (data: Data, moves: readonly string[] = [], require: readonly string[] = []): Sway =>
  swayPlant(source(data), new Map(), {
    moves,
    requirements: require.map((text) => readRequirement(text, ['unmet.share', 'unmet.energy_kWh'])),
  });
const of = (sway: Sway, key: string): Swayed =>
  [...sway.guesses, ...sway.idle].find((guess) => guess.key === key)!;
const unmetAt = (guess: Swayed): number[] => guess.plays.map(({ figures }) => figures['unmet.energy_kWh']!);
/** A turning value lies between the two that were played, and these are near. */
const expectTurn = (guess: Swayed, value: number, reach: number): void => {
  const [{ holds_at, fails_at, reach: found }] = guess.turns as [Swayed['turns'][number]];
  const [low, high] = [Math.min(holds_at, fails_at), Math.max(holds_at, fails_at)];
  expect(low).toBeLessThanOrEqual(value * (1 + 1e-9));
  expect(high).toBeGreaterThanOrEqual(value * (1 - 1e-9));
  expect(high - low).toBeLessThan(1e-4 * value);
  expect(found).toBeCloseTo(reach, 3);
};

describe('a full bank in the dark that holds a tenth more than the year asks', () => {
  const sway = swayOf(plant({ run: { year: 2025, initial_soc: 1 } }));

  it('holds until the loads are a tenth larger, and goes short by what they ask beyond the stock', () => {
    expect(sway.holds).toBe(true);
    const load = of(sway, 'load');
    expectTurn(load, 1.1, 0.5);
    expect(load.turns[0]!.holds_at).toBeLessThan(load.turns[0]!.fails_at);
    expect(unmetAt(load)[0]).toBe(0);
    expect(unmetAt(load)[1]).toBeCloseTo(1.2 * LOAD_kWh - CAPACITY_kWh, 6);
    expect(load.swing['unmet.energy_kWh']).toBeCloseTo(0.1 * LOAD_kWh, 6);
  });

  it('down to 1/1.1 of capacity and start, and up to a floor of 1 - 1/1.1', () => {
    expectTurn(of(sway, 'bank.module.capacity_Ah'), LOAD_kWh * 20, 0.1 / 1.1 / 0.2);
    expectTurn(of(sway, 'run.initial_soc'), 1 / 1.1, 0.1 / 1.1 / 0.3);
    expectTurn(of(sway, 'bank.floor_soc'), 0.1 / 1.1, 0.1 / 1.1 / 0.1);
    expect(unmetAt(of(sway, 'bank.module.capacity_Ah'))[0]).toBeCloseTo((1 - 0.8 * 1.1) * LOAD_kWh, 6);
    expect(unmetAt(of(sway, 'run.initial_soc'))[0]).toBeCloseTo((1 - 0.7 * 1.1) * LOAD_kWh, 6);
    expect(unmetAt(of(sway, 'bank.floor_soc'))[1]).toBeCloseTo((1 - 0.9 * 1.1) * LOAD_kWh, 6);
  });

  it('a round trip that three ranges do not bring down far enough turns nothing', () => {
    // Half of the loss on the way out: it would take a round trip of (1/1.1)², 0.826, and 0.85 is looked at.
    const trip = of(sway, 'bank.round_trip_efficiency_share');
    expect(trip.turns).toEqual([]);
    expect(trip.span).toEqual([0.85, 1]);
    expect(trip.swing['bank.lowest_soc']).toBeCloseTo((1 / Math.sqrt(0.95) - 1) / 1.1, 6);
  });

  it('who turns within the smallest part of its range comes first', () => {
    const named = ['load', 'bank.floor_soc', 'run.initial_soc', 'bank.module.capacity_Ah'];
    expect(sway.guesses.map(({ key }) => key).filter((key) => named.includes(key))).toEqual([
      'run.initial_soc',
      'bank.module.capacity_Ah',
      'load',
      'bank.floor_soc',
    ]);
  });
});

describe('a sun of half the load, none of it lost, and a stock that is used up', () => {
  const perkWp = (() => {
    const year = prepareYear(readScenario(stringify(plant({}, {}, 1)), FILE), FILE, new Map());
    return year.arrays[0]!.dc_kW_per_kWp.reduce((sum, kW) => sum + kW, 0);
  })();
  /** Unmet is load less sun less stock: each day asks more than it brings, and the bank is never full. */
  const withStock = (share: number) =>
    plant({ run: { year: 2025, initial_soc: share / 1.1 } }, {}, (0.5 * LOAD_kWh) / perkWp);

  it('short by a twentieth: it would hold with 1.1 times the sun or 0.95 of the load', () => {
    const sway = swayOf(withStock(0.45));
    expect(sway.holds).toBe(false);
    expect(sway.now['unmet.energy_kWh']).toBeCloseTo(0.05 * LOAD_kWh, 6);
    const panels = of(sway, 'panels');
    expect(unmetAt(panels)[0]).toBeCloseTo((0.55 - 0.5 * 0.94) * LOAD_kWh, 6);
    expect(unmetAt(panels)[1]).toBeCloseTo((0.55 - 0.5 * 1.06) * LOAD_kWh, 6);
    expectTurn(panels, 1.1, 0.1 / 0.06);
    expect(panels.turns[0]!.holds_at).toBeGreaterThan(panels.turns[0]!.fails_at);
    // A brighter sky spreads its light a little otherwise (Perez et al. 1990), so the plane gets a hair more or less.
    const sun = of(sway, 'sun');
    expect(unmetAt(sun)[0]! / LOAD_kWh).toBeCloseTo(0.55 - 0.5 * 0.87, 4);
    expect(unmetAt(sun)[1]).toBe(0);
    expect(sun.turns[0]!.holds_at).toBeCloseTo(1.1, 3);
    expectTurn(of(sway, 'load'), 0.95, 0.05 / 0.2);
    // Cells give as much warm as cold here.
    expect(sway.idle.map(({ key }) => key)).toContain('air');
  });

  it('with a fortieth to spare, dirt may take a twentieth of the sun', () => {
    const sway = swayOf(withStock(0.525));
    const dirt = of(sway, 'arrays[*].losses.soiling_share');
    expectTurn(dirt, 0.05, 0.05 / 0.04);
    expect([dirt.stated, of(sway, 'arrays[*].low_light_loss_share').stated]).toEqual([true, false]);
    // No frost at the equator, no snow.
    expect(of(sway, 'arrays[*].losses.snow_share')).toBeUndefined();
  });

  it('a requirement in place of the verdict moves the turning point by what it allows', () => {
    const sway = swayOf(withStock(0.45), [], ['unmet.share<=0.06']);
    expect(sway.holds).toBe(true);
    // 1 - 0.45 - 0.5 f = 0.06
    expectTurn(of(sway, 'panels'), 0.98, 0.02 / 0.06);
  });
});

describe('what a moved value plays', () => {
  const data = plant({}, { round_trip_efficiency_share: 0.9 }, 4);
  const figuresOf = (changed: Data) =>
    newPlayer(newYearPreparer(FILE, new Map()))(readScenario(stringify(changed), FILE).scenario);
  const [load] = data.loads as Data[];

  it('is what the file would play with it', () => {
    const sway = swayOf(data, ['inverter.idle_W=0,40']);
    expect(sway.now).toEqual(figuresOf(data));
    expect(of(sway, 'load').plays[1]!.figures['unmet.energy_kWh']).toBeCloseTo(
      figuresOf({ ...data, loads: [{ ...load, scale: 1.2 }] })['unmet.energy_kWh']!,
      9,
    );
    const idle = of(sway, 'inverter.idle_W');
    expect(idle.plays[0]!.figures).toEqual(sway.now);
    expect(idle.plays[1]!.figures).toEqual(
      figuresOf({ ...data, inverter: { ...(data.inverter as Data), idle_W: 40 } }),
    );
    const warmer = { ...(data.weather as Data), air_temperature_C: 23 };
    expect(of(sway, 'air').plays[1]!.figures['unmet.energy_kWh']).toBeCloseTo(
      figuresOf({ ...data, weather: warmer })['unmet.energy_kWh']!,
      9,
    );
  });

  it('as little moved as can be gives the same figures, and the order of what is asked changes no rank', () => {
    const moves = ['load=0.9999999999:1.0000000001', 'sun=0.9999999999:1.0000000001'];
    const sway = swayOf(data, moves);
    for (const key of ['load', 'sun'])
      for (const unmet of unmetAt(of(sway, key))) expect(unmet).toBeCloseTo(sway.now['unmet.energy_kWh']!, 5);
    expect(swayOf(data, moves.toReversed()).guesses.map(({ key }) => key)).toEqual(
      sway.guesses.map(({ key }) => key),
    );
  });

  it('whole numbers turn between two of them', () => {
    const sway = swayOf(plant({ run: { year: 2025, initial_soc: 1 } }, { modules_parallel: 2 }), [
      'bank.modules_parallel=1:4',
      'load=1.05:1.6',
    ]);
    // Two hold 2.2 years of load, one 1.1; none at all is no bank.
    expect(of(sway, 'bank.modules_parallel').turns).toEqual([]);
    const more = swayOf(
      plant(
        { run: { year: 2025, initial_soc: 1 }, loads: [{ ...load, scale: 1.5 }] },
        { modules_parallel: 2 },
      ),
      ['bank.modules_parallel=1:4'],
    );
    expect(of(more, 'bank.modules_parallel').turns).toEqual([{ holds_at: 2, fails_at: 1, reach: 1 }]);
  });

  it('names are tried one by one, and told where the verdict is another with one', () => {
    const asks = { kind: 'appliance', name: 'half', power_W: 500 };
    const dark = { run: { year: 2025, initial_soc: 1 }, loads: [{ ...asks, bus: 'dc' }] };
    // On the AC side a load of 0.5 kW costs half as much again.
    const lossy = {
      rating_kW: 1,
      surge_kW: 2,
      idle_W: 0,
      efficiency: { loss_linear: 0.5, loss_quadratic: 0 },
    };
    const sway = swayOf(plant({ ...dark, inverter: lossy }), ['loads[0].bus=ac,dc']);
    const bus = of(sway, 'loads[0].bus');
    expect(sway.holds).toBe(true);
    expect([bus.turned_by, bus.turns, bus.span]).toEqual([['ac'], [], null]);
    expect(unmetAt(bus)[0]).toBeCloseTo(LOAD_kWh - CAPACITY_kWh / 1.5, 6);
    expect(unmetAt(bus)[1]).toBe(0);
  });
});

it('money is linear in the fuel price: litres, price and an even row of years', () => {
  const sway = swayOf(
    plant(
      {
        generator: {
          rating_kW: 1,
          fuel: { full_load_L_per_h: 0.4, half_load_L_per_h: 0.3 },
          start_soc: 0.2,
          stop_soc: 0.9,
          price: 100,
        },
        charger: { max_charge_A: 100, efficiency_share: 1, price: 0 },
        money: { currency: 'coins', years: 10, discount_share_per_year: 0.03, fuel_price_per_L: 2 },
        inverter: {
          rating_kW: 50,
          surge_kW: 99,
          idle_W: 0,
          efficiency: { loss_linear: 0, loss_quadratic: 0 },
          price: 0,
        },
        arrays: [
          {
            ...(plant().arrays as Data[])[0],
            price: 0,
            tracker: { max_power_kW: 1, max_charge_A: 9, price: 0 },
          },
        ],
      },
      {
        module: { nominal_voltage_V: 50, capacity_Ah: 200, max_charge_A: 100, max_discharge_A: 100 },
        price: 0,
      },
    ),
  );
  const price = of(sway, 'money.fuel_price_per_L');
  // 1/1.03 + 1/1.03² + … of ten years.
  const even = (1 - 1.03 ** -10) / 0.03;
  expect(sway.now['generator.fuel_L']).toBeGreaterThan(100);
  expect(price.swing['money.total']).toBeCloseTo(sway.now['generator.fuel_L']! * (3 - 1.4) * even, 4);
  expect(price.swing['unmet.energy_kWh']).toBe(0);
});

describe('what can not be moved is refused', () => {
  const refusal = (move: string, more: readonly string[] = []): string => {
    try {
      swayOf(plant(), [move, ...more]);
    } catch (error) {
      if (error instanceof InputError) return error.message;
      throw error;
    }
    throw new Error(`${move} was taken`);
  };

  it.each([
    ['load', 'it is no guess'],
    ['load=2:1', 'its low end is not below its high one'],
    ['load=1,', 'it has an empty value'],
    ['sun=-1:1', 'sun takes numbers from 0 on'],
    ['air=warm', 'air takes numbers'],
    ['bank.flor_soc=0:0.2', 'did you mean "bank.floor_soc"?'],
    ['bank.life_years=5:10', 'it has no one number today'],
    ['bank.chemistry=0:1', 'it has no one number today'],
    ['bank.chemistry=gold', 'none of its values can be played'],
  ])('%s', (move, said) => expect(refusal(move)).toContain(said));

  it('a key that is moved twice', () =>
    expect(refusal('load=0.9:1.1', ['load=0.8:1.2'])).toContain('it is moved twice'));
});
