import { expectArgument, expectArguments } from '../basis/arguments.ts';
import { tidy } from '../basis/rounding.ts';
import type { ArraySpec, Scenario } from '../scenario/schema/schema.ts';
import { type Bill, type BillLine, billOf, type Life } from './bill.ts';
import type { Terms } from './lifetime.ts';

const lasts = (years?: number, cycles?: number, run_h?: number): Life | null =>
  years === undefined && cycles === undefined && run_h === undefined
    ? null
    : { years: years ?? null, cycles: cycles ?? null, run_h: run_h ?? null };

/**
 * How many panels an array is bought as: those counted, or as many whole ones as its size takes; null where the size of
 * a panel isn't known.
 */
export function panelsOf({ panels, panel_kWp, size_kWp }: ArraySpec): number | null {
  if (panels !== undefined) return panels;
  return panel_kWp === undefined ? null : Math.ceil(size_kWp / panel_kWp - 1e-9);
}

/**
 * The bill of materials of a scenario: its parts with their counts, then the lines of its `money` section. What an
 * all-in-one brings is paid with it and has no line. Without a `money` section nothing has a price: there is no
 * currency to say it in.
 */
export function billOfScenario(scenario: Scenario): Bill {
  expectArgument('billOfScenario', 'scenario', scenario, 'scenario');
  const { arrays, bank, inverter, charger, generator, money } = scenario;
  const line = (
    path: string | null,
    item: string,
    count: number,
    price?: number,
    life: Life | null = null,
  ): BillLine => {
    const price_each = money === undefined ? null : (price ?? null);
    return {
      item,
      path,
      count,
      price_each,
      // Without the dust of binary fractions, which would print as a price of 60.199999999999996.
      total: price_each === null ? (count === 0 ? 0 : null) : tidy(count * price_each),
      life,
    };
  };
  const isBrought = ({ part }: { readonly part?: string | undefined }): boolean =>
    part !== undefined && part === inverter.part;

  const lines: BillLine[] = [];
  for (const [a, array] of arrays.entries()) {
    const { tracker } = array;
    const path = `arrays[${a}]`;
    const count = panelsOf(array);
    const what = array.part ?? (count === null ? `array of ${array.size_kWp} kWp` : 'panel');
    lines.push(line(path, `${what}: ${array.name}`, count ?? 1, array.price, lasts(array.life_years)));
    if (!isBrought(tracker)) {
      const item = `${tracker.part ?? 'tracker'}: ${array.name}`;
      lines.push(line(`${path}.tracker`, item, 1, tracker.price, lasts(tracker.life_years)));
    }
  }
  const bankLife: Life | null =
    bank.cycle_life === undefined
      ? lasts(bank.life_years, bank.life_cycles)
      : { years: bank.life_years ?? null, cycles: null, by_depth: true, run_h: null };
  lines.push(line('bank', bank.part ?? 'battery module', bank.modules_parallel, bank.price, bankLife));
  lines.push(line('inverter', inverter.part ?? 'inverter', 1, inverter.price, lasts(inverter.life_years)));
  for (const [k, { name, price, life_years }] of (scenario.other_sources ?? []).entries())
    lines.push(line(`other_sources[${k}]`, name, 1, price, lasts(life_years)));
  if (charger !== undefined && !isBrought(charger)) {
    lines.push(line('charger', charger.part ?? 'charger', 1, charger.price, lasts(charger.life_years)));
  }
  if (generator !== undefined) {
    const life = lasts(generator.life_years, undefined, generator.life_h);
    lines.push(line('generator', generator.part ?? 'generator', 1, generator.price, life));
  }
  const counts = {
    plant: 1,
    panel: arrays.reduce((sum, array) => sum + (panelsOf(array) ?? 0), 0),
    module: bank.modules_parallel,
    kWp: arrays.reduce((sum, array) => sum + array.size_kWp, 0),
    kWh: (bank.modules_parallel * bank.module.nominal_voltage_V * bank.module.capacity_Ah) / 1000,
  };
  for (const extra of money?.lines ?? []) lines.push(line(null, extra.name, counts[extra.per], extra.price));
  return billOf(lines);
}

/** On what terms the scenario wants its years added up; null without a `money` section. */
export function termsOf(scenario: Scenario): Terms | null {
  expectArguments('termsOf', { scenario });
  const { money, generator } = scenario;
  if (money === undefined) return null;
  return {
    years: money.years,
    discount_share_per_year: money.discount_share_per_year,
    fuel_price_per_L: money.fuel_price_per_L ?? null,
    shore_price_per_kWh: money.shore_price_per_kWh ?? null,
    fuel_price_growth_share_per_year: money.fuel_price_growth_share_per_year,
    shore_price_growth_share_per_year: money.shore_price_growth_share_per_year,
    residual_share: money.residual_share,
    service:
      generator?.service === undefined
        ? null
        : { price: generator.service.price ?? null, every_h: generator.service.every_h },
  };
}
