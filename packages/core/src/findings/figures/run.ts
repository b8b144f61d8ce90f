import { figure, LESS, type Line, NONE, section, sectionWith, UNKNOWN } from './figure.ts';

const QUANTILES = 'Hyndman & Fan 1996, American Statistician 50, 361-365, definition 7 (recalled)';
const NPV = 'net present value; Short, Packey & Holt 1995, NREL/TP-462-5173, ch. 4 (recalled)';

/** Figures of sections that are only there if they were asked for. */
const onwards = sectionWith({ within: 'years' });
const priced = sectionWith({ lack: 'unpriced' });
const FAILED = { within: 'years.first_failure' } as const;

/** A year among many. */
const yearRow = (which: string) =>
  ({
    seed: ['1', `seed of ${which}; null for a year of a weather file`, null, NONE],
    year: ['1', 'its calendar year'],
    ghi_kWh_m2: [
      'kWh/m2',
      'global irradiation on the horizontal in it',
      'sum of ghi_W_m2, times hours of a step / 1000',
    ],
    wanted_kWh: ['kWh', 'energy the loads ask for in it', 'sum of load_wanted_kWh'],
    unmet_kWh: ['kWh', 'load left unmet in it', 'sum of unmet_kWh'],
    unmet_hours: ['h', 'hours with any unmet load in it'],
    loss_of_load_probability: [
      '1',
      'LOLP: share of its hours with load wanted in which some of it is unmet',
      null,
      NONE,
    ],
    longest_outage_hours: ['h', 'its longest outage'],
    lowest_soc: ['1', 'lowest state of charge in it', 'least bank_soc'],
    generator_run_hours: ['h', 'hours the generator runs in it', 'sum of generator_run_h', NONE],
  }) satisfies Readonly<Record<string, Line>>;

const HELD_SHARE = {
  'held_share.low': [
    '1',
    'least share of all such years in which the plant holds that these years do not refute',
    '95 % limits of a binomial share; Clopper & Pearson 1934',
  ],
  'held_share.high': ['1', 'largest such share', '95 % limits of a binomial share; Clopper & Pearson 1934'],
} satisfies Readonly<Record<string, Line>>;

const BEGINS: Line = [
  'text',
  'closed if a year begins with the state it ends with, or initial_soc; of years in a row the first',
];

/** A section of many years. */
const manyYears = <const Name extends 'ensemble' | 'every_year'>(name: Name, years: string, year: string) => {
  const within = sectionWith({ within: name });
  return [
    ...within(name, {
      years_held: ['1', `${years} in which every wanted kWh was served`],
      ...HELD_SHARE,
      begins: BEGINS,
      'over_years[].figure': ['text', 'a figure of this report'],
      'over_years[].percentiles[].percent': ['1', 'how many percent of the years'],
      'over_years[].percentiles[].value': [
        '1',
        'what they stay at or below, in the unit of the figure',
        null,
        { source: QUANTILES },
      ],
      'over_years[].mean': ['1', 'mean of the years, in the unit of the figure'],
      'over_years[].worst': ['1', 'that of the year which is worst by this figure, in its unit'],
      'left_out[].year': ['1', 'a year of the weather file that was not played'],
      'left_out[].why': ['text', 'why not'],
      'repeated[].file': ['text', 'a file of loads whose rows are used again in years that it lacks'],
      'repeated[].years[]': ['1', 'those years'],
    }),
    ...within(`${name}.by_year[]` as const, yearRow(year)),
    ...within(
      `${name}.worst` as const,
      yearRow('the hardest of them: most unmet, then most generator hours, then the lowest state of charge'),
    ),
  ];
};

/** What was played, what it costs, year after year, and what it rests on. */
export const RUN_FIGURES = [
  ...section('longnight', { format: ['1', 'form of report.json; changes when a name in it does'] }),
  ...section('project', {
    title: ['text', 'what the plant or the job is called; null if the scenario does not say'],
    client: ['text', 'for whom the report is made; null if the scenario does not say'],
    author: ['text', 'who answers for it; null if the scenario does not say'],
    reference: ['text', 'number or sign of the job; null if the scenario does not say'],
    revision: ['text', 'which issue of the report it is; null if the scenario does not say'],
  }),
  ...section('site', {
    name: ['text', 'as in the scenario'],
    latitude_deg: ['deg', 'north is positive'],
    longitude_deg: ['deg', 'east is positive'],
    time_zone: ['text', 'IANA name; days and months are those of its wall clock'],
  }),
  ...section('run', {
    year: ['1', 'local calendar year that was played'],
    steps: ['1', 'steps of the year'],
    step_min: ['min', 'length of a step'],
    weather: [
      'text',
      'where the weather comes from: clear-sky, series, monthly_means, tmy3, epw, nsrdb or nasa_power',
    ],
    seed: ['1', 'seed of the weather that was drawn; null where none is drawn', null, NONE],
  }),
  ...priced('money', {
    currency: ['text', "the scenario's own word; nothing is converted"],
    years: ['a', 'over which costs are added up'],
    discount_share_per_year: ['1', 'what a cost is worth less for each year that it is put off'],
    'bill[].item': ['text', 'a line of the bill of materials'],
    'bill[].path': ['text', 'section of the scenario that it is bought for; null for a line of money'],
    'bill[].count': ['1', 'how many of it'],
    'bill[].price_each': ['money', 'price of one; null where the scenario names none'],
    'bill[].total': ['money', 'price of the line', 'count × price_each'],
    'bill[].life.years': ['a', 'years after which it is bought again'],
    'bill[].life.cycles': ['1', 'equivalent full cycles after which it is bought again'],
    'bill[].life.by_depth': ['flag', 'true if cycles against their depth wear it'],
    'bill[].life.run_h': ['h', 'run-hours after which it is bought again'],
    years_priced: ['1', 'how many of the years are priced by their own use; those after them as the last'],
    'unpriced[]': ['text', 'what has no price: then there is no total'],
    capital: ['money', 'what the plant costs to buy', 'sum of money.bill.total', LESS],
    replacements: ['money', 'present value of parts bought again when they are worn', null, { source: NPV }],
    fuel: [
      'money',
      'present value of the fuel',
      'sum over the years of their fuel_L × price of the year, discounted',
      { source: NPV },
    ],
    shore: [
      'money',
      'present value of power from the socket',
      'sum over the years of their shore_kWh × price of the year, discounted',
      { source: NPV },
    ],
    service: ['money', "present value of the generator's services", null, { source: NPV }],
    residual: [
      'money',
      'present value of what is left of the parts after the last year, taken off the total',
      'sum over parts of price × residual_share × share of its life left, discounted',
      { source: NPV },
    ],
    total: [
      'money',
      'present value of all that the plant costs over the years',
      'capital + replacements + fuel + shore + service - residual',
      { source: NPV, better: 'less' },
    ],
    per_served_kWh: [
      'money/kWh',
      'levelised cost of the energy served',
      'money.total / present value of the energy served',
      { source: NPV, better: 'less' },
    ],
    'by_year[].year': ['1', 'a year over which costs are added up, 1 is the first'],
    'by_year[].served_kWh': ['kWh', 'energy served in it'],
    'by_year[].replacements': ['money', 'parts bought again in it'],
    'by_year[].fuel': ['money', 'fuel burnt in it, at the price of that year'],
    'by_year[].shore': ['money', 'power from the socket in it, at the price of that year'],
    'by_year[].service': ['money', 'services of the generator in it'],
    'by_year[].total': ['money', 'all that the year pays', 'replacements + fuel + shore + service'],
    'by_year[].present_value': ['money', 'what that is worth today', null, { source: NPV }],
    per_usable_kWh: [
      'money/kWh',
      'price of the plant over its usable bank',
      'money.capital / bank.usable_kWh',
      LESS,
    ],
    per_output_kW: [
      'money/kW',
      'price of the plant over its continuous AC output',
      'money.capital / limits.ac_output.after_inverter_loss_kW',
      LESS,
    ],
  }),
  ...onwards('years', {
    'by_year[].year': ['1', 'year of several, 1 is the first'],
    'by_year[].calendar_year': ['1', 'calendar year'],
    'by_year[].seed': ['1', 'seed of its weather; null where none is drawn'],
    'by_year[].wanted_kWh': ['kWh', 'energy the loads ask for in it'],
    'by_year[].served_kWh': ['kWh', 'energy the loads get in it'],
    'by_year[].unmet_kWh': ['kWh', 'load left unmet in it'],
    'by_year[].unmet_hours': ['h', 'hours with any unmet load in it'],
    'by_year[].initial_soc': ['1', 'state of charge it begins with: that which the year before leaves'],
    'by_year[].lowest_soc': ['1', 'lowest state of charge in it'],
    'by_year[].generator_run_hours': ['h', 'hours the generator runs in it'],
    'by_year[].fuel_L': ['L', 'fuel burnt in it'],
    'by_year[].shore_kWh': ['kWh', 'energy from the socket in it'],
    'by_year[].equivalent_full_cycles': ['1', 'energy discharged over the capacity of that year'],
    'by_year[].capacity_share': ['1', "of the bank's capacity as new, at the start of the year"],
    'by_year[].resistance_factor': ['1', "the bank's resistance over that as new, at the start of the year"],
    'by_year[].array_share': ['1', "of the arrays' output as new"],
    'by_year[].cycle_life_used_share': ['1', "of the bank's cycle life, in this year"],
    'by_year[].life_used_share': ['1', 'of the life of the bank in place at the end of the year'],
    'by_year[].replaced[].path': ['text', 'a part that was worn and bought anew in the year: its section'],
    'by_year[].replaced[].times': ['1', 'how often in the year'],
    'first_failure.year': ['1', 'year of the first unmet load', null, FAILED],
    'first_failure.calendar_year': ['1', 'the same by the calendar', null, FAILED],
    'first_failure.time': ['time', 'when it is, local time'],
    'first_failure.winter': ['text', 'winter half-year it falls in; null in summer'],
    bank_end_of_life_years: [
      'a',
      'years from the start until the life of the first bank is used up',
      null,
      UNKNOWN,
    ],
    begins: BEGINS,
    loads_grow: ['flag', 'true if loads grow from year to year'],
    end_of_life_share: [
      '1',
      "what is left of the bank's capacity when its life is used up; null where the scenario states no life",
      null,
      UNKNOWN,
    ],
  }),
  ...manyYears('every_year', 'whole years of the weather file', 'a whole year of the weather file'),
  ...manyYears('ensemble', 'drawn years, as asked for with --seeds,', 'a drawn year'),
  ...section('audit', {
    largest_imbalance_kWh: [
      'kWh',
      'largest miss of the energy balance in any step: both buses, the stock of the bank, each total against its causes, what is wanted against the loads, fuel and hours of the generator against its curve',
    ],
    steps_checked: ['1', 'steps in which it was checked'],
  }),
  figure('cautions[]', ['text', 'what to mind before anything is wired']),
  ...section('notices[]', {
    id: ['text', 'name of something that happened while reading: hours filled, values clipped'],
    message: ['text', 'what happened'],
    count: ['1', 'how many steps, rows or values it concerns'],
    values: ['reason', 'of what was found in the plant or its year instead of a message: its values'],
  }),
  ...section('assumptions[]', {
    path: ['text', 'key of the scenario whose default was used, or the part of the model'],
    value: ['text', 'the value used; null where the model itself is meant'],
    why: ['reason', 'why this value, or what the model leaves out: text, or an id with values'],
    kind: ['text', 'default or model'],
    moves: [
      'text',
      'what it could change: verdict_most, verdict, run_hours, money, figures, or nothing where it only says what a key left out means',
    ],
  }),
];
