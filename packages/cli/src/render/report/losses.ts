import type { Report } from '@longnight/core';

/** Where energy is lost, the parts that the plant has, then all. */
export function lossRows({ losses, limits, generator }: Report): readonly (readonly [string, number])[] {
  return [
    ['trackers', losses.tracker_kWh],
    ['bank: charging, discharging, self-discharge', losses.bank_kWh],
    ...(losses.heater_kWh === 0 ? [] : [['heaters of the bank', losses.heater_kWh] as const]),
    ['inverter, standing loss included', losses.inverter_kWh],
    ...(limits.ac_charging.figure_kW === null ? [] : [['charger', losses.charger_kWh] as const]),
    ...(generator === null
      ? []
      : [['generator energy spilled to keep its least load', losses.generator_spilled_kWh] as const]),
    ['all', losses.total_kWh],
  ];
}
