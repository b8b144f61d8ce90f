import type { GeneratorSpec } from '../scenario/schema.ts';

/** An engine generator. Fuel is a straight line of the output: intercept while running, slope per kWh. */
export interface Generator {
  readonly rating_kW: number;
  readonly min_load_kW: number;
  readonly start_soc: number;
  readonly stop_soc: number;
  readonly min_run_h: number;
  /** True if it can share the loads with the inverter; false behind a plain transfer switch. */
  readonly parallel: boolean;
  readonly max_run_h_per_day: number;
  /** Null where there is always enough fuel. */
  readonly tank_L: number | null;
  readonly refill_every_days: number;
  readonly start_failure_share: number;
  readonly fuel_intercept_L_per_h: number;
  readonly fuel_slope_L_per_kWh: number;
}

/**
 * Builds a generator; the fuel line goes through the datasheet's full-load and half-load figures.
 *
 * Source: the linear form is that of Skarstein & Uhlen 1989, Wind Engineering 13, 72-87; no coefficients of the
 * literature are used.
 */
export function buildGenerator(spec: GeneratorSpec): Generator {
  const { full_load_L_per_h, half_load_L_per_h } = spec.fuel;
  return {
    rating_kW: spec.rating_kW,
    min_load_kW: spec.min_load_share * spec.rating_kW,
    start_soc: spec.start_soc,
    stop_soc: spec.stop_soc,
    min_run_h: spec.min_run_h,
    parallel: spec.connection === 'parallel',
    max_run_h_per_day: spec.max_run_h_per_day,
    tank_L: spec.tank?.capacity_L ?? null,
    refill_every_days: spec.tank?.refill_every_days ?? 1,
    start_failure_share: spec.start_failure?.share ?? 0,
    fuel_intercept_L_per_h: 2 * half_load_L_per_h - full_load_L_per_h,
    fuel_slope_L_per_kWh: (2 * (full_load_L_per_h - half_load_L_per_h)) / spec.rating_kW,
  };
}
