import { type Line, MORE, NONE, section, UNKNOWN } from './figure.ts';

/** The days of a run of days. */
const DAYS = {
  'by_day[].date': ['time', 'a local day of the run'],
  'by_day[].wanted_kWh': ['kWh', 'energy the loads ask for on it', 'sum of load_wanted_kWh'],
  'by_day[].available_kWh': ['kWh', 'energy the arrays offer on it', 'sum of array_available_kWh'],
  'by_day[].unmet_kWh': ['kWh', 'load left unmet on it', 'sum of unmet_kWh'],
  'by_day[].generator_kWh': ['kWh', 'energy the generator makes on it', 'sum of generator_kWh'],
  'by_day[].lowest_soc': ['1', 'lowest state of charge on it', 'least bank_soc'],
  'by_day[].end_soc': ['1', 'state of charge at its end', 'last bank_soc'],
} satisfies Readonly<Record<string, Line>>;

/** How long the bank lasts: in the dark, and in years. */
export const BANK_FIGURES = [
  ...section('autonomy', {
    nominal_days: [
      'd',
      'days that the usable bank stands for; losses of bank and inverter are not in it',
      'bank.usable_kWh / load.mean_kWh_day',
      { source: 'IEEE Std 1013-2000, definition 3.3', better: 'more', lack: 'none' },
    ],
    'sunless_hours.least': [
      'h',
      'shortest time a full bank carries the loads with no sun and no generator, losses in it, over every start in the year',
      null,
      MORE,
    ],
    'sunless_hours.p05': ['h', 'the same, undercut by one start in twenty', '5 % quantile over all starts'],
    'sunless_hours.median': ['h', 'the same, from the median start', 'median over all starts'],
    'sunless_hours.least_start': ['time', 'the start with the least, local time'],
    'sunless_hours.survival[].hours': ['h', 'sunless hours that a share of all starts is told for'],
    'sunless_hours.survival[].starts_share': [
      '1',
      'share of all starts from which a full bank lasts so long or longer',
    ],
    'sunless_hours.capped': ['flag', 'true if a start outlasts the year, so that the hours are lower bounds'],
  }),
  ...section('leanest_days', {
    start: [
      'time',
      'first day of the run of days with the least array energy offered per load wanted',
      'least leanest_days.sun_to_load over all runs of leanest_days.days',
    ],
    days: ['d', 'its length, as asked for with --lean-days'],
    sun_to_load: [
      '1',
      'array energy offered over load wanted in these days',
      'sum of array_available_kWh / sum of load_wanted_kWh',
      NONE,
    ],
    initial_soc: ['1', 'state of charge that the played year comes to these days with'],
    lowest_soc: ['1', 'lowest state of charge in them', 'least bank_soc'],
    unmet_kWh: ['kWh', 'load left unmet in them', 'sum of unmet_kWh'],
    ...DAYS,
  }),
  ...section('season_weeks[]', {
    months: ['1', 'the three months that the week stands for, 1 to 12'],
    start: [
      'time',
      'first day of an ordinary week of them: the one in the middle of their weeks by sun over load',
    ],
    days: ['d', 'its length'],
    sun_to_load: [
      '1',
      'array energy offered over load wanted in these days',
      'sum of array_available_kWh / sum of load_wanted_kWh',
    ],
    initial_soc: ['1', 'state of charge that the played year comes to these days with'],
    lowest_soc: ['1', 'lowest state of charge in them', 'least bank_soc'],
    unmet_kWh: ['kWh', 'load left unmet in them', 'sum of unmet_kWh'],
    ...DAYS,
  }),
  ...section('bank', {
    capacity_kWh: [
      'kWh',
      'energy of the bank between empty and full, at its nominal voltage',
      'modules × nominal voltage × capacity_Ah / 1000',
    ],
    usable_kWh: [
      'kWh',
      'between full and floor, before discharge losses',
      'bank.capacity_kWh × (1 - floor_soc of the scenario)',
      MORE,
    ],
    throughput_kWh: ['kWh', 'energy discharged, at the terminals', 'sum of bank_discharge_kWh'],
    charged_kWh: ['kWh', 'energy charged, at the terminals', 'sum of bank_charge_kWh'],
    loss_kWh: ['kWh', 'lost in the bank: charging, discharging, self-discharge', 'sum of bank_loss_kWh'],
    equivalent_full_cycles: [
      '1',
      'full cycles that the energy discharged would make',
      'bank.throughput_kWh / bank.capacity_kWh',
    ],
    initial_soc: ['1', 'state of charge with which the year begins'],
    gained_kWh: [
      'kWh',
      'held at the end of the year less held at its beginning: 0 if the year closes',
      'last bank_stock_kWh less the stock before the first step',
    ],
    lowest_soc: ['1', 'lowest state of charge of the year', 'least bank_soc', MORE],
    lowest_soc_time: ['time', 'start of the step at whose end it is reached first, local time'],
    hours_at_floor: ['h', 'hours that end with the bank at its floor', 'steps with bank_soc <= floor + 1e-6'],
    hours_too_cold_to_charge: [
      'h',
      'hours in which the bank is below its least charging temperature',
      'steps with bank_temperature_C below min_charge_temperature_C and heaters that do not hold it',
    ],
  }),
  ...section('bank.wear', {
    'cycles_by_depth[].depth_from_share': ['1', 'a band of depths, from'],
    'cycles_by_depth[].depth_to_share': ['1', 'a band of depths, to'],
    'cycles_by_depth[].cycles': [
      '1',
      'cycles of the state of charge within this band in the year; halves count as halves',
      'rainflow count of bank_soc',
      { source: 'ASTM E1049-85, section 5.4.4' },
    ],
    cycle_life_used_share: [
      '1',
      'share of the stated cycle life that the year takes; null where none is stated',
      'sum over cycles of 1 / cycles to the end of life at their depth; of bank.life_cycles the full cycles over them',
      { source: 'Miner 1945, J. Applied Mechanics 12, A159-A164 (recalled)', lack: 'unknown' },
    ],
    calendar_life_used_share: [
      '1',
      'share of the stated years that the year takes; null where none are stated',
      'years played / bank.life_years',
      UNKNOWN,
    ],
    years_to_end_of_life: [
      'a',
      'how long the bank lasts if every year is like this one',
      'years played / the larger of both shares',
      UNKNOWN,
    ],
    worst: ['text', 'which of the two ends it: cycles or calendar'],
  }),
];
