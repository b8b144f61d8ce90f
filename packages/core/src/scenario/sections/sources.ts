import * as z from 'zod';
import {
  assumed,
  clockTime,
  clockWindow,
  life_years,
  loadDays,
  loadMonths,
  part,
  positive,
  price,
  share,
} from './terms.ts';

/** What starts the generator. A step that would otherwise go unserved starts it in any case. */
const starts = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('at_soc') }),
  z.strictObject({ kind: z.literal('on_shortfall') }),
  z.strictObject({
    kind: z.literal('before_night'),
    /** Local clock time of the decision; absent means once the sun falls below the need. */
    decide_at: clockTime.optional(),
    look_back_days: assumed(
      z.int().min(1).max(14),
      3,
      'tonight is taken to be like the mean of the last three days, hour by hour; common practice, no source',
    ),
    margin_share: assumed(
      z.number().min(0).max(2),
      0.2,
      'it charges for a fifth more than the need expected, since nights differ; common practice, no source',
    ),
  }),
]);

export const generator = z.strictObject({
  part,
  price,
  life_years,
  /** Run-hours after which it is bought again. */
  life_h: positive().max(1e6).optional(),
  service: z.strictObject({ every_h: positive().max(1e5), price }).optional(),
  rating_kW: positive(),
  fuel: z.union([
    z.strictObject({ full_load_L_per_h: positive(), half_load_L_per_h: positive() }),
    z.strictObject({
      /** Lines of the data sheet, load ascending. */
      points: z.array(z.strictObject({ load_share: share(), L_per_h: positive() })).min(2),
    }),
  ]),
  /** Needed where the charger draws more at one voltage than at another. */
  voltage_V: positive().max(1000).optional(),
  /** Not needed where it starts on a shortfall alone. */
  start_soc: share().optional(),
  stop_soc: share(),
  starts: assumed(
    starts,
    { kind: 'at_soc' },
    'it starts when the bank is down to start_soc, and whenever a step would otherwise go unserved',
  ),
  warm_up_min: assumed(z.number().min(0).max(60), 0, 'it carries loads as soon as it starts'),
  min_load_share: assumed(
    share(),
    0.3,
    'below this the rest is spilled: light load fouls engines; common practice, no source',
  ),
  min_run_h: assumed(z.number().min(0).max(72), 1, 'shortest run; common practice, no source'),
  /** Windows of local clock time in which it may not run; a step that touches one is barred. */
  quiet_windows: assumed(z.array(clockWindow), [], 'it may run at any hour'),
  /** Most hours it may run in one local day. */
  max_run_h_per_day: assumed(z.number().positive().max(24), 24, 'it may run all day'),
  /** Fuel on hand; absent means that there is always enough. */
  tank: z
    .strictObject({
      capacity_L: positive().max(1e6),
      /** Filled up on the first step of the year and then every so many local days. */
      refill_every_days: z.int().min(1).max(366),
    })
    .optional(),
  /** Chance that a start fails for that step, drawn with its own seed; absent means that it always starts. */
  start_failure: z
    .strictObject({ share: z.number().min(0).max(0.99), seed: z.int().min(0).max(4_294_967_295) })
    .optional(),
  connection: assumed(
    z.enum(['transfer', 'parallel']),
    'transfer',
    'the loads hang on the generator alone while it runs, as with a plain transfer switch',
  ),
});

/** Power from a socket at a quay, a site or a neighbour's. */
export const shore = z.strictObject({
  max_A: positive().max(1000),
  voltage_V: positive().max(1000),
  /** Of the cable to the socket and its plugs; not played. */
  cable_A: positive().max(1000).optional(),
  windows: assumed(z.array(clockWindow).min(1), ['00:00-24:00'], 'all day'),
  days: loadDays,
  months: loadMonths,
  connection: assumed(
    z.enum(['transfer', 'parallel']),
    'transfer',
    'the loads hang on the socket alone while it carries them, as with a plain transfer switch',
  ),
  /** Left out: `after_sun` where the connection is parallel, else `all`. */
  carries: z
    .discriminatedUnion('kind', [
      z.strictObject({ kind: z.literal('all') }),
      z.strictObject({ kind: z.literal('after_sun') }),
      z.strictObject({ kind: z.literal('after_bank'), at_soc: share(), until_soc: share() }),
    ])
    .optional(),
});

/** Current from a running engine into the bank, through a DC-DC charger. */
export const engine_charging = z.strictObject({
  /** Most it puts out, at the bank's nominal voltage. */
  max_charge_A: positive().max(10_000),
  windows: z.array(clockWindow).min(1),
  days: loadDays,
  months: loadMonths,
});

/**
 * What the socket carries while it is there: `all` the loads; those that are left `after_sun` that the bank can't take;
 * or nothing until the bank is down to `at_soc`, and then until it is back at `until_soc`.
 */
export type ShoreRule = NonNullable<z.output<typeof shore>['carries']>;

/** Left out, the sun comes first where socket and inverter can carry loads at once. */
export const shoreRule = ({
  carries,
  connection,
}: Pick<z.output<typeof shore>, 'carries' | 'connection'>): ShoreRule =>
  carries ?? { kind: connection === 'parallel' ? 'after_sun' : 'all' };
