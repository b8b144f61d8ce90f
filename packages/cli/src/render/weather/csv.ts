import type { PreparedYear } from '@longnight/core';
import { DecimalWriter } from '../tables/decimal-writer.ts';
import { textRow } from '../tables/hours-csv.ts';
import { stepTimes, TIME_NAMES } from '../tables/step-times.ts';

/**
 * The weather of every step as RFC 4180 text, lines ended by CRLF: means of the step, gaps filled, global light split.
 *
 * @returns UTF-8; the header names each column with its unit
 */
export function weatherCsv({ clock, sky, sun }: PreparedYear): Uint8Array {
  const columns = {
    ghi_W_m2: sky.ghi_W_m2,
    dni_W_m2: sky.dni_W_m2,
    dhi_W_m2: sky.dhi_W_m2,
    extraterrestrial_horizontal_W_m2: sun.extraterrestrial_horizontal_W_m2,
    sun_altitude_deg: sun.altitude_deg,
    sun_azimuth_deg: sun.azimuth_deg,
    air_temperature_C: sky.air_temperature_C,
    wind_m_s: sky.wind_m_s,
  };
  const values = Object.values(columns);
  const times = stepTimes(clock);
  const writer = new DecimalWriter(clock.steps * (values.length + 4) * 12);
  writer.text(textRow([...TIME_NAMES, ...Object.keys(columns)]));
  for (let i = 0; i < clock.steps; i++) {
    writer.ascii(times(i));
    for (const column of values) writer.cell(column[i]!);
    writer.ascii('\r\n');
  }
  return writer.bytes();
}
