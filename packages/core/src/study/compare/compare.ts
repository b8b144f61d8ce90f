import { type Issue, refusal } from '../../basis/errors.ts';
import type { FoundIn } from '../../basis/notices.ts';
import type { Figure } from '../../findings/figures/figure.ts';
import { type FigureName, figureNamed } from '../../findings/figures/figures.ts';
import { figuresOfReport } from '../../findings/figures/of-report.ts';
import { findings } from '../../findings/findings.ts';
import { playYear } from '../../hours/play.ts';
import { billOfScenario, termsOf } from '../../money/of-scenario.ts';
import { plantOf } from '../../plant/plant.ts';
import { checkScenario } from '../../scenario/rules/check.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { newYearPreparer } from '../../year.ts';
import { HEADLINE } from '../designs/headline.ts';
import { studyNotices } from '../designs/notices.ts';
import type { OnPlayed } from '../on-played.ts';
import { type Asked, askedOf } from './asked.ts';
import { type Contender, type DifferenceNotice, differences, sameCurrency } from './contenders.ts';
import { type Compared, type Dearer, whatTheDearerBuys } from './dearer.ts';
import { winnersAmong } from './winners.ts';

/** One figure of all contenders. */
export interface CompareRow extends Pick<Figure, 'unit' | 'meaning' | 'better'> {
  readonly name: ComparedName;
  /** One a contender; null where it has no such figure. */
  readonly values: readonly (number | null)[];
  /** Contenders with the best value of those that can be the best; empty if all of them have it, or only one has any. */
  readonly winners: readonly number[];
}

/** Plants side by side. */
export interface Comparison {
  /** In the order given. */ readonly plants: readonly Compared[];
  /** Figure by figure. */ readonly rows: readonly CompareRow[];
  /** What they differ in, and its price over what it buys. */ readonly asked: Asked;
  /** The word for money in all prices; null if nobody gives any. */ readonly currency: string | null;
  /** What each dearer plant buys over the cheapest; empty without prices. */ readonly dearer: readonly Dearer[];
  /** What is said beside it. */ readonly notices: readonly CompareNotice[];
}

/** What is said beside a comparison. */
export type CompareNotice = DifferenceNotice | MisfitNotice | ReturnType<typeof studyNotices>[number];

/** What a contender can't do with the first one's loads, and is played as if it could. */
type MisfitNotice = FoundIn<{
  'compare-misfit': {
    label: string;
    loads_of: string;
    issues: readonly Pick<Issue, 'path' | 'message'>[];
  };
}>;

/** The figures that plants are compared by, in the order of the rows. */
const COMPARED = [
  'limits.ac_output.after_inverter_loss_kW',
  'limits.solar_charging.figure_kW',
  'limits.ac_charging.figure_kW',
  ...HEADLINE,
  'shore.energy_kWh',
  'alternator.energy_kWh',
  'money.capital',
  'money.replacements',
  'money.fuel',
  'money.shore',
  'money.service',
  'money.total',
  'money.per_served_kWh',
] as const satisfies readonly FigureName[];

/** Name of a figure that plants are compared by. */
export type ComparedName = (typeof COMPARED)[number];

/**
 * Plays plants side by side over the same hours: site, weather, loads and run of the first. Each keeps its own arrays,
 * bank, inverter, charger, generator and prices; years, discount and prices of fuel and shore power are those of the
 * first that gives any.
 *
 * @param texts text of every series file that the first scenario names
 * @param onPlayed told how many plants have been played, after each
 * @throws InputError if there are fewer than two, two have one label, or their currencies differ
 */
export function comparePlants(
  contenders: readonly Contender[],
  texts: FileTexts,
  onPlayed: OnPlayed = () => {},
): Comparison {
  const [first] = contenders;
  if (first === undefined || contenders.length < 2) {
    throw refusal('compare', '', 'there is nothing to compare with', 'name two scenario files or more');
  }
  const currency = sameCurrency(contenders);
  const yearOf = newYearPreparer(first.label, texts);
  const scenarios = contenders.map(({ scenario }) => overTheSameHours(scenario, contenders));
  const plants = contenders.map(({ label }, k): Compared => {
    const shared = scenarios[k]!;
    const year = yearOf(shared);
    const plant = plantOf(shared);
    const report = findings(playYear(year, plant));
    onPlayed(k + 1, contenders.length);
    return {
      label,
      limits: report.limits,
      figures: figuresOfReport(report),
      bill: billOfScenario(shared),
      terms: termsOf(shared),
      report,
    };
  });
  return {
    plants,
    rows: rowsOf(plants),
    asked: askedOf(scenarios, plants),
    currency,
    dearer: currency === null ? [] : whatTheDearerBuys(plants),
    notices: [
      ...differences(contenders),
      ...misfits(contenders),
      ...onceEach(scenarios.flatMap(studyNotices)),
    ],
  };
}

/** What a contender can't do with the first one's loads: a voltage it does not give, a tier that is not there. */
function misfits(contenders: readonly Contender[]): readonly MisfitNotice[] {
  const [first, ...others] = contenders;
  return others.flatMap(({ label, scenario }): MisfitNotice[] => {
    const found = checkScenario(overTheSameHours(scenario, contenders)).filter(
      // On one leg all loads hang on the same.
      ({ path }) => !(path.endsWith('.leg') && scenario.inverter.legs === 1),
    );
    if (found.length === 0) return [];
    const issues = found.map(({ path, message }) => ({ path, message }));
    return [{ id: 'compare-misfit', values: { label, loads_of: first!.label, issues } }];
  });
}

/** A contender's parts over the hours and on the terms of the first. */
function overTheSameHours(scenario: Scenario, contenders: readonly Contender[]): Scenario {
  const { site, weather, loads, run } = contenders[0]!.scenario;
  const terms = contenders.find((c) => c.scenario.money !== undefined)?.scenario.money;
  const money = scenario.money;
  return {
    ...scenario,
    site,
    weather,
    loads,
    run:
      run.initial_soc === undefined
        ? run
        : { ...run, initial_soc: Math.max(run.initial_soc, scenario.bank.floor_soc) },
    ...(money === undefined || terms === undefined
      ? {}
      : {
          money: {
            ...money,
            years: terms.years,
            discount_share_per_year: terms.discount_share_per_year,
            fuel_price_growth_share_per_year: terms.fuel_price_growth_share_per_year,
            shore_price_growth_share_per_year: terms.shore_price_growth_share_per_year,
            residual_share: terms.residual_share,
            fuel_price_per_L: terms.fuel_price_per_L ?? money.fuel_price_per_L,
            shore_price_per_kWh: terms.shore_price_per_kWh ?? money.shore_price_per_kWh,
          },
        }),
  };
}

/** A plant that leaves load unmet spends less for it: in what is spent it is never the best. */
const isSpent = (name: string): boolean => name.startsWith('money.');

const rowsOf = (plants: readonly Compared[]): readonly CompareRow[] =>
  COMPARED.map((name) => {
    const { unit, meaning, better } = figureNamed(name);
    const values = plants.map((plant) => plant.figures.get(name) ?? null);
    const able = plants.map(
      ({ report: { verdict, dangers } }) => !isSpent(name) || (verdict.holds && dangers.length === 0),
    );
    return { name, unit, meaning, values, better, winners: winnersAmong(values, better, able) };
  });

/** Plants that are alike in what a notice says are told of once. */
const onceEach = <N extends CompareNotice>(notices: readonly N[]): readonly N[] => [
  ...new Map(notices.map((notice) => [JSON.stringify(notice), notice])).values(),
];
