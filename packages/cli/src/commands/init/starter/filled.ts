import type { Part } from '@longnight/core';
import { commented } from './comments.ts';
import { addKeys, dropKey, dropSection, setKey } from './lines.ts';
import { PLAIN_STARTER } from './starter.ts';

/** What the person who asked for a scenario said of the plant; what is not said stays as in the starter. */
export interface Answers {
  /** By the keys that they become, `site.latitude_deg`; of the one array, and of one load for all. */
  readonly values: Readonly<Record<string, string | number>>;
  /** Twelve monthly means, or a sky without clouds. Air temperatures: twelve, or one under a clear sky. */
  readonly weather?: {
    readonly ghi_kWh_m2_day: readonly number[] | null;
    readonly air_temperature_C: readonly number[];
  };
  /** Files of parts, as the scenario shall write them. */
  readonly parts_files: readonly string[];
  readonly parts: Readonly<Partial<Record<PartSection, Named>>>;
  /** False for a plant on sun alone. */
  readonly hasGenerator: boolean;
}

export type PartSection = 'arrays' | 'bank' | 'inverter' | 'generator';

/** A part by its name; its values where a file holds it. */
export interface Named {
  readonly name: string;
  readonly part?: Part | undefined;
}

/** The first line tells editors where the JSON Schema is that they complete and mark the file by. */
export const SCHEMA_FILE = 'scenario.schema.json';
const EDITOR_LINE = `# yaml-language-server: $schema=${SCHEMA_FILE}`;

/** A scenario made from the starter and what was said. */
export function filledStarter(answers: Answers): string {
  const { values, weather, parts_files, parts, hasGenerator } = answers;
  let lines = PLAIN_STARTER.split('\n');
  if (weather !== undefined) lines = withWeather(lines, weather);
  for (const [path, value] of Object.entries(values)) {
    const [section, key] = path.split('.') as [string, string];
    if (section === 'loads') lines = withOneLoad(lines, value);
    else if (key === 'panels') {
      lines = dropKey(lines, 'arrays', 'size_kWp');
      lines = addKeys(lines, 'arrays', [`    panels: ${value}`], 'name');
    } else lines = setKey(lines, section, key, scalar(value));
  }
  if (parts_files.length > 0) {
    const at = lines.findIndex((line) => line.startsWith('# parts_files:'));
    lines = lines.with(at, `parts_files: [${parts_files.map((file) => JSON.stringify(file)).join(', ')}]`);
  }
  for (const [section, named] of Object.entries(parts)) lines = withPart(lines, section, named);
  if (!hasGenerator)
    for (const section of ['generator', 'charger'])
      if (lines.some((line) => line.startsWith(`${section}:`))) lines = dropSection(lines, section);
  return [EDITOR_LINE, ...commented(withHeader(lines, answers))].join('\n');
}

/** A part stands in for what its section leaves out, so what it lends must be left out. */
function withPart(given: string[], section: string, { name, part }: Named): string[] {
  let lines = given;
  for (const key of Object.keys(part?.values ?? {})) lines = dropKey(lines, section, key);
  const [indent, behind] = section === 'arrays' ? ['    ', 'name'] : ['  ', undefined];
  lines = addKeys(lines, section, [`${indent}part: ${scalar(name)}`], behind);
  if (part?.brings.tracker !== undefined) lines = dropKey(lines, 'arrays', 'tracker');
  if (part?.brings.charger !== undefined) lines = dropSection(lines, 'charger');
  return lines;
}

/** Text that YAML could take for something else goes in quotes. */
const scalar = (value: string | number): string =>
  typeof value === 'number' || /^[\p{L}][\p{L}\d /_.+-]*$/u.test(value)
    ? String(value)
    : JSON.stringify(value);

const list = (values: readonly number[]): string => `[${values.join(', ')}]`;

function withWeather(
  lines: string[],
  { ghi_kWh_m2_day, air_temperature_C }: NonNullable<Answers['weather']>,
): string[] {
  if (ghi_kWh_m2_day !== null) {
    const withSun = setKey(lines, 'weather', 'ghi_kWh_m2_day', list(ghi_kWh_m2_day));
    return setKey(withSun, 'weather', 'air_temperature_C', list(air_temperature_C));
  }
  const air = air_temperature_C.length === 1 ? scalar(air_temperature_C[0]!) : list(air_temperature_C);
  return addKeys(dropSection(lines, 'weather', true), 'weather', [
    '  kind: clear-sky',
    '  turbidity_linke: 3            # invented; haze, one figure or twelve',
    `  air_temperature_C: ${air}`,
  ]);
}

const withOneLoad = (lines: string[], energy_kWh_day: string | number): string[] =>
  addKeys(dropSection(lines, 'loads', true), 'loads', [
    '  - kind: daily',
    '    name: all loads',
    `    energy_kWh_day: ${energy_kWh_day}`,
    '    shape: evening',
  ]);

const TOLD = {
  site: 'site',
  weather: 'weather',
  arrays: 'array',
  bank: 'number of modules',
  loads: 'loads',
  parts: 'names of parts',
} as const;

/** The starter begins by saying that all of it is invented. */
function withHeader(lines: string[], { values, weather, parts }: Answers): string[] {
  const sections = new Set([
    ...Object.keys(values).map((path) => path.split('.')[0]),
    weather && 'weather',
    Object.keys(parts).length > 0 && 'parts',
  ]);
  const told = Object.entries(TOLD).flatMap(([section, words]) => (sections.has(section) ? [words] : []));
  if (told.length === 0) return lines;
  const from = lines.findIndex((line) => line.includes('Everything here is invented'));
  const to = lines.findIndex((line) => line.startsWith('# Units are in the keys'));
  return [
    ...lines.slice(0, from),
    '# A stand-alone solar plant, for longnight.',
    `# Given when this file was written: ${told.join(', ')}.`,
    '# Everything else here is invented and stands for no real place or product: replace each',
    '# figure with your own.',
    ...lines.slice(to),
  ];
}
