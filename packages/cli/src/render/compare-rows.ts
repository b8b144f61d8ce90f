import type { CompareRow, Comparison, Scenario, StaticLimits } from '@longnight/core';
import { dangerSentence } from './dangers.ts';
import { amount, counted, fixed, percent, price, socPercent } from './figures.ts';

/** What `longnight compare` shows. */
export interface CompareShown {
  readonly comparison: Comparison;
  /** Of the first plant: the hours all are played over. */
  readonly scenario: Scenario;
}

/** What a plant is a danger by, each with its plant; empty where none was found. */
export const compareDangers = ({ plants }: Comparison): readonly string[] =>
  plants.flatMap(({ label, report }) =>
    report.dangers.map((danger) => `Danger in ${label}: ${dangerSentence(danger)}`),
  );

/** The cautions of all plants, each once. */
export const compareCautions = ({ plants }: Comparison): readonly string[] => [
  ...new Set(plants.flatMap(({ report }) => report.cautions)),
];

/** Words of a row on the terminal, by its name; those that are not here are for compare.json and compare.csv. */
const WORDS: Readonly<Record<string, string>> = {
  'limits.ac_output_kW': 'AC output, continuous, kW',
  'limits.solar_charging_kW': 'solar charging, kW',
  'limits.ac_charging_kW': 'AC charging, kW',
  'unmet.energy_kWh': 'unserved, kWh a year',
  'unmet.share': 'unserved share',
  'unmet.hours': 'unserved hours a year',
  'unmet.longest_hours': 'longest spell of them, h',
  'generator.run_hours': 'generator, h a year',
  'generator.starts': 'generator starts',
  'generator.fuel_L': 'fuel, L a year',
  'bank.usable_kWh': 'usable bank, kWh',
  'bank.lowest_soc': 'lowest charge, %',
  'bank.equivalent_full_cycles': 'full cycles a year',
  'autonomy.nominal_days': 'nominal autonomy, days',
  'autonomy.dark_hours.least': 'in the dark at worst, h',
  'array.size_kWp': 'arrays, kWp',
  'array.curtailed_share': 'sun curtailed',
  'load.served_kWh': 'load served, kWh a year',
  dangers: 'dangers found',
  'shore.energy_kWh': 'from a socket, kWh a year',
  'engine_charging.energy_kWh': 'from an engine, kWh a year',
  'money.capital': 'to buy',
  'money.replacements': 'parts bought again',
  'money.fuel': 'fuel',
  'money.shore': 'power from the socket',
  'money.service': 'service of generator',
  'money.total': 'all over the years',
  'money.per_served_kWh': 'per kWh served',
  'money.per_usable_kWh': 'to buy, per usable kWh',
  'money.per_output_kW': 'to buy, per kW AC output',
};

const SHARES = new Set(['unmet.share', 'array.curtailed_share']);
const WHOLE = new Set([
  'unmet.hours',
  'unmet.longest_hours',
  'generator.starts',
  'bank.equivalent_full_cycles',
]);

const MAY_BE_NONE = /^(generator|shore|engine_charging)\.|^limits\.ac_charging_kW$/;

/** A figure as text; a plant without a generator has none to speak of. */
export function cellText(name: string, value: number | null): string {
  if (value === null) return MAY_BE_NONE.test(name) ? 'none' : 'n/a';
  if (SHARES.has(name)) return percent(value);
  if (name === 'bank.lowest_soc') return socPercent(value);
  if (WHOLE.has(name)) return fixed(value, 0);
  return name.startsWith('money.') ? price(value) : amount(value);
}

export const wordsOf = (row: CompareRow): string => WORDS[row.name] ?? row.name;

/** Rows under their headings. Without prices there is no money to show. */
export function sectionsOf({
  rows,
  currency,
  plants,
}: Comparison): readonly (readonly [string, readonly CompareRow[]])[] {
  const starting = (start: string): CompareRow[] => rows.filter((row) => row.name.startsWith(start));
  // Sockets, engines and dangers are rare: where no plant has one, no row says so.
  const isTold = ({ name, values }: CompareRow): boolean =>
    !/^(shore|engine_charging)\.|^money\.shore$|^dangers$/.test(name) ||
    values.some((value) => (value ?? 0) > 0);
  const year = rows.filter((row) => !/^(limits|money)\./.test(row.name) && isTold(row));
  const terms = plants.find((plant) => plant.terms !== null)?.terms ?? null;
  const span =
    terms === null
      ? ''
      : `, over ${counted(terms.years, 'year')} at ${percent(terms.discount_share_per_year)} a year`;
  return [
    ['Before an hour is played', starting('limits.')],
    ['The year', year],
    ...(currency === null
      ? []
      : [[`Money in ${currency}${span}`, starting('money.').filter(isTold)] as const]),
  ];
}

/** What sets each static figure of a plant. */
export function setBy(limits: StaticLimits): readonly (readonly [string, string])[] {
  const figures = [
    ['AC output', limits.ac_output],
    ['solar charging', limits.solar_charging],
    ['AC charging', limits.ac_charging],
  ] as const;
  return figures.flatMap(([title, { limits }]) =>
    limits[0] === undefined ? [] : [[title, limits[0].what] as const],
  );
}
