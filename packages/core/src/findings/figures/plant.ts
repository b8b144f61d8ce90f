import { figure, LESS, MORE, NONE, section, UNKNOWN } from './figure.ts';

const CODE = 'NEC 690.7(A)';
const NOMINAL = 'amps become kW at the nominal voltage of the bank';

/** A figure that is set by the least of several limits. */
const limited = <const Name extends string>(name: Name, meaning: string, better: 'more' | null = null) =>
  section(`limits.${name}` as const, {
    figure_kW: [
      'kW',
      `${meaning}; null if the plant can't do this`,
      `least of limits.${name}.limits; ${NOMINAL}`,
      { better, lack: 'none' },
    ],
    'limits[].by': ['reason', 'what a limit comes from, the least first: that one sets the figure'],
    'limits[].limit_kW': ['kW', 'what this limit alone would allow'],
  });

/** What the plant can do before an hour is played. */
export const PLANT_FIGURES = [
  figure('dangers', [
    '1',
    'how many dangers were found: what can destroy a part or start a fire; none found is no proof that there is none',
    'report.json lists each',
    LESS,
  ]),
  ...section('dangers[]', {
    id: ['text', 'kind of a danger'],
    path: ['text', 'key of the scenario that it is about'],
    figure: ['1', 'what there is, in dangers.unit'],
    limit: ['1', 'what is stood, in the same unit; null where the scenario does not say it'],
    unit: ['text', 'V, A or °C'],
    array: ['text', 'name of the array that it is about'],
    in_series: ['1', 'panels in series; null where the scenario does not count them'],
    air_C: ['°C', 'record cold that the voltage is worked out at'],
    strings: ['1', 'strings in parallel; null where the scenario does not count them'],
    coldest_C: ['°C', 'coldest that a lithium bank gets'],
    allowed_C: ['°C', 'coldest at which it may be charged'],
    cable_size: ['text', 'cable between bank and inverter'],
    cables_parallel: ['1', 'of them on each pole'],
    inverter_units: ['1', 'inverters that have such a cable, each its own'],
  }),
  ...section('limits', {
    capacity_kWh: ['kWh', 'the same as bank.capacity_kWh'],
    usable_kWh: ['kWh', 'the same as bank.usable_kWh'],
  }),
  ...limited('ac_output', 'power that the plant gives all the time without sun'),
  ...section('limits.ac_output', {
    after_inverter_loss_kW: [
      'kW',
      'the same on the AC side, after the losses of the inverter: continuous AC output without sun',
      'the smaller of the inverter rating and what the inverter makes of the discharge limit of the bank',
      MORE,
    ],
  }),
  ...limited(
    'surge',
    "power for a moment, at a motor's start; without their peak the modules' continuous amps",
  ),
  ...limited('solar_charging', 'most power from the sun into the bank', 'more'),
  ...section('strings[]', {
    array: ['text', 'the array whose panels in series these figures are of'],
    coldest_air_C: ['°C', 'coldest air that the open voltage is worked out at'],
    coldest_air_from: ['reason', 'where it comes from'],
    hottest_cell_C: ['°C', 'hottest cell that the working voltage is worked out at'],
    hottest_cell_from: ['reason', 'where it comes from'],
    panel_cold_V: [
      'V',
      'one panel at open circuit in the cold',
      'voc_V × (1 + voc_temperature_coefficient_per_K × (strings.coldest_air_C - 25))',
      { source: CODE },
    ],
    panel_cold_table_V: ['V', 'the same by the table of the code; null below -40 °C', null, { source: CODE }],
    table_factor: ['1', "the table's factor on the open voltage", null, { source: CODE }],
    panel_hot_V: ['V', 'one panel at its point of most power with the hottest cell'],
    max_in_series: ['1', 'most panels in series that stay under the highest input voltage in the cold'],
    max_in_series_table: ['1', 'the same by the table of the code', null, { source: CODE }],
    min_in_series: ['1', 'fewest panels in series that stay above the lowest input voltage in the heat'],
    in_series: ['1', 'panels in series of the scenario'],
    string_cold_V: [
      'V',
      'open voltage of the string in the cold',
      'strings.in_series × strings.panel_cold_V',
    ],
    string_hot_V: [
      'V',
      'working voltage of the string in the heat',
      'strings.in_series × strings.panel_hot_V',
    ],
    max_input_V: ['V', 'highest input voltage of the tracker'],
    min_input_V: ['V', 'lowest at which it tracks'],
    strings: ['1', 'strings in parallel'],
    short_circuit_A: ['A', 'short-circuit current of all strings'],
    max_current_A: [
      'A',
      "the most of it in bright light, which the tracker's rating is held against",
      'strings.short_circuit_A × 1.25',
      { source: 'NEC 690.8(A)' },
    ],
    needed_A: [
      'A',
      'what conductors and fuses of the array have to carry',
      'strings.short_circuit_A × 1.25 × 1.25',
      { source: 'NEC 690.8(B)' },
    ],
    max_input_A: ['A', 'highest short-circuit current that the input of the tracker stands'],
    operating_A: ['A', 'current of all strings at their point of most power', 'strings.strings × imp_A'],
    max_operating_A: ['A', 'highest current that the input of the tracker works at'],
    has_vmp_coefficient: [
      'flag',
      'true if the working voltage goes by a coefficient of its own, else by that of the open voltage',
    ],
    'conflicts[]': [
      'text',
      'what is against the limits; empty if no conflict was found, which proves nothing',
    ],
  }),
  ...limited(
    'ac_charging',
    'most power from generator, socket or arrays on the AC side into the bank, through the charger',
    'more',
  ),
  ...section('limits.inverter_efficiency', {
    european_share: [
      '1',
      'efficiency weighted over loads as European data sheets do; the weights are those of grid inverters',
      null,
      { source: 'European efficiency, JRC Ispra' },
    ],
    cec_share: [
      '1',
      'the same with the weights of the California Energy Commission',
      null,
      { source: 'Bower et al. 2004' },
    ],
  }),
  ...section('limits.bank_conductor', {
    units: ['1', 'inverters that have such a cable, each its own; all figures are of one'],
    lowest_voltage_V: [
      'V',
      "bank voltage near empty, at which the inverter's current is worked out",
      'wiring.bank_lowest_voltage_V, or 0.875 of the nominal voltage',
      { source: 'common practice, no source' },
    ],
    'currents[].by': ['reason', 'where a current that can flow for hours comes from, the largest first'],
    lowest_voltage_given: ['flag', 'true if the scenario gives that voltage'],
    'currents[].current_A': ['A', 'how large it is'],
    continuous_A: ['A', 'the largest of them'],
    needed_A: [
      'A',
      'what cable, fuse or breaker have to carry',
      '1.25 × limits.bank_conductor.continuous_A',
      { source: 'NEC 215.2(A)(1), 690.8(B)' },
    ],
    'cable.size': ['text', 'cable of the scenario, or the smallest in the table that carries it'],
    'cable.parallel': ['1', 'cables on each pole'],
    'cable.given': ['flag', 'true if the scenario names the cable'],
    'cable.metric': ['flag', 'true if it is a metric size, false if an American one'],
    'cable.ampacity_A': [
      'A',
      'what the cable carries, all in parallel',
      null,
      { source: 'NEC 310.16, 75 °C column' },
    ],
    'cable.resistance_ohm_per_km': [
      'ohm/km',
      'of all in parallel, at 75 °C',
      null,
      { source: 'NEC chapter 9, table 8; IEC 60228 for metric sizes' },
    ],
    'voltage_drop.length_m': ['m', 'one way, wiring.bank_cable_length_m', null, UNKNOWN],
    'voltage_drop.drop_V': [
      'V',
      'there and back at the continuous current',
      '2 × length × resistance × continuous current',
      UNKNOWN,
    ],
    'voltage_drop.drop_share': ['1', 'of the lowest voltage', 'drop_V / lowest_voltage_V', UNKNOWN],
    'overcurrent.least_A': ['A', 'least rating of fuse or breaker', 'limits.bank_conductor.needed_A'],
    'overcurrent.most_A': [
      'A',
      'largest rating that still protects the cable',
      null,
      { source: 'NEC 240.4(B)' },
    ],
    'overcurrent.standard_A[]': ['A', 'standard ratings between the two', null, { source: 'NEC 240.6(A)' }],
    'conflicts[]': ['text', 'what does not fit together; none found is no proof that there is none'],
  }),
  ...section('peak', {
    ac_peak_kW: ['kW', 'highest step of all that hangs behind the inverter'],
    'rows.row_min': ['min', 'shortest rows of load files, where they are shorter than a step', null, NONE],
    'rows.peak_kW': ['kW', 'the same with loads from files at the highest row of each step', null, NONE],
    'rows.time': ['time', 'when that is, local time'],
    'rows.step_min': ['min', 'run.step_min that plays these rows, or the shortest there is', null, NONE],
    'hottest.rating_kW': [
      'kW',
      "what heat leaves of the inverter's rating in the hottest step; null where it takes nothing",
      null,
      NONE,
    ],
    'hottest.time': ['time', 'when that is, local time'],
    'conflicts[]': ['reason', 'what does not fit together; none found is no proof that there is none'],
  }),
  ...section('surge', {
    running_kW: ['kW', 'every appliance whose window touches a step on at once, other loads at their mean'],
    running_time: ['time', 'when that is largest, local time'],
    peak_kW: ['kW', 'the same and the start that adds most', null, { source: 'common practice, no source' }],
    peak_time: ['time', 'when that is largest, local time'],
    'start.name': ['text', 'the appliance whose start adds most'],
    'start.start_W': ['W', 'what it takes at its start', null, NONE],
    'conflicts[]': ['reason', 'what does not fit together; none found is no proof that there is none'],
  }),
];
