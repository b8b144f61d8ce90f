import * as z from 'zod';
import {
  assumed,
  CHARGE_CURRENT,
  clockTime,
  clockWindow,
  days,
  key,
  kind,
  life_years,
  money,
  months,
  optional,
  part,
  positive,
  price,
  seed,
  share,
  windows,
  windowsAllDay,
} from './terms.ts';

const starts = z.discriminatedUnion('kind', [
  z.strictObject({ kind: kind('at_soc', 'The state of charge start_soc') }),
  z.strictObject({
    kind: kind(
      'on_shortfall',
      'Only a step that would otherwise have unmet load: an empty bank, or more load than the inverter gives',
    ),
  }),
  z.strictObject({
    kind: kind(
      'before_night',
      'It runs in the evening until the bank holds what the night is expected to take, so that start_soc is left when the array carries the loads again; it knows the loads and the sun of the last days hour by hour, the stock of the bank and the sun of the present step: no forecast, no tomorrow. Nights after a dull day are guessed like the days before it; on the first day it waits for a shortfall. Loads that may wait, shore power, engine charging, heaters and shed tiers are not foreseen',
    ),
    decide_at: optional(clockTime, 'Local clock time of the decision', 'once the sun falls below the need'),
    look_back_days: assumed(
      z.int().min(1).max(14),
      'Days whose mean tonight is taken to be like',
      3,
      'tonight is taken to be like the mean of the last three days, hour by hour; common practice, no source',
    ),
    margin_share: assumed(
      z.number().min(0).max(2),
      'How much more than the need expected it charges for',
      0.2,
      'it charges for a fifth more than the need expected, since nights differ; common practice, no source',
    ),
  }),
]);

const fuel = z.union([
  z.strictObject({
    full_load_L_per_h: key(positive(), 'At full load'),
    half_load_L_per_h: key(positive(), 'At half load'),
  }),
  z.strictObject({
    points: key(
      z
        .array(
          z.strictObject({
            load_share: key(share(), 'Load, share of the rating'),
            L_per_h: key(positive(), 'At this load'),
          }),
        )
        .min(2),
      'As many lines of the data sheet as there are, load ascending; joined by straight lines, in place of the two figures',
    ),
  }),
]);

export const generator = optional(
  z.strictObject({
    part,
    price: price(),
    life_years: life_years(),
    life_h: optional(positive().max(1e6), 'Run-hours after which it is bought again'),
    service: optional(
      z.strictObject({
        every_h: key(
          positive().max(1e5),
          'Run-hours between two services; run says how many fall due in the year and when the first does',
        ),
        price: optional(money(), 'Price of one service'),
      }),
      'Service that falls due by run-hours',
    ),
    rating_kW: key(positive(), 'Continuous AC power'),
    fuel: key(fuel, 'Consumption, from the data sheet'),
    voltage_V: optional(
      positive().max(1000),
      'Voltage of its socket',
      'charger.input_at_voltage asks for it',
    ),
    start_soc: optional(
      share(),
      'It starts when the bank is down to this state of charge; before_night leaves so much in the morning',
      'it starts on a shortfall alone',
    ),
    stop_soc: key(
      share(),
      'State of charge at which it stops; before_night stops as soon as its night is covered',
    ),
    starts: assumed(
      starts,
      'What starts it, beside a step that would otherwise have unmet load',
      { kind: 'at_soc' },
      'it starts when the bank is down to start_soc, and whenever a step would otherwise go unserved',
    ),
    warm_up_min: assumed(
      z.number().min(0).max(60),
      'It runs so long, burning as at its least load, before it carries loads',
      0,
      'it carries loads as soon as it starts',
    ),
    min_load_share: assumed(
      share(),
      'Least load of the engine, share of its rating; the rest is spilled',
      0.3,
      'below this the rest is spilled: light load fouls engines; common practice, no source',
    ),
    min_run_h: assumed(
      z.number().min(0).max(72),
      'Shortest run',
      1,
      'shortest run; common practice, no source',
    ),
    quiet_windows: assumed(
      z.array(clockWindow()),
      'Windows of local clock time in which it may not run; a step that touches one is barred',
      [],
      'it may run at any hour',
    ),
    max_run_h_per_day: assumed(
      z.number().positive().max(24),
      'Most hours that it may run in one local day; 24 is no limit',
      24,
      'it may run all day',
    ),
    tank: optional(
      z.strictObject({
        capacity_L: key(positive().max(1e6), 'What the tank holds'),
        refill_every_days: key(
          z.int().min(1).max(366),
          'Filled up on the first step of the year and then every so many local days',
        ),
      }),
      'Fuel on hand',
      'there is always enough',
    ),
    start_failure: optional(
      z.strictObject({
        share: key(z.number().min(0).max(0.99), 'Chance that a start fails for that step'),
        seed: key(seed(), 'Which starts fail'),
      }),
      'Chance that a start fails',
      'it always starts',
    ),
    connection: assumed(
      z.enum(['transfer', 'parallel']),
      'Whether the loads hang on it alone while it runs (transfer), or it shares them with the inverter (parallel)',
      'transfer',
      'the loads hang on the generator alone while it runs, as with a plain transfer switch',
    ),
  }),
  'Engine with an AC generator',
);

export const shore = optional(
  z.strictObject({
    max_A: key(positive().max(1000), 'Highest current of the socket'),
    voltage_V: key(positive().max(1000), 'Voltage of the socket'),
    cable_A: optional(
      positive().max(1000),
      'What the cable to the socket and its plugs carry: less than max_A is a danger; not played',
    ),
    windows: windowsAllDay,
    days,
    months,
    connection: assumed(
      z.enum(['transfer', 'parallel']),
      'Whether the loads hang on it alone while it is there (transfer), or it shares them (parallel)',
      'transfer',
      'the loads hang on the socket alone while it carries them, as with a plain transfer switch',
    ),
    carries: optional(
      z.discriminatedUnion('kind', [
        z.strictObject({ kind: kind('all', 'It carries all loads while it is there') }),
        z.strictObject({
          kind: kind(
            'after_sun',
            'It carries what is left after sun that the bank can not take; where the connection is parallel only',
          ),
        }),
        z.strictObject({
          kind: kind(
            'after_bank',
            'Sun and bank carry the loads down to at_soc, then the socket until until_soc; whenever they leave load unmet it carries that too',
          ),
          at_soc: key(share(), 'State of charge at which the socket takes over'),
          until_soc: key(share(), 'State of charge at which it hands back; until then it charges'),
        }),
      ]),
      'Which source carries what while the socket is there',
      'after_sun if the connection is parallel, else all',
    ),
  }),
  "Power from a socket by the clock: at a quay, a site, a neighbour's; a step counts if it lies wholly in a window",
);

export const engine_charging = optional(
  z.strictObject({
    max_charge_A: key(positive().max(10_000), CHARGE_CURRENT),
    windows,
    days,
    months,
  }),
  'Current from a running engine into the bank, through a DC-DC charger',
);

type ShoreSpec = NonNullable<z.output<typeof shore>>;

/**
 * What the socket carries while it is there: `all` the loads; those that are left `after_sun` that the bank can't take;
 * or nothing until the bank is down to `at_soc`, and then until it is back at `until_soc`.
 */
export type ShoreRule = NonNullable<ShoreSpec['carries']>;

/** Left out, the sun comes first where socket and inverter can carry loads at once. */
export const shoreRule = ({ carries, connection }: Pick<ShoreSpec, 'carries' | 'connection'>): ShoreRule =>
  carries ?? { kind: connection === 'parallel' ? 'after_sun' : 'all' };
