import type { ArraySpec } from '../scenario/schema/schema.ts';

/** How a panel gives off heat, per m² of it. */
interface HeatLoss {
  /** In still air, W/(m² K). */
  readonly still_W_m2_K: number;
  /** Gain per wind speed, W s/(m³ K). */
  readonly perWind_W_s_m3_K: number;
}

/**
 * Heat loss by mounting.
 *
 * `open_rack`: Faiman 2008, Progress in Photovoltaics 16, 307-315 (means of seven module types).
 *
 * `close_roof`: common practice, no source: 20 W/(m² K) at 1 m/s, half the rack's gain from wind because the back
 * hardly sees any. At 800 W/m² and 1 m/s that is 15 K above the rack, between a panel an inch off the roof (+11 K) and
 * one laid on it (+18 K) in Fuentes 1987, SAND85-0330 (recalled).
 */
export const HEAT_LOSS: Readonly<Record<ArraySpec['mounting'], HeatLoss>> = {
  open_rack: { still_W_m2_K: 25, perWind_W_s_m3_K: 6.84 },
  close_roof: { still_W_m2_K: 16.6, perWind_W_s_m3_K: 3.4 },
};

/**
 * Temperature of the cells of a panel in the sun.
 *
 * @param air_C air temperature, °C
 * @param plane_W_m2 irradiance on the plane, before losses at the glass
 * @param wind_m_s wind at the panels
 * @param loss heat loss of the mounting
 * @returns °C; the module's back and its cells are taken as one
 *
 * Source: Faiman 2008, Progress in Photovoltaics 16, 307-315; the form of IEC 61853-2.
 */
export const cellTemperature_C = (
  air_C: number,
  plane_W_m2: number,
  wind_m_s: number,
  loss: HeatLoss,
): number => air_C + plane_W_m2 / (loss.still_W_m2_K + loss.perWind_W_s_m3_K * wind_m_s);

/**
 * Temperature of the cells of a panel in the sun, from its nominal operating cell temperature.
 *
 * @param air_C air temperature, °C
 * @param plane_W_m2 irradiance on the plane, before losses at the glass
 * @param noct_C cell temperature at 800 W/m², 20 °C and 1 m/s on an open rack, from the data sheet
 * @returns °C; the wind is taken to be that of the test
 *
 * Source: Ross 1976; the test is that of IEC 61215.
 */
export const cellTemperatureFromNoct_C = (air_C: number, plane_W_m2: number, noct_C: number): number =>
  air_C + ((noct_C - 20) * plane_W_m2) / 800;
