import type { Report } from '@longnight/core';
import { FILES, present, type Section, textsOf } from '../document/document.ts';
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
  blocks: textsOf(more, FILES),
});

export function generatorSection({ generator }: Report): Section {
  if (generator === null) return section('generator', 'Generator', 'None in this plant.');
  if (generator.run_hours === 0) return section('generator', 'Generator', 'Never ran.');
  const by = generator.run_hours_by_month;
  const most = by.indexOf(Math.max(...by));
  const ran = `${hours(generator.run_hours)} in ${counted(generator.starts, 'start')}, ${litres(generator.fuel_L)} of fuel`;
  const when = `; most in ${MONTHS[most]} (${hours(by[most]!)}).${serviceSentence(generator)}`;
  const gave = `, ${kWh(generator.energy_kWh)} at ${percent(generator.mean_load_share)} of its rating on average`;
  const spilled =
    generator.spilled_kWh > 0
      ? [`${kWh(generator.spilled_kWh)} of it were spilled to keep its least load.`]
      : [];
  return section('generator', 'Generator', ran + gave + when, spilled, ran + when);
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
export function otherSections({ shore, alternator, other_sources, load, array }: Report): Section[] {
  const gave = (source: { energy_kWh: number; hours: number }): string =>
    source.energy_kWh === 0 ? 'gave nothing' : `${kWh(source.energy_kWh)} in ${hours(source.hours)}`;
  const { flexible, surplus_kWh } = load;
  const unmet =
    flexible && flexible.unmet_kWh > 0 ? `${kWh(flexible.unmet_kWh)} of it unmet` : 'all of it served';
  const on_ac_kWh = array.on_ac_side_kWh;
  return present([
    shore && section('shore', 'Shore power', `${gave(shore)}.`),
    alternator && section('alternator', 'Alternator', `${gave(alternator)} through its DC-DC charger.`),
    other_sources &&
      section(
        'other-sources',
        'Other sources',
        `Offered ${kWh(other_sources.available_kWh)}; ${kWh(other_sources.used_kWh)} used, ${percent(other_sources.supply_share)} of all supply; ` +
          `${kWh(other_sources.curtailed_kWh)} are for a diversion load or a brake.`,
      ),
    on_ac_kWh !== null &&
      section('ac-side', 'On AC side', `${kWh(on_ac_kWh)} of the sun used came in past the inverter.`),
    flexible &&
      section('flexible', 'Flexible', `${kWh(flexible.wanted_kWh)} asked for by flexible loads, ${unmet}.`),
    surplus_kWh !== null &&
      section('surplus', 'Surplus', `${kWh(surplus_kWh)} into loads that take what is left over.`),
  ]);
}

export function arraySection({ array }: Report): Section {
  const [main] = largestFirst(array.curtailed_by_cause_kWh);
  const share = main === undefined ? 'nothing' : percent(array.curtailed_share);
  const why = main === undefined ? '' : ` (most: ${CURTAILED_WORDS[main[0]]})`;
  const offered = `${amount(array.size_kWp)} kWp offered ${kWh(array.available_kWh)}`;
  const yields =
    `${amount(array.plane_kWh_m2)} kWh/m² on the plane; array yield ${amount(array.array_yield_kWh_per_kWp)} kWh/kWp ` +
    `(${amount(array.available_yield_kWh_per_kWp)} offered), final yield ${amount(array.final_yield_kWh_per_kWp)} kWh/kWp, ` +
    'what of it reached the loads.';
  return section(
    'array',
    'Array',
    `${offered}, ${kWh(array.used_kWh)} used, ${share} curtailed${why}. ` +
      `Performance ratio ${fixed(array.performance_ratio, 2)}, counted at the loads.`,
    array.size_kWp === 0 ? [] : [yields],
    `${offered}; ${kWh(array.used_kWh)} used, ${share} curtailed.`,
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
