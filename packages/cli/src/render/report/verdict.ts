import type { Report } from '@longnight/core';
import { FILES, type Section, textsOf } from '../document/document.ts';
import {
  amount,
  counted,
  days,
  hours,
  hoursAndDays,
  kWh,
  MONTHS,
  percent,
  socPercent,
} from '../document/figures.ts';
import { verdictSentence } from './verdict-words.ts';

/** The first thing that a reader looks for, and the figures that say how near it was. */
export function verdictSection(report: Report, strip: readonly string[]): Section {
  const { verdict, load, unmet, bank, generator, autonomy, array } = report;
  const ran = generator && `${hours(generator.run_hours)}, ${counted(generator.starts, 'start')}`;
  return {
    id: 'verdict',
    title: 'Does it hold?',
    sentence: verdictSentence(report),
    tone: verdict.holds ? 'good' : 'bad',
    blocks: [
      ...textsOf([unmetMonths(report)]),
      { kind: 'strip', lines: strip },
      {
        kind: 'terms',
        on: FILES,
        terms: [
          ['wanted', kWh(load.wanted_kWh)],
          ['on a mean day', kWh(load.mean_kWh_day)],
          ['in the highest step', `${amount(load.peak_kW)} kW`],
          ['unmet', kWh(unmet.energy_kWh)],
          ['hours with unmet load', hours(unmet.hours)],
          ['loss-of-load probability', percent(unmet.loss_of_load_probability)],
          ['longest outage', hours(unmet.longest_hours)],
          ['lowest state of charge', `${socPercent(bank.lowest_soc)} %`],
          ['usable bank', kWh(bank.usable_kWh)],
          ['sunless hours, worst start', hoursAndDays(autonomy.sunless_hours.least)],
          ['nominal autonomy', days(autonomy.nominal_days)],
          ['arrays', `${amount(array.size_kWp)} kWp`],
          ['sun curtailed', percent(array.curtailed_share)],
          ['generator', ran ?? 'none'],
        ],
      },
    ],
  };
}

function unmetMonths({ unmet }: Report): string | null {
  if (unmet.hours === 0) return null;
  const months = unmet.by_month_kWh
    .map((energy, m) => ({ energy, name: MONTHS[m]! }))
    .filter((month) => month.energy > 0)
    .sort((a, b) => b.energy - a.energy);
  const shown = months.slice(0, 4).map((month) => `${month.name} ${kWh(month.energy)}`);
  const rest = months.length - shown.length;
  return `Unmet by month: ${shown.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}.`;
}
