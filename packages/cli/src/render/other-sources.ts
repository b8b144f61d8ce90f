import type { Report } from '@longnight/core';
import { hours, kWh } from './figures.ts';

/** What comes from a socket or a running engine: a label and a sentence for each that the plant has. */
export function otherSources(report: Report): [string, string][] {
  const { shore, engine_charging } = report;
  const gave = (source: { energy_kWh: number; hours: number }): string =>
    source.energy_kWh === 0 ? 'gave nothing' : `${kWh(source.energy_kWh)} in ${hours(source.hours)}`;
  const lines: [string, string][] = [];
  if (shore !== null) lines.push(['Shore power', `${gave(shore)}.`]);
  if (engine_charging !== null) lines.push(['Engine', `${gave(engine_charging)} through its DC-DC charger.`]);
  return lines;
}
