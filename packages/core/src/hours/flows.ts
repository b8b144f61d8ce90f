/** What stands behind the AC side in a step besides the inverter. */
export const NO_SOURCE = 0;
export const GENERATOR = 1;
export const SHORE = 2;

/** Why a generator that is wanted does not run. */
export const FREE = 0;
export const BARRED = 1;
export const NO_FUEL = 2;

/** Below this, a billionth of a watt-hour, an energy counts as none: it is rounding of sums. */
export const NOTHING_kWh = 1e-12;

/**
 * What flows in one step: written and read by the parts of its settlement in the order in which they stand in
 * `settle`, made once a year. Fields, not arguments: a number handed to a function that is not inlined is boxed.
 */
export interface Flows {
  /** Array energy at the trackers' DC side, and what a running engine would put there. */
  tracked_kWh: number;
  engine_most_kWh: number;
  /** In the bank once self-discharge has had its part, and that part. */
  stock_kWh: number;
  self_discharge_kWh: number;
  /** What rules go by: the state at the end of the step before. */
  held_kWh: number;
  /** Heat that is asked for, and whether sun, engine and bank can't supply it. */
  heat_asked_kWh: number;
  is_frozen: boolean;
  heat_kWh: number;
  /** What the bank can give and take, and what that hangs on. */
  drawable_floor_kWh: number;
  discharge_current_kWh: number;
  discharge_most_kWh: number;
  /** Part of what the bank can give that lies below the inverter's cut-off: for the DC side alone. */
  reserved_kWh: number;
  charge_current_kWh: number;
  charge_most_kWh: number;
  is_cold: boolean;
  /** The same two of a bank that its heaters warm. */
  heated_discharge_kWh: number;
  heated_charge_kWh: number;

  /** Wanted in all; of it shed on purpose, and of that on the DC side. */
  wanted_kWh: number;
  shed_kWh: number;
  shed_dc_kWh: number;
  /** Of flexible loads: what can wait no longer, what they could take beyond it, what the low bank withholds. */
  must_kWh: number;
  could_kWh: number;
  withheld_kWh: number;
  /** Asked on either side, shed loads left out. */
  dc_asked_kWh: number;
  ac_asked_kWh: number;
  /** True if the inverter gives nothing without being asked for more: asleep, or cut off. */
  is_asleep: boolean;

  /** What sun, engine and bank can put on the DC side once it is warm, and what of it its own loads get. */
  dc_all_kWh: number;
  dc_served_kWh: number;
  /** Sun on the AC side: all, what goes to loads, what is left, and of that what is spoken for on the DC side. */
  ac_sun_kWh: number;
  ac_to_load_kWh: number;
  ac_spare_kWh: number;
  spoken_for_kWh: number;
  /** True if arrays on the AC side have something to follow. */
  is_up: boolean;
  /** Asked on the AC side beyond its sun. */
  ac_rest_kWh: number;
  /** The inverter: its rating now, what its legs can serve, what it is asked without another source and with it. */
  rating_kWh: number;
  legs_most_kWh: number;
  unmet_leg_kWh: number;
  inverter_first_kWh: number;
  inverter_asked_kWh: number;
  inverter_in_kWh: number;
  inverter_out_kWh: number;

  /** What stands behind the loads, how much it gives at most, whether it and the inverter can carry loads at once. */
  source: number;
  source_most_kWh: number;
  is_parallel: boolean;
  /** Whether the socket, here by its rule and not for want of another, may fill the bank. */
  may_charge: boolean;
  /** Sun that DC loads, heaters and bank leave, for loads before the source gets to them. */
  sun_spare_kWh: number;
  /** What keeps the generator from running. */
  hindered: number;
  /** What would be served on the AC side without the generator, and without the socket too. */
  served_else_kWh: number;
  served_alone_kWh: number;
  /** What loads on the DC side lack without the generator, and what the bank would take. */
  dc_short_kWh: number;
  room_kWh: number;
  /** Most the generator would make if it were warm all through the step, and the share of it in which it is not. */
  generator_most_kWh: number;
  warming: number;
  /** What the source carries of the loads, and what it is too small for once it is warm. */
  carried_kWh: number;
  beyond_kWh: number;
  charger_cap_kWh: number;
  charger_most_kWh: number;
  /** Not served on either side, and served on both. */
  missing_kWh: number;
  missing_dc_kWh: number;
  served_kWh: number;

  /** What all but the bank takes from the DC side. */
  dc_need_kWh: number;
  /** Left over on the DC side before and after the bank has had its part. */
  surplus_kWh: number;
  unused_kWh: number;
  engine_kWh: number;
  charged_kWh: number;
  discharged_kWh: number;
  charger_in_kWh: number;
  charger_out_kWh: number;
  ac_to_charger_kWh: number;
  /** What loads took because they may, and what loads that take surplus got: in all and past the inverter. */
  taken_kWh: number;
  surplus_load_kWh: number;
  ac_to_surplus_kWh: number;
  /** Taken from the arrays on either side, at their terminals, and used of those on the AC side. */
  dc_taken_kWh: number;
  ac_taken_kWh: number;
  ac_used_kWh: number;
}

/** Before the first step. Every field stands there from the start, so that the loop meets one shape. */
export const newFlows = (): Flows => ({
  tracked_kWh: 0,
  engine_most_kWh: 0,
  stock_kWh: 0,
  self_discharge_kWh: 0,
  held_kWh: 0,
  heat_asked_kWh: 0,
  is_frozen: false,
  heat_kWh: 0,
  drawable_floor_kWh: 0,
  discharge_current_kWh: 0,
  discharge_most_kWh: 0,
  reserved_kWh: 0,
  charge_current_kWh: 0,
  charge_most_kWh: 0,
  is_cold: false,
  heated_discharge_kWh: 0,
  heated_charge_kWh: 0,
  wanted_kWh: 0,
  shed_kWh: 0,
  shed_dc_kWh: 0,
  must_kWh: 0,
  could_kWh: 0,
  withheld_kWh: 0,
  dc_asked_kWh: 0,
  ac_asked_kWh: 0,
  is_asleep: false,
  dc_all_kWh: 0,
  dc_served_kWh: 0,
  ac_sun_kWh: 0,
  ac_to_load_kWh: 0,
  ac_spare_kWh: 0,
  spoken_for_kWh: 0,
  is_up: false,
  ac_rest_kWh: 0,
  rating_kWh: 0,
  legs_most_kWh: 0,
  unmet_leg_kWh: 0,
  inverter_first_kWh: 0,
  inverter_asked_kWh: 0,
  inverter_in_kWh: 0,
  inverter_out_kWh: 0,
  source: NO_SOURCE,
  source_most_kWh: 0,
  is_parallel: false,
  may_charge: true,
  sun_spare_kWh: 0,
  hindered: FREE,
  served_else_kWh: 0,
  served_alone_kWh: 0,
  dc_short_kWh: 0,
  room_kWh: 0,
  generator_most_kWh: 0,
  warming: 0,
  carried_kWh: 0,
  beyond_kWh: 0,
  charger_cap_kWh: 0,
  charger_most_kWh: 0,
  missing_kWh: 0,
  missing_dc_kWh: 0,
  served_kWh: 0,
  dc_need_kWh: 0,
  surplus_kWh: 0,
  unused_kWh: 0,
  engine_kWh: 0,
  charged_kWh: 0,
  discharged_kWh: 0,
  charger_in_kWh: 0,
  charger_out_kWh: 0,
  ac_to_charger_kWh: 0,
  taken_kWh: 0,
  surplus_load_kWh: 0,
  ac_to_surplus_kWh: 0,
  dc_taken_kWh: 0,
  ac_taken_kWh: 0,
  ac_used_kWh: 0,
});
