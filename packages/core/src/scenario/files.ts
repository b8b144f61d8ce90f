import type { Scenario } from './schema.ts';

/** Names of the files that a scenario reads from, as it writes them, each once: weather first, then loads. */
export function filesNamed(scenario: Scenario): readonly string[] {
  const files = new Set<string>();
  if ('file' in scenario.weather) files.add(scenario.weather.file);
  for (const load of scenario.loads) if (load.kind === 'series') files.add(load.file);
  return [...files];
}
