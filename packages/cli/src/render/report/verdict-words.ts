import type { GivesOutFirst, Report } from '@longnight/core';
import type { UnmetCause } from '@longnight/core/ledger';
import { clockTime, fixed, hourCount, hours, kWh, percent } from '../document/figures.ts';
import { runsOf, sentenceCase, sureWords } from '../document/words.ts';

/** The first line anyone reads. */
export function verdictSentence(report: Report): string {
  const { load, unmet, run, every_year } = report;
  const year = (): string => {
    if (load.wanted_kWh === 0) return `No load is wanted in ${run.year}: there is nothing to hold.`;
    if (unmet.hours === 0) return `Holds: all ${kWh(load.wanted_kWh)} wanted in ${run.year} are served.`;
    const share = 100 * (unmet.share ?? 0);
    return (
      `Does not hold: ${kWh(unmet.energy_kWh)} of ${kWh(load.wanted_kWh)} wanted in ${run.year} go unmet ` +
      `(${share < 0.01 ? 'under 0.01' : fixed(share, 2)} %), in ${hourCount(unmet.hours)} ${unmet.hours === 1 ? 'hour' : 'hours'}; ` +
      `the longest outage lasts ${hours(unmet.longest_hours)}.`
    );
  };
  if (every_year === null) return year();
  const { by_year, years_held, held_share, left_out } = every_year;
  const failing = by_year.filter((row) => row.unmet_hours > 0).map((row) => row.year);
  const played = `${by_year.length} years of the weather file`;
  const sure = ` (${sureWords(held_share)})`;
  const count =
    failing.length === 0
      ? `Holds in all ${played}${sure}.`
      : `Holds in ${years_held} of ${played}${sure}; not in ${runsOf(failing)}.`;
  const out = left_out.length === 0 ? '' : ` Not played: ${runsOf(left_out.map((out) => out.year))}.`;
  const alone = year();
  return `${count}${out} ${run.year} on its own: ${alone.charAt(0).toLowerCase()}${alone.slice(1)}`;
}

/** What a practitioner calls each cause. */
const CAUSES: Readonly<Record<UnmetCause, (found: GivesOutFirst) => string>> = {
  bank_floor: () => 'the bank ran down to its floor',
  bank_cold: () => 'the cold kept back what the bank held',
  bank_current: ({ bank_current_by }) =>
    bank_current_by === 'modules'
      ? "the modules' discharge amps were too few"
      : 'the bank could not give what it held fast enough',
  inverter_rating: () => 'the inverter was too small',
  leg: () => 'one leg of the inverters was full while another was not',
  inverter_asleep: () => 'the loads were too small to wake the inverter',
  inverter_cut_off: () => 'the inverter cut off to spare the bank',
  generator_rating: () => 'the generator that carried the loads was too small',
  generator_barred: () => 'the generator was not allowed to run, did not start or was warming up',
  fuel: () => 'the generator was out of fuel',
  shore_rating: () => 'the socket that carried the loads gave too few amps',
  shed: ({ shed_by }) =>
    shed_by === 'rules'
      ? 'loads were shed on purpose'
      : 'flexible loads went without on purpose, the bank being below their min_soc',
};

const LIMITS: Readonly<Record<GivesOutFirst['closest'][number]['limit'], string>> = {
  bank_energy: "the bank's energy",
  bank_current: "the modules' discharge amps",
  inverter_rating: "the inverter's rating",
  generator_rating: "the generator's rating",
};

/** From this share of the unmet energy on, sun that a plant without power could not take is worth a sentence. Invented. */
const WORTH_share = 0.1;

/** The first limit to leave load unmet and the one behind most of it; else the limit that came closest. */
export function givesOutSentence({ gives_out_first: found, unmet }: Report): string {
  const { first_cause, first_time, main_cause, asleep_sun_kWh } = found;
  if (first_cause === null || first_time === null || main_cause === null) {
    const { limit, used_share, time } = found.closest[0]!;
    return `Nothing gave out. Closest to it came ${LIMITS[limit]}, ${percent(used_share)} used at ${clockTime(time)}.`;
  }
  const behind = percent(unmet.by_cause_kWh[main_cause] / unmet.energy_kWh);
  return (
    `${sentenceCase(CAUSES[first_cause](found))}, from ${clockTime(first_time)} on. ` +
    (main_cause === first_cause
      ? `That is behind ${behind} of the unmet energy.`
      : `Behind most of the unmet energy (${behind}): ${CAUSES[main_cause](found)}.`) +
    (asleep_sun_kWh < WORTH_share * unmet.energy_kWh
      ? ''
      : ` In these hours ${kWh(asleep_sun_kWh)} of sun on the AC side stood still, because the inverter was down: only sun on the DC side, a generator or somebody starts it again.`)
  );
}
