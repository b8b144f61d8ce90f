import * as z from 'zod';
import { assumed, clockWindow, loadDays, loadMonths, name, positive, share, twelve } from './terms.ts';
import { csv } from './weather.ts';

const tier = assumed(
  z.int().min(1).max(9),
  1,
  'tier 1 is served first; loads with no tier are all of the first',
);
/** Factor on the whole load, whatever its kind. */
const scale = assumed(z.number().min(0).max(1000), 1, 'the load as it is described');
/** Coefficient of variation of a factor that each local day draws; its mean is 1. */
const daily_variation_share = assumed(
  z.number().min(0).max(2),
  0,
  'every day is as described; people differ from day to day',
);
/** For several years: how much more is asked for each year than the year before. */
const growth_share_per_year = assumed(
  z.number().min(-0.5).max(1),
  0,
  'the load stays as it is from year to year; counts in run --years alone',
);
const variation_seed = z.int().min(0).max(4_294_967_295).optional();
/** Where it hangs. Left out: on the AC side, behind the inverter, at its voltage, shared evenly by its legs. */
const place = {
  bus: z.enum(['ac', 'dc']).optional(),
  /** The one leg of a stacked inverter that carries it. */
  leg: z.int().min(1).max(3).optional(),
  /** What it needs; checked against what the inverter gives. */
  voltage_V: positive().max(1000).optional(),
};

export const applianceLoad = z.strictObject({
  kind: z.literal('appliance'),
  name: name(),
  tier,
  scale,
  growth_share_per_year,
  ...place,
  daily_variation_share,
  variation_seed,
  power_W: z.number().min(0).max(1_000_000),
  /** Drawn for a moment when one of it starts. */
  start_W: positive().max(1_000_000).optional(),
  count: assumed(z.int().min(0).max(100_000), 1, 'one of it'),
  windows: assumed(z.array(clockWindow).min(1), ['00:00-24:00'], 'all day'),
  days: loadDays,
  months: loadMonths,
  /** Share of the window during which it draws `power_W`. */
  duty_share: assumed(share(), 1, 'draws its power throughout its windows'),
});

export const dailyLoad = z.strictObject({
  kind: z.literal('daily'),
  name: name(),
  tier,
  scale,
  growth_share_per_year,
  ...place,
  daily_variation_share,
  variation_seed,
  energy_kWh_day: z.number().min(0).max(1_000_000),
  /** A named shape, or 24 weights by local clock hour. */
  shape: z.union([z.enum(['flat', 'evening', 'working_day']), z.array(z.number().min(0)).length(24)]),
  month_factors: assumed(twelve(z.number().min(0)), Array(12).fill(1) as number[], 'the same in every month'),
  days: loadDays,
  months: loadMonths,
});

export const seriesLoad = z.strictObject({
  kind: z.literal('series'),
  name: name(),
  tier,
  scale,
  growth_share_per_year,
  ...place,
  ...csv,
  power: z.strictObject({ column: name(), unit: z.enum(['W', 'kW', 'Wh', 'kWh']) }),
});

/** Heating or cooling that follows the air outside. */
export const temperatureLoad = z.strictObject({
  kind: z.literal('temperature'),
  name: name(),
  tier,
  scale,
  growth_share_per_year,
  ...place,
  daily_variation_share,
  variation_seed,
  /** Whether it draws power below the base temperature or above it. */
  side: z.enum(['heating', 'cooling']),
  /** Outside air at which nothing is needed. */
  base_temperature_C: z.number().min(-40).max(60),
  /** Electrical, for each kelvin beyond it. */
  slope_W_per_K: z.number().min(0).max(1_000_000),
  max_power_W: z.number().min(0).max(1_000_000),
  windows: assumed(z.array(clockWindow).min(1), ['00:00-24:00'], 'all day'),
  days: loadDays,
  months: loadMonths,
});

/** So much energy within each of its windows, whenever it suits the plant: a car, a washing machine, a pump. */
export const waitingLoad = z.strictObject({
  kind: z.literal('waiting'),
  name: name(),
  scale,
  growth_share_per_year,
  /** In each window. */
  energy_kWh: z.number().min(0).max(1_000_000),
  max_power_W: positive().max(1_000_000),
  window: clockWindow,
  days: loadDays,
  months: loadMonths,
  /** With the bank below it the load goes without. */
  least_soc: assumed(share(), 0, 'its energy is asked for in every window, however low the bank is'),
});

/** Takes only what would otherwise be left unused: never wanted, never missed. */
export const surplusLoad = z.strictObject({
  kind: z.literal('surplus'),
  name: name(),
  scale,
  max_power_W: positive().max(1_000_000),
  /** Most that is of use in one local day; left out: all that is left over is. */
  max_kWh_day: z.number().min(0).max(1_000_000).optional(),
  windows: assumed(z.array(clockWindow).min(1), ['00:00-24:00'], 'all day'),
  days: loadDays,
  months: loadMonths,
});

export const load = z.discriminatedUnion('kind', [
  applianceLoad,
  dailyLoad,
  seriesLoad,
  temperatureLoad,
  waitingLoad,
  surplusLoad,
]);

/** A tier is shed when the bank is down to one state of charge and comes back at a higher one. */
export const shedRule = z.strictObject({
  tier: z.int().min(1).max(9),
  shed_soc: share(),
  restore_soc: share(),
});
