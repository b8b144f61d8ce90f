import { atTemperature } from './at-temperature.ts';
import type { Bank } from './bank.ts';

/**
 * Stock that can't be drawn at a temperature: the floor, or what the cold keeps back if that is more, in kWh. It is
 * there again when the bank is warm. Outside the given points the nearest one holds.
 */
export function drawableFloor_kWh(bank: Bank, temperature_C: number): number {
  const points = bank.capacity_at_temperature;
  if (points.length === 0) return bank.floor_kWh;
  const share = atTemperature(points, (point) => point.share, temperature_C);
  return Math.max(bank.floor_kWh, (1 - share) * bank.capacity_kWh);
}

/** Share of the charge amps that the modules take at a temperature. Outside the given points the nearest one holds. */
export function chargeAmps_share(bank: Bank, temperature_C: number): number {
  const points = bank.charge_A_at_temperature;
  if (points.length === 0) return 1;
  const most_A = atTemperature(points, (point) => point.max_charge_A, temperature_C);
  return Math.min(1, most_A / bank.module_max_charge_A);
}

/** A bank in the cold over a year, one entry a step; null where it is not modelled. */
interface ColdYear {
  /** Stock that the cold keeps back, floor included, while no heater runs. */
  readonly drawable_floor_kWh: Float64Array | null;
  /** DC energy that the heaters ask for. */
  readonly heat_kWh: Float64Array | null;
  /** Share of the charge amps that the modules take while no heater runs. */
  readonly charge_amps_share: Float64Array | null;
}

/**
 * What the cold does to a bank: it keeps stock back, its electronics let in fewer amps, and heaters ask for what the
 * modules lose to the air.
 *
 * @param bank_temperature_C of the bank without heaters, one entry a step
 *
 * Source: steady heat loss, loss × (keep - air), without the heat stored in the modules; common practice, no source.
 */
export function coldYear(bank: Bank, bank_temperature_C: Float64Array, step_h: number): ColdYear {
  const { heater } = bank;
  const steps = bank_temperature_C.length;
  // Loops, not `map`: a number that its callback is given or returns is boxed, and a sweep comes here for every design.
  let drawable_floor_kWh: Float64Array | null = null;
  if (bank.capacity_at_temperature.length > 0) {
    drawable_floor_kWh = new Float64Array(steps);
    for (let i = 0; i < steps; i++) drawable_floor_kWh[i] = drawableFloor_kWh(bank, bank_temperature_C[i]!);
  }
  let heat_kWh: Float64Array | null = null;
  if (heater !== null) {
    heat_kWh = new Float64Array(steps);
    for (let i = 0; i < steps; i++) {
      heat_kWh[i] = Math.max(0, heater.keep_C - bank_temperature_C[i]!) * heater.loss_kW_per_K * step_h;
    }
  }
  let charge_amps_share: Float64Array | null = null;
  if (bank.charge_A_at_temperature.length > 0) {
    charge_amps_share = new Float64Array(steps);
    for (let i = 0; i < steps; i++) charge_amps_share[i] = chargeAmps_share(bank, bank_temperature_C[i]!);
  }
  return { drawable_floor_kWh, heat_kWh, charge_amps_share };
}
