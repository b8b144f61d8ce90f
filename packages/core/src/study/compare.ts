import { InputError } from '../basis/errors.ts';
import type { Notice } from '../basis/notices.ts';
import { staticLimits } from '../findings/limits.ts';
import type { StaticLimits } from '../findings/report.ts';
import type { Bill } from '../money/bill.ts';
import { billOfScenario, termsOf } from '../money/of-scenario.ts';
import { plantOf } from '../plant/plant.ts';
import type { Scenario } from '../scenario/schema.ts';
import type { FileTexts } from '../series/types.ts';
import { FIGURES, type FigureName, type Figures, newPlayer } from './play.ts';

/** A plant to be put beside others. */
export interface Contender {
  /** What to call it: its file. */
  readonly label: string;
  readonly scenario: Scenario;
}

/** One figure of all contenders. */
export interface CompareRow {
  readonly name: string;
  readonly unit: string;
  readonly meaning: string;
  /** One a contender; null where it has no such figure. */
  readonly values: readonly (number | null)[];
  /** Which end is better; null where neither is. */
  readonly better: 'less' | 'more' | null;
  /** Contenders with the best value, if not all have it. */
  readonly winners: readonly number[];
}

export interface Comparison {
  readonly labels: readonly string[];
  readonly rows: readonly CompareRow[];
  readonly limits: readonly StaticLimits[];
  readonly bills: readonly Bill[];
  readonly figures: readonly Figures[];
  /** What each dearer plant buys over the cheapest. */
  readonly sentences: readonly string[];
  readonly notices: readonly Notice[];
}

const BETTER: Readonly<Partial<Record<string, 'less' | 'more'>>> = {
  'unmet.energy_kWh': 'less',
  'unmet.share': 'less',
  'unmet.hours': 'less',
  'unmet.longest_hours': 'less',
  'generator.run_hours': 'less',
  'generator.starts': 'less',
  'generator.fuel_L': 'less',
  'bank.lowest_soc': 'more',
  'bank.usable_kWh': 'more',
  'autonomy.nominal_days': 'more',
  'autonomy.dark_hours.least': 'more',
  'array.curtailed_share': 'less',
  'load.served_kWh': 'more',
  'money.capital': 'less',
  'money.total': 'less',
  'money.per_served_kWh': 'less',
  'money.per_usable_kWh': 'less',
  'money.per_output_kW': 'less',
  'limits.ac_output_kW': 'more',
  'limits.solar_charging_kW': 'more',
  'limits.ac_charging_kW': 'more',
};

/**
 * Plays plants side by side over the same hours: site, weather, loads and run of the first. Each keeps its own arrays,
 * bank, inverter, charger, generator and prices.
 *
 * @param texts text of every series file that the first scenario names
 * @throws InputError if there are fewer than two, or their currencies differ
 */
export function comparePlants(contenders: readonly Contender[], texts: FileTexts): Comparison {
  const [first] = contenders;
  if (first === undefined || contenders.length < 2) {
    throw new InputError([
      {
        code: 'compare',
        path: '',
        message: 'there is nothing to compare with',
        fix: 'name two scenario files or more',
      },
    ]);
  }
  sameCurrency(contenders);
  const play = newPlayer(first.label, texts);
  const shared = contenders.map(({ scenario }) => ({
    ...scenario,
    site: first.scenario.site,
    weather: first.scenario.weather,
    loads: first.scenario.loads,
    run: {
      ...first.scenario.run,
      start_soc: Math.max(first.scenario.run.start_soc, scenario.bank.floor_soc),
    },
  }));
  const figures = shared.map(play);
  const plants = shared.map(plantOf);
  const limits = plants.map(staticLimits);
  const bills = shared.map(billOfScenario);
  const capital = figures.map((f) => f['money.capital']);
  const per = (whole: number | null, part: number): number | null =>
    whole === null || part <= 0 ? null : whole / part;

  const rows: CompareRow[] = [
    row(
      'limits.ac_output_kW',
      'kW',
      'continuous AC output after inverter losses',
      limits.map((l) => l.ac_output.after_inverter_loss_kW),
    ),
    row(
      'limits.solar_charging_kW',
      'kW',
      'most that sun puts into the bank',
      limits.map((l) => l.solar_charging.figure_kW),
    ),
    row(
      'limits.ac_charging_kW',
      'kW',
      'most that the charger puts into the bank',
      limits.map((l) => l.ac_charging.figure_kW),
    ),
    ...FIGURES.map(({ name, unit, meaning }) =>
      row(
        name,
        unit,
        meaning,
        figures.map((f) => f[name as FigureName]),
      ),
    ),
    row(
      'money.per_usable_kWh',
      'money/kWh',
      'capital over usable bank',
      figures.map((f, k) => per(capital[k]!, f['bank.usable_kWh']!)),
    ),
    row(
      'money.per_output_kW',
      'money/kW',
      'capital over continuous AC output',
      limits.map((l, k) => per(capital[k]!, l.ac_output.after_inverter_loss_kW)),
    ),
  ];
  return {
    labels: contenders.map((c) => c.label),
    rows,
    limits,
    bills,
    figures,
    sentences: whatTheDearerBuys(contenders, figures),
    notices: differences(contenders),
  };
}

function row(name: string, unit: string, meaning: string, values: readonly (number | null)[]): CompareRow {
  const better = BETTER[name] ?? null;
  const known = values.filter((value) => value !== null);
  const best = better === 'less' ? Math.min(...known) : Math.max(...known);
  const winners =
    better === null || known.length < 2 ? [] : values.flatMap((value, k) => (value === best ? [k] : []));
  return { name, unit, meaning, values, better, winners: winners.length === values.length ? [] : winners };
}

function sameCurrency(contenders: readonly Contender[]): void {
  const currencies = new Set(contenders.flatMap(({ scenario }) => scenario.money?.currency ?? []));
  if (currencies.size < 2) return;
  throw new InputError([
    {
      code: 'compare',
      path: 'money.currency',
      message: `prices are in ${[...currencies].join(' and ')}`,
      fix: 'give all plants prices in one currency: nothing is converted',
    },
  ]);
}

/** Sections in which a contender differs from the first and that are not used. */
function differences(contenders: readonly Contender[]): readonly Notice[] {
  const [first, ...others] = contenders;
  return others.flatMap(({ label, scenario }): Notice[] => {
    const differing = (['site', 'weather', 'loads', 'run'] as const).filter(
      (key) => JSON.stringify(scenario[key]) !== JSON.stringify(first!.scenario[key]),
    );
    if (differing.length === 0) return [];
    return [
      {
        id: 'compare-shared-hours',
        message: `${label} has another ${differing.join(', ')}: all plants are played with those of ${first!.label}`,
        count: differing.length,
      },
    ];
  });
}

const amount = (value: number): string =>
  Math.abs(value) >= 100 ? Math.round(value).toString() : Number(value.toPrecision(3)).toString();

function whatTheDearerBuys(contenders: readonly Contender[], figures: readonly Figures[]): readonly string[] {
  const priced = figures
    .map((f, k) => ({ k, capital: f['money.capital'] }))
    .filter((p): p is { k: number; capital: number } => p.capital !== null)
    .sort((a, b) => a.capital - b.capital || a.k - b.k);
  const [cheapest, ...dearer] = priced;
  if (cheapest === undefined) return [];
  const currency = contenders.flatMap(({ scenario }) => scenario.money?.currency ?? [])[0] ?? '';
  const low = figures[cheapest.k]!;
  const lowLabel = contenders[cheapest.k]!.label;
  return dearer.map(({ k, capital }) => {
    const high = figures[k]!;
    const more = capital - cheapest.capital;
    const label = contenders[k]!.label;
    const price = more === 0 ? 'costs the same as' : `costs ${amount(more)} ${currency} more to buy than`;
    const unmet = low['unmet.energy_kWh']! - high['unmet.energy_kWh']!;
    const run_h = (low['generator.run_hours'] ?? 0) - (high['generator.run_hours'] ?? 0);
    const gains: string[] = [];
    if (unmet > 1e-6) {
      const each = more > 0 ? ` (${amount(more / unmet)} ${currency} per kWh a year)` : '';
      gains.push(`leaves ${amount(unmet)} kWh a year less unserved${each}`);
    } else if (unmet < -1e-6) gains.push(`leaves ${amount(-unmet)} kWh a year more unserved`);
    else gains.push('leaves no less unserved');
    if (run_h > 1e-6) gains.push(`runs a generator ${amount(run_h)} h a year less`);
    else if (run_h < -1e-6) gains.push(`runs a generator ${amount(-run_h)} h a year more`);
    const [lowTotal, highTotal] = [low['money.total'], high['money.total']];
    const terms = termsOf(contenders[k]!.scenario);
    if (lowTotal !== null && highTotal !== null && terms !== null) {
      const over = highTotal - lowTotal;
      gains.push(
        over <= 0
          ? `costs ${amount(-over)} ${currency} less over ${terms.years} years`
          : `costs ${amount(over)} ${currency} more over ${terms.years} years`,
      );
    }
    return `${label} ${price} ${lowLabel}: it ${gains.join(', ')}.`;
  });
}
