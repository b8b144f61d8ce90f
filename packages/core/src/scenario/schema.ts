import * as z from 'zod';
import { isTimeZone, parseZone } from '../clock/zone.ts';

/**
 * The scenario file. One schema checks it, types it and (through JSON Schema) documents it. It has no transforms, so
 * that the checked value has the very shape of the file. Every default carries `why`: the report lists each one used.
 */

/** A default that the report will list with its reason. */
function assumed<S extends z.ZodType, D extends z.util.NoUndefined<z.output<S>>>(
  schema: S,
  value: D,
  why: string,
) {
  return schema.default(value as never).meta({ description: why });
}

const share = () => z.number().min(0).max(1);
const positive = () => z.number().positive();
const twelve = <S extends z.ZodType>(each: S) => z.array(each).length(12);
const byMonth = (each: z.ZodNumber) => z.union([each, twelve(each)]);
const name = () => z.string().trim().min(1).max(200);

const site = z.strictObject({
  name: name(),
  latitude_deg: z.number().min(-90).max(90),
  /** East positive. */
  longitude_deg: z.number().min(-180).max(180),
  elevation_m: z.number().min(-430).max(6000),
  time_zone: z.string().refine(isTimeZone, { error: 'unknown IANA time zone' }),
});

const turbidity = () => z.number().min(1).max(12);
const airTemperature = () => z.number().min(-70).max(60);

const daily_swing_K = assumed(
  z.number().min(0).max(40),
  8,
  'difference between the warmest and the coldest hour of a mean day; common practice, no source',
);
const wind_m_s = assumed(
  z.number().min(0).max(40),
  1,
  'no wind given: 1 m/s, the wind of the nominal cell temperature test (IEC 61215), on the warm side for cells',
);

const clearSky = z.strictObject({
  kind: z.literal('clear-sky'),
  turbidity_linke: byMonth(turbidity()),
  air_temperature_C: byMonth(airTemperature()),
  daily_swing_K,
  wind_m_s,
});

const normals = z.strictObject({
  kind: z.literal('normals'),
  /** Monthly mean of daily global horizontal irradiation, January first. */
  ghi_kWh_m2_day: twelve(z.number().min(0).max(13)),
  air_temperature_C: twelve(airTemperature()),
  daily_swing_K,
  wind_m_s,
  turbidity_linke: assumed(
    byMonth(turbidity()),
    3,
    'shapes the hours of a day only, its sum is given; clean rural air, common practice, no source',
  ),
  /** Which of the possible years is drawn. */
  seed: z.int().min(0).max(4_294_967_295),
});

const irradianceColumn = z.strictObject({
  column: name(),
  unit: z.enum(['W_m2', 'kJ_m2', 'MJ_m2', 'Wh_m2', 'kWh_m2']),
});
const seriesTime = z.strictObject({
  column: name(),
  /** IANA name, or a fixed offset such as `+01:00` or `UTC`. */
  zone: name().refine((zone) => parseZone(zone) !== undefined, { error: 'unknown zone' }),
  /** Which instant of its interval a stamp names. There is no default. */
  label: z.enum(['start', 'middle', 'end']),
  /** Luxon format of the stamp; absent means ISO 8601. */
  format: name().optional(),
  /** Year that every stamp is read as of: for a typical year of months from several years, or stamps without one. */
  year: z.int().min(1950).max(2150).optional(),
});
const gaps = assumed(
  z.discriminatedUnion('fill', [
    z.strictObject({
      fill: z.literal('refuse'),
      longest_h: assumed(z.number().min(0).max(72), 0, 'nothing is filled, so no length is allowed'),
    }),
    z.strictObject({
      fill: z.literal('interpolate'),
      /** Longest run of missing hours that may be filled. */
      longest_h: z.number().min(0).max(72),
    }),
  ]),
  { fill: 'refuse', longest_h: 0 },
  'a gap in a series is an error unless the file says how to fill it',
);
const csv = {
  /** Path, relative to the scenario file. */
  file: name(),
  delimiter: assumed(z.enum([',', ';', '\t']), ',', 'comma, RFC 4180'),
  time: seriesTime,
  gaps,
};

const series = z.strictObject({
  kind: z.literal('series'),
  ...csv,
  ghi: irradianceColumn,
  dni: irradianceColumn.optional(),
  dhi: irradianceColumn.optional(),
  air_temperature: z.strictObject({ column: name(), unit: z.enum(['C', 'F', 'K']) }),
  wind: z.strictObject({ column: name(), unit: z.enum(['m_s', 'km_h']) }).optional(),
  wind_m_s,
});

const weather = z.discriminatedUnion('kind', [clearSky, series, normals]);

/** Name of a part in one of `parts_files`; its values stand in for keys that are left out here. */
const part = name().optional();
/** Price of one piece, in the currency of `money`. */
const price = z.number().min(0).max(1e9).optional();
/** Years after which it is bought again. */
const life_years = positive().max(200).optional();

const tracker = z.strictObject({
  part,
  price,
  life_years,
  /** Highest input power the tracker takes from the array. */
  max_power_kW: positive(),
  /** Highest current it puts out, at the bank's nominal voltage. */
  max_charge_A: positive(),
  efficiency_share: assumed(
    z.number().min(0.5).max(1),
    0.97,
    'conversion from array to bank voltage; common practice, no source',
  ),
});

/** Given in part, the rest has its defaults: each loss is reported on its own. */
const losses = z
  .strictObject({
    soiling_share: assumed(share(), 0.03, 'dirt on the panels; common practice, no source'),
    mismatch_share: assumed(share(), 0.02, 'unequal panels; common practice, no source'),
    wiring_share: assumed(share(), 0.02, 'wires up to the tracker; common practice, no source'),
    ageing_share: assumed(
      share(),
      0.03,
      'first-light loss and ageing up to mid-life; common practice, no source',
    ),
  })
  .prefault({});

const array = z.strictObject({
  name: name(),
  part,
  /** Counted panels of `panel_kWp` each give `size_kWp`; or give the size itself. */
  panels: z.int().min(0).max(100_000).optional(),
  panel_kWp: positive().max(10).optional(),
  size_kWp: z.number().min(0).max(100_000),
  /** Of one panel where panels are counted, of the whole array elsewhere. */
  price,
  life_years,
  /** From horizontal. */
  tilt_deg: z.number().min(0).max(90),
  /** Clockwise from north: 90 east, 180 south. */
  azimuth_deg: z.number().min(0).max(360),
  power_temperature_coefficient_per_K: z.number().min(-0.01).max(0),
  /** Counts where several years are played. */
  ageing_share_per_year: assumed(
    z.number().min(0).max(0.2),
    0.005,
    'output lost from year to year, played by run --years only; common practice, no source',
  ),
  mounting: z.enum(['open_rack', 'close_roof']),
  losses,
  albedo: assumed(
    byMonth(share()),
    0.2,
    'bare ground and grass all year, no snow brightening; Liu & Jordan 1963 as cited by the handbooks',
  ),
  tracker,
});

const module = z.strictObject({
  nominal_voltage_V: positive().max(1000),
  capacity_Ah: positive().max(100_000),
  max_charge_A: positive().max(100_000),
  max_discharge_A: positive().max(100_000),
  /** For moments, at a motor's start. */
  peak_discharge_A: positive().max(100_000).optional(),
});

const bank = z.strictObject({
  part,
  /** Of one module. */
  price,
  life_years,
  /** Equivalent full cycles after which the modules are bought again. */
  life_cycles: positive().max(1e6).optional(),
  /** Cycles to the end of life against their depth, ascending; where given, it wears the bank and `life_cycles` does not. */
  cycle_life: z
    .array(z.strictObject({ depth_share: z.number().positive().max(1), cycles: positive().max(1e7) }))
    .min(1)
    .max(50)
    .optional(),
  end_of_life_share: assumed(
    z.number().min(0.1).max(0.99),
    0.8,
    'capacity left when the stated life is used up; common practice, no source',
  ),
  chemistry: z.enum(['lfp', 'lead_acid']),
  modules_parallel: z.int().min(1).max(10_000),
  module,
  round_trip_efficiency_share: z.number().min(0.3).max(1),
  /** State of charge below which nothing is drawn. */
  floor_soc: z.number().min(0).max(0.99),
  taper_start_soc: assumed(
    z.number().min(0).max(1),
    0.95,
    'charge current falls from here to full; common practice, no source',
  ),
  taper_end_share: assumed(
    z.number().min(0.005).max(1),
    0.05,
    'share of the charge current left when full, the tail current at which chargers stop; common practice, no source',
  ),
  self_discharge_share_per_month: assumed(
    z.number().min(0).max(0.5),
    0.03,
    'a month is 30 days; includes the module electronics; common practice, no source',
  ),
  /** Coldest bank that may be charged. */
  min_charge_temperature_C: z.number().min(-60).max(40),
  temperature: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('indoors'), temperature_C: z.number().min(-60).max(60) }),
    z.strictObject({ kind: z.literal('outdoors') }),
  ]),
  /** Share of the capacity that can be drawn at a temperature, ascending; between points on a straight line. */
  capacity_at_temperature: z
    .array(z.strictObject({ temperature_C: z.number().min(-60).max(60), share: z.number().min(0).max(1) }))
    .min(1)
    .optional(),
  /** Built-in heaters of a bank outdoors: they hold it at a temperature from the DC side, before any load. */
  heater: z
    .strictObject({
      keep_C: z.number().min(-40).max(40),
      /** Heat that all modules together lose per kelvin above the air. */
      loss_W_per_K: positive().max(10_000),
    })
    .optional(),
});

const inverter = z.strictObject({
  part,
  price,
  life_years,
  rating_kW: positive(),
  surge_kW: positive(),
  /** Drawn from the bank all the time the inverter is on. */
  standing_W: z.number().min(0).max(10_000),
  efficiency: z.union([
    z.strictObject({
      /** Measured points with the standing loss included, load ascending. */
      points: z
        .array(
          z.strictObject({
            load_share: z.number().positive().max(1),
            efficiency_share: z.number().min(0.1).max(1),
          }),
        )
        .min(1),
    }),
    z.strictObject({
      /** Loss proportional to output, and to its square, as shares of the rating. */
      loss_linear: z.number().min(0).max(1),
      loss_quadratic: z.number().min(0).max(1),
    }),
  ]),
});

const charger = z.strictObject({
  part,
  price,
  life_years,
  /** Highest current the AC charger puts into the bank. */
  max_charge_A: positive(),
  efficiency_share: assumed(z.number().min(0.3).max(1), 0.92, 'AC to DC; common practice, no source'),
});

const clockWindow = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d-(([01]\d|2[0-3]):[0-5]\d|24:00)$/, {
  error: 'not a window of local clock time like "17:30-23:00"',
});
const dayName = z.enum(['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']);
const everyDay = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const monthNumber = z.int().min(1).max(12);
const everyMonth = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
const loadDays = assumed(z.array(dayName).min(1), [...everyDay], 'every day of the week');
const loadMonths = assumed(z.array(monthNumber).min(1), everyMonth, 'every month');

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
const variation_seed = z.int().min(0).max(4_294_967_295).optional();
const generator = z.strictObject({
  part,
  price,
  life_years,
  /** Run-hours after which it is bought again. */
  life_h: positive().max(1e6).optional(),
  service: z.strictObject({ every_h: positive().max(1e5), price: z.number().min(0).max(1e9) }).optional(),
  rating_kW: positive(),
  fuel: z.strictObject({ full_load_L_per_h: positive(), half_load_L_per_h: positive() }),
  start_soc: share(),
  stop_soc: share(),
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
const shore = z.strictObject({
  max_A: positive().max(1000),
  voltage_V: positive().max(1000),
  windows: assumed(z.array(clockWindow).min(1), ['00:00-24:00'], 'all day'),
  days: loadDays,
  months: loadMonths,
  connection: assumed(
    z.enum(['transfer', 'parallel']),
    'transfer',
    'the loads hang on the socket alone while it is there, as with a plain transfer switch',
  ),
});

/** Current from a running engine into the bank, through a DC-DC charger. */
const engine_charging = z.strictObject({
  /** Most it puts out, at the bank's nominal voltage. */
  max_charge_A: positive().max(10_000),
  windows: z.array(clockWindow).min(1),
  days: loadDays,
  months: loadMonths,
});

/** A tier is shed when the bank is down to one state of charge and comes back at a higher one. */
const shedRule = z.strictObject({
  tier: z.int().min(1).max(9),
  shed_soc: share(),
  restore_soc: share(),
});

const applianceLoad = z.strictObject({
  kind: z.literal('appliance'),
  name: name(),
  tier,
  scale,
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

const dailyLoad = z.strictObject({
  kind: z.literal('daily'),
  name: name(),
  tier,
  scale,
  daily_variation_share,
  variation_seed,
  energy_kWh_day: z.number().min(0).max(1_000_000),
  /** A named shape, or 24 weights by local clock hour. */
  shape: z.union([z.enum(['flat', 'evening', 'working_day']), z.array(z.number().min(0)).length(24)]),
  month_factors: assumed(twelve(z.number().min(0)), Array(12).fill(1) as number[], 'the same in every month'),
  days: loadDays,
  months: loadMonths,
});

const seriesLoad = z.strictObject({
  kind: z.literal('series'),
  name: name(),
  tier,
  scale,
  ...csv,
  power: z.strictObject({ column: name(), unit: z.enum(['W', 'kW', 'Wh', 'kWh']) }),
});

/** Heating or cooling that follows the air outside. */
const temperatureLoad = z.strictObject({
  kind: z.literal('temperature'),
  name: name(),
  tier,
  scale,
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

const load = z.discriminatedUnion('kind', [applianceLoad, dailyLoad, seriesLoad, temperatureLoad]);

/** The cable between bank and inverter. */
const wiring = z.strictObject({
  /** One way, along the cable. */
  bank_cable_length_m: positive().max(1000).optional(),
  cable_AWG: z
    .union([z.literal([14, 12, 10, 8, 6, 4, 3, 2, 1]), z.enum(['1/0', '2/0', '3/0', '4/0'])])
    .optional(),
  cable_mm2: z.literal([2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120]).optional(),
  cables_parallel: assumed(z.int().min(1).max(12), 1, 'one cable a pole between bank and inverter'),
  /** Of the bank near empty; without it a share of the nominal voltage. */
  bank_lowest_voltage_V: positive().max(1000).optional(),
});

const run = z.strictObject({
  year: z.int().min(1950).max(2150),
  start_soc: assumed(share(), 1, 'the bank is full when the year begins'),
  step_min: assumed(
    z.union([z.literal(60), z.literal(30), z.literal(15), z.literal(10), z.literal(5)]),
    60,
    'steps of an hour; loads and sun are means over it, so peaks within the hour are not seen',
  ),
});

const money = z.strictObject({
  /** A word to print behind prices; nothing is converted. */
  currency: name(),
  /** Years over which costs are added up. */
  years: z.int().min(1).max(100),
  discount_share_per_year: z.number().min(0).max(1),
  fuel_price_per_L: z.number().min(0).max(1e6).optional(),
  /** Of energy from the socket. */
  shore_price_per_kWh: z.number().min(0).max(1e6).optional(),
  /** What is bought beside the parts. */
  lines: assumed(
    z.array(
      z.strictObject({
        name: name(),
        price: z.number().min(0).max(1e9),
        per: z.enum(['plant', 'panel', 'module', 'kWp', 'kWh']),
      }),
    ),
    [],
    'nothing is bought beside the parts: no mounting, cable, labour or freight',
  ),
});

export const scenarioSchema = z.strictObject({
  /** Files of parts, relative to the scenario file. */
  parts_files: z.array(name()).min(1).optional(),
  site,
  weather,
  arrays: z.array(array).min(1).max(20),
  bank,
  inverter,
  charger: charger.optional(),
  generator: generator.optional(),
  shore: shore.optional(),
  engine_charging: engine_charging.optional(),
  shedding: assumed(z.array(shedRule).max(9), [], 'no tier is shed on purpose'),
  loads: z.array(load).min(1).max(500),
  wiring: wiring.optional(),
  money: money.optional(),
  run,
});

/** A checked scenario with every default filled in. */
export type Scenario = z.output<typeof scenarioSchema>;
export type Site = Scenario['site'];
export type Weather = Scenario['weather'];
export type ClearSkyWeather = z.output<typeof clearSky>;
export type NormalsWeather = z.output<typeof normals>;
export type SeriesWeather = z.output<typeof series>;
export type ArraySpec = Scenario['arrays'][number];
export type BankSpec = Scenario['bank'];
export type InverterSpec = Scenario['inverter'];
export type ChargerSpec = z.output<typeof charger>;
export type GeneratorSpec = z.output<typeof generator>;
export type ShoreSpec = z.output<typeof shore>;
export type EngineChargingSpec = z.output<typeof engine_charging>;
export type ShedRule = z.output<typeof shedRule>;
export type WiringSpec = z.output<typeof wiring>;
export type MoneySpec = z.output<typeof money>;
export type Load = Scenario['loads'][number];
export type ApplianceLoad = z.output<typeof applianceLoad>;
export type DailyLoad = z.output<typeof dailyLoad>;
export type SeriesLoad = z.output<typeof seriesLoad>;
export type TemperatureLoad = z.output<typeof temperatureLoad>;
export type SeriesTime = z.output<typeof seriesTime>;
export type Gaps = z.output<typeof gaps>;
