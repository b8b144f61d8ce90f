/** Open-circuit voltage of a module against its energy, for `openCircuit_V`. One entry a point, ascending. */
export interface OpenCircuit {
  /** Share of the module's energy, 0 empty, 1 full. */
  readonly energy_share: Float64Array;
  readonly voltage_V: Float64Array;
  /** Rise of the squared voltage to the next point per energy share, V²; one entry fewer. */
  readonly square_rise_V2: Float64Array;
  /** Mean over the charge: energy over amp-hours. */
  readonly mean_V: number;
}

/** A bank whose losses rise with its current: a voltage behind a resistance. */
export interface ResistiveModel {
  readonly kind: 'resistive';
  readonly open_circuit: OpenCircuit;
  /** Of one new module; the bank's is this over `Bank.current_modules`. */
  readonly module_resistance_ohm: number;
  /** Amp-hours that come out again per amp-hour put in. */
  readonly coulombic_efficiency: number;
}

/**
 * Turns voltages against charge into voltages against energy. Between points the voltage is a straight line of charge;
 * its square is then a straight line of energy: V = V0 + m q and E = V0 q + m q²/2 give V² = V0² + 2 m E. So a stock in
 * kWh tells its voltage exactly.
 *
 * @param points state of charge by charge, from 0 to 1, ascending, and voltage of one cell or module, never falling
 * @param cells_series what the voltages are multiplied by
 *
 * Source: derived here from energy being the integral of voltage over charge.
 */
export function openCircuit(
  points: readonly { readonly soc: number; readonly voltage_V: number }[],
  cells_series: number,
): OpenCircuit {
  const voltage_V = Float64Array.from(points, (point) => point.voltage_V * cells_series);
  const energy = new Float64Array(points.length);
  for (let k = 1; k < points.length; k++) {
    const charge = points[k]!.soc - points[k - 1]!.soc;
    energy[k] = energy[k - 1]! + (charge * (voltage_V[k - 1]! + voltage_V[k]!)) / 2;
  }
  const mean_V = energy[points.length - 1]!;
  const energy_share = energy.map((E) => E / mean_V);
  return {
    energy_share,
    voltage_V,
    square_rise_V2: Float64Array.from(
      { length: points.length - 1 },
      (_, k) => (voltage_V[k + 1]! ** 2 - voltage_V[k]! ** 2) / (energy_share[k + 1]! - energy_share[k]!),
    ),
    mean_V,
  };
}

/** Voltage without current at an energy share, held at both ends. Source: as `openCircuit`. */
export function openCircuit_V(curve: OpenCircuit, energy_share: number): number {
  const { energy_share: at, voltage_V, square_rise_V2 } = curve;
  const last = at.length - 1;
  if (energy_share <= 0) return voltage_V[0]!;
  if (energy_share >= 1) return voltage_V[last]!;
  let k = last - 1;
  while (at[k]! > energy_share) k--;
  const from_V = voltage_V[k]!;
  return Math.sqrt(from_V * from_V + square_rise_V2[k]! * (energy_share - at[k]!));
}

/**
 * Current at which a voltage behind a resistance gives a power at its terminals: the smaller root of P = I (V - I R),
 * written so that it holds for R = 0 as well.
 *
 * @param power_W at most V²/4R, which is what it can give at all
 */
export const dischargeCurrent_A = (voltage_V: number, resistance_ohm: number, power_W: number): number =>
  (2 * power_W) / (voltage_V + Math.sqrt(Math.max(0, voltage_V * voltage_V - 4 * resistance_ohm * power_W)));

/** The same for a power put in: the positive root of P = I (V + I R). */
export const chargeCurrent_A = (voltage_V: number, resistance_ohm: number, power_W: number): number =>
  (2 * power_W) / (voltage_V + Math.sqrt(voltage_V * voltage_V + 4 * resistance_ohm * power_W));
