/** Bills and costs by hand and against printed interest tables. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  annuity,
  type BillLine,
  billOf,
  billOfScenario,
  findings,
  lifetimeCost,
  lifeYears,
  newPlayer,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
  replacementsShare,
  type Scenario,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';

const line = (item: string, total: number, life: BillLine['life'] = null): BillLine => ({
  item,
  count: 1,
  price_each: total,
  total,
  life,
});
const NO_USE = { served_kWh: 0, equivalent_full_cycles: 0, generator_run_h: 0, fuel_L: 0, shore_kWh: 0 };

describe('interest', () => {
  // Uniform series and single payment present worth, P/A and P/F, as compound interest tables of the textbooks print
  // them: 0.25 % read in such a table (discrete compounding, table for i = 0.25 %), 4 % and 5 % recalled from others.
  it.each([
    [0.0025, 12, 11.8073],
    [0.0025, 20, 19.4845],
    [0.0025, 25, 24.2055],
    [0.04, 20, 13.5903],
    [0.05, 10, 7.7217],
  ])('the annuity at %d over %i years is that of the tables', (rate, years, printed) => {
    expect(annuity(years, rate)).toBeCloseTo(printed, 4);
  });

  it.each([
    [0.0025, 12, 0.9705],
    [0.0025, 15, 0.9632],
    [0.04, 12, 0.6246],
  ])(
    'a part that lasts until it is bought once more, at %d after %i years, costs P/F',
    (rate, lasts, printed) => {
      expect(replacementsShare(lasts, lasts + 1, rate)).toBeCloseTo(printed, 4);
    },
  );

  it('parts are bought again at each end of their life within the years, not at the last', () => {
    const slow = (lasts: number, years: number, rate: number): number => {
      let sum = 0;
      for (let at = lasts; at < years - 1e-9; at += lasts) sum += (1 + rate) ** -at;
      return sum;
    };
    for (const [lasts, years, rate] of [
      [5, 20, 0.04],
      [6.5, 20, 0.07],
      [20, 20, 0.04],
      [25, 20, 0.04],
      [0.25, 3, 0.1],
      [7, 20, 0],
    ] as const)
      expect(replacementsShare(lasts, years, rate), `${lasts} in ${years}`).toBeCloseTo(
        slow(lasts, years, rate),
        9,
      );
    expect(replacementsShare(Number.POSITIVE_INFINITY, 20, 0)).toBe(0);
    expect(replacementsShare(Number.POSITIVE_INFINITY, 20, 0.05)).toBe(0);
  });
});

describe('the cost of owning a plant', () => {
  const use = {
    served_kWh: 1000,
    equivalent_full_cycles: 20,
    generator_run_h: 200,
    fuel_L: 50,
    shore_kWh: 0,
  };
  const terms = {
    years: 10,
    discount_share_per_year: 0.05,
    fuel_price_per_L: 2,
    shore_price_per_kWh: null,
    service: { price: 30, every_h: 100 },
  };

  it('is what adding it up on paper gives', () => {
    const bill = billOf([
      line('bank', 1000, { years: 15, cycles: 100, run_h: null }), // 100 / 20: worn after 5 years, again at 10: not
      line('inverter', 500, { years: 8, cycles: null, run_h: null }), // once, after 8
      line('generator', 300, { years: null, cycles: null, run_h: 1000 }), // 1000 / 200: after 5
      line('labour', 400), // never again
    ]);
    const cost = lifetimeCost(bill, terms, use)!;
    // 1.05^-5 = 0.783526, 1.05^-8 = 0.676839; annuity 7.721735.
    expect(cost.capital).toBe(2200);
    expect(cost.replacements).toBeCloseTo(1300 * 0.783526 + 500 * 0.676839, 2);
    expect(cost.fuel).toBeCloseTo(50 * 2 * 7.721735, 3);
    expect(cost.service).toBeCloseTo(2 * 30 * 7.721735, 3);
    expect(cost.total).toBeCloseTo(2200 + 1018.584 + 338.42 + 772.174 + 463.304, 1);
    expect(cost.per_served_kWh).toBeCloseTo(cost.total / (1000 * 7.721735), 6);
  });

  it('without discount is a plain sum, and a year served for nothing has no price per kWh', () => {
    const flat = { ...terms, discount_share_per_year: 0 };
    const cost = lifetimeCost(
      billOf([line('bank', 1000, { years: 3, cycles: null, run_h: null })]),
      flat,
      use,
    )!;
    expect(cost.replacements).toBe(3000);
    expect(cost.fuel).toBe(1000);
    expect(cost.per_served_kWh).toBeCloseTo((1000 + 3000 + 1000 + 600) / 10_000, 12);
    expect(lifetimeCost(billOf([line('a', 1)]), flat, NO_USE)!.per_served_kWh).toBeNull();
  });

  it('is not known while a price is missing: of a part, or of fuel that burns', () => {
    const holed = billOf([line('a', 1), { item: 'b', count: 2, price_each: null, total: null, life: null }]);
    expect(holed).toMatchObject({ capital: null, unpriced: ['b'] });
    expect(lifetimeCost(holed, terms, use)).toBeNull();
    const unfuelled = { ...terms, fuel_price_per_L: null };
    expect(lifetimeCost(billOf([line('a', 1)]), unfuelled, use)).toBeNull();
    expect(lifetimeCost(billOf([line('a', 1)]), unfuelled, { ...use, fuel_L: 0 })).not.toBeNull();
  });

  it('counts power from the socket at its price, and knows no total without one', () => {
    const bill = billOf([line('a', 100)]);
    const plugged = { ...use, shore_kWh: 300 };
    expect(lifetimeCost(bill, terms, plugged)).toBeNull();
    const cost = lifetimeCost(bill, { ...terms, shore_price_per_kWh: 0.5 }, plugged)!;
    expect(cost.shore).toBeCloseTo(150 * 7.721735, 3);
    expect(cost.total).toBeCloseTo(100 + cost.shore + cost.fuel + cost.service, 9);
  });

  it('wears a part by whichever end comes first', () => {
    const life = { years: 12, cycles: 300, run_h: 500 };
    expect(lifeYears(life, NO_USE)).toBe(12);
    expect(lifeYears(life, { ...NO_USE, equivalent_full_cycles: 50 })).toBe(6);
    expect(lifeYears(life, { ...NO_USE, equivalent_full_cycles: 50, generator_run_h: 250 })).toBe(2);
    expect(lifeYears(null, use)).toBe(Number.POSITIVE_INFINITY);
  });
});

const FILE = 'data/demo/parts-with-generator.yaml';
const folder = resolve(import.meta.dirname, '../..');
const parts = new Map(
  ['panels', 'modules', 'inverters', 'generators'].map((name) => [
    `../parts/${name}.yaml`,
    readFileSync(resolve(folder, `data/parts/${name}.yaml`), 'utf8'),
  ]),
);
const TEXT = readFileSync(resolve(folder, FILE), 'utf8');
const scenarioOf = (text: string): Scenario => readScenario(text, FILE, parts).scenario;
const swap = (text: string, from: string | RegExp, to: string): string => {
  const swapped = text.replace(from, to);
  expect(swapped).not.toBe(text);
  return swapped;
};
const totals = (scenario: Scenario) =>
  Object.fromEntries(billOfScenario(scenario).lines.map((l) => [l.item, [l.count, l.total]]));

describe('the bill of a scenario', () => {
  it('counts parts and lines; what an all-in-one brings has no line of its own', () => {
    expect(totals(scenarioOf(TEXT))).toEqual({
      'panel-430W: ground row, south': [14, 14 * 112],
      'module-5kWh': [4, 4 * 1150],
      'all-in-one-5kW': [1, 980],
      'diesel-4kW': [1, 1650],
      'ground rack and screws': [14, 14 * 42],
      'rack and busbars': [4, 4 * 65],
      'cable and protection': [1, 640],
      labour: [1, 1900],
      freight: [14, 14 * 24],
    });
    expect(billOfScenario(scenarioOf(TEXT)).capital).toBe(12_522);
  });

  it('buys whole panels for a size that is typed', () => {
    const typed = totals(scenarioOf(swap(TEXT, 'panels: 14', 'size_kWp: 6')));
    // 6 / 0.43 = 13.95
    expect(typed['panel-430W: ground row, south']).toEqual([14, 14 * 112]);
    expect(typed.freight).toEqual([14, 14 * 24]);
  });

  it('prices by kWp and kWh', () => {
    const text = swap(TEXT, 'price: 24, per: panel', 'price: 10, per: kWp').replace(
      'price: 1900, per: plant',
      'price: 5, per: kWh',
    );
    expect(totals(scenarioOf(text))).toMatchObject({ freight: [6.02, 60.2], labour: [20.48, 102.4] });
  });

  it('names what has no price and then has no sum', () => {
    const typed = swap(
      TEXT,
      '    losses:',
      '    tracker: { max_power_kW: 6, max_charge_A: 110 }\n    losses:',
    );
    const bill = billOfScenario(scenarioOf(typed));
    expect(bill).toMatchObject({ capital: null, unpriced: ['tracker: ground row, south'] });
    expect(
      billOfScenario(scenarioOf(typed.replace('max_charge_A: 110 }', 'max_charge_A: 110, price: 0 }')))
        .capital,
    ).toBe(12_522);
  });

  it('knows no price without a money section, which names the currency', () => {
    const bare = swap(TEXT, /\nmoney:\n(?: {2}.*\n)+/, '\n');
    expect(billOfScenario(scenarioOf(bare)).capital).toBeNull();
  });
});

const SHORE = "\nshore: { max_A: 16, voltage_V: 230, windows: ['02:00-05:00'] }\n\ngenerator:";

describe('money in the report', () => {
  const report = (text: string) => {
    const read = readScenario(text, FILE, parts);
    const year = prepareYear(read, FILE, new Map());
    const plant = plantOf(read.scenario);
    return { scenario: read.scenario, ...findings(year, plant, playYear(year, plant)) };
  };

  it('is what a study says of the same plant, name by name', () => {
    const { scenario, money } = report(TEXT);
    const figures = newPlayer(FILE, new Map())(scenario);
    for (const name of ['capital', 'total', 'per_served_kWh'] as const)
      expect(money![name], name).toBeCloseTo(figures[`money.${name}`]!, 6);
  });

  it('follows from the other figures of the report', () => {
    const { money, bank, generator, load, limits } = report(TEXT);
    // Nothing but the inverter (12 years) and the bank (15 years) wears out in 20 years of 118 h and 60 cycles.
    expect(
      lifeYears(
        { years: null, cycles: null, run_h: 4000 },
        { ...NO_USE, generator_run_h: generator!.run_hours },
      ),
    ).toBeGreaterThan(20);
    expect(bank.equivalent_full_cycles * 15).toBeLessThan(5000);
    expect(money!.replacements).toBeCloseTo(980 * 1.04 ** -12 + 4600 * 1.04 ** -15, 6);
    expect(money!.fuel).toBeCloseTo(generator!.fuel_L * 2.4 * annuity(20, 0.04), 6);
    expect(money!.service).toBeCloseTo((generator!.run_hours / 200) * 90 * annuity(20, 0.04), 6);
    expect(money!.per_served_kWh).toBeCloseTo(money!.total! / (load.served_kWh * annuity(20, 0.04)), 9);
    expect(money!.per_usable_kWh).toBeCloseTo(12_522 / bank.usable_kWh, 9);
    expect(money!.per_output_kW).toBeCloseTo(12_522 / limits.ac_output.after_inverter_loss_kW, 9);
  });

  it('counts power from a socket, in report and study alike, and names it where it has no price', () => {
    const plugged = swap(TEXT, '\ngenerator:', SHORE);
    expect(report(plugged).money).toMatchObject({ total: null, unpriced: ['shore power'] });
    const priced = report(swap(plugged, '  lines:', '  shore_price_per_kWh: 0.3\n  lines:'));
    expect(priced.shore!.energy_kWh).toBeGreaterThan(0);
    expect(priced.money!.shore).toBeCloseTo(priced.shore!.energy_kWh * 0.3 * annuity(20, 0.04), 6);
    const figures = newPlayer(FILE, new Map())(priced.scenario);
    expect(figures['money.total']).toBeCloseTo(priced.money!.total!, 6);
  });

  it('names fuel as unpriced when it burns for no price, and is null without a money section', () => {
    const unfuelled = report(swap(TEXT, / {2}fuel_price_per_L.*\n/, ''));
    expect(unfuelled.money).toMatchObject({ capital: 12_522, total: null, unpriced: ['fuel'] });
    expect(report(swap(TEXT, /\nmoney:\n(?: {2}.*\n)+/, '\n')).money).toBeNull();
  });
});
