/** Invented plants of which arithmetic says what mends them, as scenario text. */
import { type Improvement, improvePlant } from '@longnight/core';
import type { TriedChange } from '@longnight/core/study';
import { stringify } from 'yaml';

export type Data = Record<string, unknown>;

/** Lossless, without idle draw, sun at the equator, days of 24 h in UTC; sections given replace these. */
export const plant = (own: Data): Data => ({
  site: { name: 'test', latitude_deg: 0, longitude_deg: 0, elevation_m: 0, time_zone: 'Etc/UTC' },
  weather: { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 20, daily_swing_K: 0 },
  arrays: [array({})],
  bank: bank({}),
  inverter: inverter({}),
  loads: [{ kind: 'daily', name: 'all', energy_kWh_day: 12, shape: 'flat' }],
  run: { year: 2025 },
  ...own,
});
export const array = (own: Data): Data => ({
  name: 'array',
  size_kWp: 20,
  tilt_deg: 0,
  azimuth_deg: 180,
  power_temperature_coefficient_per_K: 0,
  mounting: 'open_rack',
  tracker: { max_power_kW: 100, max_charge_A: 10_000, efficiency_share: 1 },
  ...own,
});
export const bank = (own: Data, module: Data = {}): Data => ({
  chemistry: 'lfp',
  modules_parallel: 1,
  module: { nominal_voltage_V: 50, capacity_Ah: 100, max_charge_A: 200, max_discharge_A: 200, ...module },
  round_trip_efficiency_share: 1,
  floor_soc: 0,
  taper_start_soc: 1,
  self_discharge_share_per_month: 0,
  min_charge_temperature_C: 0,
  temperature: { kind: 'indoors', temperature_C: 20 },
  ...own,
});
export const inverter = (own: Data): Data => ({
  rating_kW: 10,
  surge_kW: 20,
  idle_W: 0,
  efficiency: { loss_linear: 0, loss_quadratic: 0 },
  ...own,
});
/** An hour a day after dark. */
export const evening = (power_W: number): Data => ({
  kind: 'appliance',
  name: 'evening',
  power_W,
  windows: ['21:00-22:00'],
});

export const mend = (data: Data): Improvement =>
  improvePlant({ text: stringify(data), file: 'test.yaml', partsTexts: new Map() }, new Map());
export const keysOf = (tried: TriedChange | undefined | null): string[] =>
  (tried?.values ?? []).map(({ path }) => path);
