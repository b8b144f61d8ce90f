import { commented } from './comments.ts';

/**
 * The scenario that `longnight init` writes, before its comments: an invented plant at an invented place, every key of
 * the schema named, keys that may be left out commented out at their defaults. tests/cli checks it against the schema.
 */
export const PLAIN_STARTER = `# A stand-alone solar plant, for longnight. Everything here is invented: site, weather, parts and
# loads stand for no real place or product. Replace each figure with your own.
# Units are in the keys. A key behind "# " is not in use: its value is its default, or an example.
# Take the "# " away to change it. \`longnight explain KEY\` says more of a key.

# Parts files hold data sheets and prices under names. Where a section says "part: NAME", its values
# stand in for what the section leaves out; what is written here wins. README.md, "Parts and prices".
# parts_files: [parts.yaml]

# project: { title: Example cabin, client: A. N. Owner, author: B. N. Builder, reference: "17", revision: "2" }

site:
  name: Example cabin (invented)
  latitude_deg: 47.3
  longitude_deg: 12.9
  elevation_m: 780
  time_zone: Europe/Vienna
  # horizon: [{ azimuth_deg: 90, height_deg: 3 }, { azimuth_deg: 180, height_deg: 12 }]
  # record_low_C: -28

# One of seven kinds: monthly_means, series, tmy3, epw, nsrdb, nasa_power, clear-sky.
weather:
  kind: monthly_means
  ghi_kWh_m2_day: [1.2, 2.1, 3.3, 4.5, 5.3, 5.6, 5.8, 5.0, 3.8, 2.4, 1.3, 0.9]
  air_temperature_C: [-3, -2, 2, 6, 11, 14, 16, 16, 12, 8, 2, -2]
  seed: 1
  # daily_swing_K: 8
  # wind_m_s: 1
  # turbidity_linke: 3
  # persistence: 0.3
  # least_clearness: 0.05
  # month_spread_share: 0.15
  # day_to_day_K: 4
  # source: first_guess

# weather:
#   kind: series
#   file: weather.csv
#   delimiter: ","
#   decimal: point
#   comment: "#"
#   skip_rows: 1
#   missing: [-9999, NA]
#   time:
#     column: time
#     zone: UTC
#     label: start
#     format: yyyy-MM-dd HH:mm
#   gaps: { fill: refuse, longest_h: 0 }
#   ghi: { column: ghi, unit: W_m2 }
#   dni: { column: dni, unit: W_m2 }
#   dhi: { column: dhi, unit: W_m2 }
#   air_temperature: { column: t_air, unit: C }
#   wind: { column: wind, unit: m_s }
#   decomposition: erbs

# weather:
#   kind: tmy3
#   file: weather.csv
#   years: typical
#   gaps: { fill: refuse, longest_h: 0 }
#   wind_m_s: 1

# weather:
#   kind: nsrdb
#   file: weather.csv
#   years: own
#   zone: "-07:00"

# weather:
#   kind: clear-sky
#   turbidity_linke: 3
#   air_temperature_C: [-3, -2, 2, 6, 11, 14, 16, 16, 12, 8, 2, -2]

arrays:
  - name: south roof
    size_kWp: 4.4
    # panels: 10
    # panel_kWp: 0.44
    tilt_deg: 55
    azimuth_deg: 175
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
    # coupling: dc
    # cell_model: { kind: faiman }
    # cell_model: { kind: noct, noct_C: 45 }
    # sky_model: perez
    # horizon: [{ azimuth_deg: 0, height_deg: 5 }]
    # incidence_b0: 0.05
    # low_light_loss_share: 0
    # losses:
    #   snow_share: 0
    #   soiling_share: 0.04
    #   ageing_share: 0.05
    #   mismatch_share: 0.01
    #   wiring_share: 0.03
    # ageing_share_per_year: 0.005
    # albedo: 0.2
    tracker:
      max_power_kW: 5
      max_charge_A: 90
      # max_output_kW: 4
      # efficiency_share: 0.97
      # max_input_V: 290
      # min_input_V: 73
      # max_input_A: 33
      # max_operating_A: 26
      # built_in: true
    # panel:
    #   voc_V: 41.3
    #   vmp_V: 34.3
    #   isc_A: 13.7
    #   imp_A: 12.8
    #   voc_temperature_coefficient_per_K: -0.0027
    #   vmp_temperature_coefficient_per_K: -0.0034
    # panels_in_series: 5
    # strings_parallel: 2
    # part: NAME
    # price: 100
    # life_years: 25

bank:
  chemistry: lfp
  modules_parallel: 2
  module:
    nominal_voltage_V: 51.2
    capacity_Ah: 100
    max_charge_A: 50
    max_discharge_A: 100
    # peak_discharge_A: 200
  # older:
  #   - modules: 1
  #     capacity_share: 0.85
  #     resistance_factor: 1.3
  round_trip_efficiency_share: 0.94
  # model: { kind: fixed_efficiency }
  # model:
  #   kind: resistive
  #   open_circuit: [{ soc: 0, voltage_V: 43 }, { soc: 0.1, voltage_V: 51 }, { soc: 1, voltage_V: 54 }]
  #   cells_series: 1
  #   resistance_mOhm: 15
  #   coulombic_efficiency_share: 0.99
  # model:
  #   kind: kinetic
  #   capacity_20h_Ah: 100
  #   capacity_10h_Ah: 90
  #   capacity_5h_Ah: 78
  floor_soc: 0.1
  min_charge_temperature_C: 0
  # max_charge_A_at_temperature:
  #   - { temperature_C: 0, max_charge_A: 10 }
  #   - { temperature_C: 15, max_charge_A: 50 }
  temperature: { kind: indoors, temperature_C: 12 }
  # capacity_at_temperature:
  #   - { temperature_C: -10, share: 0.7 }
  #   - { temperature_C: 20, share: 1 }
  # heater: { keep_C: 5, loss_W_per_K: 4 }
  # taper_start_soc: 0.95
  # taper_end_share: 0.05
  # self_discharge_share_per_month: 0.03
  # part: NAME
  # price: 1000
  # life_cycles: 5000
  # cycle_life: [{ depth_share: 0.5, cycles: 8000 }, { depth_share: 0.9, cycles: 4000 }]
  # life_years: 15
  # end_of_life_share: 0.8

inverter:
  # units: 1
  # legs: 1
  # output_voltage_V: 230
  rating_kW: 5
  surge_kW: 10
  idle_W: 45
  efficiency:
    points:
      - { load_share: 0.1, efficiency_share: 0.88 }
      - { load_share: 0.5, efficiency_share: 0.94 }
      - { load_share: 1.0, efficiency_share: 0.92 }
    # or a loss curve in place of points:
    # loss_linear: 0.02
    # loss_quadratic: 0.04
  # max_total_charge_A: 100
  # max_total_tracker_kW: 6
  # max_total_tracker_A: 90
  # sleep: { below_W: 25, search_W: 4 }
  # derating:
  #   temperature: { kind: outdoors, above_air_K: 10 }
  #   points: [{ temperature_C: 40, share: 1 }, { temperature_C: 60, share: 0.7 }]

# Leave both out for a plant on sun alone.
charger:
  max_charge_A: 60
  # efficiency_share: 0.92
  # input_at_voltage:
  #   - { voltage_V: 120, max_input_W: 1320 }
  #   - { voltage_V: 240, max_input_W: 2640 }
  # built_in: true
generator:
  rating_kW: 3
  # voltage_V: 230
  fuel: { full_load_L_per_h: 1.4, half_load_L_per_h: 0.9 }
  # fuel:
  #   points:
  #     - { load_share: 0.25, L_per_h: 0.7 }
  #     - { load_share: 0.5, L_per_h: 0.9 }
  #     - { load_share: 1, L_per_h: 1.4 }
  start_soc: 0.2
  stop_soc: 0.7
  # min_load_share: 0.3
  # starts: { kind: at_soc }
  # starts:
  #   kind: before_night
  #   decide_at: "17:00"
  #   look_back_days: 3
  #   margin_share: 0.2
  # min_run_h: 1
  # warm_up_min: 0
  # connection: transfer
  # life_h: 4000
  # service: { every_h: 200, price: 90 }
  # quiet_windows: ["22:00-07:00"]
  # max_run_h_per_day: 24
  # tank: { capacity_L: 60, refill_every_days: 30 }
  # start_failure: { share: 0.02, seed: 1 }

# For boats, vans and sites.
# shore:
#   max_A: 16
#   voltage_V: 230
#   cable_A: 16
#   windows: ["20:00-08:00"]
#   days: [fri, sat]
#   months: [6, 7, 8]
#   connection: transfer
#   carries:
#     kind: after_bank
#     at_soc: 0.4
#     until_soc: 0.7
# alternator:
#   max_charge_A: 40
#   windows: ["09:00-11:00"]

# shedding:
#   - { tier: 2, shed_soc: 0.3, restore_soc: 0.5 }

loads:
  - kind: appliance
    name: refrigerator
    power_W: 90
    # start_W: 600
    duty_share: 0.35
    # tier: 1
    # scale: 1
    # growth_share_per_year: 0
    # daily_variation_share: 0
    # variation_seed: 1
    # bus: ac
    # leg: 1
    # voltage_V: 230
    # count: 1
    # windows: ["00:00-24:00"]
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
  - kind: daily
    name: everything else
    energy_kWh_day: 2.4
    shape: evening
    # month_factors: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]
  # - kind: temperature
  #   name: heat pump
  #   side: heating
  #   base_temperature_C: 15
  #   slope_W_per_K: 60
  #   max_power_W: 1500
  # - kind: series
  #   name: metered
  #   file: load.csv
  #   time: { column: time, zone: UTC, label: start }
  #   power: { column: load, unit: kW }
  # - kind: flexible
  #   name: car
  #   energy_kWh: 6
  #   max_power_W: 2300
  #   window: "09:00-17:00"
  #   min_soc: 0
  # - kind: surplus
  #   name: boiler
  #   max_power_W: 1500
  #   max_kWh_day: 5

# money:
#   currency: crowns
#   years: 20
#   discount_share_per_year: 0.04
#   fuel_price_per_L: 2.4
#   shore_price_per_kWh: 0.3
#   lines:
#     - { name: mounting, price: 42, per: panel }

# One of the two sizes, or none.
# wiring:
#   bank_cable_length_m: 1.5
#   cable_AWG: 2/0
#   cable_mm2: 70
#   cables_parallel: 1
#   bank_lowest_voltage_V: 44.8

run:
  year: 2026
  # initial_soc: 0.6
  # load_factor: 1
  # step_min: 60
`;

/** The same as it is written, each key explained. */
export const STARTER = commented(PLAIN_STARTER.split('\n')).join('\n');
