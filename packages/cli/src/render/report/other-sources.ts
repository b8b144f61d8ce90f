import type { Report } from '@longnight/core';
import { hours, kWh } from '../document/figures.ts';

/** A socket, a running engine, loads that may wait or take surplus: a label and a sentence for each that the plant has. */
export function otherSources(report: Report): [string, string][] {
  const { shore, engine_charging, load, array } = report;
  const gave = (source: { energy_kWh: number; hours: number }): string =>
    source.energy_kWh === 0 ? 'gave nothing' : `${kWh(source.energy_kWh)} in ${hours(source.hours)}`;
  const lines: [string, string][] = [];
  if (shore !== null) lines.push(['Shore power', `${gave(shore)}.`]);
  if (engine_charging !== null) lines.push(['Engine', `${gave(engine_charging)} through its DC-DC charger.`]);
  if (array.on_ac_side_kWh !== null)
    lines.push(['On AC side', `${kWh(array.on_ac_side_kWh)} of the sun used came in past the inverter.`]);
  if (load.waiting !== null) {
    const { wanted_kWh, unmet_kWh } = load.waiting;
    const unmet = unmet_kWh > 0 ? `${kWh(unmet_kWh)} of it not given` : 'all of it given';
    lines.push(['May wait', `${kWh(wanted_kWh)} asked for by loads that may wait, ${unmet}.`]);
  }
  if (load.surplus_kWh !== null)
    lines.push(['Surplus', `${kWh(load.surplus_kWh)} into loads that take what is left over.`]);
  return lines;
}
