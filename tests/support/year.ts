import type { Clock, LoadYear, PreparedYear, Scenario, Timetables } from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import type { Load } from '@longnight/core/scenario';

/** A prepared year made of given columns, so that the hour loop can be tested without a sky. Sun columns are empty. */
export function yearOf(given: {
  readonly dc_kW_per_kWp: readonly Float64Array[];
  readonly load_kW: Float64Array;
  readonly bank_temperature_C?: Float64Array;
  /** Of all arrays; 0 °C unless said. */
  readonly cell_temperature_C?: Float64Array;
  readonly step_min?: number;
  readonly timetables?: Partial<Timetables>;
  /** What `load_kW` is made of, where a test asks for what can be on at once. */
  readonly loads?: readonly Load[];
  /** Loads by tier, ascending; `load_kW` is their sum. */
  /** Where loads hang, and loads that wait or take surplus. */
  readonly more?: Partial<LoadYear>;
  readonly tiers?: { readonly numbers: readonly number[]; readonly kW: readonly Float64Array[] };
}): PreparedYear {
  const steps = given.load_kW.length;
  const clock = cut(buildClock(2025, 'Etc/UTC', given.step_min ?? 60), steps);
  const none = new Float64Array(steps);
  return {
    scenario: {
      site: { name: 'test', latitude_deg: 0, longitude_deg: 0, elevation_m: 0, time_zone: 'Etc/UTC' },
      weather: { kind: 'clear-sky' },
      arrays: [],
      bank: { module: { capacity_Ah: 100, nominal_voltage_V: 50 } },
      inverter: { units: 1, idle_W: 0, rating_kW: 1 },
      loads: given.loads ?? [],
      run: { load_factor: 1 },
    } as unknown as Scenario,
    clock,
    sun: {
      up_share: none,
      altitude_deg: none,
      azimuth_deg: none,
      extraterrestrial_normal_W_m2: none,
      extraterrestrial_horizontal_W_m2: none,
      air_mass: none,
    },
    sky: {
      ghi_W_m2: none,
      dni_W_m2: none,
      dhi_W_m2: none,
      air_temperature_C: none,
      wind_m_s: none,
      notices: [],
      assumptions: [],
    },
    arrays: given.dc_kW_per_kWp.map((dc_kW_per_kWp, k) => ({
      name: `array ${k}`,
      plane_W_m2: dc_kW_per_kWp.map((kW) => kW * 1000),
      cell_temperature_C: given.cell_temperature_C ?? none,
      dc_kW_per_kWp,
      assumptions: [],
    })),
    loads: {
      by_load: [],
      tiers: given.tiers?.numbers ?? [1],
      tier_kW: given.tiers?.kW ?? [given.load_kW],
      total_kW: given.load_kW,
      dc_tier_kW: null,
      leg_tier_kW: null,
      running_kW: null,
      row_peaks: null,
      flexible: [],
      surplus: [],
      ...given.more,
      notices: [],
      assumptions: [],
    },
    timetables: {
      generator_barred: null,
      start_draw: null,
      shore_there: null,
      engine_share: null,
      ...given.timetables,
    },
    bank_temperature_C: given.bank_temperature_C ?? new Float64Array(steps).fill(20),
    notices: [],
    assumptions: [],
  };
}

/** The first steps of a clock; whole days only. */
function cut(clock: Clock, steps: number): Clock {
  if (steps === clock.steps) return clock;
  const days = clock.day[steps - 1]! + 1;
  if (clock.day_start[days] !== steps) throw new RangeError(`${steps} steps are not whole days`);
  return {
    ...clock,
    steps,
    days,
    start_ms: clock.start_ms.slice(0, steps),
    offset_min: clock.offset_min.slice(0, steps),
    local_minute: clock.local_minute.slice(0, steps),
    month: clock.month.slice(0, steps),
    weekday: clock.weekday.slice(0, steps),
    day: clock.day.slice(0, steps),
    day_start: clock.day_start.slice(0, days + 1),
  };
}
