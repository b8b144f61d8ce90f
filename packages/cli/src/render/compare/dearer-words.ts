import type { Comparison } from '@longnight/core';
import type { Dearer } from '@longnight/core/study';
import { present } from '../document/document.ts';
import { amount, fixed } from '../document/figures.ts';
import { listed, sentenceCase } from '../document/words.ts';

/** What a plant has over another, and what it then lacks, in words behind the difference. */
const EXCHANGED: Readonly<
  Record<Dearer['exchanged'][number]['name'], readonly [gain: string, loss: string]>
> = {
  'unmet.energy_kWh': ['kWh a year less unmet', 'kWh a year more unmet'],
  'generator.run_hours': ['h a year less of generator running', 'h a year more of generator running'],
  'generator.fuel_L': ['L a year less fuel', 'L a year more fuel'],
  'shore.energy_kWh': ['kWh a year less shore power', 'kWh a year more shore power'],
  'bank.usable_kWh': ['kWh more usable bank', 'kWh of usable bank'],
  'limits.ac_output.after_inverter_loss_kW': ['kW more AC output', 'kW of AC output'],
  'limits.solar_charging.figure_kW': ['kW more solar charging', 'kW of solar charging'],
};

/** A sentence for each plant that is dearer to buy than the cheapest, and one for what has no price. */
export const dearerSentences = ({ dearer, plants, currency }: Comparison): readonly string[] =>
  currency === null
    ? []
    : [
        ...dearer.map((one) => sentence(one, currency)),
        ...plants
          .filter(({ bill }) => bill.capital === null)
          .map(({ label, bill }) => `${label} has no total: no price for ${bill.unpriced.join(', ')}.`),
      ];

function sentence(it: Dearer, currency: string): string {
  const price =
    it.more_to_buy === 0
      ? `costs as much to buy as ${it.than}`
      : `costs ${amount(it.more_to_buy)} ${currency} more to buy than ${it.than}` +
        (it.more_share === null ? '' : ` (${fixed(100 * it.more_share, 0)} % more)`);
  const each =
    it.per_unmet_kWh === null ? '' : ` (${amount(it.per_unmet_kWh)} ${currency} to buy for each of them)`;
  const exchanged = (which: 0 | 1) =>
    it.exchanged
      .filter(({ ahead }) => (which === 0 ? ahead > 0 : ahead < 0))
      .map(
        ({ name, ahead }) =>
          `${amount(Math.abs(ahead))} ${EXCHANGED[name][which]}${which === 0 && name === 'unmet.energy_kWh' ? each : ''}`,
      );
  const [gains, losses] = [exchanged(0), exchanged(1)];
  return present([
    `${it.label} ${price}.`,
    gains.length === 0 ? 'It buys nothing of what is compared here.' : `It buys ${listed(gains)}.`,
    losses.length > 0 && `It gives up ${listed(losses)}.`,
    it.over_years && overTheYears(it.over_years, currency),
  ]).join(' ');
}

function overTheYears(
  { years, more, even_at_fuel_price_per_L: even }: NonNullable<Dearer['over_years']>,
  currency: string,
): string {
  const span = sentenceCase(`over ${years === 1 ? 'one year' : `${years} years`}`);
  if (more === 0) return `${span} both cost the same.`;
  const said = `${span} it costs ${amount(Math.abs(more))} ${currency} ${more > 0 ? 'more' : 'less'}`;
  return even === null
    ? `${said}.`
    : `${said}; both would cost the same with fuel at ${amount(even)} ${currency} a litre.`;
}
