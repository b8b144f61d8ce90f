import type { Assumption, FoundNotice, Notice, Report } from '@longnight/core';
import type { CompareNotice } from '@longnight/core/study';
import { clockTime, digits, kW } from '../document/figures.ts';
import { said, type WordsFor } from '../document/said.ts';
import { listed } from '../document/words.ts';

type Found = FoundNotice | CompareNotice;

const meant = (figure: number | null, looks: string, unit: string): string =>
  figure === null ? '' : `; it looks like ${looks}, which would be ${digits(figure)} ${unit}`;
const loadsMeant = (load_kWh_day: number | null, unit: string): string =>
  load_kWh_day === null ? '' : `loads look like ${unit}, which would be ${digits(load_kWh_day)} kWh a day`;

const notUsed = (differing: readonly string[]): string => `its own ${listed(differing)} not used`;
const TERM_WORDS = {
  years: 'years of costs',
  discount_share_per_year: 'discount',
  fuel_price_per_L: 'price of fuel',
  shore_price_per_kWh: 'price of shore power',
  fuel_price_growth_share_per_year: 'growth of the price of fuel',
  shore_price_growth_share_per_year: 'growth of the price of shore power',
  residual_share: 'worth of what is left',
} as const;

const soc = (share: number): string => `${digits(100 * share)} %`;
const gain = (gained_kWh: number): string =>
  gained_kWh === 0
    ? 'it holds what it held'
    : `${digits(Math.abs(gained_kWh))} kWh ${gained_kWh > 0 ? 'more' : 'less'} than it held`;

interface NotClosed {
  readonly rounds: number;
  readonly begins_soc: number;
  readonly ends_soc: number;
  readonly gained_kWh: number;
}
const notClosed = ({ rounds, begins_soc, ends_soc, gained_kWh }: NotClosed): string =>
  `the year does not close: after ${rounds} such years in a row the bank still begins it at ${soc(begins_soc)} and ends it at ` +
  `${soc(ends_soc)}, ${gain(gained_kWh)}${begins_soc === ends_soc ? ', with the generator, a tank or a load in another state' : ''}`;

const WORDS: WordsFor<Found> = {
  'year-not-closed': ({ values }) =>
    `run: ${notClosed(values)}; figures of the year hold that much too much or too little`,
  'row-peak': ({ values: it }) =>
    `rows of ${it.row_min} min in load files bring the loads to ${kW(it.peak_kW)} at ${clockTime(it.time)}; ` +
    `played in means over ${it.played_step_min} min they reach ${kW(it.played_peak_kW)}: run.step_min: ${it.step_min}` +
    `${it.row_min < it.step_min ? ', the shortest, would come closer' : ' would play them'}`,
  'generator-step': ({ values: { times, step_min, finer_step_min } }) =>
    `the generator's ${times.map(({ what, minutes }) => `${what === 'warm_up' ? 'warm-up' : 'shortest run'} of ${digits(minutes, 6)} min`).join(' and ')} ` +
    `${times.length === 1 ? 'is' : 'are'} played in steps of ${step_min} min, at whose edges ` +
    `it starts and stops: its run-hours and fuel come out other, as a rule higher. Tune them with run.step_min: ${finer_step_min}`,
  'growth-not-priced': ({ values }) =>
    'loads grow by growth_share_per_year, and only the first year is played: money.total prices every year by ' +
    `the use of the first. longnight run --years ${values.years} plays them and prices each by its own`,
  'faces-the-pole': ({ values: { path, array, azimuth_deg, latitude_deg } }) => {
    const north = latitude_deg > 0;
    return `${path}: ${array} at ${azimuth_deg}° faces ${north ? 'north' : 'south'}, away from the sun at latitude ${latitude_deg}°; azimuths are clockwise from north, so that ${north ? '180 is south' : '0 is north'}`;
  },
  'array-too-large': ({ values: it }) =>
    `${digits(it.size_kWp)} kWp of array for ${digits(it.load_kWh_day)} kWh a day is far more than any season asks for` +
    (it.load_meant_kWh_day === null
      ? meant(it.size_meant_kWp, 'W', 'kWp')
      : `; so is the bank: the ${loadsMeant(it.load_meant_kWh_day, 'kW')}`),
  'array-too-small': ({ values: it }) =>
    `${digits(it.size_kWp)} kWp of array for ${digits(it.load_kWh_day)} kWh a day can't serve it in any climate, and there is no other source` +
    (it.load_meant_kWh_day === null ? '' : `; the ${loadsMeant(it.load_meant_kWh_day, 'Wh')}`),
  'bank-out-of-scale': ({ values: it }) =>
    `a bank of ${digits(it.capacity_kWh)} kWh for ${digits(it.load_kWh_day)} kWh a day lasts ${digits(it.lasts_days)} days: check modules_parallel, capacity_Ah and the watts of the loads`,
  'module-capacity': ({ values: it }) =>
    `bank.module.capacity_Ah: ${it.capacity_Ah} Ah at ${it.nominal_voltage_V} V are ${digits(it.capacity_kWh)} kWh in one module${meant(it.meant_Ah, 'Wh', 'Ah')}`,
  'inverter-out-of-scale': ({ values: it }) =>
    `inverter.rating_kW: ${digits(it.rating_kW)} kW for loads of ${digits(it.running_kW)} kW at most${meant(it.meant_kW, 'W', 'kW')}`,
  'idle-draw': ({ values: it }) =>
    `inverter.idle_W: ${it.idle_W} W drawn by an inverter of ${it.rating_kW} kW that is on is less than any takes${meant(it.meant_W, 'kW', 'W')}`,
  'start-power': ({ values: it }) =>
    `${it.path}: ${it.load} starts with ${it.start_W} W, ${digits(it.times)} times its ${it.power_W} W` +
    (it.power_meant_W === null
      ? ''
      : `; power_W looks like kW, which would be ${digits(it.power_meant_W)} W`),
  'ac-array-beyond-inverter': ({ values: it }) =>
    `arrays on the AC side give ${digits(it.arrays_kW)} kW beside an inverter of ${digits(it.rating_kW)} kW: when loads go off it has to take all of it in, and makers commonly allow no more than its own rating`,
  'built-in-limits-nothing': ({ values: { key } }) =>
    `inverter.${key} limits nothing: no tracker${key === 'max_total_charge_A' ? ' and no charger' : ''} is built_in: true`,
  'one-charger-for-a-stack': ({ values: it }) =>
    `charger.max_charge_A: ${it.max_charge_A} A are counted once for ${it.units} stacked inverters; if each brings such a charger say built_in: true, if not built_in: false`,
  'operating-amps-unplayed': ({ values: { path, array } }) =>
    `${path} cuts nothing: without panel and panels_in_series the voltage of the strings of ${array} is not known`,
  'compare-shared-hours': ({ values: { label, differing, used } }) =>
    `${label}: ${notUsed(differing)}; all plants are played with those of ${used}`,
  'compare-shared-terms': ({ values: { label, differing, used } }) =>
    `${label}: ${notUsed(differing.map((key) => TERM_WORDS[key]))}; costs are added up as ${used} says`,
  'compare-misfit': ({ values: { label, loads_of, issues } }) =>
    `${label} does not fit the loads of ${loads_of}, and is played as if it did: ${issues.map(({ path, message }) => `${path}: ${message}`).join('; ')}`,
};

/** What is said of a notice: its own message, or that of what was found. */
export const noticeText = (notice: Notice | Found): string =>
  'message' in notice ? notice.message : said(WORDS, notice);

type Why = Exclude<Report['assumptions'][number]['why'], string>;

const WHY: WordsFor<Why> = {
  year_closes: ({ begins_soc }) =>
    `the year closes: bank, generator, tank and loads begin it in the state in which they end it, the bank at ${soc(begins_soc)}`,
  year_does_not_close: notClosed,
  year_begins_as_given: ({ begins_soc, ends_soc, gained_kWh }) =>
    `the year begins with a bank at ${soc(begins_soc)} and ends with one at ${soc(ends_soc)}: ${gain(gained_kWh)}`,
  years_priced: (priced) => pricedYears(priced),
};

/** Why something is assumed, or what the model leaves out. */
export const whyText = ({ why }: Pick<Report['assumptions'][number], 'why'> | Assumption): string =>
  typeof why === 'string' ? why : said(WHY, why);

interface Priced {
  readonly years: number;
  readonly years_priced: number;
}

/** Which use the years of a price are priced by. */
export function pricedYears({ years, years_priced: priced }: Priced): string {
  const span = (from: number, to: number): string =>
    from === to ? `year ${from} is` : `years ${from} to ${to} are`;
  const asLast = `${span(priced + 1, years)} used as year ${priced} is`;
  if (priced === 1)
    return years === 1 ? 'One year is played and priced.' : `Only year 1 is played: ${asLast}.`;
  return `Years 1 to ${priced} are played, and each is priced by its own use${priced === years ? '' : `; ${asLast}`}.`;
}
