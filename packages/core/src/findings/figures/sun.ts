import { CURTAILED_CAUSES } from '../../ledger/columns.ts';
import { LESS, NONE, section, sectionWith } from './figure.ts';
import { byCause } from './load.ts';

const IEC = 'IEC 61836, IEC 61724:1998';

/** What a plant may lack. */
const ofPart = sectionWith(NONE);

/** What the sun gives, what else does, and what is lost. */
export const SUN_FIGURES = [
  ...section('array', {
    size_kWp: ['kWp', 'size of all arrays', 'sum of arrays[].size_kWp'],
    available_kWh: ['kWh', 'DC energy the arrays offer to their trackers', 'sum of array_available_kWh'],
    used_kWh: ['kWh', 'DC energy taken from the arrays', 'sum of array_used_kWh'],
    on_ac_side_kWh: ['kWh', 'AC energy used of arrays on the AC side', 'sum of array_ac_kWh', NONE],
    curtailed_kWh: ['kWh', 'offered and not used', 'sum of curtailed_kWh'],
    curtailed_share: [
      '1',
      'share of the energy offered that is not used',
      'array.curtailed_kWh / array.available_kWh',
      NONE,
    ],
    'available_by_month_kWh[]': [
      'kWh',
      'offered in each month of the local calendar, January first',
      'sum of array_available_kWh',
    ],
    'curtailed_by_month_kWh[]': [
      'kWh',
      'not used in each month of the local calendar, January first',
      'sum of curtailed_kWh',
    ],
    plane_kWh_m2: [
      'kWh/m2',
      'irradiation on the planes of the arrays, weighted by their sizes',
      'sum of plane_W_m2, times hours of a step / 1000',
    ],
    available_yield_kWh_per_kWp: [
      'kWh/kWp',
      'DC energy offered over size: the array yield if nothing were curtailed',
      'array.available_kWh / array.size_kWp',
      NONE,
    ],
    array_yield_kWh_per_kWp: [
      'kWh/kWp',
      'DC energy used over size: the array yield; curtailment lowers it',
      'array.used_kWh / array.size_kWp',
      { source: IEC, lack: 'none' },
    ],
    final_yield_kWh_per_kWp: [
      'kWh/kWp',
      'what the loads got from the array over size: the final yield; curtailment and losses lower it',
      'E × array.used_kWh / (array.used_kWh + other energy in) / array.size_kWp, E being load.served_kWh + load.surplus_kWh + stock that the bank gained, and other energy in that of other sources, generator (without what was spilled), socket and engine + stock that the bank lost',
      { source: IEC, lack: 'none' },
    ],
    performance_ratio: [
      '1',
      'final yield over reference yield; curtailment and losses lower it',
      'array.final_yield_kWh_per_kWp / (array.plane_kWh_m2 / 1 kW/m2)',
      { source: IEC, lack: 'none' },
    ],
  }),
  ...byCause('array.curtailed_by_cause_kWh', 'curtailed', CURTAILED_CAUSES),
  ...ofPart('generator', {
    run_hours: ['h', 'hours the generator runs', 'sum of generator_run_h', LESS],
    starts: [
      '1',
      'times the generator starts',
      'steps in which it runs after one in which it does not',
      LESS,
    ],
    fuel_L: ['L', 'fuel burnt', 'sum of fuel_L', LESS],
    energy_kWh: ['kWh', 'AC energy it makes', 'sum of generator_kWh'],
    spilled_kWh: [
      'kWh',
      'made only to keep the engine at its least load, and wasted',
      'sum of generator_spilled_kWh',
    ],
    mean_load_share: [
      '1',
      'mean output while running over its rating',
      'generator.energy_kWh / (generator.run_hours × generator.rating_kW of the scenario)',
    ],
    services_due: [
      '1',
      'services that fall due if one was done just before the year; null where no interval is stated',
    ],
    first_service: ['time', 'local date on which the first of them falls due'],
    'run_hours_by_month[]': [
      'h',
      'hours it runs in each month of the local calendar, January first',
      'sum of generator_run_h',
    ],
  }),
  ...ofPart('shore', {
    energy_kWh: ['kWh', 'AC energy from the socket', 'sum of shore_kWh', LESS],
    hours: ['h', 'hours in which it gives any', 'steps with shore_kWh > 0, times hours of a step'],
  }),
  ...ofPart('alternator', {
    energy_kWh: ['kWh', 'DC energy from the charger of a running engine', 'sum of alternator_kWh'],
    hours: ['h', 'hours in which it gives any', 'steps with alternator_kWh > 0, times hours of a step'],
  }),
  ...ofPart('other_sources', {
    available_kWh: ['kWh', 'energy other sources offer to their controllers', 'sum of other_available_kWh'],
    used_kWh: ['kWh', 'energy taken from them', 'sum of other_used_kWh'],
    curtailed_kWh: [
      'kWh',
      'offered and not used: what a diversion load or a brake has to take',
      'sum of other_curtailed_kWh',
    ],
    supply_share: [
      '1',
      'their share of all energy taken from sun and sources',
      'other_sources.used_kWh / sum of used, generator, socket and engine energy',
    ],
  }),
  ...section('losses', {
    total_kWh: ['kWh', 'all losses', 'sum of losses_kWh'],
    tracker_kWh: [
      'kWh',
      'lost in the trackers and in the controllers of other sources',
      'sum of tracker_loss_kWh',
    ],
    bank_kWh: ['kWh', 'lost in the bank: charging, discharging, self-discharge', 'sum of bank_loss_kWh'],
    heater_kWh: ['kWh', 'energy into the heaters of the bank', 'sum of heater_kWh'],
    inverter_kWh: ['kWh', 'lost in the inverter, idle draw included', 'sum of inverter_loss_kWh'],
    charger_kWh: ['kWh', 'lost in the charger', 'sum of charger_loss_kWh'],
    generator_spilled_kWh: [
      'kWh',
      'generated only to keep the engine at its least load',
      'sum of generator_spilled_kWh',
    ],
  }),
];
