import type { Comparison, Scenario, StaticLimits } from '@longnight/core';
import { figureNamed } from '@longnight/core/findings';
import type { AskedRow, ComparedName, CompareRow, PossibleYears } from '@longnight/core/study';
import { present } from '../document/document.ts';
import { figureText } from '../document/figure-words.ts';
import { counted, percent } from '../document/figures.ts';
import { dangerSentence } from '../report/dangers.ts';
import { limitWords } from '../report/limit-words.ts';

/** What `longnight compare` shows. */
export interface CompareShown {
  readonly comparison: Comparison;
  /** Of the first plant: the hours all are played over. */
  readonly scenario: Scenario;
  /** Years that were asked for. */ readonly possible: PossibleYears;
}

/** What a price over what it buys is called. */
export const ASKED_WORDS: Readonly<Record<AskedRow['name'], string>> = {
  'bank.price_per_usable_kWh': 'per usable kWh',
  'power.price_per_output_kW': 'per kW of AC output',
  'power.price_per_solar_charging_kW': 'per kW of solar charging',
  'plant.cost_per_served_kWh': 'per kWh served',
};

/** What a plant is a danger by, each with its plant; empty where none was found. */
export const compareDangers = ({ plants }: Comparison): readonly string[] =>
  plants.flatMap(({ label, dangers }) =>
    dangers.map((danger) => `Danger in ${label}: ${dangerSentence(danger)}`),
  );

/** The cautions of all plants, each once. */
export const compareCautions = ({ plants }: Comparison): readonly string[] => [
  ...new Set(plants.flatMap(({ report }) => report.cautions)),
];

/** A figure as text; a plant without a generator has none to speak of. */
export const cellText = (name: ComparedName, value: number | null): string =>
  value !== null ? figureText(name, value) : figureNamed(name).lack === 'none' ? 'none' : 'n/a';

type Rows = readonly [title: string, rows: readonly CompareRow[]];

/** Rows under their headings. Without prices there is no money to show. */
export function sectionsOf({ rows, currency, plants }: Comparison): readonly Rows[] {
  const starting = (start: string): CompareRow[] => rows.filter((row) => row.name.startsWith(start));
  // Sockets, engines and dangers are rare: where no plant has one, no row says so.
  const isTold = ({ name, values }: CompareRow): boolean =>
    !/^(shore|alternator|other_sources)\.|^money\.shore$|^dangers$/.test(name) ||
    values.some((value) => (value ?? 0) > 0);
  const year = rows.filter((row) => !/^(limits|money)\./.test(row.name) && isTold(row));
  const terms = plants.find((plant) => plant.terms !== null)?.terms ?? null;
  const span =
    terms && `, over ${counted(terms.years, 'year')} at ${percent(terms.discount_share_per_year)} a year`;
  return present([
    ['Before an hour is played', starting('limits.')],
    ['The year', year],
    currency !== null && [`Money in ${currency}${span ?? ''}`, starting('money.').filter(isTold)],
  ]);
}

/** What sets each static figure of a plant. */
export function setBy(limits: StaticLimits): readonly (readonly [string, string])[] {
  const figures = [
    ['AC output', limits.ac_output],
    ['solar charging', limits.solar_charging],
    ['AC charging', limits.ac_charging],
  ] as const;
  return figures.flatMap(([title, { limits }]) =>
    limits[0] === undefined ? [] : [[title, limitWords(limits[0])] as const],
  );
}
