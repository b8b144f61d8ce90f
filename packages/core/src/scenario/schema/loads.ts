import * as z from 'zod';
import {
  atLeast0,
  between,
  crucial,
  key,
  kind,
  leftOut,
  ofFigures,
  optional,
  positive,
  seed,
  share,
  twelve,
  whole,
} from './key.ts';
import { clockWindow, days, months, name, windowsAllDay } from './terms.ts';
import { columnIn, csv } from './weather.ts';

const scale = leftOut(between(0, 1000), 1)`Factor on the whole load | the load as it is described`;
const growth_share_per_year = ofFigures(between(-0.5, 1), 0)`How much more it asks for each year than the year
  before; 0.03 is 3 % more | the load stays as it is from year to year; counts in run --years alone`;
const upToAMillion = () => between(0, 1_000_000);
const max_power_W = key(positive(1_000_000))`Most it draws`;

/** Of every load that is wanted when it is wanted. */
const wanted = {
  name,
  tier: leftOut(whole(1, 9), 1)`1 is served first, 9 last | tier 1 is served first; loads with no tier are all
    of the first`,
  scale,
  growth_share_per_year,
  bus: optional(z.enum(['ac', 'dc']))`Behind the inverter (ac), or on the DC side (dc); there it is served
    before the others and spared the inverter's losses | ac`,
  leg: optional(whole(1, 3))`The one leg of a stacked inverter that carries it | shared evenly by its legs`,
  voltage_V: optional(positive(1000))`Voltage that it needs, on the AC side; checked against what the inverter
    gives | not checked`,
};
/** Of those that people switch. */
const varied = {
  daily_variation_share: crucial(between(0, 2), 0)`How much days differ, 0.2 for a household; coefficient of
    variation of a log-normal factor with mean 1 that each local day draws, anew in every drawn or measured year | every day is as described; people
    differ from day to day`,
  variation_seed: optional(seed())`Which days are drawn; loads with the same seed vary together |
    daily_variation_share asks for it`,
};

export const applianceLoad = z.strictObject({
  kind: kind('appliance')`So many of it, each drawing its power in windows of the day`,
  ...wanted,
  ...varied,
  power_W: key(upToAMillion())`Power of one of it while it runs`,
  start_W: optional(positive(1_000_000))`Drawn for a moment when one of it starts; for the check of starting
    loads alone`,
  count: leftOut(whole(0, 100_000), 1)`How many there are | one of it`,
  windows: windowsAllDay,
  days,
  months,
  duty_share: leftOut(share(), 1)`Share of its windows during which it draws its power | draws its power
    throughout its windows`,
});

export const dailyLoad = z.strictObject({
  kind: kind('daily')`A sum per day, spread over its hours`,
  ...wanted,
  ...varied,
  energy_kWh_day: key(upToAMillion())`Energy of a day`,
  shape: key(z.union([z.enum(['flat', 'evening', 'working_day']), z.array(atLeast0()).length(24)]))`A named
    shape of the day, or 24 weights by local clock hour`,
  month_factors: leftOut(twelve(atLeast0()), Array(12).fill(1) as number[])`Twelve factors on the day, January
    first | the same in every month`,
  days,
  months,
});

export const seriesLoad = z.strictObject({
  kind: kind('series')`Measured load: rows of a CSV file`,
  ...wanted,
  ...csv,
  power: key(columnIn(['W', 'kW', 'Wh', 'kWh'], 'Of power, or of energy of the row'))`Column of power, or of
    energy of the row`,
});

export const temperatureLoad = z.strictObject({
  kind: kind('temperature')`Heating or cooling that follows the air outside`,
  ...wanted,
  ...varied,
  side: key(z.enum(['heating', 'cooling']))`Whether it draws power below the base temperature or above it`,
  base_temperature_C: key(between(-40, 60))`Outside air at which nothing is needed`,
  slope_W_per_K: key(upToAMillion())`Electrical power for each kelvin beyond it`,
  max_power_W: key(upToAMillion())`Most it draws`,
  windows: windowsAllDay,
  days,
  months,
});

export const flexibleLoad = z.strictObject({
  kind: kind('flexible')`So much energy in each window, whenever it suits the plant: a car, a washing machine,
    a pump; it takes sun that the others leave, before the bank does. What is still to come when its window is
    only just long enough is asked for like any load, behind those of all tiers. It has no tier`,
  name,
  scale,
  growth_share_per_year,
  energy_kWh: key(upToAMillion())`Energy in each of its windows`,
  max_power_W,
  window: key(clockWindow())`One window of local clock time`,
  days,
  months,
  min_soc: leftOut(share(), 0)`State of charge of the bank below which it goes without | its energy is asked
    for in every window, however low the bank is`,
});

export const surplusLoad = z.strictObject({
  kind: kind('surplus')`Takes only what would otherwise be curtailed, as a boiler may; it is never wanted and
    never unmet, and has no tier`,
  name,
  scale,
  max_power_W,
  max_kWh_day: optional(between(0, 1_000_000))`Most that is of use in one local day | all that is left over
    is`,
  windows: windowsAllDay,
  days,
  months,
});

const plainLoads = [applianceLoad, dailyLoad, seriesLoad, temperatureLoad] as const;
export const load = z.discriminatedUnion('kind', [...plainLoads, flexibleLoad, surplusLoad]);

export const shedRule = z.strictObject({
  tier: key(whole(1, 9))`Tier that is shed; only where all tiers that matter less are shed too`,
  shed_soc: key(share())`State of charge at which it is shed`,
  restore_soc: key(share())`State of charge at which it comes back`,
});
