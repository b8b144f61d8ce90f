import { weatherFindings } from '@longnight/core/sky';
import { openScenario } from '../../files/scenario.ts';
import { checkOutputs, writeOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { jsonText } from '../../render/document/json.ts';
import { paint } from '../../render/document/paint.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { weatherCsv } from '../../render/weather/csv.ts';
import { weatherDocument } from '../../render/weather/document.ts';

const OUTPUT_NAMES = ['weather.csv', 'weather.json'];

interface WeatherOptions {
  /** Folder for the outputs; null writes none. */
  readonly out: string | null;
  readonly json: boolean;
}

/** `longnight weather`: what was read as weather, and how it does in the quality tests. */
export function weather(file: string, { out, json }: WeatherOptions, io: Io): void {
  const { year, name, paths } = openScenario(io.cwd, file);
  if (out !== null) checkOutputs(io.cwd, out, OUTPUT_NAMES, paths);
  const report = weatherFindings(year);

  const text = jsonText('weather.json', report);
  if (out !== null)
    writeOutputs(io.cwd, out, [
      { name: 'weather.csv', text: weatherCsv(year) },
      { name: 'weather.json', text },
    ]);
  const written = out === null ? null : { folder: out, names: OUTPUT_NAMES };
  io.out(json ? text : toScreen(weatherDocument(report, name), written, paint(io.colour)));
}
