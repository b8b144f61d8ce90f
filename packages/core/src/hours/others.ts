import type { Columns } from '../ledger/columns.ts';
import type { Offered } from './offer.ts';

/**
 * Tells the sun from other sources in steps that have been played: a step knows what is taken on either side, and what
 * nobody takes there is taken off all alike, in proportion to what each could give. Only for a plant that has other
 * sources, and once for each step played.
 */
export function tellOthers(columns: Columns, offered: Offered, from: number, to: number): void {
  const { trackable_kWh, ac_sun_kWh, ac_offered_kWh } = offered;
  const { other_dc_kWh, other_ac_offered_kWh, other_ac_sun_kWh } = offered;
  for (let i = from; i < to; i++) {
    const acSun = ac_sun_kWh[i]!;
    const acOffered = ac_offered_kWh[i]!;
    const dcOffered = trackable_kWh[i]! - acOffered;
    const acUsed = columns.array_ac_kWh[i]!;
    const acLeft = acSun > 0 ? acOffered * (1 - acUsed / acSun) : 0;
    const beyond = columns.curtailed_other_power_kWh[i]!;
    const clipped =
      beyond +
      columns.curtailed_tracker_voltage_kWh[i]! +
      columns.curtailed_tracker_power_kWh[i]! +
      columns.curtailed_tracker_current_kWh[i]!;
    const dcLeft = columns.curtailed_kWh[i]! - clipped - acLeft;
    const left =
      beyond +
      (dcOffered > 0 ? Math.max(0, dcLeft) * (other_dc_kWh[i]! / dcOffered) : 0) +
      (acOffered > 0 ? Math.max(0, acLeft) * (other_ac_offered_kWh[i]! / acOffered) : 0);
    const past = acSun > 0 ? acUsed * (other_ac_sun_kWh[i]! / acSun) : 0;
    columns.other_curtailed_kWh[i] = left;
    columns.other_used_kWh[i] = columns.other_available_kWh[i]! - left;
    columns.other_ac_kWh[i] = past;
    columns.array_ac_kWh[i]! -= past;
    columns.curtailed_kWh[i] = Math.max(0, columns.curtailed_kWh[i]! - left);
    columns.array_used_kWh[i] = columns.array_available_kWh[i]! - columns.curtailed_kWh[i]!;
  }
}
