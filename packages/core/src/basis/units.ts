/** The only unit conversions in the project. */

/** Degrees to radians. */
export const radians = (angle_deg: number): number => (angle_deg * Math.PI) / 180;

/** Radians to degrees. */
export const degrees = (angle_rad: number): number => (angle_rad * 180) / Math.PI;

/** Amps at volts, as kW. */
export const ampsAtVolts_kW = (current_A: number, voltage_V: number): number =>
  (current_A * voltage_V) / 1000;

export const DAY_ms = 86_400_000;
export const HOUR_ms = 3_600_000;
export const MINUTE_ms = 60_000;
