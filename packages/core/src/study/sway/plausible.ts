/** What people guess when they describe a plant, and how far each guess may be off. */

/** How a guess is moved: its own value, a factor on what is there, or something added to it. */
export type Scale = 'value' | 'factor' | 'added';

/** A guess that a plant may rest on. */
export interface Plausible {
  /** `sun`, `panels`, `load`, `air`, or the key; `[*]` stands for every item of a list. */
  readonly key: string;
  /** Keys that move together; left out, the key alone. */
  readonly keys?: readonly string[];
  /** Its range is so many times what it is, or so much added to it. */
  readonly by: 'times' | 'plus';
  readonly low: number;
  readonly high: number;
  /** Nothing below or above is looked at: of `times` the factor, of `plus` the value. */
  readonly least: number;
  readonly most: number;
  /** Why so far; for users. */
  readonly why: string;
  /** Keys beside each that are set where they are not, so that it can be moved at all. */
  readonly beside?: Readonly<Record<string, number>>;
  /** Counts only where the air gets below freezing. */
  readonly in_frost?: true;
}

const COMMON = 'common practice, no source';
const YIELD = 'Thevenard & Pelland 2013, Solar Energy 91, the abstract was read';

/** In the order in which a reader meets them; equal ones stay in it. */
export const PLAUSIBLE: readonly Plausible[] = [
  {
    key: 'sun',
    by: 'times',
    low: 0.87,
    high: 1.13,
    least: 0.3,
    most: 2,
    why: `two standard deviations of a year (3.9 %) and of a long-term mean (5 %) together; ${YIELD}`,
  },
  {
    key: 'panels',
    by: 'times',
    low: 0.94,
    high: 1.06,
    least: 0.5,
    most: 1.5,
    why: `two standard deviations of the rated power of modules (3 %); ${YIELD}`,
  },
  {
    key: 'load',
    by: 'times',
    low: 0.8,
    high: 1.2,
    least: 0.1,
    most: 3,
    why: `a load list is seldom nearer than a fifth; ${COMMON}`,
  },
  {
    key: 'loads[*].daily_variation_share',
    by: 'plus',
    low: 0,
    high: 0.2,
    least: 0,
    most: 2,
    why: `a household's days differ by some 0.2; ${COMMON}. The days are drawn from seed 1, and a heavy day draws more power, not longer`,
    beside: { variation_seed: 1 },
  },
  { key: 'air', by: 'plus', low: -3, high: 3, least: -20, most: 20, why: `a mild or a hard year; ${COMMON}` },
  {
    key: 'arrays[*].losses.snow_share',
    by: 'plus',
    low: 0,
    high: 0.12,
    least: 0,
    most: 1,
    why: `snow took 1.5 % of a year's yield at Toronto, most of it in months that give a quarter: 6 % of theirs, twice that here; ${YIELD}`,
    in_frost: true,
  },
  {
    key: 'arrays[*].losses.soiling_share',
    by: 'plus',
    low: -0.04,
    high: 0.04,
    least: 0,
    most: 0.9,
    why: `two standard deviations of losses by dirt (2 % of the yield); ${YIELD}`,
  },
  {
    key: 'arrays[*].losses.ageing_share',
    by: 'plus',
    low: -0.03,
    high: 0.05,
    least: 0,
    most: 0.9,
    why: 'six years younger to ten years older at 0.5 % a year (Jordan & Kurtz 2013, Progress in Photovoltaics 21)',
  },
  {
    key: 'arrays[*].losses.mismatch_share',
    by: 'plus',
    low: -0.01,
    high: 0.02,
    least: 0,
    most: 0.9,
    why: COMMON,
  },
  {
    key: 'arrays[*].losses.wiring_share',
    by: 'plus',
    low: -0.02,
    high: 0.02,
    least: 0,
    most: 0.9,
    why: COMMON,
  },
  {
    key: 'arrays[*].low_light_loss_share',
    by: 'plus',
    low: -0.03,
    high: 0.05,
    least: 0,
    most: 0.3,
    why: `what data sheets give at 200 W/m²; ${COMMON}`,
  },
  {
    key: 'arrays[*].albedo',
    by: 'plus',
    low: -0.1,
    high: 0.2,
    least: 0,
    most: 0.9,
    why: `wet soil to dry sand; ${COMMON}`,
  },
  {
    key: 'arrays[*].tracker.efficiency_share',
    by: 'plus',
    low: -0.03,
    high: 0.02,
    least: 0.5,
    most: 0.99,
    why: COMMON,
  },
  {
    key: 'bank.module.capacity_Ah',
    by: 'times',
    low: 0.8,
    high: 1.05,
    least: 0.3,
    most: 3,
    why: `worn to 0.8 of its capacity, or new and a little above it; ${COMMON}`,
  },
  {
    key: 'bank.round_trip_efficiency_share',
    by: 'plus',
    low: -0.05,
    high: 0.03,
    least: 0.3,
    most: 1,
    why: COMMON,
  },
  { key: 'bank.model.resistance_mOhm', by: 'times', low: 0.5, high: 2, least: 0.1, most: 10, why: COMMON },
  {
    key: 'bank.model.coulombic_efficiency_share',
    by: 'plus',
    low: -0.02,
    high: 0.01,
    least: 0.5,
    most: 1,
    why: COMMON,
  },
  { key: 'bank.floor_soc', by: 'plus', low: -0.1, high: 0.1, least: 0, most: 0.95, why: COMMON },
  {
    key: 'bank.self_discharge_share_per_month',
    by: 'plus',
    low: -0.02,
    high: 0.03,
    least: 0,
    most: 0.5,
    why: COMMON,
  },
  {
    key: 'bank.temperature.temperature_C',
    by: 'plus',
    low: -5,
    high: 5,
    least: -40,
    most: 50,
    why: `a room colder or warmer than thought; ${COMMON}`,
  },
  { key: 'bank.heater.loss_W_per_K', by: 'times', low: 0.7, high: 1.5, least: 0.1, most: 10, why: COMMON },
  {
    key: 'inverter.idle_W',
    by: 'times',
    low: 0.7,
    high: 1.5,
    least: 0,
    most: 10,
    why: `data sheets give it without a load and cool; ${COMMON}`,
  },
  {
    key: 'inverter.efficiency.loss_linear',
    by: 'times',
    low: 0.7,
    high: 1.5,
    least: 0,
    most: 5,
    why: COMMON,
  },
  { key: 'charger.efficiency_share', by: 'plus', low: -0.05, high: 0.03, least: 0.3, most: 1, why: COMMON },
  {
    key: 'generator.fuel',
    keys: [
      'generator.fuel.full_load_L_per_h',
      'generator.fuel.half_load_L_per_h',
      'generator.fuel.points[*].L_per_h',
    ],
    by: 'times',
    low: 0.9,
    high: 1.2,
    least: 0.3,
    most: 3,
    why: `worn engines burn more than their data sheet; ${COMMON}`,
  },
  { key: 'generator.start_soc', by: 'plus', low: -0.1, high: 0.1, least: 0, most: 1, why: COMMON },
  { key: 'generator.min_load_share', by: 'plus', low: -0.1, high: 0.1, least: 0, most: 1, why: COMMON },
  { key: 'run.initial_soc', by: 'plus', low: -0.3, high: 0.3, least: 0, most: 1, why: COMMON },
  { key: 'money.fuel_price_per_L', by: 'times', low: 0.7, high: 1.5, least: 0, most: 5, why: COMMON },
  { key: 'money.shore_price_per_kWh', by: 'times', low: 0.7, high: 1.5, least: 0, most: 5, why: COMMON },
  {
    key: 'money.discount_share_per_year',
    by: 'plus',
    low: -0.02,
    high: 0.02,
    least: 0,
    most: 1,
    why: COMMON,
  },
  { key: 'bank.life_years', by: 'times', low: 0.7, high: 1.3, least: 0.1, most: 5, why: COMMON },
];
