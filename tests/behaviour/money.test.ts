/** Bills and costs by hand and against printed interest tables. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  type BillLine,
  billOfScenario,
  findings,
  newYearPreparer,
  plantOf,
  playYear,
  playYears,
  prepareYear,
  readScenario,
  type Scenario,
} from '@longnight/core';
import { annuity, type Life, lifetimeCost, type Terms, type YearlyUse } from '@longnight/core/money';
import { hoursByYear } from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { pricedYears, whyText } from '../../packages/cli/src/render/report/notice-words.ts';
import { billOf } from '../../packages/core/src/money/bill.ts';
import { newPlayer } from '../../packages/core/src/study/designs/play.ts';

const line = (item: string, total: number, life: BillLine['life'] = null): BillLine => ({
  item,
  path: null,
  count: 1,
  price_each: total,
  total,
  life,
});
/** Prices of today in all years, and nothing left after the last. */
const STEADY = {
  fuel_price_growth_share_per_year: 0,
  shore_price_growth_share_per_year: 0,
  residual_share: 0,
};
/** What is paid again for a part of price 1. */
function replacementsByYear(life: Life, uses: readonly YearlyUse[], years: number, rate: number): number {
  const terms: Terms = {
    ...STEADY,
    years,
    discount_share_per_year: rate,
    fuel_price_per_L: 0,
    shore_price_per_kWh: 0,
    service: null,
  };
  return lifetimeCost(billOf([line('a', 1, life)]), terms, uses)!.replacements;
}
const replacementsShare = (lasts: number, years: number, rate: number): number =>
  replacementsByYear({ years: lasts, cycles: null, run_h: null }, [NO_USE], years, rate);
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
    ...STEADY,
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
    const cost = lifetimeCost(bill, terms, [use])!;
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
    const cost = lifetimeCost(billOf([line('bank', 1000, { years: 3, cycles: null, run_h: null })]), flat, [
      use,
    ])!;
    expect(cost.replacements).toBe(3000);
    expect(cost.fuel).toBe(1000);
    expect(cost.per_served_kWh).toBeCloseTo((1000 + 3000 + 1000 + 600) / 10_000, 12);
    expect(lifetimeCost(billOf([line('a', 1)]), flat, [NO_USE])!.per_served_kWh).toBeNull();
  });

  it('is not known while a price is missing: of a part, or of fuel that burns', () => {
    const holed = billOf([
      line('a', 1),
      { item: 'b', path: null, count: 2, price_each: null, total: null, life: null },
    ]);
    expect(holed).toMatchObject({ capital: null, unpriced: ['b'] });
    expect(lifetimeCost(holed, terms, [use])).toBeNull();
    const unfuelled = { ...terms, fuel_price_per_L: null };
    expect(lifetimeCost(billOf([line('a', 1)]), unfuelled, [use])).toBeNull();
    expect(lifetimeCost(billOf([line('a', 1)]), unfuelled, [{ ...use, fuel_L: 0 }])).not.toBeNull();
  });

  it('counts power from the socket at its price, and knows no total without one', () => {
    const bill = billOf([line('a', 100)]);
    const plugged = { ...use, shore_kWh: 300 };
    expect(lifetimeCost(bill, terms, [plugged])).toBeNull();
    const cost = lifetimeCost(bill, { ...terms, shore_price_per_kWh: 0.5 }, [plugged])!;
    expect(cost.shore).toBeCloseTo(150 * 7.721735, 3);
    expect(cost.total).toBeCloseTo(100 + cost.shore + cost.fuel + cost.service, 9);
  });

  it('prices fuel that grows by a share a year as the geometric gradient series of the textbooks', () => {
    // P = A [1 - ((1 + g) / (1 + i))^n] / (i - g): Sullivan, Wicks & Koelling 2009, Engineering Economy, 14th ed.,
    // p. 156-159. Its worked case of 1500 a year that grow by 10 %, at 8 % over 6 years, is 8728
    // (ceboardexamgenerator.com, engineering economy, problem 45, which goes on with 1.10 / 1.08 as 1.0185).
    const growing = (years: number, growth: number): YearlyUse[] =>
      Array.from({ length: years }, (_, k) => ({ ...NO_USE, fuel_L: 1500 * (1 + growth) ** k }));
    const bill = billOf([line('a', 0)]);
    const priced = (years: number, growth: number, discount_share_per_year: number): number =>
      lifetimeCost(
        bill,
        { ...terms, years, discount_share_per_year, fuel_price_per_L: 1 },
        growing(years, growth),
      )!.fuel;
    expect(Math.abs(priced(6, 0.1, 0.08) - 8728)).toBeLessThan(1);
    for (const [n, g, i] of [
      [20, 0.03, 0.05],
      [25, -0.02, 0.04],
      [7, 0.25, 0.1],
    ] as const)
      expect(priced(n, g, i)).toBeCloseTo((1500 * (1 - ((1 + g) / (1 + i)) ** n)) / (i - g), 6);
  });

  it('prices each year by its own use, and those after the last played one as that', () => {
    const uses = [1, 2, 3].map((k) => ({
      ...use,
      generator_run_h: 50 * k,
      fuel_L: 50 + 50 * k,
      served_kWh: 1000 * k,
    }));
    const own = { ...terms, years: 5, discount_share_per_year: 0.1, service: { price: 40, every_h: 100 } };
    const cost = lifetimeCost(billOf([line('a', 100)]), own, uses)!;
    // On paper: fuel 200 / 1.1 + 300 / 1.21 + 400 / 1.331 + 400 / 1.4641 + 400 / 1.61051.
    expect(cost.fuel).toBeCloseTo(181.8182 + 247.9339 + 300.5259 + 273.2054 + 248.3685, 3);
    // Half a service, one, then one and a half a year: 20, 40, 60, 60, 60.
    expect(cost.service).toBeCloseTo(18.1818 + 33.0579 + 45.0789 + 40.9808 + 37.2553, 3);
    const served = 1000 / 1.1 + 2000 / 1.21 + 3000 / 1.331 + 3000 / 1.4641 + 3000 / 1.61051;
    expect(cost.per_served_kWh).toBeCloseTo(cost.total / served, 9);
    // What was used beyond the years of the terms is not paid.
    expect(lifetimeCost(billOf([line('a', 100)]), { ...own, years: 2 }, uses)!.fuel).toBeCloseTo(
      181.8182 + 247.9339,
      3,
    );
    const unfuelled = { ...own, fuel_price_per_L: null };
    expect(lifetimeCost(billOf([line('a', 1)]), unfuelled, [{ ...use, fuel_L: 0 }, use])).toBeNull();
  });

  it('buys a part again when its hours, cycles or years are used up, whatever year that is in', () => {
    const uses = [50, 100, 150].map((generator_run_h) => ({
      ...NO_USE,
      generator_run_h,
      equivalent_full_cycles: generator_run_h,
      bank_cycle_life_used_share: generator_run_h / 250,
    }));
    const bought = (life: Life): number => replacementsByYear(life, uses, 5, 0.1);
    // 50, 150, 300 hours are run by the ends of the years: 250 of them after 2 2/3 years, then every 1 2/3.
    const byUse = 1.1 ** -(8 / 3) + 1.1 ** -(13 / 3);
    expect(bought({ years: null, cycles: null, run_h: 250 })).toBeCloseTo(byUse, 9);
    expect(bought({ years: null, cycles: 250, run_h: null })).toBeCloseTo(byUse, 9);
    expect(bought({ years: null, cycles: null, by_depth: true, run_h: null })).toBeCloseTo(byUse, 9);
    // After two years by the calendar; then the hours are first, 1 2/3 years later.
    expect(bought({ years: 2, cycles: null, run_h: 250 })).toBeCloseTo(1.1 ** -2 + 1.1 ** -(11 / 3), 9);
    expect(bought({ years: null, cycles: null, run_h: null })).toBe(0);
    // A part that lasts 10 hours: 5 times in the first year, the last of them as it ends, 10 in the second.
    let often = 0;
    for (let n = 1; n <= 5; n++) often += 1.1 ** -(n / 5);
    for (let n = 1; n < 10; n++) often += 1.1 ** -(1 + n / 10);
    expect(replacementsByYear({ years: null, cycles: null, run_h: 10 }, uses, 2, 0.1)).toBeCloseTo(often, 9);
  });

  it('is the same whether a use is given once or for every year', () => {
    for (const life of [
      { years: 7, cycles: null, run_h: 900 },
      { years: 3, cycles: 130, run_h: null },
      { years: null, cycles: null, run_h: 70 },
    ])
      for (const discount of [0, 0.06]) {
        const once = replacementsByYear(life, [use], 20, discount);
        const lasts = Math.min(life.years ?? 99, (life.cycles ?? 1e9) / 20, (life.run_h ?? 1e9) / 200);
        expect(once).toBeCloseTo(replacementsShare(lasts, 20, discount), 9);
        for (const years of [2, 9, 20])
          expect(replacementsByYear(life, Array(years).fill(use), 20, discount)).toBeCloseTo(once, 9);
      }
  });

  it('wears a part by whichever end comes first', () => {
    const times = (use: YearlyUse): number =>
      replacementsByYear({ years: 12, cycles: 300, run_h: 500 }, [use], 25, 0);
    expect(times(NO_USE)).toBe(2);
    expect(times({ ...NO_USE, equivalent_full_cycles: 50 })).toBe(4);
    expect(times({ ...NO_USE, equivalent_full_cycles: 50, generator_run_h: 250 })).toBe(12);
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

/** What is left of the panels after 20 years; nothing where they have no life. */
function panelsLeft({ arrays }: Scenario, bill: readonly BillLine[]): number {
  const { life_years } = arrays[0]!;
  const { total } = bill.find(({ path }) => path === 'arrays[0]')!;
  return life_years === undefined ? 0 : total! * (1 - 20 / life_years);
}

describe('money in the report', () => {
  const report = (text: string) => {
    const read = readScenario(text, FILE, parts);
    const year = prepareYear(read, FILE, new Map());
    const plant = plantOf(read.scenario);
    return { scenario: read.scenario, ...findings(playYear(year, plant)) };
  };

  it('is what a study says of the same plant, name by name', () => {
    const { scenario, money } = report(TEXT);
    const figures = newPlayer(newYearPreparer(FILE, new Map()))(scenario);
    for (const name of ['capital', 'total', 'per_served_kWh'] as const)
      expect(money![name], name).toBeCloseTo(figures[`money.${name}`]!, 6);
  });

  it('follows from the other figures of the report', () => {
    const { money, bank, generator, load, limits } = report(TEXT);
    // Nothing but the inverter (12 years) and the bank (15 years) wears out in 20 years of 118 h and 60 cycles.
    expect(generator!.run_hours * 20).toBeLessThan(4000);
    expect(bank.equivalent_full_cycles * 15).toBeLessThan(5000);
    expect(money!.replacements).toBeCloseTo(980 * 1.04 ** -12 + 4600 * 1.04 ** -15, 6);
    expect(money!.fuel).toBeCloseTo(generator!.fuel_L * 2.4 * annuity(20, 0.04), 6);
    expect(money!.service).toBeCloseTo((generator!.run_hours / 200) * 90 * annuity(20, 0.04), 6);
    expect(money!.per_served_kWh).toBeCloseTo(money!.total! / (load.served_kWh * annuity(20, 0.04)), 9);
    expect(money!.per_usable_kWh).toBeCloseTo(12_522 / bank.usable_kWh, 9);
    expect(money!.per_output_kW).toBeCloseTo(12_522 / limits.ac_output.after_inverter_loss_kW, 9);
  });

  it('with years played on prices each by its own use, and says which use the others take', () => {
    const growing = swap(
      swap(TEXT, / {2}years: 20/, '  years: 4'),
      /power_W: (\d+), /g,
      'power_W: $1, growth_share_per_year: 0.3, ',
    );
    const read = readScenario(growing, FILE, parts);
    const year = prepareYear(read, FILE, new Map());
    const plant = plantOf(read.scenario);
    const ledger = playYear(year, plant);
    const alone = findings(ledger);
    const yearOf = hoursByYear(year, newYearPreparer(FILE, new Map()));
    const years = playYears({ years: 3, plant, yearOf, array_ageing_share_per_year: [0.005] });
    const { money, notices, assumptions } = findings(ledger, 7, years);
    const rows = years.by_year;
    // The first year's bill was that of all of them, whatever came after it.
    expect(alone.money!.fuel).toBeCloseTo(rows[0]!.fuel_L! * 2.4 * annuity(4, 0.04), 6);
    expect(rows[2]!.fuel_L!).toBeGreaterThan(1.1 * rows[0]!.fuel_L!);
    const sum = (amount: (row: (typeof rows)[number]) => number): number =>
      [rows[0]!, rows[1]!, rows[2]!, rows[2]!].reduce(
        (all, row, k) => all + amount(row) / 1.04 ** (k + 1),
        0,
      );
    expect(money!.fuel).toBeCloseTo(
      sum((row) => row.fuel_L! * 2.4),
      6,
    );
    expect(money!.service).toBeCloseTo(
      sum((row) => (row.generator_run_hours! / 200) * 90),
      6,
    );
    expect(money!.per_served_kWh).toBeCloseTo(money!.total! / sum((row) => row.served_kWh), 9);
    expect(money!.years_priced).toBe(3);
    expect(pricedYears(money!)).toBe(
      'Years 1 to 3 are played, and each is priced by its own use; year 4 is used as year 3 is.',
    );
    expect(whyText(assumptions.find(({ path }) => path === 'model.money.years')!)).toContain(
      'year 4 is used as',
    );
    const said = (of: typeof notices): string[] => of.map(({ id }) => id);
    expect(said(alone.notices)).toContain('growth-not-priced');
    expect(said(notices)).not.toContain('growth-not-priced');
    expect(pricedYears(alone.money!)).toBe('Only year 1 is played: years 2 to 4 are used as year 1 is.');
  });

  it('pays for what was bought anew as it was played, and each year adds up to the total', () => {
    // A generator and a bank that use wears out several times, and an inverter that its years do.
    const worn = swap(
      swap(TEXT, /( {2}years: 20)/, '$1\n  residual_share: 0.5\n  fuel_price_growth_share_per_year: 0.02'),
      /\ngenerator:\n/,
      '\ngenerator:\n  life_h: 330\n',
    ).replace(/\nbank:\n/, '\nbank:\n  life_cycles: 210\n');
    for (const rate of [0, 0.04]) {
      const read = readScenario(
        worn.replace(/discount_share_per_year: .*/, `discount_share_per_year: ${rate}`),
        FILE,
        parts,
      );
      const year = prepareYear(read, FILE, new Map());
      const plant = plantOf(read.scenario);
      const yearOf = hoursByYear(year, newYearPreparer(FILE, new Map()));
      const years = playYears({ years: 20, plant, yearOf, array_ageing_share_per_year: [0.005] });
      const money = findings(playYear(year, plant), 7, years).money!;
      const prices = new Map(money.bill.map(({ path, total }) => [path, total!]));
      const bought = years.by_year.flatMap(({ replaced }) => replaced);
      expect(new Set(bought.map(({ path }) => path))).toEqual(new Set(['bank', 'inverter', 'generator']));
      expect(bought.filter(({ path }) => path === 'generator').length).toBeGreaterThan(3);
      years.by_year.forEach(({ replaced, fuel_L }, k) => {
        const paid = replaced.reduce((sum, { path, times }) => sum + times * prices.get(path)!, 0);
        expect(money.by_year[k]!.replacements, `year ${k + 1}`).toBeCloseTo(paid, 9);
        expect(money.by_year[k]!.fuel).toBeCloseTo(fuel_L! * 2.4 * 1.02 ** (k + 1), 9);
      });
      const sum = (name: 'replacements' | 'fuel' | 'service' | 'total' | 'present_value'): number =>
        money.by_year.reduce((all, row) => all + row[name], 0);
      expect(money.capital! + sum('present_value') - money.residual!).toBeCloseTo(money.total!, 6);
      if (rate > 0) continue;
      for (const name of ['replacements', 'fuel', 'service'] as const)
        expect(sum(name)).toBeCloseTo(money[name]!, 6);
      // Half of the price of the bank, as far as its last row says it is unworn; likewise inverter and generator.
      const run_h = years.by_year.reduce((all, row) => all + row.generator_run_hours!, 0);
      const left =
        4600 * (1 - years.by_year[19]!.life_used_share!) +
        980 * (1 - 8 / 12) +
        1650 * (1 - (run_h % 330) / 330);
      expect(money.residual).toBeCloseTo(0.5 * (left + panelsLeft(read.scenario, money.bill)), 6);
    }
  });

  it('counts power from a socket, in report and study alike, and names it where it has no price', () => {
    const plugged = swap(TEXT, '\ngenerator:', SHORE);
    expect(report(plugged).money).toMatchObject({ total: null, unpriced: ['shore power'] });
    const priced = report(swap(plugged, '  lines:', '  shore_price_per_kWh: 0.3\n  lines:'));
    expect(priced.shore!.energy_kWh).toBeGreaterThan(0);
    expect(priced.money!.shore).toBeCloseTo(priced.shore!.energy_kWh * 0.3 * annuity(20, 0.04), 6);
    const figures = newPlayer(newYearPreparer(FILE, new Map()))(priced.scenario);
    expect(figures['money.total']).toBeCloseTo(priced.money!.total!, 6);
  });

  it('names fuel as unpriced when it burns for no price, and is null without a money section', () => {
    const unfuelled = report(swap(TEXT, / {2}fuel_price_per_L.*\n/, ''));
    expect(unfuelled.money).toMatchObject({ capital: 12_522, total: null, unpriced: ['fuel'] });
    expect(report(swap(TEXT, /\nmoney:\n(?: {2}.*\n)+/, '\n')).money).toBeNull();
  });
});
