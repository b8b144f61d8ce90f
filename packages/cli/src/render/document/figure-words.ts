import { figureNamed } from '@longnight/core/findings';
import type { ComparedName } from '@longnight/core/study';
import { amount, fixed, percent, price, socPercent } from './figures.ts';

/** What people call a figure, the same beside other plants, in a sweep and above a chart. */
const WORDS: Readonly<Record<ComparedName, string>> = {
  'limits.ac_output.after_inverter_loss_kW': 'AC output, continuous',
  'limits.solar_charging.figure_kW': 'solar charging',
  'limits.ac_charging.figure_kW': 'AC charging',
  'unmet.energy_kWh': 'unmet energy',
  'unmet.share': 'unmet share',
  'unmet.hours': 'unmet hours',
  'unmet.loss_of_load_probability': 'loss-of-load probability',
  'unmet.longest_hours': 'longest outage',
  'generator.run_hours': 'generator run time',
  'generator.starts': 'generator starts',
  'generator.fuel_L': 'fuel',
  'bank.lowest_soc': 'lowest SoC',
  'bank.equivalent_full_cycles': 'full cycles',
  'bank.usable_kWh': 'usable bank',
  'autonomy.nominal_days': 'nominal autonomy',
  'autonomy.sunless_hours.least': 'sunless hours, least',
  'array.size_kWp': 'arrays',
  'array.curtailed_share': 'sun curtailed',
  'load.served_kWh': 'load served',
  dangers: 'dangers',
  'shore.energy_kWh': 'from a socket',
  'alternator.energy_kWh': 'from an alternator',
  'money.capital': 'capital',
  'money.replacements': 'parts bought again',
  'money.fuel': 'fuel',
  'money.shore': 'power from the socket',
  'money.service': 'service of generator',
  'money.total': 'cost over years',
  'money.per_served_kWh': 'per kWh served',
};

export const wordsOf = (name: ComparedName): string => WORDS[name];

/** Figures from 0 to 1 that are told as percentages. */
export const isShare = (name: string): boolean => /(share|soc|sun_to_load|probability)$/.test(name);

/**
 * The unit that stands in a heading over figures; empty where there is none, or `figureText` brings it.
 *
 * @param currency stands for `money`
 */
export function unitOf(name: ComparedName, currency: string): string {
  const { unit } = figureNamed(name);
  if (unit.startsWith('money')) return currency === '' ? '' : unit.replace('money', currency);
  if (unit === '1') return name === 'bank.lowest_soc' ? '%' : '';
  return unit === 'd' ? 'days' : unit;
}

/** Words and unit: `unmet energy, kWh`. */
export function titleOf(name: ComparedName, currency = ''): string {
  const unit = unitOf(name, currency);
  return unit === '' ? wordsOf(name) : `${wordsOf(name)}, ${unit}`;
}

/** A figure beside its title. Hours and counts that are whole are told so. */
export function figureText(name: ComparedName, value: number): string {
  const { unit } = figureNamed(name);
  if (name === 'bank.lowest_soc') return socPercent(value);
  if (isShare(name)) return percent(value);
  if (unit.startsWith('money')) return price(value);
  const isWhole = Number.isInteger(Math.round(value * 1e6) / 1e6);
  return isWhole && (unit === 'h' || unit === '1') ? fixed(value, 0) : amount(value);
}
