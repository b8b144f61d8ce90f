import type { Part } from '@longnight/core';
import type { LoadsAnswer } from '../loads.ts';
import type { WeatherAnswer } from '../site.ts';
import { commented } from './comments.ts';
import { addKeys, dropKey, dropSection, setKey } from './lines.ts';
import { PLAIN_STARTER } from './starter.ts';

/** What the person who asked for a scenario said of the plant; what is not said stays as in the starter. */
export interface Answers {
  /** By the keys that they become, `site.latitude_deg`; of the one array, and of one load for all. */
  readonly values: Readonly<Record<string, string | number>>;
  /** Why a value is what it is, where nobody told it. */
  readonly assumed: Readonly<Record<string, string>>;
  readonly weather?: WeatherAnswer;
  readonly loads?: LoadsAnswer;
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
  const { values, assumed, weather, parts_files, parts, hasGenerator } = answers;
  let lines = PLAIN_STARTER.split('\n');
  if (weather !== undefined) lines = withWeather(lines, weather);
  for (const [path, value] of Object.entries(values)) {
    const [section, key] = path.split('.') as [string, string];
    if (section === 'loads') lines = withOneLoad(lines, value);
    else if (key === 'panels') {
      lines = dropKey(lines, 'arrays', 'size_kWp');
      lines = addKeys(lines, 'arrays', [`    panels: ${value}`], 'name');
    } else {
      lines = setKey(lines, section, key, scalar(value), assumed[path]);
    }
  }
  if (answers.loads !== undefined) lines = withLoads(lines, answers.loads);
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

function withWeather(lines: string[], weather: WeatherAnswer): string[] {
  if (weather.kind === 'monthly_means') {
    const withSun = setKey(lines, 'weather', 'ghi_kWh_m2_day', list(weather.ghi_kWh_m2_day));
    const withAir = setKey(withSun, 'weather', 'air_temperature_C', list(weather.air_temperature_C));
    if (weather.source === undefined) return withAir;
    return addKeys(withAir, 'weather', FIRST_GUESS).filter((line) => !line.startsWith('  # source:'));
  }
  const instead = dropSection(lines, 'weather', true);
  if (weather.kind !== 'clear-sky')
    return addKeys(instead, 'weather', [`  kind: ${weather.kind}`, `  file: ${scalar(weather.file)}`]);
  const { air_temperature_C } = weather;
  const air = air_temperature_C.length === 1 ? scalar(air_temperature_C[0]!) : list(air_temperature_C);
  return addKeys(instead, 'weather', [
    '  kind: clear-sky',
    '  turbidity_linke: 3            # invented; haze, one figure or twelve',
    `  air_temperature_C: ${air}`,
  ]);
}

const FIRST_GUESS = [
  '  # Sun and air are a first guess from the coordinates. Put in monthly means of the place, daily',
  '  # on the level, then take the line of source out. The report says how far they may be off.',
  '  source: first_guess',
];

const withOneLoad = (lines: string[], energy_kWh_day: string | number): string[] =>
  addKeys(dropSection(lines, 'loads', true), 'loads', [
    '  - kind: daily',
    '    name: all loads',
    `    energy_kWh_day: ${energy_kWh_day}`,
    '    shape: evening',
  ]);

function withLoads(lines: string[], { file, delimiter, time, power, unit }: LoadsAnswer): string[] {
  const zone = lines.find((line) => line.startsWith('  time_zone: '))!.split(/: | +#/)[1]!;
  return addKeys(dropSection(lines, 'loads', true), 'loads', [
    '  - kind: series',
    '    name: all loads',
    `    file: ${scalar(file)}`,
    ...(delimiter === ',' ? [] : [`    delimiter: ${JSON.stringify(delimiter)}`]),
    '    # Zone and label are assumed: whose clock the meter keeps, and whether a stamp starts or ends its row.',
    `    time: { column: ${scalar(time)}, zone: ${zone}, label: start }`,
    `    power: { column: ${scalar(power)}, unit: ${unit} }`,
  ]);
}

const TOLD = {
  site: 'site',
  weather: 'weather',
  arrays: 'array',
  bank: 'number of modules',
  loads: 'loads',
  parts: 'names of parts',
} as const;

/** The starter begins by saying that all of it is invented. */
function withHeader(lines: string[], answers: Answers): string[] {
  const { values, assumed, weather, parts } = answers;
  const isGuess = weather?.kind === 'monthly_means' && weather.source !== undefined;
  const sections = new Set([
    ...Object.keys(values)
      .filter((path) => assumed[path] === undefined)
      .map((path) => path.split('.')[0]),
    weather && !isGuess && 'weather',
    answers.loads && 'loads',
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
    ...(isGuess ? ['# The weather is a first guess from the coordinates.'] : []),
    '# Everything else here is invented and stands for no real place or product: replace each',
    '# figure with your own.',
    ...lines.slice(to),
  ];
}
