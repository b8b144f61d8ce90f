import { figureNamed } from '../../findings/figures/figures.ts';
import type { Report } from '../../findings/report.ts';
import type { Danger } from '../../findings/static/dangers.ts';
import type { StaticLimits } from '../../findings/static/limits.ts';
import type { Bill } from '../../money/bill.ts';
import { annuity, type Terms } from '../../money/lifetime.ts';
import type { Judged } from '../size/judge.ts';
import type { ComparedFigures, ComparedName } from './figures.ts';

/** A plant as it was played beside the others. */
export interface Compared {
  readonly label: string;
  readonly limits: StaticLimits;
  /** Of the first plant's own year. */ readonly figures: ComparedFigures;
  /** The mean of the years that were asked for; without them the same. */ readonly mean: ComparedFigures;
  /** By what is required, in those years. */ readonly judged: Judged;
  /** Of all years, each as far beyond its limit as it gets. */ readonly dangers: readonly Danger[];
  readonly bill: Bill;
  /** Null without a `money` section. */
  readonly terms: Terms | null;
  /** Of the first plant's own year. */ readonly report: Report;
}

/** What a plant may have over another; unmet energy first. */
const EXCHANGED = [
  'unmet.energy_kWh',
  'generator.run_hours',
  'generator.fuel_L',
  'shore.energy_kWh',
  'bank.usable_kWh',
  'limits.ac_output.after_inverter_loss_kW',
  'limits.solar_charging.figure_kW',
] as const satisfies readonly ComparedName[];

/** What a plant buys over the cheapest. Money is in the one currency of all. */
export interface Dearer {
  readonly label: string;
  /** Label of the cheapest to buy. */
  readonly than: string;
  /** 0 if both cost the same to buy. */
  readonly more_to_buy: number;
  /** Of what the cheapest costs; null if that is nothing. */
  readonly more_share: number | null;
  /** What it has over the cheapest: ahead by so much in the unit of the figure, or behind where it is negative. */
  readonly exchanged: readonly { readonly name: (typeof EXCHANGED)[number]; readonly ahead: number }[];
  /** To buy, for each kWh a year less unmet; null where it costs no more, or leaves no less. */
  readonly per_unmet_kWh: number | null;
  /** Null where a sum is not known. */
  readonly over_years: null | {
    readonly years: number;
    /** 0 if both cost the same. */
    readonly more: number;
    /** Price of a litre today at which both would cost the same; null where it saves no fuel, or no price does. */
    readonly even_at_fuel_price_per_L: number | null;
  };
}

/** Differences below this are the rounding of sums. */
const NOTHING = 1e-6;
const orNothing = (difference: number): number => (Math.abs(difference) <= NOTHING ? 0 : difference);

/** What each plant buys that is dearer than the cheapest, least first; those without a price have no place in it. */
export function whatTheDearerBuys(plants: readonly Compared[]): readonly Dearer[] {
  const [cheapest, ...dearer] = plants
    .filter(({ bill }) => bill.capital !== null)
    .sort((a, b) => a.bill.capital! - b.bill.capital!);
  return dearer.map((plant) => {
    const more_to_buy = orNothing(plant.bill.capital! - cheapest!.bill.capital!);
    const exchanged = exchange(plant, cheapest!);
    const less_kWh = exchanged.find(({ name }) => name === 'unmet.energy_kWh')?.ahead ?? 0;
    return {
      label: plant.label,
      than: cheapest!.label,
      more_to_buy,
      more_share: cheapest!.bill.capital! > 0 ? more_to_buy / cheapest!.bill.capital! : null,
      exchanged,
      per_unmet_kWh: less_kWh > 0 && more_to_buy > 0 ? more_to_buy / less_kWh : null,
      over_years: overTheYears(plant, cheapest!),
    };
  });
}

const exchange = (plant: Compared, other: Compared): Dearer['exchanged'] =>
  EXCHANGED.map((name) => {
    const more = (plant.mean[name] ?? 0) - (other.mean[name] ?? 0);
    return { name, ahead: orNothing(figureNamed(name).better === 'less' ? -more : more) };
  }).filter(({ ahead }) => ahead !== 0);

function overTheYears(plant: Compared, other: Compared): Dearer['over_years'] {
  const [total, otherTotal] = [plant, other].map(({ mean }) => mean['money.total']);
  if (total == null || otherTotal == null || plant.terms === null) return null;
  const { years, discount_share_per_year, fuel_price_growth_share_per_year } = plant.terms;
  const more = orNothing(total - otherTotal);
  const saved_L = (other.mean['generator.fuel_L'] ?? 0) - (plant.mean['generator.fuel_L'] ?? 0);
  const present_L = saved_L * annuity(years, discount_share_per_year, fuel_price_growth_share_per_year);
  const price = (other.terms?.fuel_price_per_L ?? 0) + more / present_L;
  // Where less fuel is what the money buys, the price of fuel decides.
  return { years, more, even_at_fuel_price_per_L: saved_L > NOTHING && price > 0 ? price : null };
}
