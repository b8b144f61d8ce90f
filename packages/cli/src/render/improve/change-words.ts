import type { ChangeCaution, ChangeReason, Unplayed } from '@longnight/core/study';
import { digits } from '../document/figures.ts';
import { said, type WordsFor } from '../document/said.ts';
import { dangerFound } from '../report/dangers.ts';

const on = ({ array }: { readonly array: string | null }): string => (array === null ? '' : ` on ${array}`);

const WORDS: WordsFor<ChangeReason> = {
  one_more_string: (it) => `one more string of ${it.in_series}${on(it)}`,
  one_more_panel: (it) => `one more panel${on(it)}`,
  a_tenth_more_array: (it) => `a tenth more array${on(it)}`,
  tracker_part: (it) => `tracker ${it.part}${on(it)}`,
  tracker: (it) => `a tracker of ${it.power_kW} kW, ${it.amps_A} A${on(it)}`,
  array_inverter: (it) => `an inverter of ${it.output_kW} kW for the array on the AC side${on(it)}`,
  steeper: ({ array, tilt_deg }) => `steeper: ${array} at ${tilt_deg}°`,
  flatter: ({ array, tilt_deg }) => `flatter: ${array} at ${tilt_deg}°`,
  steeper_by: ({ array, by_deg }) => `steeper: ${array} by ${by_deg}° in every month, from 0 to 90°`,
  flatter_by: ({ array, by_deg }) => `flatter: ${array} by ${by_deg}° in every month, from 0 to 90°`,
  inverter_part: ({ part, brings_others }) =>
    `inverter ${part}${brings_others ? ' with what it brings' : ''}`,
  inverter: ({ units, rating_kW, now_kW }) =>
    units === 1
      ? `an inverter of ${rating_kW} kW`
      : `${units} inverters of ${rating_kW} kW instead of ${now_kW} kW`,
  one_more_inverter: ({ on_each_leg }) => `one more inverter${on_each_leg ? ' on each leg' : ''}`,
  load_leg: ({ load, leg }) => `${load} on leg ${leg}`,
  charger_part: ({ part }) => `charger ${part}`,
  charger: ({ amps_A, separate }) => `a charger of ${amps_A} A${separate ? ' in a case of its own' : ''}`,
  generator_part: ({ part }) => `generator ${part}`,
  generator: ({ rating_kW }) => `a generator of ${rating_kW} kW`,
  generator_hour: () => 'an hour more of the generator a day',
  no_quiet_hours: () => 'no quiet hours for the generator',
  generator_earlier: () => 'the generator starts earlier',
  generator_tank: ({ capacity_L }) => `a tank of ${capacity_L} L`,
  side_by_side: ({ source }) =>
    `inverter and ${source === 'shore' ? 'socket' : source} carry loads side by side`,
  new_generator: ({ part, rating_kW, charger_A }) =>
    `a generator ${part ?? `of ${rating_kW} kW`}${charger_A === null ? '' : ` and a charger of ${charger_A} A`}`,
  socket: ({ amps_A }) => `a socket of ${amps_A} A`,
  engine_charger: ({ amps_A }) => `a charger at the engine of ${amps_A} A`,
  one_more_module: () => 'one more module',
  lower_floor: () => 'a lower floor',
  bank_heated: ({ temperature_C }) => `a bank kept at ${temperature_C} °C`,
  loads_a_tenth_smaller: () => 'all loads a tenth smaller',
  loads_wait_less: () => 'flexible loads draw at any charge of the bank',
  tier_shed: ({ tier }) => `tier ${tier} shed at a low bank`,
};

/** A change in words: `one more module`. */
export const whatWords = ({ what }: { readonly what: ChangeReason }): string => said(WORDS, what);

/** What the played year does not show of it. */
export const CAUTION_WORDS: Readonly<Record<ChangeCaution, string>> = {
  stackable: 'needs inverters that are made to be stacked in this number',
  side_by_side: 'needs an inverter that is made for it',
  rack: 'another rack may cost more; the bill does not know it',
  engine:
    'fuel, service, noise and exhaust come with it and are in no price here; it needs a transfer switch, or an inverter made to take it in',
  deep_discharge: 'deeper discharge costs cycle life, and no reserve is left for what the year did not bring',
  heat: 'the heat that keeps it warm is neither a load nor a cost here',
  drained_by_waiting: 'less is left in the bank for the other loads',
  shed_is_unmet: 'what is shed counts as unmet: look at the tiers that matter more',
};

const UNPLAYED: WordsFor<Unplayed> = {
  over_tracker: ({ size_kWp, power_kW, times }) =>
    `${digits(size_kWp, 4)} kWp on a tracker that takes ${power_kW} kW is more than ${times} times its power: it needs another tracker, on an input of its own`,
  danger: ({ danger }) => `it would be a danger. ${dangerFound(danger)}`,
  contradiction: ({ message }) => message,
};

/** Why a change was not played, or not taken. */
export const unplayedWords = (why: Unplayed): string => said(UNPLAYED, why);
