import type { Scenario } from '../scenario/schema.ts';
import { type Bill, type BillLine, billOf, type Life } from './bill.ts';
import type { Terms } from './lifetime.ts';

const lasts = (years?: number, cycles?: number, run_h?: number): Life | null =>
  years === undefined && cycles === undefined && run_h === undefined
    ? null
    : { years: years ?? null, cycles: cycles ?? null, run_h: run_h ?? null };

const line = (
  item: string,
  count: number,
  price: number | undefined,
  life: Life | null = null,
): BillLine => ({
  item,
  count,
  price_each: price ?? null,
  total: price === undefined ? (count === 0 ? 0 : null) : count * price,
  life,
});

/** The bill of materials of a scenario: its parts with their counts, then the lines of its `money` section. */
export function billOfScenario(scenario: Scenario): Bill {
  const { arrays, bank, inverter, charger, generator, money } = scenario;
  const lines: BillLine[] = [];
  const builtIn = inverter.part === undefined ? '' : ' (built into the inverter)';
  for (const array of arrays) {
    const what = array.part ?? (array.panels === undefined ? `array, ${array.size_kWp} kWp` : 'panel');
    lines.push(line(`${what}: ${array.name}`, array.panels ?? 1, array.price, lasts(array.life_years)));
    const { tracker } = array;
    if (tracker.price !== undefined || tracker.part !== undefined || builtIn === '') {
      lines.push(
        line(`${tracker.part ?? 'tracker'}: ${array.name}`, 1, tracker.price, lasts(tracker.life_years)),
      );
    }
  }
  lines.push(
    line(
      bank.part ?? 'battery module',
      bank.modules_parallel,
      bank.price,
      lasts(bank.life_years, bank.life_cycles),
    ),
    line(inverter.part ?? 'inverter', 1, inverter.price, lasts(inverter.life_years)),
  );
  if (
    charger !== undefined &&
    (charger.price !== undefined || charger.part !== undefined || builtIn === '')
  ) {
    lines.push(line(charger.part ?? 'charger', 1, charger.price, lasts(charger.life_years)));
  }
  if (generator !== undefined) {
    const life = lasts(generator.life_years, undefined, generator.life_h);
    lines.push(line(generator.part ?? 'generator', 1, generator.price, life));
  }
  const counts = {
    plant: 1,
    panel: arrays.reduce((sum, array) => sum + (array.panels ?? 0), 0),
    module: bank.modules_parallel,
    kWp: arrays.reduce((sum, array) => sum + array.size_kWp, 0),
    kWh: (bank.modules_parallel * bank.module.nominal_voltage_V * bank.module.capacity_Ah) / 1000,
  };
  for (const extra of money?.lines ?? []) lines.push(line(extra.name, counts[extra.per], extra.price));
  return billOf(lines);
}

/** On what terms the scenario wants its years added up; null without a `money` section. */
export function termsOf(scenario: Scenario): Terms | null {
  const { money, generator } = scenario;
  if (money === undefined) return null;
  return {
    years: money.years,
    discount_share_per_year: money.discount_share_per_year,
    fuel_price_per_L: money.fuel_price_per_L ?? null,
    service: generator?.service ?? null,
  };
}
