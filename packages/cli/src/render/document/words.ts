import type { Report, Scenario } from '@longnight/core';
import type { CurtailedCause, UnmetCause } from '@longnight/core/ledger';
import type { ShareRange } from '@longnight/core/study';

/** What a reader is told for each limit; the names themselves are for report.json and hours.csv. */

export const UNMET_WORDS: Readonly<Record<UnmetCause, string>> = {
  bank_floor: 'bank down to its floor',
  bank_cold: 'cold keeps back what the bank holds',
  bank_current: 'modules give no more amps',
  inverter_rating: 'inverter gives no more power',
  leg: 'one leg of the inverters is full',
  inverter_asleep: 'loads too small to wake the inverter',
  inverter_cut_off: 'inverter cut off to spare the bank',
  generator_rating: 'generator gives no more power',
  generator_barred: 'generator may not run, did not start or was warming up',
  fuel: 'generator out of fuel',
  shore_rating: 'socket gives no more amps',
  shed: 'loads shed on purpose',
};

export const CURTAILED_WORDS: Readonly<Record<CurtailedCause, string>> = {
  bank_full: 'bank full, or tapering close to full',
  charge_current: 'modules take no more amps',
  bank_cold: 'bank too cold to be charged',
  charger: 'charger takes no more sun from the AC side',
  inverter_off: 'inverter down, cut off or asleep, arrays on the AC side with it',
  tracker_voltage: 'strings outside the voltages of their tracker',
  tracker_power: 'tracker takes no more power',
  tracker_current: 'tracker gives no more amps',
  other_power: 'controller of another source lets no more through',
};

type ClosestLimit = Report['gives_out_first']['closest'][number]['limit'];

export const LIMIT_WORDS: Readonly<Record<ClosestLimit, string>> = {
  bank_energy: 'energy in the bank, down to its floor',
  bank_current: 'discharge current of the modules',
  inverter_rating: 'inverter rating',
  generator_rating: 'generator rating',
};

const WEATHER_WORDS: Readonly<Record<Report['run']['weather'], string>> = {
  'clear-sky': 'a clear sky all year: no forecast, it leaves out every cloud',
  series: 'the weather series the scenario names',
  monthly_means: 'one year drawn from monthly means',
  tmy3: 'the TMY3 file the scenario names',
  epw: 'the EPW file the scenario names',
  nsrdb: 'the NSRDB file the scenario names',
  nasa_power: 'the NASA POWER file the scenario names',
};

/** `62.4° N, 11.6° E`. */
export function placeWords(site: Report['site']): string {
  const part = (value: number, positive: string, negative: string) =>
    `${Math.abs(value).toFixed(2)}° ${value < 0 ? negative : positive}`;
  return `${part(site.latitude_deg, 'N', 'S')}, ${part(site.longitude_deg, 'E', 'W')}`;
}

/** What a count of years says of all such years. */
export const sureWords = ({ low, high }: ShareRange): string =>
  `between ${Math.floor(100 * low)} and ${Math.ceil(100 * high)} % of all such years, 95 % sure`;

/** What a count of drawn years is worth; tests/published/drawn-years.test.ts holds it to measured years. */
export const COUNT_LIMIT =
  'Plants chosen for 90 of 100 drawn years held in 86 to 100 % of measured ones in the Netherlands and on Crete; other climates were not checked.';

/** The weather of a run, with the seed where one was drawn. */
export const weatherWords = (run: Pick<Report['run'], 'weather' | 'seed'>): string =>
  run.seed === null ? WEATHER_WORDS[run.weather] : `drawn year ${run.seed}, from monthly means`;

/** The seed that a year was drawn with; null of weather that was not drawn. */
export const seedOf = (weather: Scenario['weather']): number | null =>
  weather.kind === 'monthly_means' ? weather.seed : null;

/** Place, year and weather of a scenario.
 *
 * @param drawn years that are told elsewhere, because several are played
 */
export const overWords = ({ site, run, weather }: Scenario, drawn = false): string =>
  `${placeWords(site)}, ${run.year}. Weather: ${weatherWords({ weather: weather.kind, seed: drawn ? null : seedOf(weather) })}.`;

/** `leanest week`, or `leanest 5 days`. */
export const daysWords = (days: number): string =>
  days === 7 ? 'week' : days === 1 ? 'day' : `${days} days`;

/** The entries of a split that are not nothing, largest first. */
export function largestFirst<K extends string>(split: Readonly<Record<K, number>>): [K, number][] {
  return (Object.entries(split) as [K, number][])
    .filter(([, value]) => value > 0)
    .sort((a, b) => b[1] - a[1]);
}

export const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** `a`, `a and b`, `a, b and c`. */
export const listed = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

/** `2010 to 2014, 2016`. */
export function runsOf(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && last[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ');
}
