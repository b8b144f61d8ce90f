/**
 * The scenario that `longnight init` writes: an invented plant at an invented place, every key of the schema named and
 * explained, keys that may be left out commented out at their defaults. tests/cli checks it against the schema.
 */
export const STARTER = `# A stand-alone solar plant, for longnight. Everything here is invented: site, weather, parts and
# loads stand for no real place or product. Replace each figure with your own.
# Units are in the keys. A line that begins with "# " before a key shows a default: take the "# "
# away to change it. README.md lists every key.

# Parts files hold data sheets and prices under names. Where a section says "part: NAME", its values
# stand in for what the section leaves out; what is written here wins. README.md, "Parts and prices".
# parts_files: [parts.yaml]     # beside this file

site:
  name: Example cabin (invented)
  latitude_deg: 47.3            # north positive
  longitude_deg: 12.9           # east positive
  elevation_m: 780              # above sea level
  time_zone: Europe/Vienna      # IANA name; loads follow its clock, daylight saving included
  # horizon: [{ azimuth_deg: 90, height_deg: 3 }, { azimuth_deg: 180, height_deg: 12 }]   # hills, trees, houses
  # record_low_C: -28           # coldest air on record, for the voltage of panels in series

# Where sun and air temperature come from. One of five kinds: normals, series, tmy3, epw, clear-sky.
weather:
  kind: normals                 # twelve monthly means, from which one year with dull spells is drawn
  # January first. Sun on the horizontal (GHI), kWh/m² on a mean day of the month:
  ghi_kWh_m2_day: [1.2, 2.1, 3.3, 4.5, 5.3, 5.6, 5.8, 5.0, 3.8, 2.4, 1.3, 0.9]
  air_temperature_C: [-3, -2, 2, 6, 11, 14, 16, 16, 12, 8, 2, -2]
  seed: 1                       # which of the possible years is drawn; try several
  # daily_swing_K: 8            # warmest less coldest hour of a mean day
  # wind_m_s: 1
  # turbidity_linke: 3          # haze: one figure, or twelve; shapes the hours of a day only
  # decomposition: erbs         # splits GHI into beam and diffuse; or orgill_hollands

# weather:
#   kind: series                # hourly or finer rows of a CSV file
#   file: weather.csv           # beside this file
#   delimiter: ","              # or ";" or "\\t"
#   decimal: point              # or comma
#   comment: "#"                # lines that begin with it are left out
#   skip_rows: 1                # rows below the header without values: units
#   missing: [-9999, NA]        # what stands for a missing value
#   time:
#     column: time
#     zone: UTC                 # or an IANA name, or an offset such as "+01:00"
#     label: start              # the stamp names the start, middle or end of its interval: no default
#     format: yyyy-MM-dd HH:mm  # leave out for ISO 8601
#   gaps: { fill: refuse, longest_h: 0 }        # or interpolate up to so many hours
#   ghi: { column: ghi, unit: W_m2 }            # or kJ_m2, MJ_m2, Wh_m2, kWh_m2
#   dni: { column: dni, unit: W_m2 }            # optional; GHI alone is split
#   dhi: { column: dhi, unit: W_m2 }            # optional
#   air_temperature: { column: t_air, unit: C } # or F, K
#   wind: { column: wind, unit: m_s }           # or km_h; optional

# weather:
#   kind: tmy3                  # or epw: open formats of weather archives, which say how they are read
#   file: weather.csv           # beside this file
#   years: typical              # read as of run.year; own: the rows keep their years
#   gaps: { fill: refuse, longest_h: 0 }
#   wind_m_s: 1                 # for a file without wind

# weather:
#   kind: clear-sky             # no cloud all year: no forecast
#   turbidity_linke: 3
#   air_temperature_C: [-3, -2, 2, 6, 11, 14, 16, 16, 12, 8, 2, -2]

# One entry for each array on a tracker input of its own.
arrays:
  - name: south roof
    size_kWp: 4.4               # at standard test conditions; or count panels of a size instead:
    # panels: 10
    # panel_kWp: 0.44
    tilt_deg: 55                # from horizontal; twelve for a rack set anew by month
    azimuth_deg: 175            # clockwise from north: 90 east, 180 south, 270 west
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack         # or close_roof, which runs hotter
    # coupling: dc              # or ac: behind an inverter of its own on the AC side
    # cell_model: { kind: faiman }              # or { kind: noct, noct_C: 45 } from the data sheet
    # sky_model: perez          # how diffuse light is spread; or hay_davies
    # horizon: [{ azimuth_deg: 0, height_deg: 5 }]   # in place of the site's
    # incidence_b0: 0.05        # loss of slanting light at the glass
    # low_light_loss_share: 0   # efficiency lost at 200 W/m², from the data sheet
    # losses: { soiling_share: 0.03, snow_share: 0, mismatch_share: 0.02, wiring_share: 0.02, ageing_share: 0.03 }
    # ageing_share_per_year: 0.005              # for run --years
    # albedo: 0.2               # of the ground: one figure, or twelve (fresh snow 0.8)
    tracker:
      max_power_kW: 5           # most it takes from the array
      max_charge_A: 90          # most it puts out, at the bank's nominal voltage
      # max_output_kW: 4        # in its place with coupling ac
      # efficiency_share: 0.97
      # max_input_V: 450        # that its input stands, for the check of strings
      # min_input_V: 120        # below it takes no power
      # max_input_A: 27         # of short-circuit current
      # max_operating_A: 22     # it works at; what the panels could give beyond it is lost
      # built_in: true          # one of the trackers of an all-in-one inverter, under its limits
    # Data sheet of one panel, and how they hang together:
    # panel: { voc_V: 38, vmp_V: 32, isc_A: 14.5, imp_A: 13.75, voc_temperature_coefficient_per_K: -0.0027 }
    #   vmp_temperature_coefficient_per_K: -0.0034   # within panel; else as many volts as at open circuit
    # panels_in_series: 5
    # strings_parallel: 2
    # part: NAME                # of kind panel; a tracker has its own, or the inverter brings it
    # price: 100                # of one panel, or of the array where panels have no size; see money
    # life_years: 25            # after which it is bought again; so may every other part have

bank:
  chemistry: lfp                # or lead_acid
  modules_parallel: 2
  module:
    nominal_voltage_V: 51.2
    capacity_Ah: 100
    max_charge_A: 50
    max_discharge_A: 100
    # peak_discharge_A: 200     # for moments, at a motor's start
  # older:                      # bought earlier, in parallel with these
  #   - { modules: 1, capacity_share: 0.85 }   # resistance_factor: 1.3 beside it in a resistive bank
  round_trip_efficiency_share: 0.94
  # How it loses energy. Left out: round_trip_efficiency_share at any current.
  # model: { kind: fixed_efficiency }
  # model:                      # or losses that rise with current, instead of round_trip_efficiency_share:
  #   kind: resistive
  #   open_circuit: [{ soc: 0, voltage_V: 43 }, { soc: 0.1, voltage_V: 51 }, { soc: 1, voltage_V: 54 }]
  #   cells_series: 1           # or so many, with the points of one cell
  #   resistance_mOhm: 15       # of one module
  #   coulombic_efficiency_share: 0.99
  # model:                      # or, for lead-acid, less from it the harder it is drawn on:
  #   kind: kinetic
  #   capacity_20h_Ah: 100      # of one module at constant current, from the datasheet
  #   capacity_10h_Ah: 90
  #   capacity_5h_Ah: 78
  floor_soc: 0.1                # nothing is drawn below this state of charge
  min_charge_temperature_C: 0   # a colder bank is not charged
  # max_charge_A_at_temperature:             # what one module takes when it is cold, from the datasheet
  #   - { temperature_C: 0, max_charge_A: 10 }
  #   - { temperature_C: 15, max_charge_A: 50 }
  temperature: { kind: indoors, temperature_C: 12 }   # or { kind: outdoors }: as cold as the air
  # capacity_at_temperature:    # share that can be drawn when cold, from the datasheet
  #   - { temperature_C: -10, share: 0.7 }
  #   - { temperature_C: 20, share: 1 }
  # heater: { keep_C: 5, loss_W_per_K: 4 }   # built-in heaters of a bank outdoors
  # taper_start_soc: 0.95       # from here to full the charge current falls (lead_acid: 0.8) ...
  # taper_end_share: 0.05       # ... to this share of it
  # self_discharge_share_per_month: 0.03
  # part: NAME                  # of kind module
  # price: 1000                 # of one module
  # life_cycles: 5000           # equivalent full cycles, if they end before life_years
  # How long it lasts. Cycles until it is worn, against their depth, as the maker states them:
  # cycle_life: [{ depth_share: 0.5, cycles: 8000 }, { depth_share: 0.9, cycles: 4000 }]
  # life_years: 15              # worn by then, used or not
  # end_of_life_share: 0.8      # capacity left when worn

inverter:
  # units: 1                    # stacked on one bank; the figures below are of one
  # legs: 1                     # 2 for split phase, 3 for three phases: the units are spread over them
  # output_voltage_V: 230       # from leg to neutral, for loads that say what they need
  rating_kW: 5                  # continuous, AC
  surge_kW: 10
  standing_W: 45                # drawn from the bank all the time it is on
  efficiency:                   # measured points, standing loss included, load ascending
    points:
      - { load_share: 0.1, efficiency_share: 0.88 }
      - { load_share: 0.5, efficiency_share: 0.94 }
      - { load_share: 1.0, efficiency_share: 0.92 }
    # or a loss curve, as shares of the rating:
    # loss_linear: 0.02
    # loss_quadratic: 0.04
  # max_total_charge_A: 100     # all-in-one: most that its trackers and its charger put into the bank together
  # max_total_tracker_kW: 6     # most that all its trackers take together
  # max_total_tracker_A: 90     # most that they put out together; built_in says which trackers and charger are its own
  # sleep: { below_W: 25, search_W: 4 }   # asleep while all that may be on draws less; small loads stay dark
  # derating:                   # what heat leaves of the rating
  #   temperature: { kind: outdoors, above_air_K: 10 }   # or { kind: indoors, temperature_C: 30 }
  #   points: [{ temperature_C: 40, share: 1 }, { temperature_C: 60, share: 0.7 }]

# Leave both out for a plant on sun alone.
charger:                        # from AC into the bank
  max_charge_A: 60
  # efficiency_share: 0.92
  # input_at_voltage:           # where it draws more on one circuit than on another
  #   - { voltage_V: 120, max_input_W: 1500 }
  #   - { voltage_V: 240, max_input_W: 3000 }
  # built_in: true              # part of an all-in-one inverter: each unit has one
generator:
  rating_kW: 3
  # voltage_V: 230              # needed with charger.input_at_voltage
  fuel: { full_load_L_per_h: 1.4, half_load_L_per_h: 0.9 }   # as a datasheet gives it
  # fuel:                       # or as many of its lines as there are, load ascending
  #   points:
  #     - { load_share: 0.25, L_per_h: 0.7 }
  #     - { load_share: 0.5, L_per_h: 0.9 }
  #     - { load_share: 1, L_per_h: 1.4 }
  start_soc: 0.2                # starts when the bank is down to this ...
  stop_soc: 0.7                 # ... and stops here
  # min_load_share: 0.3         # an engine is not run below this; the rest is spilled
  # starts: { kind: at_soc }    # or on_shortfall: only when a step would otherwise go unserved; or
  #                             # before_night: for the night that lies ahead, judged by the last days:
  # starts: { kind: before_night, decide_at: "17:00", look_back_days: 3, margin_share: 0.2 }
  # min_run_h: 1
  # warm_up_min: 0              # runs so long before it carries anything
  # connection: transfer        # loads hang on the generator alone while it runs; or parallel
  # life_h: 4000                # run-hours after which it is bought again
  # service: { every_h: 200, price: 90 }      # run-hours between two; the price may be left out
  # quiet_windows: ["22:00-07:00"]      # it may not run then
  # max_run_h_per_day: 24
  # tank: { capacity_L: 60, refill_every_days: 30 }
  # start_failure: { share: 0.02, seed: 1 }   # chance that a start fails

# A socket by the clock, and current from a running engine: for boats, vans and sites.
# shore:
#   max_A: 16
#   voltage_V: 230
#   cable_A: 16               # what the cable to it and its plugs carry
#   windows: ["20:00-08:00"]
#   days: [fri, sat]
#   months: [6, 7, 8]
#   connection: transfer
#   carries:                    # left out: all, or after_sun if the connection is parallel
#     kind: after_bank          # or all, or after_sun
#     at_soc: 0.4               # after_bank: down to here sun and bank carry the loads
#     until_soc: 0.7            # from there on until here the socket does
# engine_charging:
#   max_charge_A: 40
#   windows: ["09:00-11:00"]

# Tiers shed on purpose when the bank is low, and when they come back.
# shedding:
#   - { tier: 2, shed_soc: 0.3, restore_soc: 0.5 }

# Everything that draws power. Tier 1 is served first, 9 last.
loads:
  - kind: appliance
    name: refrigerator
    power_W: 90
    # start_W: 600              # drawn for a moment when one of it starts
    duty_share: 0.35            # share of its windows during which it draws power_W
    # tier: 1
    # scale: 1                  # factor on the whole load
    # growth_share_per_year: 0  # for run --years: 0.03 asks for 3 % more each year
    # daily_variation_share: 0  # how much days differ: 0.2 for a household, with any whole number as its seed
    # variation_seed: 1
    # bus: ac                   # or dc: on the DC side, before the inverter
    # leg: 1                    # of a stacked inverter; shared evenly where left out
    # voltage_V: 230            # checked against what the inverter gives
    # count: 1
    # windows: ["00:00-24:00"]  # local clock time; "22:00-06:00" runs past midnight
    # days: [mon, tue, wed, thu, fri, sat, sun]
    # months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]
  - kind: appliance
    name: lights
    power_W: 8
    count: 9
    windows: ["06:30-08:00", "17:00-22:30"]
    duty_share: 0.6
  - kind: appliance
    name: washing machine
    tier: 2
    power_W: 500
    windows: ["11:00-13:00"]
    days: [tue, sat]
  - kind: daily                 # or a sum per day, spread over its hours
    name: everything else
    energy_kWh_day: 2.4
    shape: evening              # or flat, working_day, or 24 weights by clock hour
    # month_factors: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]
  # - kind: temperature         # or heating below, cooling above a temperature of the air
  #   name: heat pump
  #   side: heating             # or cooling
  #   base_temperature_C: 15
  #   slope_W_per_K: 60         # electrical, for each kelvin beyond it; windows, days, months as above
  #   max_power_W: 1500
  # - kind: series              # or measured load; delimiter, time and gaps as for weather
  #   name: metered
  #   file: load.csv
  #   time: { column: time, zone: UTC, label: start }
  #   power: { column: load, unit: kW }         # or W, Wh, kWh
  # - kind: waiting             # so much energy in each window, whenever it suits the plant
  #   name: car
  #   energy_kWh: 6
  #   max_power_W: 2300
  #   window: "09:00-17:00"     # days, months, scale as above
  #   least_soc: 0              # with the bank below it the load goes without
  # - kind: surplus             # takes only what would be left unused; windows, days, months, scale as above
  #   name: boiler
  #   max_power_W: 1500
  #   max_kWh_day: 5

# What it costs, once every part has a price; 0 for what is paid for with another part.
# money:
#   currency: crowns            # any word; nothing is converted
#   years: 20                   # over which costs are added up
#   discount_share_per_year: 0.04
#   fuel_price_per_L: 2.4
#   shore_price_per_kWh: 0.3    # of energy from a socket
#   lines:                      # what is bought beside the parts
#     - { name: mounting, price: 42, per: panel }   # or plant, module, kWp, kWh
# The cable between bank and inverter, for what check says of it. One of the two sizes, or none.
# wiring:
#   bank_cable_length_m: 1.5    # one way
#   cable_AWG: 2/0              # or 4, 2, 1 ...
#   cable_mm2: 70
#   cables_parallel: 1
#   bank_lowest_voltage_V: 44.8 # near empty; 0.875 of the nominal voltage where it is not given

run:
  year: 2026
  # initial_soc: 0.6            # of the bank; left out, the year begins as it ends
  # step_min: 60                # or 30, 15, 10, 5
`;
