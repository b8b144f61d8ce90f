import { mapLoads } from '../../loads/types.ts';
import type { PreparedYear } from '../../year.ts';

/**
 * A stretch of a prepared year as a year of its own: whole local days, sharing the columns.
 *
 * @param firstDay ordinal of the first local day, 0 to days - 1
 * @param days how many; first and last must lie within the year
 * @throws RangeError if they don't
 */
export function daysOfYear(year: PreparedYear, firstDay: number, days: number): PreparedYear {
  const { clock } = year;
  if (!Number.isInteger(firstDay) || firstDay < 0 || days < 1 || firstDay + days > clock.days) {
    throw new RangeError(`daysOfYear: ${days} days from day ${firstDay} do not fit a year of ${clock.days}`);
  }
  const from = clock.day_start[firstDay]!;
  const to = clock.day_start[firstDay + days]!;
  const cut = <T extends { subarray(from: number, to: number): T }>(column: T): T =>
    column.subarray(from, to);
  return {
    ...year,
    clock: {
      ...clock,
      steps: to - from,
      days,
      start_ms: cut(clock.start_ms),
      offset_min: cut(clock.offset_min),
      local_minute: cut(clock.local_minute),
      month: cut(clock.month),
      weekday: cut(clock.weekday),
      day: cut(clock.day).map((day) => day - firstDay),
      day_start: clock.day_start.subarray(firstDay, firstDay + days + 1).map((step) => step - from),
    },
    sun: {
      up_share: cut(year.sun.up_share),
      altitude_deg: cut(year.sun.altitude_deg),
      azimuth_deg: cut(year.sun.azimuth_deg),
      extraterrestrial_normal_W_m2: cut(year.sun.extraterrestrial_normal_W_m2),
      extraterrestrial_horizontal_W_m2: cut(year.sun.extraterrestrial_horizontal_W_m2),
      air_mass: cut(year.sun.air_mass),
    },
    sky: {
      ...year.sky,
      ghi_W_m2: cut(year.sky.ghi_W_m2),
      dni_W_m2: cut(year.sky.dni_W_m2),
      dhi_W_m2: cut(year.sky.dhi_W_m2),
      air_temperature_C: cut(year.sky.air_temperature_C),
      wind_m_s: cut(year.sky.wind_m_s),
    },
    arrays: year.arrays.map((array) => ({
      ...array,
      plane_W_m2: cut(array.plane_W_m2),
      cell_temperature_C: cut(array.cell_temperature_C),
      dc_kW_per_kWp: cut(array.dc_kW_per_kWp),
    })),
    loads: mapLoads(year.loads, cut),
    others: year.others.map((other) => ({ ...other, power_kW: cut(other.power_kW) })),
    bank_temperature_C: cut(year.bank_temperature_C),
    timetables: {
      generator_barred: year.timetables.generator_barred && cut(year.timetables.generator_barred),
      start_draw: year.timetables.start_draw && cut(year.timetables.start_draw),
      shore_there: year.timetables.shore_there && cut(year.timetables.shore_there),
      engine_share: year.timetables.engine_share && cut(year.timetables.engine_share),
    },
  };
}
