import type { Scenario, Sway } from '@longnight/core';
import { type Guess, nearest, type Swayed, type Turn } from '@longnight/core/study';
import { isShare } from '../document/figure-words.ts';
import { decimal, digits, hours, kWh, socPercent } from '../document/figures.ts';
import { keyWords } from '../document/key-words.ts';
import { listed, sentenceCase } from '../document/words.ts';

export interface SwayShown {
  readonly sway: Sway;
  readonly scenario: Scenario;
  /** As they were typed. */
  readonly moves: readonly string[];
}

/** What is no key: what it is called, what it is or were, and with more and with less of it. */
const CIRCUMSTANCES: Readonly<
  Record<string, readonly [name: string, is: string, were: string, more: string, less: string]>
> = {
  sun: ['sun', 'the sun is', 'the sun were', 'stronger', 'weaker'],
  panels: ['panel output', 'the panels give', 'the panels gave', 'more', 'less'],
  load: ['all loads', 'the loads are', 'the loads were', 'larger', 'smaller'],
  air: ['air temperature', 'the air is', 'the air were', 'warmer', 'colder'],
};

/** Guesses whose keys say less than people do. */
const SAID: Readonly<Record<string, string>> = {
  'loads[*].daily_variation_share': 'how much days differ',
  'arrays[*].losses.snow_share': 'light lost to snow',
  'arrays[*].losses.soiling_share': 'light lost to dirt',
  'arrays[*].losses.ageing_share': 'output lost to ageing',
  'arrays[*].losses.mismatch_share': 'output lost to unequal panels',
  'arrays[*].losses.wiring_share': 'output lost in wires',
  'arrays[*].low_light_loss_share': 'efficiency lost in weak light',
  'arrays[*].albedo': 'light that the ground gives back',
  'arrays[*].tracker.efficiency_share': 'efficiency of the trackers',
  'bank.module.capacity_Ah': 'capacity of a module',
  'bank.round_trip_efficiency_share': 'round trip of the bank',
  'bank.model.resistance_mOhm': 'resistance of a module',
  'bank.model.coulombic_efficiency_share': 'amp-hours that come out again',
  'bank.self_discharge_share_per_month': 'self-discharge a month',
  'bank.temperature.temperature_C': 'room of the bank',
  'bank.heater.loss_W_per_K': 'heat that the bank loses',
  'bank.life_years': 'life of the bank',
  'inverter.idle_W': 'idle draw of the inverter',
  'inverter.efficiency.loss_linear': 'loss of the inverter',
  'charger.efficiency_share': 'efficiency of the charger',
  'generator.fuel': 'fuel that the generator burns',
  'generator.min_load_share': 'least load of the generator',
  'money.fuel_price_per_L': 'fuel price',
  'money.shore_price_per_kWh': 'price at the socket',
  'money.discount_share_per_year': 'discount a year',
};

/** What a guess is called. */
export function guessName({ key, paths }: Guess, scenario: Scenario): string {
  const known = CIRCUMSTANCES[key]?.[0] ?? SAID[key];
  if (known !== undefined) return known;
  const { short, words } = keyWords(paths[0] ?? key, scenario);
  return paths.length > 1 ? `${short}, all of ${key.slice(0, key.indexOf('['))}` : words;
}

/** More or less by so much, in a unit; nothing of either is as it is. */
const changed = (by: number, unit: string): string =>
  by === 0 ? 'as it is' : `${by < 0 ? '−' : '+'}${digits(Math.abs(by), 4)}${unit}`;

/** A value of a guess as it stands in a table: `22.1 %`, of a factor `+11.6 %`, of what is added `−3 K`. */
export function valueText(guess: Guess, value: number | string | boolean, scenario: Scenario): string {
  if (typeof value !== 'number') return String(value);
  const { key, scale, paths } = guess;
  if (scale === 'factor') return changed(Number((100 * (value - 1)).toPrecision(9)), ' %');
  const { unit } = key === 'air' ? { unit: 'K' } : keyWords(paths[0] ?? key, scenario);
  const counted = unit === '' ? '' : ` ${unit}`;
  if (scale === 'added') return changed(value, counted);
  return isShare(key.replace(/_per_(month|year)$/, '')) || key.endsWith('albedo')
    ? `${digits(100 * value, 4)} %`
    : `${decimal(Number(value.toPrecision(6)))}${counted}`;
}

/** The range, or the values that were tried. */
export const rangeText = (guess: Guess, scenario: Scenario): string =>
  guess.is_range
    ? guess.to.map((value) => valueText(guess, value, scenario)).join(' to ')
    : listed(guess.to.map((value) => valueText(guess, value, scenario)));

/**
 * The turning value in as few digits as its range calls for, rounded to the side on which the plant holds: with what is
 * told it does hold.
 */
export function holdingValue({ to, today }: Guess, { holds_at, fails_at }: Turn): number {
  const end = to[Math.max(holds_at, fails_at) > Number(today) ? 1 : 0];
  const steps = 10 ** Math.ceil(-Math.log10(Math.abs(Number(end) - Number(today)) / 50) - 1e-9);
  // Dust of binary fractions is no step.
  const scaled = Number((holds_at * steps).toPrecision(12));
  return (holds_at > fails_at ? Math.ceil(scaled) : Math.floor(scaled)) / steps;
}

/** Where the verdict turns, as a value; a dash where it does not. */
export const turnText = (swayed: Swayed, scenario: Scenario): string => {
  const [turn] = swayed.turns;
  if (turn !== undefined) return valueText(swayed, holdingValue(swayed, turn), scenario);
  return swayed.turned_by.length === 0
    ? '-'
    : listed(swayed.turned_by.map((value) => valueText(swayed, value, scenario)));
};

/** How far off a circumstance is, `the loads are 11.6 % larger`, or were; null of a key. */
function offWords({ key, scale, today }: Guess, value: number, isWish: boolean): string | null {
  const circumstance = CIRCUMSTANCES[key];
  if (circumstance === undefined) return null;
  const [, is, were, more, less] = circumstance;
  const off = value - Number(today);
  const size = scale === 'factor' ? `${digits(100 * Math.abs(off), 3)} %` : `${digits(Math.abs(off), 3)} K`;
  return `${isWish ? were : is} ${size} ${off < 0 ? less : more}`;
}

/** A sentence for each turn of a guess, the nearest first. */
export function turnSentences({ sway, scenario }: SwayShown, guess: Swayed): readonly string[] {
  const name = sentenceCase(guessName(guess, scenario));
  const said = (value: number | string | boolean): string => valueText(guess, value, scenario);
  const today = [`today ${said(guess.today)}`, ...(guess.stated === false ? ['a default of ours'] : [])];
  const aside = (notes: readonly string[]): string => (notes.length === 0 ? '' : ` (${notes.join('; ')})`);
  return [
    ...guess.turns.map((turn) => {
      const value = holdingValue(guess, turn);
      const beyond = turn.reach > 1 + 1e-9 ? [`beyond its range, ${rangeText(guess, scenario)}`] : [];
      const off = offWords(guess, value, !sway.holds);
      if (off !== null) return `It ${sway.holds ? 'holds until' : 'would hold if'} ${off}${aside(beyond)}.`;
      const way = value < Number(guess.today) ? 'down to' : 'up to';
      const to = `${sway.holds ? way : 'at'} ${said(value)}`;
      const notes = guess.scale === 'value' ? [...today, ...beyond] : beyond;
      return `${name}: it ${sway.holds ? 'holds' : 'would hold'} ${to}${aside(notes)}.`;
    }),
    ...guess.turned_by.map(
      (value) =>
        `${name}: it ${sway.holds ? 'does not hold' : 'would hold'} at ${said(value)}${aside(today)}.`,
    ),
  ];
}

/** How it stands as described. */
export function nowWords({ sway: { holds, now, requirements } }: SwayShown): string {
  const verdict =
    requirements.length > 0
      ? `${holds ? 'keeps' : 'misses'} what is required (${requirements.map(({ text }) => text).join(', ')})`
      : holds
        ? 'holds'
        : 'does not hold';
  const run = now['generator.run_hours'];
  const unmet =
    now['unmet.hours'] === 0
      ? 'nothing is unmet'
      : `${kWh(now['unmet.energy_kWh'])} unmet in ${hours(now['unmet.hours']!)}`;
  const rest = [
    unmet,
    run === null ? 'no generator' : `the generator runs ${hours(run)}`,
    `lowest state of charge ${socPercent(now['bank.lowest_soc']!)} %`,
  ];
  return `It ${verdict}. ${sentenceCase(rest.join('; '))}.`;
}

/** How many guesses turn the verdict, each on its own. */
export function answerWords({ sway: { guesses } }: SwayShown): string {
  const reaches = guesses.map(nearest);
  const within = reaches.filter((reach) => reach <= 1).length;
  if (reaches.every((reach) => reach === Number.POSITIVE_INFINITY))
    return 'No single guess turns the verdict, in its range or up to three times as far off. Several that are wrong together may.';
  if (within === 0) return 'No single guess turns the verdict within its range; some do farther off.';
  return within === 1
    ? 'One guess alone turns the verdict within its range.'
    : `Each of ${within} guesses alone turns the verdict within its range.`;
}

/** Values of guesses with which the plant would be a danger that it is not as described; null if there are none. */
export function dangerWords({ sway, scenario }: SwayShown): string | null {
  const found = [...sway.guesses, ...sway.idle].flatMap((guess) =>
    guess.plays
      .filter(({ figures }) => (figures.dangers ?? 0) > (sway.now.dangers ?? 0))
      .map(({ value }) => `${guessName(guess, scenario)} at ${valueText(guess, value, scenario)}`),
  );
  return found.length === 0
    ? null
    : `The plant would be a danger that it is not as described with ${listed(found)}. Build it so that it is none with these either; check says which danger it is, with such a value in the file.`;
}
