import { LEDGER_COLUMNS, UNMET_CAUSES } from '../../ledger/columns.ts';
import { LESS, type Line, MORE, NONE, section } from './figure.ts';
import { UNMET_STEPS } from './unmet.ts';

const meaningOf = new Map<string, string>(LEDGER_COLUMNS.map((column) => [column.name, column.meaning]));

/** The figures of a split by cause: each is the sum of the column that carries its name. */
export const byCause = <const Section extends string, Cause extends string>(
  name: Section,
  what: 'unmet' | 'curtailed',
  causes: readonly Cause[],
) =>
  section(
    name,
    Object.fromEntries(
      causes.map((cause): [Cause, Line] => {
        const column = `${what}_${cause}_kWh`;
        return [cause, ['kWh', meaningOf.get(column)!, `sum of ${column}`]];
      }),
    ) as Record<Cause, Line>,
  );

/** Whether the loads are served, and what stood in the way. */
export const LOAD_FIGURES = [
  ...section('verdict', {
    holds: ['flag', 'true if every wanted kWh is served in the year as played', 'unmet.hours = 0'],
  }),
  ...section('by_month[]', {
    month: ['1', 'month of the local calendar, 1 to 12'],
    wanted_kWh: ['kWh', 'energy the loads ask for in it', 'sum of load_wanted_kWh'],
    served_kWh: ['kWh', 'energy they get', 'sum of load_served_kWh'],
    unmet_kWh: ['kWh', 'wanted less served', 'sum of unmet_kWh'],
    sun_used_kWh: ['kWh', 'energy taken from the arrays', 'sum of array_used_kWh'],
    curtailed_kWh: ['kWh', 'array energy offered and not used', 'sum of curtailed_kWh'],
    other_used_kWh: ['kWh', 'energy taken from other sources', 'sum of other_used_kWh'],
    generator_kWh: ['kWh', 'energy the generator makes', 'sum of generator_kWh'],
    shore_kWh: ['kWh', 'energy from the socket', 'sum of shore_kWh'],
    alternator_kWh: ['kWh', 'energy from a running engine', 'sum of alternator_kWh'],
    surplus_load_kWh: ['kWh', 'into loads that take surplus', 'sum of surplus_load_kWh'],
    losses_kWh: ['kWh', 'all losses', 'sum of losses_kWh'],
    bank_gained_kWh: ['kWh', 'stock of the bank at its end less that at its start; may be negative'],
  }),
  ...section('load', {
    wanted_kWh: ['kWh', 'energy the loads ask for in the year', 'sum of load_wanted_kWh'],
    served_kWh: ['kWh', 'energy the loads get', 'sum of load_served_kWh', MORE],
    mean_kWh_day: ['kWh', 'wanted on a mean day', 'load.wanted_kWh / days of the year'],
    peak_kW: [
      'kW',
      'highest mean power over one step; a moment within it may ask for more',
      'largest load_wanted_kWh / hours of a step',
    ],
    'wanted_by_month_kWh[]': [
      'kWh',
      'wanted in each month of the local calendar, January first',
      'sum of load_wanted_kWh',
    ],
    'flexible.wanted_kWh': [
      'kWh',
      'what loads ask for that may wait, in none of the tiers',
      'sum of flexible_wanted_kWh',
      NONE,
    ],
    'flexible.unmet_kWh': ['kWh', 'what these loads do not get', null, NONE],
    surplus_kWh: [
      'kWh',
      'into loads that take what would be left over; neither wanted nor served',
      'sum of surplus_load_kWh',
      NONE,
    ],
    'by_tier[].tier': ['1', 'tier of the loads; lower ones are served first'],
    'by_tier[].wanted_kWh': ['kWh', 'what the loads of this tier ask for'],
    'by_tier[].unmet_kWh': [
      'kWh',
      'what the loads of this tier do not get',
      'tiers filled from the lowest up',
    ],
    'by_load[].name': ['text', 'a load of the scenario'],
    'by_load[].kind': ['text', 'its kind; flexible ones may wait, surplus ones take what is left over'],
    'by_load[].tier': ['1', 'its tier; null for flexible and surplus loads', null, NONE],
    'by_load[].wanted_kWh': [
      'kWh',
      'what this load asks for in the year; null for a surplus load, which is never wanted',
      null,
      NONE,
    ],
    'by_load[].mean_kWh_day': [
      'kWh',
      'what this load asks for on a mean day of the year',
      'load.by_load.wanted_kWh over days of the year',
      NONE,
    ],
    'by_load[].share': [
      '1',
      'its share of all that is wanted',
      'load.by_load.wanted_kWh over load.wanted_kWh',
      NONE,
    ],
    'by_load[].winter_kWh_day': [
      'kWh',
      'what this load asks for on a mean day of load.winter_months',
      null,
      NONE,
    ],
    'by_load[].winter_share': ['1', 'its share of all that is wanted in load.winter_months', null, NONE],
    'winter_months[]': [
      '1',
      'the three months that count as winter: December to February, south of the equator June to August',
    ],
  }),
  ...section('unmet', {
    energy_kWh: ['kWh', 'load left unmet in the year', 'sum of unmet_kWh', LESS],
    share: [
      '1',
      'unmet over wanted energy: the loss of power supply probability (LPSP)',
      'unmet.energy_kWh / load.wanted_kWh',
      { better: 'less', lack: 'none' },
    ],
    hours: ['h', 'hours with any unmet load', `${UNMET_STEPS}, times hours of a step`, LESS],
    loss_of_load_probability: [
      '1',
      'LOLP: share of the hours with load wanted in which some of it is unmet; by energy it is unmet.share',
      `${UNMET_STEPS} / steps with load_wanted_kWh > 0`,
      { better: 'less', lack: 'none' },
    ],
    longest_hours: ['h', 'longest outage', 'largest of unmet.outages.hours', LESS],
    'outages[].start': ['time', 'when the outage begins, local time'],
    'outages[].hours': ['h', 'its length: steps one after the other with unmet load'],
    'outages[].energy_kWh': ['kWh', 'what goes unmet in it', 'sum of unmet_kWh'],
    'by_month_kWh[]': ['kWh', 'unmet in each month of the local calendar, January first', 'sum of unmet_kWh'],
  }),
  ...byCause('unmet.by_cause_kWh', 'unmet', UNMET_CAUSES),
  ...section('gives_out_first', {
    first_cause: ['text', 'the first limit in time to leave load unmet; null if none did'],
    first_time: ['time', 'when it did, local time'],
    main_cause: ['text', 'the limit behind most of the unmet energy', 'largest of unmet.by_cause_kWh'],
    'closest[].limit': ['text', 'a limit of the plant, the one that came closest first'],
    'closest[].used_share': [
      '1',
      'how far the limit was used at most, 1 is at it; means over a step',
      'largest used / limit',
    ],
    'closest[].time': ['time', 'when that was, local time'],
    bank_current_by: ['text', 'what keeps amps of the bank back: modules, or kinetics of a kinetic bank'],
    shed_by: ['text', 'what sheds loads: rules of shedding, or min_soc of flexible loads'],
    asleep_sun_kWh: [
      'kWh',
      'sun that arrays on the AC side could not give in steps that an empty bank left without power',
    ],
  }),
];
