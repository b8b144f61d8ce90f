import type { Report } from '@longnight/core';
import type { SurgeConflict } from '@longnight/core/findings';
import type { BankConductor, ConductorConflict } from '@longnight/core/wiring';
import { present } from '../document/document.ts';
import { amount, clockTime, fixed, kW, percent } from '../document/figures.ts';
import { said, type WordsFor } from '../document/said.ts';
import { sizeOf } from './dangers.ts';
import { conflictSentences } from './peak.ts';

const ELECTRICIAN = 'Local code and a licensed electrician decide cable, fuse and breaker.';

const SURGE: WordsFor<SurgeConflict> = {
  running_over_output: (it) =>
    `All of it at once is ${kW(it.asked_kW)}; bank and inverter give ${kW(it.gives_kW)} all the time, without sun.`,
  start_over_inverter: (it) =>
    `With the start it is ${kW(it.asked_kW)}; the inverter gives ${kW(it.gives_kW)} for moments.`,
  start_over_bank: (it) =>
    `With the start it asks the bank for ${kW(it.asked_kW)}; its modules give ${kW(it.gives_kW)} ${it.for_moments ? 'for moments' : 'all the time; their peak is not in the file'}.`,
  running_over_leg: (it) =>
    `On leg ${it.leg} all of it at once is ${kW(it.asked_kW)}; the leg gives ${kW(it.gives_kW)} all the time.`,
  start_over_leg: (it) =>
    `On leg ${it.leg} with the start it is ${kW(it.asked_kW)}; the leg gives ${kW(it.gives_kW)} for moments.`,
};

/** What the loads can ask for at once, and whether anything speaks against it. */
export function surgeSentences(surge: Report['surge']): readonly string[] {
  const { running_kW, running_time, peak_kW, peak_time, start, conflicts } = surge;
  return [
    `${kW(running_kW)} if every appliance whose window touches the step at ${clockTime(running_time)} is on at once.`,
    start === null
      ? 'No appliance has start_W, so starts are not looked at.'
      : `${kW(peak_kW)} when ${start.name} starts beside what may run at ${clockTime(peak_time)} (${amount(start.start_W)} W).`,
    ...conflictSentences(conflicts.map((conflict) => said(SURGE, conflict))),
  ];
}

/** What the tables say of the cable between bank and inverter. */
export function conductorSentences(conductor: BankConductor): readonly string[] {
  const { currents, needed_A, cable, voltage_drop, overcurrent, conflicts } = conductor;
  const [first, ...others] = currents.map(
    ({ by, current_A }) => `${currentWords(by, conductor)}: ${amount(current_A)} A`,
  );
  return [
    `set by ${first}`,
    ...others.map((other) => `then ${other}`),
    `${amount(needed_A)} A is 125 % of it. ${cable.given ? 'The cable of the file is' : 'The smallest copper that carries it and has a standard fuse:'} ` +
      `${sizeOf(cable.parallel, cable.size)}, ${amount(cable.ampacity_A)} A at 75 °C.`,
    voltage_drop === null
      ? 'No length is given, so no voltage drop.'
      : `Over ${amount(voltage_drop.length_m)} m and back it drops ${fixed(voltage_drop.drop_V, 2)} V, ${percent(voltage_drop.drop_share)}.`,
    protection(overcurrent),
    ...conflictSentences(conflicts.map((conflict) => CONFLICTS[conflict](conductor))),
    ...basis(conductor),
    ELECTRICIAN,
  ];
}

function protection({ least_A, most_A, standard_A }: BankConductor['overcurrent']): string {
  if (most_A < least_A)
    return `Fuse or breaker: none of ${amount(least_A)} A or more, as the cable allows ${amount(most_A)} A.`;
  const ratings =
    standard_A.length === 0
      ? 'no standard rating in it'
      : `standard ratings in it: ${standard_A.join(', ')} A`;
  return `Fuse or breaker, for DC: from ${amount(least_A)} A to ${amount(most_A)} A; ${ratings}.`;
}

function currentWords(
  by: BankConductor['currents'][number]['by'],
  { units, lowest_voltage_V }: BankConductor,
): string {
  const each = units === 1 ? '' : `, shared by ${units} units`;
  switch (by.id) {
    case 'inverter':
      return `${units === 1 ? 'inverter' : `each of the ${units} inverters`} at its rating, bank at ${amount(lowest_voltage_V)} V`;
    case 'chargers':
      return `trackers${by.ac_charger ? ' and AC charger together' : ''}${each}`;
    case 'modules':
      return `charge current of the modules${each}; trackers${by.ac_charger ? ' and AC charger' : ''} could give ${amount(by.chargers_A)} A`;
  }
}

const CONFLICTS: Readonly<Record<ConductorConflict, (conductor: BankConductor) => string>> = {
  ampacity: ({ cable, needed_A }) =>
    `${sizeOf(cable.parallel, cable.size)} carries ${amount(cable.ampacity_A)} A, less than the ${amount(needed_A)} A needed.`,
  no_standard_rating: ({ cable, overcurrent: { least_A, most_A } }) =>
    `No standard fuse or breaker lies between ${amount(least_A)} A and the ${amount(most_A)} A that ${sizeOf(cable.parallel, cable.size)} allows: a larger cable opens the window.`,
  parallel_size: ({ cable }) =>
    `${cable.size} is laid in parallel, which the code allows from 1/0 AWG (53.5 mm²) up.`,
};

/** What the figures rest on. */
const basis = ({ units, lowest_voltage_given, cable }: BankConductor): readonly string[] =>
  present([
    units > 1 &&
      `A cable, and a fuse or breaker, for each of the ${units} units: they are taken to share all currents evenly. What all of them draw together flows where their cables meet, at the bank.`,
    !lowest_voltage_given && 'Lowest bank voltage 0.875 of the nominal one; common practice, no source.',
    'Trackers and AC charger are counted on this cable, as in an all-in-one; apart from the inverter they have cables of their own.',
    'Ampacity: NEC Table 310.16, copper, 75 °C, at most three conductors together, air of 30 °C. 125 %: NEC 215.2, 690.8. Resistance at 75 °C: NEC Chapter 9 Table 8. Fuses and breakers: standard ratings of NEC 240.6; where none is the ampacity itself, the next one above it up to 800 A (NEC 240.4(B)), but not of 14 to 10 AWG. Parallel cables: NEC 310.10.',
    cable.metric &&
      'Metric cable: resistance of IEC 60228 class 2; ampacity of the largest AWG size with no more copper.',
  ]);
