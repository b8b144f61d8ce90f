import * as z from 'zod';
import {
  assumed,
  between,
  key,
  kind,
  leftOut,
  list,
  money,
  ofRunHours,
  optional,
  positive,
  rating_kW,
  seed,
  share,
  volts,
  whole,
} from './key.ts';
import {
  CHARGE_CURRENT,
  clockTime,
  clockWindow,
  days,
  life_years,
  months,
  part,
  price,
  windows,
  windowsAllDay,
} from './terms.ts';

const starts = z.discriminatedUnion('kind', [
  z.strictObject({ kind: kind('at_soc')`The state of charge start_soc` }),
  z.strictObject({
    kind: kind('on_shortfall')`Only a step that would otherwise have unmet load: an empty bank, or more load
      than the inverter gives`,
  }),
  z.strictObject({
    kind: kind('before_night')`It runs in the evening until the bank holds what the night is expected to take,
      so that start_soc is left when the array carries the loads again; it knows the loads and the sun of the
      last days hour by hour, the stock of the bank and the sun of the present step: no forecast, no tomorrow.
      Nights after a dull day are guessed like the days before it; on the first day it waits for a shortfall.
      Flexible loads, shore power, alternator, heaters and shed tiers are not foreseen`,
    decide_at: optional(clockTime)`Local clock time of the decision | once the sun falls below the need`,
    look_back_days: ofRunHours(
      whole(1, 14),
      3,
    )`Days whose mean tonight is taken to be like | tonight is taken to
      be like the mean of the last three days, hour by hour; common practice, no source`,
    margin_share: ofRunHours(
      between(0, 2),
      0.2,
    )`How much more than the need expected it charges for | it charges
      for a fifth more than the need expected, since nights differ; common practice, no source`,
  }),
]);

const fuelPoint = z.strictObject({
  load_share: key(share())`Load, share of the rating`,
  L_per_h: key(positive(100_000))`At this load`,
});
const fuel = z.union([
  z.strictObject({
    full_load_L_per_h: key(positive(100_000))`At full load`,
    half_load_L_per_h: key(positive(100_000))`At half load`,
  }),
  z.strictObject({
    points: key(
      list(fuelPoint, 2, 50),
    )`As many lines of the data sheet as there are, load ascending; joined by
      straight lines, in place of the two figures`,
  }),
]);

const service = z.strictObject({
  every_h: key(positive(1e5))`Run-hours between two services; run says how many fall due in the year and when
    the first does`,
  price: optional(money())`Price of one service`,
});

const tank = z.strictObject({
  capacity_L: key(positive(1e6))`What the tank holds`,
  refill_every_days: key(whole(1, 366))`Filled up on the first step of the year and then every so many local
    days`,
});

const startFailure = z.strictObject({
  share: key(between(0, 0.99))`Chance that a start fails for that step`,
  seed: key(seed())`Which starts fail`,
});

const connection = z.enum(['transfer', 'parallel']);

export const generator = z.strictObject({
  part,
  price: price(),
  life_years: life_years(),
  life_h: optional(positive(1e6))`Run-hours after which it is bought again`,
  service: optional(service)`Service that falls due by run-hours`,
  rating_kW: key(rating_kW())`Continuous AC power`,
  fuel: key(fuel)`Consumption, from the data sheet`,
  voltage_V: optional(volts())`Voltage of its socket | charger.input_at_voltage asks for it`,
  start_soc: optional(share())`It starts when the bank is down to this state of charge; before_night leaves so
    much in the morning | it starts on a shortfall alone`,
  stop_soc: key(share())`State of charge at which it stops; before_night stops as soon as its night is
    covered`,
  starts: ofRunHours(starts, { kind: 'at_soc' })`What starts it, beside a step that would otherwise have unmet
    load | it starts when the bank is down to start_soc, and whenever a step would otherwise go unmet`,
  warm_up_min: assumed(between(0, 60), 0)`It runs so long, burning as at its least load, before it carries
    loads | it carries loads as soon as it starts`,
  min_load_share: ofRunHours(
    share(),
    0.3,
  )`Least load of the engine, share of its rating; the rest is spilled |
    below this the rest is spilled: light load fouls engines; common practice, no source`,
  min_run_h: ofRunHours(between(0, 72), 1)`Shortest run | shortest run; common practice, no source`,
  quiet_windows: leftOut(
    list(clockWindow(), 0, 50),
    [],
  )`Windows of local clock time in which it may not run; a
    step that touches one is barred | it may run at any hour`,
  max_run_h_per_day: leftOut(positive(24), 24)`Most hours that it may run in one local day; 24 is no limit |
    it may run all day`,
  tank: optional(tank)`Fuel on hand | there is always enough`,
  start_failure: optional(startFailure)`Chance that a start fails | it always starts`,
  connection: ofRunHours(
    connection,
    'transfer',
  )`Whether the loads hang on it alone while it runs (transfer), or
    it shares them with the inverter (parallel) | the loads hang on the generator alone while it runs, as with
    a plain transfer switch`,
});

const carries = z.discriminatedUnion('kind', [
  z.strictObject({ kind: kind('all')`It carries all loads while it is there` }),
  z.strictObject({
    kind: kind('after_sun')`It carries what is left after sun that the bank can not take; where the connection
      is parallel only`,
  }),
  z.strictObject({
    kind: kind('after_bank')`Sun and bank carry the loads down to at_soc, then the socket until until_soc;
      whenever they leave load unmet it carries that too`,
    at_soc: key(share())`State of charge at which the socket takes over`,
    until_soc: key(share())`State of charge at which it hands back; until then it charges`,
  }),
]);

export const shore = z.strictObject({
  max_A: key(positive(1000))`Highest current of the socket`,
  voltage_V: key(volts())`Voltage of the socket`,
  cable_A: optional(positive(1000))`What the cable to the socket and its plugs carry: less than max_A is a
    danger; not played`,
  windows: windowsAllDay,
  days,
  months,
  connection: assumed(connection, 'transfer')`Whether the loads hang on it alone while it is there (transfer),
    or it shares them (parallel) | the loads hang on the socket alone while it carries them, as with a plain
    transfer switch`,
  carries: optional(carries)`Which source carries what while the socket is there | after_sun if the connection
    is parallel, else all`,
});

export const alternator = z.strictObject({
  max_charge_A: key(positive(10_000))`${CHARGE_CURRENT}`,
  windows,
  days,
  months,
});

type ShoreSpec = z.output<typeof shore>;

/**
 * What the socket carries while it is there: `all` the loads; those that are left `after_sun` that the bank can't take;
 * or nothing until the bank is down to `at_soc`, and then until it is back at `until_soc`.
 */
export type ShoreRule = NonNullable<ShoreSpec['carries']>;

/** Left out, the sun comes first where socket and inverter can carry loads at once. */
export const shoreRule = ({ carries, connection }: Pick<ShoreSpec, 'carries' | 'connection'>): ShoreRule =>
  carries ?? { kind: connection === 'parallel' ? 'after_sun' : 'all' };
