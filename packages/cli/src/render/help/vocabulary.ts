/** Words that every screen, page and file uses in one sense: a sentence each, and the names they are met under. */
export const VOCABULARY: Readonly<
  Record<string, readonly [meaning: string, see?: readonly string[], short?: string]>
> = {
  plant: [
    'What is played: arrays, bank, inverter and what else makes, stores or takes energy, without a grid',
  ],
  array: ['Panels of one tilt and azimuth on a tracker of their own', ['array.size_kWp', 'arrays[]']],
  tracker: [
    'The charger between an array and the bank, which holds the panels at their point of most power',
    ['arrays[].tracker'],
  ],
  bank: ['All battery modules together', ['bank.usable_kWh', 'bank.module']],
  leg: ['One of the AC lines that stacked inverters feed', ['inverter.legs']],
  tier: ['Rank of a load: where not all can be served, the lowest number is served first', ['loads[].tier']],
  step: ['One interval of the year as it is played', ['run.step_min']],
  ledger: ['The flows and states of every step, as hours.csv has them; all figures are read off it'],
  'energy balance': [
    'The check that in every step what goes into each bus and each store comes out of it or stays there',
    ['audit.largest_imbalance_kWh'],
  ],
  unmet: ['Wanted by loads and not served', ['unmet.energy_kWh', 'unmet.share', 'unmet_kWh']],
  outage: ['Steps on end with unmet load', ['unmet.outages', 'unmet.longest_hours']],
  holds: [
    'Nothing is unmet in the year as played: it says nothing of another year, and nothing of wiring',
    ['verdict.holds'],
  ],
  curtailed: ['Offered by the arrays and not used', ['array.curtailed_kWh', 'array.curtailed_share']],
  'state of charge': [
    'What the bank holds, as a share of its capacity: 0 is empty, 1 is full',
    ['bank_soc', 'bank.lowest_soc'],
    'SoC',
  ],
  floor: ['The state of charge below which the bank may not be drawn', ['bank.floor_soc']],
  'usable bank': ['The energy between full and floor', ['bank.usable_kWh']],
  autonomy: [
    'How long the bank carries the loads on its own: in nominal days, or played as sunless hours',
    ['autonomy.nominal_days', 'autonomy.sunless_hours.least'],
  ],
  'sunless hours': [
    'How long a full bank lasts with no sun and no generator, tried from every start in the year',
    ['autonomy.sunless_hours.least', 'autonomy.sunless_hours.survival.hours'],
  ],
  'median start': ['Half of all starts last longer than this one', ['autonomy.sunless_hours.median']],
  'leanest week': [
    'The seven days with the least array energy for the load; the sun may shine in it, it is the ratio that counts',
    ['leanest_days.start', 'leanest_days.sun_to_load'],
  ],
  'gives out first': [
    'The limit of the plant that leaves load unmet before any other',
    ['gives_out_first.first_cause'],
  ],
  requirement: ['A bound on a figure that a plant must keep, as --require states it'],
  'flexible load': ['One that may wait within a window', ['load.flexible.wanted_kWh', 'loads[].window']],
  'surplus load': ['One that takes what would be curtailed, and is never unmet', ['load.surplus_kWh']],
  'idle draw': ['What an inverter takes while it is on, whatever it serves', ['inverter.idle_W']],
  generator: ['An engine that makes AC and burns fuel', ['generator.run_hours', 'generator.starts']],
  alternator: ['A running engine that charges the bank through a DC-DC charger', ['alternator.energy_kWh']],
  shore: ['A socket or the grid, by contract', ['shore.energy_kWh']],
  'equivalent full cycle': [
    'As much energy as one discharge from full to empty',
    ['bank.equivalent_full_cycles'],
  ],
  'monthly means': [
    'Twelve mean days of sun and of air temperature that a year is drawn from',
    ['weather.ghi_kWh_m2_day'],
  ],
  'drawn year': [
    'One of many years with the same monthly means, told from the others by its seed',
    ['weather.seed'],
  ],
  'closed year': [
    'One that ends in the state in which it begins, so that no energy is borrowed from a full bank in January',
    ['bank.gained_kWh', 'run.initial_soc'],
  ],
  assumption: [
    'A default that was used, or what the model leaves out',
    ['assumptions.path', 'assumptions.why'],
  ],
  guess: [
    'A number of the description that nobody measured, stated or left at its default: sway moves one at a time',
    ['arrays[].losses'],
  ],
  'turning value': ['How far off a guess is when the verdict turns, all else as described'],
  danger: [
    'What can destroy a part or start a fire: said first, and the exit code is 3; none found is no proof that there is none',
    ['dangers'],
  ],
  caution: ['What to mind before anything is wired, whatever was found', ['cautions']],
};
