import type { Report, Scenario } from '@longnight/core';
import type { PossibleYear } from '@longnight/core/study';
import { seedOf } from './words.ts';
import { written } from './written.ts';

/**
 * Plain data as JSON, its numbers as `written` has them. JSON has no word for NaN and writes null, which means "no such figure" here: a number that
 * isn't one is a fault of ours and must not get out looking like an answer.
 *
 * @param file its name, for the message
 * @throws Error naming the key
 */
export function json(file: string, data: unknown, indent?: number): string {
  const finite = (key: string, value: unknown): unknown => {
    if (typeof value !== 'number') return value;
    if (!Number.isFinite(value)) throw new Error(`${file}: ${key} is ${value}`);
    return written(value);
  };
  return JSON.stringify(data, finite, indent);
}

/** The same as the text of a file. */
export const jsonText = (file: string, data: unknown): string => `${json(file, data, 2)}\n`;
/** At the head of a file of figures: of what they are. `drawn` where several years are. */
export const headJson = ({ site, run, weather }: Scenario, drawn = false) => ({
  longnight: { format: 1 },
  site: { name: site.name },
  run: { year: run.year, weather: weather.kind, seed: drawn ? null : seedOf(weather) },
});
export const reportJson = (report: Report): string => jsonText('report.json', report);

/** Of a drawn year its seed, of a measured one that of the calendar; both null for the year of the scenario. */
export const yearJson = (year: PossibleYear | undefined) => ({
  seed: year?.kind === 'drawn' ? year.seed : null,
  calendar_year: year?.kind === 'measured' ? year.year : null,
});
