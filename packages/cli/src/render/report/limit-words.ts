import type { Limit } from '@longnight/core';
import type { LimitReason } from '@longnight/core/findings';
import { digits, fixed } from '../document/figures.ts';
import { said, type WordsFor } from '../document/said.ts';

type With<Key extends string> = Extract<LimitReason, { readonly [K in Key]: unknown }>;

/** `4 modules × 100 A at 51.2 V`; with older ones among them, how many new ones carry as much. */
function moduleAmps({ modules, older_modules, current_modules, ...at }: With<'half_charged'>): string {
  const older =
    older_modules === 0 ? '' : ` and ${older_modules} older, which carry as ${digits(current_modules)}`;
  const volts = at.half_charged ? `${fixed(at.voltage_V, 1)} V, half charged` : `${at.voltage_V} V`;
  return `${modules} ${modules === 1 ? 'module' : 'modules'}${older} × ${at.amps_A} A at ${volts}`;
}

const beside = (it: With<'beside'>, them: 'it' | 'them'): string =>
  it.beside ? `, and what charges beside ${them}` : '';
const besideAc = ({ from_ac_kW }: With<'from_ac_kW'>): string =>
  from_ac_kW === null ? '' : `, and ${digits(from_ac_kW)} kW of the AC side through the charger`;
const circuit = (source: string): string =>
  `what the charger draws on the circuit of the ${source}, after conversion`;
const discharge = (it: With<'half_charged'>): string => `bank discharge current: ${moduleAmps(it)}`;

const WORDS: WordsFor<LimitReason> = {
  bank_discharge_current: discharge,
  bank_charge_current: (it) => `bank charge current: ${moduleAmps(it)}`,
  bank_peak_current: (it) => `bank peak current: ${moduleAmps(it)}`,
  bank_peak_unknown: (it) => `${discharge(it)}, continuous; the modules' peak is not in the file`,
  inverter_rating: ({ units, unit_kW }) =>
    units === 1 ? 'inverter rating' : `inverter rating: ${units} × ${digits(unit_kW, 6)} kW`,
  inverter_surge: () => 'inverter surge rating',
  all_in_one_current: (it) =>
    `all charging of the all-in-one: ${it.amps_A} A at ${it.voltage_V} V${beside(it, 'it')}`,
  all_trackers_current: (it) =>
    `current of all trackers of the all-in-one: ${it.amps_A} A at ${it.voltage_V} V${beside(it, 'them')}`,
  all_trackers_power: (it) =>
    `input power of all trackers of the all-in-one: ${digits(it.power_kW)} kW, after conversion${beside(it, 'them')}`,
  tracker_current: (it) =>
    `tracker current: ${it.amps_A.map((amps_A) => `${amps_A} A`).join(' + ')} at ${it.voltage_V} V${besideAc(it)}`,
  tracker_power: (it) => `tracker input power, after conversion${besideAc(it)}`,
  operating_current: (it) =>
    `operating current of tracker inputs: ${it.inputs
      .map(({ amps_A, voltage_V }) => `${amps_A} A at ${digits(voltage_V)} V`)
      .join(' + ')}, after conversion${besideAc(it)}`,
  array_size: (it) => `array size, after conversion${besideAc(it)}`,
  ac_arrays_size: () => 'arrays on the AC side, through the charger',
  array_by_array: () => 'arrays and trackers, one by one',
  charger_current: ({ amps_A, voltage_V }) => `charger current: ${amps_A} A at ${voltage_V} V`,
  generator_rating: () => 'generator rating, after the charger, with no load on it',
  generator_circuit: () => circuit('generator'),
  socket_current: () => 'amps of the socket, after the charger, with no load on it',
  socket_circuit: () => circuit('socket'),
  ac_arrays: () => 'arrays on the AC side, after the charger, with no load on them',
};

/** What a limit comes from: `bank discharge current: 1 module × 100 A at 48 V`. */
export const limitWords = ({ by }: Limit): string => said(WORDS, by);
