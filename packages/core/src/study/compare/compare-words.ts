import { refusal } from '../../basis/errors.ts';
import type { Notice } from '../../basis/notices.ts';
import { figureNamed } from '../../findings/figures/figures.ts';
import { annuity } from '../../money/lifetime.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { Compared, ComparedName, Contender } from './compare.ts';

const refuse = refusal.bind(null, 'compare');

/**
 * The one currency of all contenders that give prices; null if none does.
 *
 * @throws InputError if there are several, or two contenders have one label
 */
export function sameCurrency(contenders: readonly Contender[]): string | null {
  const labels = contenders.map((c) => c.label);
  const twice = labels.find((label, k) => labels.indexOf(label) !== k);
  if (twice !== undefined) {
    throw refuse('', `"${twice}" stands twice`, 'name each plant once');
  }
  const currencies = new Set(contenders.flatMap(({ scenario }) => scenario.money?.currency ?? []));
  if (currencies.size < 2) return [...currencies][0] ?? null;
  const [one, ...others] = currencies;
  throw refuse(
    'money.currency',
    `prices are in ${one} and in ${others.join(' and ')}`,
    'give all plants prices in one currency: nothing is converted',
  );
}

/** What of each contender is not used, because the first one's is. */
export function differences(contenders: readonly Contender[]): readonly Notice[] {
  const [first, ...others] = contenders;
  const hoursOf = ({ site, weather, loads, run }: Scenario) => ({
    // A site by another name has the same sun.
    site: { ...site, name: '' },
    weather,
    loads,
    run,
  });
  const termsFrom = contenders.find((c) => c.scenario.money !== undefined);
  const notices = others.flatMap(({ label, scenario }): Notice[] => {
    const [own, used] = [hoursOf(scenario), hoursOf(first!.scenario)];
    const differing = (['site', 'weather', 'loads', 'run'] as const).filter(
      (key) => JSON.stringify(own[key]) !== JSON.stringify(used[key]),
    );
    if (differing.length === 0) return [];
    return [
      {
        id: 'compare-shared-hours',
        message: `${label} has another ${differing.join(', another ')}: all plants are played with those of ${first!.label}`,
        count: differing.length,
      },
    ];
  });
  const terms = ['years', 'discount_share_per_year', 'fuel_price_per_L', 'shore_price_per_kWh'] as const;
  for (const { label, scenario } of contenders) {
    const { money } = scenario;
    if (money === undefined || termsFrom?.scenario.money === undefined) continue;
    const used = termsFrom.scenario.money;
    const differing = terms.filter(
      (key) => used[key] !== undefined && money[key] !== undefined && money[key] !== used[key],
    );
    if (differing.length === 0) continue;
    notices.push({
      id: 'compare-shared-terms',
      message: `${label} has another ${differing.map((key) => `money.${key}`).join(', another ')}: costs are added up as ${termsFrom.label} says`,
      count: differing.length,
    });
  }
  return notices;
}

const amount = (value: number): string => {
  const size = Math.abs(value);
  if (size >= 99.95)
    return Math.round(value)
      .toString()
      .replace(/\B(?=(\d{3})+$)/g, size >= 9999.5 ? ',' : '');
  return size >= 9.995 ? value.toFixed(1) : value.toFixed(2);
};

/** Differences below this are the rounding of sums. */
const NOTHING = 1e-6;

/** A sentence for each plant that is dearer to buy than the cheapest, and one for what has no price. */
export function whatTheDearerBuys(plants: readonly Compared[], currency: string | null): readonly string[] {
  if (currency === null) return [];
  const unpriced = plants.filter((plant) => plant.bill.capital === null);
  const priced = plants
    .filter((plant) => plant.bill.capital !== null)
    .sort((a, b) => a.bill.capital! - b.bill.capital!);
  const [cheapest, ...dearer] = priced;
  const sentences = dearer.map((plant) => sentence(plant, cheapest!, currency));
  return [
    ...sentences,
    ...unpriced.map(
      (plant) => `${plant.label} has no total: no price for ${plant.bill.unpriced.join(', ')}.`,
    ),
  ];
}

function sentence(plant: Compared, cheapest: Compared, currency: string): string {
  const more = plant.bill.capital! - cheapest.bill.capital!;
  const price =
    more <= NOTHING
      ? `costs as much to buy as ${cheapest.label}`
      : `costs ${amount(more)} ${currency} more to buy than ${cheapest.label}` +
        (cheapest.bill.capital! > 0 ? ` (${((100 * more) / cheapest.bill.capital!).toFixed(0)} % more)` : '');
  const { gains, losses } = exchange(plant, cheapest);
  const unmet = unmetOf(cheapest) - unmetOf(plant);
  if (unmet > NOTHING && more > NOTHING)
    gains[0] += ` (${amount(more / unmet)} ${currency} to buy for each of them)`;
  const parts = [
    `${plant.label} ${price}.`,
    gains.length === 0 ? 'It buys nothing of what is compared here.' : `It buys ${list(gains)}.`,
    ...(losses.length === 0 ? [] : [`It gives up ${list(losses)}.`]),
    ...overTheYears(plant, cheapest, currency),
  ];
  return parts.join(' ');
}

const list = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

const unmetOf = (plant: Compared): number => plant.figures.get('unmet.energy_kWh')!;

/** What a plant may have over another, and what it then lacks, in words behind the difference; unserved energy first. */
const EXCHANGED: readonly (readonly [name: ComparedName, gain: string, loss: string])[] = [
  ['unmet.energy_kWh', 'kWh a year less unserved', 'kWh a year more unserved'],
  ['generator.run_hours', 'h a year less of generator running', 'h a year more of generator running'],
  ['generator.fuel_L', 'L a year less fuel', 'L a year more fuel'],
  ['shore.energy_kWh', 'kWh a year less shore power', 'kWh a year more shore power'],
  ['bank.usable_kWh', 'kWh more usable bank', 'kWh of usable bank'],
  ['limits.ac_output.after_inverter_loss_kW', 'kW more AC output', 'kW of AC output'],
  ['limits.solar_charging.figure_kW', 'kW more solar charging', 'kW of solar charging'],
];

/** What the first has over the second, and what it lacks. */
function exchange(plant: Compared, other: Compared): { gains: string[]; losses: string[] } {
  const gains: string[] = [];
  const losses: string[] = [];
  for (const [name, gain, loss] of EXCHANGED) {
    const more = (plant.figures.get(name) ?? 0) - (other.figures.get(name) ?? 0);
    const ahead = figureNamed(name).better === 'less' ? -more : more;
    if (ahead > NOTHING) gains.push(`${amount(ahead)} ${gain}`);
    else if (ahead < -NOTHING) losses.push(`${amount(-ahead)} ${loss}`);
  }
  return { gains, losses };
}

function overTheYears(plant: Compared, other: Compared, currency: string): string[] {
  const [total, otherTotal] = [plant, other].map(({ report }) => report.money?.total ?? null);
  if (total == null || otherTotal == null || plant.terms === null) return [];
  const { years, discount_share_per_year } = plant.terms;
  const over = total - otherTotal;
  const span = `over ${years === 1 ? 'one year' : `${years} years`}`;
  if (Math.abs(over) <= NOTHING) return [`${capital(span)} both cost the same.`];
  const said = `${capital(span)} it costs ${amount(Math.abs(over))} ${currency} ${over > 0 ? 'more' : 'less'}`;
  const saved_L = (other.figures.get('generator.fuel_L') ?? 0) - (plant.figures.get('generator.fuel_L') ?? 0);
  const price =
    (other.terms?.fuel_price_per_L ?? 0) + over / (saved_L * annuity(years, discount_share_per_year));
  // Where less fuel is what the money buys, the price of fuel decides.
  return [
    saved_L > NOTHING && price > 0
      ? `${said}; both would cost the same with fuel at ${amount(price)} ${currency} a litre.`
      : `${said}.`,
  ];
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
