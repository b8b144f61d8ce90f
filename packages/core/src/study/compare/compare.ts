import { expectArgument } from '../../basis/arguments.ts';
import { type Issue, refusal } from '../../basis/errors.ts';
import type { FoundIn } from '../../basis/notices.ts';
import { findings } from '../../findings/findings.ts';
import { worstDangers } from '../../findings/static/dangers.ts';
import { playYear } from '../../hours/play.ts';
import { billOfScenario, termsOf } from '../../money/of-scenario.ts';
import { checkScenario } from '../../scenario/rules/check.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { newYearPreparer } from '../../year.ts';
import { studyNotices } from '../designs/notices.ts';
import { newFigureReader, newYearPlayer } from '../designs/play.ts';
import type { OnPlayed } from '../on-played.ts';
import { type Judge, type JudgeAsk, judgeOf, judgeYears } from '../size/judge.ts';
import { inYear, type PossibleYear } from '../years/possible-years.ts';
import { type Asked, askedOf } from './asked.ts';
import { type Contender, type DifferenceNotice, differences, sameCurrency } from './contenders.ts';
import { type Compared, type Dearer, whatTheDearerBuys } from './dearer.ts';
import { COMPARED, comparedOf, type Told, toldOf, winnersIn } from './figures.ts';
import { type CompareYears, meanOf, overTheYears } from './in-years.ts';

/** One figure of all contenders. */
export interface CompareRow extends Told {
  /** One a contender; null where it has no such figure. */
  readonly values: readonly (number | null)[];
  /** Contenders with the best value of those that can be the best; empty if all of them have it, or only one has any. */
  readonly winners: readonly number[];
}

/** Plants side by side. */
export interface Comparison {
  /** In the order given. */ readonly plants: readonly Compared[];
  /** What they are judged by, and in which years. */ readonly judge: Judge;
  /** Figure by figure, of the first plant's own year. */ readonly rows: readonly CompareRow[];
  /** How they fare over the years that were asked for; null without. */ readonly over_years: CompareYears | null;
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

/**
 * Plays plants side by side over the same hours: site, weather, loads and run of the first. Each keeps its own arrays,
 * bank, inverter, charger, generator and prices; years, discount and prices of fuel and shore power are those of the
 * first that gives any. If years are asked for, all are played in the same ones.
 *
 * @param texts text of every series file that the first scenario names
 * @param ask in which years the plants are judged, and by what; left out, in the first one's own, by nothing unmet
 * @param onPlayed told how many plants have been played, after each
 * @throws InputError if there are fewer than two, two have one label, or their currencies differ
 */
export function comparePlants(
  contenders: readonly Contender[],
  texts: FileTexts,
  ask: JudgeAsk = {},
  onPlayed: OnPlayed = () => {},
): Comparison {
  expectArgument('comparePlants', 'contenders', contenders, 'list');
  expectArgument('comparePlants', 'texts', texts, 'map');
  contenders.forEach((one, k) => {
    expectArgument('comparePlants', `contenders[${k}].scenario`, one?.scenario, 'scenario');
  });
  const [first] = contenders;
  if (first === undefined || contenders.length < 2) {
    throw refusal('compare', '', 'there is nothing to compare with', 'name two scenario files or more');
  }
  const currency = sameCurrency(contenders);
  const judge = judgeOf(ask);
  const { years } = judge;
  const scenarios = contenders.map(({ scenario }) => overTheSameHours(scenario, contenders));
  const play = newYearPlayer(newYearPreparer(first.label, texts), playYear);
  const figuresOf = newFigureReader();
  let played = 0;
  const playIn = (year: PossibleYear | undefined) => (scenario: Scenario) => {
    const { ledger } = play(inYear(scenario, year));
    const report = findings(ledger);
    onPlayed(++played, contenders.length * (1 + years.length));
    return { report, compared: comparedOf(report), figures: figuresOf(ledger) };
  };
  const own = scenarios.map(playIn(undefined));
  // Year by year and not plant by plant: a sky is drawn once, however many years there are.
  const inYears = years.map((year) =>
    scenarios.map(playIn(year)).map(({ report: { dangers }, ...figures }) => ({ dangers, ...figures })),
  );
  const plants = contenders.map(({ label }, k): Compared => {
    const { report, compared, figures } = own[k]!;
    const judged = inYears.map((plants) => plants[k]!);
    return {
      label,
      limits: report.limits,
      figures: compared,
      mean: judged.length === 0 ? compared : meanOf(judged.map((year) => year.compared)),
      judged: judgeYears(judged.length === 0 ? [figures] : judged.map((year) => year.figures), judge),
      dangers: worstDangers(report.dangers, ...judged.map((year) => year.dangers)),
      bill: billOfScenario(scenarios[k]!),
      terms: termsOf(scenarios[k]!),
      report,
    };
  });
  const may = plants.map(({ judged, dangers }) => judged.keeps && dangers.length === 0);
  return {
    plants,
    judge,
    rows: COMPARED.map((name) => {
      const { better, ...told } = toldOf(name);
      const values = plants.map(({ figures }) => figures[name]);
      return { ...told, values, better, winners: winnersIn(name, values, may) };
    }),
    over_years:
      years.length === 0
        ? null
        : overTheYears(
            years,
            inYears.map((plants) => plants.map(({ compared }) => compared)),
            may,
          ),
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

/** Plants that are alike in what a notice says are told of once. */
const onceEach = <N extends CompareNotice>(notices: readonly N[]): readonly N[] => [
  ...new Map(notices.map((notice) => [JSON.stringify(notice), notice])).values(),
];
