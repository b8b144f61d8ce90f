import type { Report } from '@longnight/core';
import type { BankConductor } from '@longnight/core/wiring';
import { amount, clockTime, fixed, kW, percent } from '../document/figures.ts';

const ELECTRICIAN = 'Local code and a licensed electrician decide cable, fuse and breaker.';

/** What the loads can ask for at once, and whether anything speaks against it. */
export function surgeSentences(surge: Report['surge']): readonly string[] {
  const { running_kW, running_time, peak_kW, peak_time, start, conflicts } = surge;
  return [
    `${kW(running_kW)} if every appliance whose window touches the step at ${clockTime(running_time)} is on at once.`,
    start === null
      ? 'No appliance has start_W, so starts are not looked at.'
      : `${kW(peak_kW)} when ${start.name} starts beside what may run at ${clockTime(peak_time)} (${amount(start.start_W)} W).`,
    ...(conflicts.length === 0 ? ['No conflict found.'] : conflicts.map((text) => `Conflict: ${text}`)),
  ];
}

/** What the tables say of the cable between bank and inverter. */
export function conductorSentences(conductor: BankConductor): readonly string[] {
  const { currents, needed_A, cable, voltage_drop, overcurrent, conflicts, rests_on } = conductor;
  const [first, ...others] = currents.map(({ what, current_A }) => `${what}: ${amount(current_A)} A`);
  const size = cable.parallel === 1 ? cable.size : `${cable.parallel} × ${cable.size}`;
  return [
    `set by ${first}`,
    ...others.map((other) => `then ${other}`),
    `${amount(needed_A)} A is 125 % of it. ${cable.given ? 'The cable of the file is' : 'The smallest copper that carries it and has a standard fuse:'} ` +
      `${size}, ${amount(cable.ampacity_A)} A at 75 °C.`,
    voltage_drop === null
      ? 'No length is given, so no voltage drop.'
      : `Over ${amount(voltage_drop.length_m)} m and back it drops ${fixed(voltage_drop.drop_V, 2)} V, ${percent(voltage_drop.drop_share)}.`,
    protection(overcurrent),
    ...(conflicts.length === 0 ? ['No conflict found.'] : conflicts.map((text) => `Conflict: ${text}`)),
    ...rests_on,
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
