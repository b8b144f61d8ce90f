import { expectWhole } from '../basis/within.ts';

/**
 * The one table of ledger columns: types, CSV header, glossary and report derive from it.
 * `sum`: kWh (or L) in the step; `state`: value at the end of the step; `mean`: mean over the step.
 */
export interface LedgerColumn {
  /** The same in code, CSV and JSON. */ readonly name: string;
  /** Of its values. */ readonly unit: string;
  /** How it adds up over steps. */ readonly kind: 'sum' | 'state' | 'mean';
  /** In a few words. */ readonly meaning: string;
}

const column = <N extends string>(name: N, unit: string, kind: LedgerColumn['kind'], meaning: string) => ({
  name,
  unit,
  kind,
  meaning,
});

/** Every column of a played year with its unit, kind and meaning; types, CSV header and glossary derive from it. */
export const LEDGER_COLUMNS = [
  column('load_wanted_kWh', 'kWh', 'sum', 'energy the loads ask for'),
  column('load_served_kWh', 'kWh', 'sum', 'energy the loads get'),
  column('dc_load_served_kWh', 'kWh', 'sum', 'part of it that loads on the DC side get'),
  column(
    'flexible_wanted_kWh',
    'kWh',
    'sum',
    'part of what is asked for that could wait, in the step in which it is drawn or can wait no longer',
  ),
  column('surplus_load_kWh', 'kWh', 'sum', 'into loads that take surplus; neither wanted nor served'),
  column('unmet_kWh', 'kWh', 'sum', 'wanted less served'),
  column('unmet_bank_floor_kWh', 'kWh', 'sum', 'unmet because the bank is down to its floor'),
  column('unmet_bank_cold_kWh', 'kWh', 'sum', 'unmet because the cold keeps back what the bank holds'),
  column('unmet_bank_current_kWh', 'kWh', 'sum', 'unmet because the modules give no more amps'),
  column('unmet_inverter_rating_kWh', 'kWh', 'sum', 'unmet because the inverter gives no more power'),
  column(
    'unmet_leg_kWh',
    'kWh',
    'sum',
    'unmet because one leg of the inverters is full while another is not',
  ),
  column(
    'unmet_inverter_asleep_kWh',
    'kWh',
    'sum',
    'unmet because the loads are too small to wake the inverter',
  ),
  column(
    'unmet_inverter_cut_off_kWh',
    'kWh',
    'sum',
    'unmet because the inverter has cut off to spare the bank, and is not back yet',
  ),
  column(
    'unmet_generator_rating_kWh',
    'kWh',
    'sum',
    'unmet because the generator that carries the loads gives no more power',
  ),
  column(
    'unmet_generator_barred_kWh',
    'kWh',
    'sum',
    'unmet because the generator may not run: quiet hours, daily limit, failed start, warm-up',
  ),
  column('unmet_fuel_kWh', 'kWh', 'sum', 'unmet because the generator is out of fuel'),
  column(
    'unmet_shore_rating_kWh',
    'kWh',
    'sum',
    'unmet because the socket that carries the loads gives no more amps',
  ),
  column(
    'unmet_shed_kWh',
    'kWh',
    'sum',
    'unmet because the load is shed on purpose, by its tier or by its min_soc',
  ),
  column('array_available_kWh', 'kWh', 'sum', 'DC energy the arrays offer to their trackers'),
  column('array_used_kWh', 'kWh', 'sum', 'DC energy taken from the arrays'),
  column('other_available_kWh', 'kWh', 'sum', 'energy other sources offer to their controllers'),
  column('other_used_kWh', 'kWh', 'sum', 'energy taken from them'),
  column(
    'other_curtailed_kWh',
    'kWh',
    'sum',
    'their available less used; the causes of curtailment hold theirs too',
  ),
  column('curtailed_kWh', 'kWh', 'sum', 'available from the arrays less used'),
  column(
    'curtailed_bank_full_kWh',
    'kWh',
    'sum',
    'curtailed because the bank is full, or tapering close to full',
  ),
  column(
    'curtailed_charge_current_kWh',
    'kWh',
    'sum',
    'curtailed because the modules take, or the all-in-one gives them, no more amps',
  ),
  column('curtailed_bank_cold_kWh', 'kWh', 'sum', 'curtailed because the bank is too cold to be charged'),
  column(
    'curtailed_charger_kWh',
    'kWh',
    'sum',
    'curtailed because sun on the AC side finds no charger that takes more into the bank',
  ),
  column(
    'curtailed_inverter_off_kWh',
    'kWh',
    'sum',
    'curtailed because the inverter is down or asleep, and an array on the AC side follows it',
  ),
  column(
    'curtailed_tracker_voltage_kWh',
    'kWh',
    'sum',
    'curtailed because the strings are outside the voltages at which the tracker works',
  ),
  column(
    'curtailed_tracker_power_kWh',
    'kWh',
    'sum',
    'curtailed because a tracker, or all of an all-in-one together, take no more power',
  ),
  column(
    'curtailed_tracker_current_kWh',
    'kWh',
    'sum',
    'curtailed because a tracker, or all of an all-in-one together, take or give no more amps',
  ),
  column(
    'curtailed_other_power_kWh',
    'kWh',
    'sum',
    'curtailed because the controller of another source lets no more power through',
  ),
  column(
    'tracker_loss_kWh',
    'kWh',
    'sum',
    'lost in the trackers, in the inverters of arrays on the AC side and in the controllers of other sources',
  ),
  column('other_ac_kWh', 'kWh', 'sum', 'AC energy used of other sources on the AC side'),
  column('array_ac_kWh', 'kWh', 'sum', 'AC energy used of arrays on the AC side'),
  column('bank_charge_kWh', 'kWh', 'sum', 'into the bank, at its terminals'),
  column('bank_discharge_kWh', 'kWh', 'sum', 'out of the bank, at its terminals'),
  column('bank_loss_kWh', 'kWh', 'sum', 'lost in the bank: charging, discharging, self-discharge'),
  column('bank_stock_kWh', 'kWh', 'state', 'energy stored in the bank at the end of the step'),
  column('bank_soc', '1', 'state', 'state of charge at the end of the step, 0 to 1'),
  column('heater_kWh', 'kWh', 'sum', 'DC energy into the heaters of the bank'),
  column('inverter_out_kWh', 'kWh', 'sum', 'AC energy from the inverter'),
  column('inverter_loss_kWh', 'kWh', 'sum', 'lost in the inverter, idle draw included'),
  column('charger_in_kWh', 'kWh', 'sum', 'AC energy into the charger'),
  column('charger_loss_kWh', 'kWh', 'sum', 'lost in the charger'),
  column('generator_kWh', 'kWh', 'sum', 'AC energy the generator makes'),
  column('generator_spilled_kWh', 'kWh', 'sum', 'generated only to keep the engine at its least load'),
  column('generator_run_h', 'h', 'sum', 'hours the generator runs'),
  column('shore_kWh', 'kWh', 'sum', 'AC energy from the socket'),
  column('alternator_kWh', 'kWh', 'sum', 'DC energy from the DC-DC charger of a running engine'),
  column('fuel_L', 'L', 'sum', 'fuel burnt'),
  column(
    'losses_kWh',
    'kWh',
    'sum',
    'all losses: trackers, bank and its heaters, inverter, charger, spilled generator energy',
  ),
] as const;

/**
 * When a row of any table begins. Dates and times are told as spreadsheets take them, which know no zone: the two hours
 * of an autumn night that the wall clock gives the same name are told apart by the offset.
 */
export const TIME_COLUMNS = [
  {
    name: 'time_local',
    unit: 'time',
    kind: 'start',
    meaning: 'date and time by the wall clock of the site',
  },
  {
    name: 'utc_offset_min',
    unit: 'min',
    kind: 'start',
    meaning: 'what the wall clock is ahead of UTC; it changes with daylight saving',
  },
  { name: 'time_utc', unit: 'time', kind: 'start', meaning: 'the same instant in UTC' },
] as const;

/** What hours.csv tells of a step beside its times and the ledger. */
export const BESIDE_COLUMNS = [
  column('ghi_W_m2', 'W/m2', 'mean', 'global irradiance on the horizontal'),
  column('plane_W_m2', 'W/m2', 'mean', 'irradiance on the planes of the arrays, weighted by their sizes'),
  column('air_temperature_C', 'C', 'mean', 'air temperature'),
  column('bank_temperature_C', 'C', 'mean', 'temperature of the bank, its own heaters left out'),
] as const;

/**
 * The column of what one tier of loads wants, where there are several.
 *
 * @param tier its number, 1 to 9
 */
export function tierColumn(tier: number) {
  expectWhole('tierColumn', 'tier', tier, 1, 9);
  return column(
    `load_tier_${tier}_wanted_kWh`,
    'kWh',
    'sum',
    `energy that the loads of tier ${tier} ask for; lower tiers are served first`,
  );
}

/** Name of a column of the ledger. */
export type ColumnName = (typeof LEDGER_COLUMNS)[number]['name'];

/** A played year: one `Float64Array` of `steps` entries per column. */
export type Columns = { readonly [N in ColumnName]: Float64Array };

/** Limits that leave load unmet, in the order in which the settlement meets them. */
export const UNMET_CAUSES = [
  'bank_floor',
  'bank_cold',
  'bank_current',
  'inverter_rating',
  'leg',
  'inverter_asleep',
  'inverter_cut_off',
  'generator_rating',
  'generator_barred',
  'fuel',
  'shore_rating',
  'shed',
] as const;
/** A limit that leaves load unmet. */
export type UnmetCause = (typeof UNMET_CAUSES)[number];

/** Limits that leave array energy curtailed. */
export const CURTAILED_CAUSES = [
  'bank_full',
  'charge_current',
  'bank_cold',
  'charger',
  'inverter_off',
  'tracker_voltage',
  'tracker_power',
  'tracker_current',
  'other_power',
] as const;
/** A limit that leaves array energy curtailed. */
export type CurtailedCause = (typeof CURTAILED_CAUSES)[number];

/** Allocates the columns of a year, all zero. */
export function newColumns(steps: number): Columns {
  return Object.fromEntries(LEDGER_COLUMNS.map((c) => [c.name, new Float64Array(steps)])) as Columns;
}
