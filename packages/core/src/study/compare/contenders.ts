import { refusal } from '../../basis/errors.ts';
import type { FoundIn } from '../../basis/notices.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';

const refuse = refusal.bind(null, 'compare');

/** A plant to be put beside others. */
export interface Contender {
  /** What to call it. */
  readonly label: string;
  /** Checked, parts filled in. */
  readonly scenario: Scenario;
}

const HOURS = ['site', 'weather', 'loads', 'run'] as const;
const TERMS = [
  'years',
  'discount_share_per_year',
  'fuel_price_per_L',
  'shore_price_per_kWh',
  'fuel_price_growth_share_per_year',
  'shore_price_growth_share_per_year',
  'residual_share',
] as const;

/** What of a contender is not used, because another one's is: sections of its scenario, keys of its `money`. */
export type DifferenceNotice = FoundIn<{
  'compare-shared-hours': { label: string; differing: readonly (typeof HOURS)[number][]; used: string };
  'compare-shared-terms': { label: string; differing: readonly (typeof TERMS)[number][]; used: string };
}>;

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
export function differences(contenders: readonly Contender[]): readonly DifferenceNotice[] {
  const [first, ...others] = contenders;
  const hoursOf = ({ site, weather, loads, run }: Scenario) => ({
    // A site by another name has the same sun.
    site: { ...site, name: '' },
    weather,
    loads,
    run,
  });
  const termsFrom = contenders.find((c) => c.scenario.money !== undefined);
  const notices = others.flatMap(({ label, scenario }): DifferenceNotice[] => {
    const [own, used] = [hoursOf(scenario), hoursOf(first!.scenario)];
    const differing = HOURS.filter((key) => JSON.stringify(own[key]) !== JSON.stringify(used[key]));
    if (differing.length === 0) return [];
    return [{ id: 'compare-shared-hours', values: { label, differing, used: first!.label } }];
  });
  for (const { label, scenario } of contenders) {
    const { money } = scenario;
    if (money === undefined || termsFrom?.scenario.money === undefined) continue;
    const used = termsFrom.scenario.money;
    const differing = TERMS.filter(
      (key) => used[key] !== undefined && money[key] !== undefined && money[key] !== used[key],
    );
    if (differing.length > 0)
      notices.push({ id: 'compare-shared-terms', values: { label, differing, used: termsFrom.label } });
  }
  return notices;
}
