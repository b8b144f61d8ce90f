import type { Report } from '@longnight/core';
import { type Section, textsOf } from '../document/document.ts';
import {
  amount,
  clockTime,
  counted,
  fixed,
  hours,
  kWh,
  litres,
  MONTHS,
  percent,
  socPercent,
} from '../document/figures.ts';
import { CURTAILED_WORDS, largestFirst } from '../document/words.ts';
import { wearSentence } from './bank.ts';

/** One line each for what gives, keeps and takes energy. */

const section = (
  id: string,
  title: string,
  sentence: string,
  more: readonly string[] = [],
  brief = sentence,
): Section => ({
  id,
  title,
  sentence,
  brief,
  blocks: textsOf(more, ['markdown', 'page']),
});

export function generatorSection({ generator }: Report): Section {
  if (generator === null) return section('generator', 'Generator', 'None in this plant.');
  if (generator.run_hours === 0) return section('generator', 'Generator', 'Never ran.');
  const by = generator.run_hours_by_month;
  const most = by.indexOf(Math.max(...by));
  return section(
    'generator',
    'Generator',
    `${hours(generator.run_hours)} in ${counted(generator.starts, 'start')}, ${litres(generator.fuel_L)} of fuel, ` +
      `${kWh(generator.energy_kWh)} at ${percent(generator.mean_load_share)} of its rating on average; ` +
      `most in ${MONTHS[most]} (${hours(by[most]!)}).${serviceSentence(generator)}`,
    generator.spilled_kWh > 0
      ? [`${kWh(generator.spilled_kWh)} of it were spilled to keep its least load.`]
      : [],
    `${hours(generator.run_hours)} in ${counted(generator.starts, 'start')}, ${litres(generator.fuel_L)} of fuel; most in ${MONTHS[most]} (${hours(by[most]!)}).${serviceSentence(generator)}`,
  );
}

/** When the generator wants service, if one was done just before the year; nothing where no interval is stated. */
function serviceSentence({ services_due, first_service }: NonNullable<Report['generator']>): string {
  if (services_due === null) return '';
  if (first_service === null) return ' No service falls due.';
  return services_due === 1
    ? ` A service falls due on ${first_service}.`
    : ` ${counted(services_due, 'service')} fall due, the first on ${first_service}.`;
}

/** A socket, a running engine, flexible loads or take surplus: a section for each that the plant has. */
export function otherSections({ shore, alternator, load, array }: Report): Section[] {
  const gave = (source: { energy_kWh: number; hours: number }): string =>
    source.energy_kWh === 0 ? 'gave nothing' : `${kWh(source.energy_kWh)} in ${hours(source.hours)}`;
  const lines: Section[] = [];
  if (shore !== null) lines.push(section('shore', 'Shore power', `${gave(shore)}.`));
  if (alternator !== null)
    lines.push(section('alternator', 'Alternator', `${gave(alternator)} through its DC-DC charger.`));
  if (array.on_ac_side_kWh !== null)
    lines.push(
      section(
        'ac-side',
        'On AC side',
        `${kWh(array.on_ac_side_kWh)} of the sun used came in past the inverter.`,
      ),
    );
  if (load.flexible !== null) {
    const { wanted_kWh, unmet_kWh } = load.flexible;
    const unmet = unmet_kWh > 0 ? `${kWh(unmet_kWh)} of it unmet` : 'all of it served';
    lines.push(section('flexible', 'Flexible', `${kWh(wanted_kWh)} asked for by flexible loads, ${unmet}.`));
  }
  if (load.surplus_kWh !== null)
    lines.push(
      section('surplus', 'Surplus', `${kWh(load.surplus_kWh)} into loads that take what is left over.`),
    );
  return lines;
}

export function arraySection({ array }: Report): Section {
  const [main] = largestFirst(array.curtailed_by_cause_kWh);
  const curtailed =
    main === undefined
      ? 'nothing curtailed'
      : `${percent(array.curtailed_share)} curtailed (most: ${CURTAILED_WORDS[main[0]]})`;
  return section(
    'array',
    'Array',
    `${amount(array.size_kWp)} kWp offered ${kWh(array.available_kWh)}, ${kWh(array.used_kWh)} used, ${curtailed}. ` +
      `Performance ratio ${fixed(array.performance_ratio, 2)}, counted at the loads.`,
    array.size_kWp === 0
      ? []
      : [
          `${amount(array.plane_kWh_m2)} kWh/m² on the plane; array yield ${amount(array.array_yield_kWh_per_kWp)} kWh/kWp ` +
            `(${amount(array.available_yield_kWh_per_kWp)} offered), final yield ${amount(array.final_yield_kWh_per_kWp)} kWh/kWp, ` +
            'what of it reached the loads.',
        ],
    `${amount(array.size_kWp)} kWp offered ${kWh(array.available_kWh)}; ${kWh(array.used_kWh)} used, ${main === undefined ? 'nothing' : percent(array.curtailed_share)} curtailed.`,
  );
}

export function bankSection({ bank }: Report): Section {
  const cold =
    bank.hours_too_cold_to_charge > 0 ? `, ${hours(bank.hours_too_cold_to_charge)} too cold to charge` : '';
  return section(
    'bank',
    'Bank',
    `${kWh(bank.usable_kWh)} usable of ${kWh(bank.capacity_kWh)}; ${kWh(bank.throughput_kWh)} through it, ` +
      `${counted(Math.round(bank.equivalent_full_cycles), 'full cycle')}. ` +
      `Lowest state of charge ${socPercent(bank.lowest_soc)} % at ${clockTime(bank.lowest_soc_time)}; ` +
      `${hours(bank.hours_at_floor)} at its floor${cold}.${wearSentence(bank.wear)}`,
    [],
    `${kWh(bank.usable_kWh)} usable; lowest ${socPercent(bank.lowest_soc)} % at ${clockTime(bank.lowest_soc_time)}${bank.hours_at_floor > 0 ? `, ${hours(bank.hours_at_floor)} at its floor` : ''}${cold}.`,
  );
}
