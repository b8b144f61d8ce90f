import type { Scenario } from '../../scenario/schema/schema.ts';
import type { Compared } from './dearer.ts';
import { winnersAmong } from './winners.ts';

/** What plants are compared by, as they differ in their bank alone, in what passes power alone, or in more than that. */
export type AskedKind = 'store' | 'power' | 'plant';

/** A price over what it buys. */
export interface AskedRow {
  readonly name:
    | 'bank.price_per_usable_kWh'
    | 'power.price_per_output_kW'
    | 'power.price_per_solar_charging_kW'
    | 'plant.cost_per_served_kWh';
  /** What it is for: `kWh` or `kW`, behind the currency. */ readonly per: 'kWh' | 'kW';
  /** One a plant; null where a price is missing or nothing is bought. */
  readonly values: readonly (number | null)[];
  /** Plants with the least of those that can be compared; none where there are no two, or all are alike. */
  readonly winners: readonly number[];
}

/** What a comparison is about. */
export interface Asked {
  readonly kind: AskedKind;
  /** Empty without prices. */ readonly rows: readonly AskedRow[];
}

/** Parts of a plant by what they do; what is bought beside them goes with the whole plant. */
const PARTS = [
  'arrays',
  'bank',
  'inverter',
  'charger',
  'generator',
  'shore',
  'alternator',
  'shedding',
] as const;

/** In which parts some plants differ, trackers counted as power and not as arrays. */
export function kindOf(scenarios: readonly Scenario[]): AskedKind {
  const differ = (part: (scenario: Scenario) => unknown): boolean =>
    new Set(scenarios.map((scenario) => JSON.stringify(part(scenario)) ?? '')).size > 1;
  const differing = PARTS.filter((key) =>
    differ(
      key === 'arrays' ? ({ arrays }) => arrays.map(({ tracker: _, ...array }) => array) : (one) => one[key],
    ),
  );
  const trackers = differ(({ arrays }) => arrays.map(({ tracker }) => tracker));
  if (differing.length === 1 && differing[0] === 'bank' && !trackers) return 'store';
  const isPower = differing.every((key) => key === 'inverter' || key === 'charger');
  return isPower && (trackers || differing.length > 0) ? 'power' : 'plant';
}

/**
 * Compares plants by what was asked: banks alone per usable kWh, inverters, chargers and trackers alone per kW of output
 * and of solar charging, whole plants by their cost over the years per kWh served. A plant that is a danger is never the
 * best, nor in cost one that misses what is required.
 */
export function askedOf(scenarios: readonly Scenario[], plants: readonly Compared[]): Asked {
  const kind = kindOf(scenarios);
  if (scenarios.every(({ money }) => money === undefined)) return { kind, rows: [] };
  const row = (
    name: AskedRow['name'],
    per: AskedRow['per'],
    price: (k: number) => number | null,
    bought: (plant: Compared) => number,
    may: (plant: Compared) => boolean = () => true,
  ): AskedRow => {
    const values = plants.map((plant, k) => over(price(k), bought(plant)));
    const able = plants.map((plant) => plant.dangers.length === 0 && may(plant));
    return { name, per, values, winners: winnersAmong(values, 'less', able) };
  };
  const store = (k: number) => storePrice(scenarios[k]!);
  const power = (k: number) => powerPrice(scenarios[k]!);
  switch (kind) {
    case 'store':
      return {
        kind,
        rows: [row('bank.price_per_usable_kWh', 'kWh', store, ({ limits }) => limits.usable_kWh)],
      };
    case 'power':
      return {
        kind,
        rows: [
          row(
            'power.price_per_output_kW',
            'kW',
            power,
            ({ limits }) => limits.ac_output.after_inverter_loss_kW,
          ),
          row(
            'power.price_per_solar_charging_kW',
            'kW',
            power,
            ({ limits }) => limits.solar_charging.figure_kW ?? 0,
          ),
        ],
      };
    case 'plant': {
      const cost = (k: number) => plants[k]!.mean['money.per_served_kWh'];
      const holds = ({ judged }: Compared) => judged.keeps;
      return { kind, rows: [row('plant.cost_per_served_kWh', 'kWh', cost, () => 1, holds)] };
    }
  }
}

const over = (price: number | null, bought: number): number | null =>
  price === null || bought <= 0 ? null : price / bought;

const sumOf = (prices: readonly (number | undefined)[]): number | null =>
  prices.some((price) => price === undefined) ? null : prices.reduce<number>((sum, price) => sum + price!, 0);

/** The bank with what is bought for each module or kWh of it; null where a price is missing. */
function storePrice({ bank, money }: Scenario): number | null {
  if (money === undefined) return null;
  const count = bank.modules_parallel;
  const of = { module: count, kWh: (count * bank.module.nominal_voltage_V * bank.module.capacity_Ah) / 1000 };
  return sumOf([
    bank.price === undefined ? undefined : count * bank.price,
    ...money.lines.flatMap(({ per, price }) => (per === 'module' || per === 'kWh' ? [of[per] * price] : [])),
  ]);
}

/** Inverter, charger and trackers; those that an all-in-one brings are paid with it. Null where a price is missing. */
function powerPrice({ inverter, charger, arrays, money }: Scenario): number | null {
  if (money === undefined) return null;
  const own = [...(charger === undefined ? [] : [charger]), ...arrays.map(({ tracker }) => tracker)].filter(
    ({ part }) => part === undefined || part !== inverter.part,
  );
  return sumOf([inverter.price, ...own.map(({ price }) => price)]);
}
