import { weatherFindings } from '@longnight/core/sky';
import { openScenario } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { jsonText } from '../../render/document/json.ts';
import { weatherCsv } from '../../render/weather/csv.ts';
import { weatherDocument } from '../../render/weather/document.ts';
import { type Given, tell } from '../tell.ts';

const NAMES = ['weather.csv', 'weather.json'];

/** `longnight weather`: what was read as weather, and how it does in the quality tests. */
export async function weather(file: string, given: Given, io: Io): Promise<void> {
  const { year, name, paths } = openScenario(io.cwd, file, given.set);
  checkOutputs(io.cwd, given.out, NAMES, paths);
  const { firstGuess, zoneOffPlace } = await import('../place.ts');
  const { latitude_deg, longitude_deg, elevation_m } = year.scenario.site;
  const report = weatherFindings(year, firstGuess(latitude_deg, longitude_deg, elevation_m));
  await tell(io, given, NAMES, {
    document: weatherDocument(report, name),
    json: jsonText('weather.json', report),
    notes: zoneOffPlace(year.scenario).map(({ message }) => message),
    tables: given.out ? [{ name: 'weather.csv', text: weatherCsv(year) }] : [],
  });
}
