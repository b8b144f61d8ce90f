import { localTime } from '../clock/clock.ts';
import { UNMET_CAUSES, type UnmetCause } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { dischargeCurrent_A, openCircuit_V } from '../plant/bank-resistive.ts';
import { deratedRating_kW } from '../plant/inverter.ts';
import type { Plant } from '../plant/plant.ts';
import { isUnmet } from './figures/unmet.ts';
import type { Report } from './report.ts';
import { unmetColumn } from './unmet.ts';

type Closest = Report['gives_out_first']['closest'][number];

/** What a practitioner calls each cause. */
const CAUSE_WORDS: Readonly<Record<UnmetCause, string>> = {
  bank_floor: 'the bank ran down to its floor',
  bank_cold: 'the cold kept back what the bank held',
  bank_current: "the modules' discharge amps were too few",
  inverter_rating: 'the inverter was too small',
  leg: 'one leg of the inverters was full while another was not',
  inverter_asleep: 'the loads were too small to wake the inverter',
  generator_rating: 'the generator that carried the loads was too small',
  generator_barred: 'the generator was not allowed to run, did not start or was warming up',
  fuel: 'the generator was out of fuel',
  shore_rating: 'the socket that carried the loads gave too few amps',
  shed: 'loads were shed on purpose',
};

/** A kinetic bank that gives no more amps may hold enough, but bound; without rules of shedding only `least_soc` sheds. */
function causeWords({ bank, shedding }: Plant, cause: UnmetCause): string {
  if (cause === 'bank_current' && bank.model.kind === 'kinetic')
    return 'the bank could not give what it held fast enough';
  if (cause === 'shed' && shedding.length === 0)
    return 'loads that may wait went without on purpose, the bank being below their least_soc';
  return CAUSE_WORDS[cause];
}

const LIMIT_WORDS: Readonly<Record<Closest['limit'], string>> = {
  bank_energy: "the bank's energy",
  bank_current: "the modules' discharge amps",
  inverter_rating: "the inverter's rating",
  generator_rating: "the generator's rating",
};

/** Step with the highest value of a column. */
function highest(column: Float64Array): number {
  let at = 0;
  for (let i = 1; i < column.length; i++) if (column[i]! > column[at]!) at = i;
  return at;
}

/** Share of the discharge amps used in each step. */
function dischargeAmps_share({ plant: { bank }, columns, step_h, start_stock_kWh }: Ledger): Float64Array {
  const { model } = bank;
  const discharged = columns.bank_discharge_kWh;
  if (model.kind !== 'resistive') return discharged.map((kWh) => kWh / step_h / bank.max_discharge_kW);
  const most_A = bank.current_modules * bank.module_max_discharge_A;
  const resistance_ohm = model.module_resistance_ohm / bank.current_modules;
  const keep = 1 - bank.self_discharge_per_h * step_h;
  return discharged.map((kWh, i) => {
    const before_kWh = i > 0 ? columns.bank_stock_kWh[i - 1]! : start_stock_kWh;
    const stock_kWh = bank.floor_kWh + (before_kWh - bank.floor_kWh) * keep;
    const voltage_V = openCircuit_V(model.open_circuit, stock_kWh / bank.capacity_kWh);
    return dischargeCurrent_A(voltage_V, resistance_ohm, (1000 * kWh) / step_h) / most_A;
  });
}

/** How near each limit came, closest first: 1 is at it. Hourly means, so moments within a step are not seen. */
function closestLimits(ledger: Ledger): readonly Closest[] {
  const { year, columns, step_h } = ledger;
  const { bank, inverter, generator } = ledger.plant;
  let emptiest = 0;
  for (let i = 1; i < ledger.steps; i++) {
    if (columns.bank_soc[i]! < columns.bank_soc[emptiest]!) emptiest = i;
  }
  const near = (limit: Closest['limit'], used_share: number, step: number): Closest => ({
    limit,
    used_share,
    time: localTime(year.clock, step),
  });
  const ampsUsed = dischargeAmps_share(ledger);
  const amps = highest(ampsUsed);
  // Loads that take surplus take what the others leave of it.
  const inverterOut = columns.inverter_out_kWh.map((kWh, i) =>
    Math.max(0, kWh - columns.surplus_load_kWh[i]!),
  );
  const derated_kW = deratedRating_kW(inverter, year.sky.air_temperature_C);
  const rated_share = inverterOut.map((kWh, i) => kWh / step_h / (derated_kW?.[i] ?? inverter.rating_kW));
  const inverted = highest(rated_share);
  const list = [
    near(
      'bank_energy',
      (bank.capacity_kWh - columns.bank_stock_kWh[emptiest]!) / (bank.capacity_kWh - bank.floor_kWh),
      emptiest,
    ),
    near('bank_current', ampsUsed[amps]!, amps),
    near('inverter_rating', rated_share[inverted]!, inverted),
  ];
  if (generator !== null) {
    // Loads only: charging takes whatever the loads leave and would show every generator at its rating. Sun on the AC
    // side goes to loads before it goes anywhere else.
    const carried = columns.load_served_kWh.map((served, i) =>
      columns.generator_run_h[i]! > 0
        ? Math.max(0, served - inverterOut[i]! - columns.dc_load_served_kWh[i]! - columns.array_ac_kWh[i]!)
        : 0,
    );
    const most = highest(carried);
    list.push(near('generator_rating', carried[most]! / step_h / generator.rating_kW, most));
  }
  return list.sort((a, b) => b.used_share - a.used_share);
}

/** The first limit to leave load unserved and the one behind most of it; else the limit that came closest. */
export function givesOutFindings(ledger: Ledger, unmet: Report['unmet']): Report['gives_out_first'] {
  const { year, plant, columns, steps } = ledger;
  const closest = closestLimits(ledger);
  let first = 0;
  while (first < steps && !isUnmet(columns.unmet_kWh[first]!)) first++;
  if (first === steps) {
    const nearest = closest[0]!;
    return {
      first_cause: null,
      first_time: null,
      main_cause: null,
      closest,
      sentence: `Nothing gave out. Closest to it came ${LIMIT_WORDS[nearest.limit]}, ${percent(nearest.used_share)} used at ${readable(nearest.time)}.`,
    };
  }
  // Where several limits bound in the first dark step, the one with most of its unserved energy.
  const at = (cause: UnmetCause): number => unmetColumn(columns, cause)[first]!;
  const first_cause = UNMET_CAUSES.reduce((most, cause) => (at(cause) > at(most) ? cause : most));
  const main_cause = UNMET_CAUSES.reduce((most, cause) =>
    unmet.by_cause_kWh[cause] > unmet.by_cause_kWh[most] ? cause : most,
  );
  const first_time = localTime(year.clock, first);
  const behind = percent(unmet.by_cause_kWh[main_cause] / unmet.energy_kWh);
  return {
    first_cause,
    first_time,
    main_cause,
    closest,
    sentence:
      `${sentenceCase(causeWords(plant, first_cause))}, from ${readable(first_time)} on. ` +
      (main_cause === first_cause
        ? `That is behind ${behind} of the unmet energy.`
        : `Behind most of the unmet energy (${behind}): ${causeWords(plant, main_cause)}.`) +
      asleepInTheSun(ledger, unmet.energy_kWh),
  };
}

/** From this share of the unmet energy on, sun that a plant without power could not take is worth a sentence. Invented. */
const WORTH_share = 0.1;

/** An empty plant does not start from arrays on its AC side, whatever the sun: more bank hides that, and mends it late. */
function asleepInTheSun({ columns, steps }: Ledger, unmet_kWh: number): string {
  let stood_kWh = 0;
  for (let i = 0; i < steps; i++)
    if (columns.unmet_bank_floor_kWh[i]! > 0) stood_kWh += columns.curtailed_inverter_off_kWh[i]!;
  if (stood_kWh < WORTH_share * unmet_kWh) return '';
  return ` In these hours ${stood_kWh.toFixed(stood_kWh < 100 ? 1 : 0)} kWh of sun on the AC side stood still, because the inverter was down: only sun on the DC side, a generator or somebody starts it again.`;
}

/** Never 100 % for less than all, nor 0 % for something. */
function percent(share: number): string {
  if (share < 1 && share >= 0.995) return 'over 99 %';
  if (share > 0 && share < 0.005) return 'under 1 %';
  return `${(100 * share).toFixed(0)} %`;
}

const sentenceCase = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** `2025-12-04T06:00:00+01:00` as `2025-12-04 06:00`. */
const readable = (time: string): string => `${time.slice(0, 10)} ${time.slice(11, 16)}`;
