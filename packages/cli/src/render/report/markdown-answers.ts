import type { Report } from '@longnight/core';
import {
  amount,
  clockTime,
  counted,
  days,
  fixed,
  hours,
  hoursAndDays,
  kWh,
  litres,
  percent,
  socPercent,
} from '../document/figures.ts';
import { escaped } from '../document/markdown-text.ts';
import { spellWords } from '../document/words.ts';
import { otherSources } from './other-sources.ts';
import { serviceSentence } from './service.ts';
import { givesOutSentence, verdictSentence } from './verdict-words.ts';

/** The questions of the first screen in the same order, with the figures that the screen has no room for. */
export function answers(report: Report): string {
  const parts: [string, string][] = [
    ['Does it hold?', doesItHold(report)],
    [`The darkest ${spellWords(report.darkest_spell.days)}`, darkest(report)],
    ['Autonomy', autonomy(report)],
    ['What gives out first', escaped(givesOutSentence(report))],
    ['Generator', generator(report)],
    ...otherSources(report),
    ['Array', array(report)],
    ['Bank', bank(report)],
  ];
  return parts.map(([question, answer]) => `**${question}** ${answer}`).join('\n\n');
}

function doesItHold(report: Report): string {
  const { verdict, load, unmet } = report;
  const lolp = unmet.loss_of_load_probability;
  const rest = verdict.holds
    ? ''
    : ` Of the hours with load wanted, ${percent(lolp)} had some of it unserved (loss-of-load probability).`;
  return (
    `${escaped(verdictSentence(report))}${rest} The loads want ${kWh(load.mean_kWh_day)} on a mean day and ` +
    `${amount(load.peak_kW)} kW in the highest step.`
  );
}

function darkest(report: Report): string {
  const spell = report.darkest_spell;
  const sun =
    spell.sun_to_load === null
      ? 'No load is wanted in it.'
      : `The array offers ${percent(spell.sun_to_load)} of what the loads want.`;
  return (
    `${counted(spell.days, 'day')} from ${spell.start}. ${sun} The bank goes in at ${socPercent(spell.start_soc)} % and ` +
    `comes down to ${socPercent(spell.lowest_soc)} %; ${kWh(spell.unmet_kWh)} unserved.`
  );
}

function autonomy(report: Report): string {
  const { nominal_days, dark_hours } = report.autonomy;
  return (
    `${days(nominal_days)} nominal (usable bank over mean daily load). From a full bank with no sun and no generator, ` +
    `losses included: ${hoursAndDays(dark_hours.least)} at worst, starting ${clockTime(dark_hours.least_start)}; ` +
    `${hoursAndDays(dark_hours.p05)} or more from 95 % of all starts; ${hoursAndDays(dark_hours.median)} in the middle of them` +
    `${dark_hours.capped ? '. Some starts outlast the year, so these are lower bounds' : ''}.`
  );
}

function generator(report: Report): string {
  const { generator } = report;
  if (generator === null) return 'None in this plant.';
  return (
    `${hours(generator.run_hours)} in ${counted(generator.starts, 'start')}; ${litres(generator.fuel_L)} of fuel for ` +
    `${kWh(generator.energy_kWh)}, of which ${kWh(generator.spilled_kWh)} were spilled; mean load ` +
    `${percent(generator.mean_load_share)} of the rating.${serviceSentence(generator)}`
  );
}

function array(report: Report): string {
  const { array } = report;
  return (
    `${amount(array.size_kWp)} kWp under ${amount(array.plane_kWh_m2)} kWh/m² on the plane offered ` +
    `${kWh(array.available_kWh)}; ${kWh(array.used_kWh)} were used and ${percent(array.curtailed_share)} curtailed. ` +
    `Array yield ${amount(array.array_yield_kWh_per_kWp)} kWh/kWp ` +
    `(${amount(array.available_yield_kWh_per_kWp)} offered), final yield ${amount(array.final_yield_kWh_per_kWp)} kWh/kWp: ` +
    `that reached the loads, a performance ratio of ${fixed(array.performance_ratio, 2)}.`
  );
}

function bank(report: Report): string {
  const { bank } = report;
  return (
    `${kWh(bank.usable_kWh)} usable of ${kWh(bank.capacity_kWh)}; ${kWh(bank.throughput_kWh)} taken out of it, ` +
    `${fixed(bank.equivalent_full_cycles, 0)} equivalent full cycles. Lowest state of charge ${socPercent(bank.lowest_soc)} % ` +
    `at ${clockTime(bank.lowest_soc_time)}; ${hours(bank.hours_at_floor)} at the floor, ` +
    `${hours(bank.hours_too_cold_to_charge)} too cold to charge.`
  );
}
