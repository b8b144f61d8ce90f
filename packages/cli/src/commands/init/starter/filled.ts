import type { Part } from '@longnight/core';
import { commented } from './comments.ts';
import { addKeys, dropKey, dropSection, setKey } from './lines.ts';
import { PLAIN_STARTER } from './starter.ts';

/** What the person who asked for a scenario said of the plant; what is not said stays as in the starter. */
export interface Answers {
  readonly site?: {
    readonly name: string;
    readonly latitude_deg: number;
    readonly longitude_deg: number;
    readonly elevation_m: number;
    readonly time_zone: string;
  };
  /** Of that site: twelve monthly means, or a sky without clouds. Air temperatures: twelve, or one under a clear sky. */
  readonly weather?: {
    readonly ghi_kWh_m2_day: readonly number[] | null;
    readonly air_temperature_C: readonly number[];
  };
  readonly load_kWh_day?: number;
  readonly array?: {
    readonly size_kWp?: number;
    readonly panels?: number;
    readonly tilt_deg?: number;
    readonly azimuth_deg?: number;
  };
  readonly modules_parallel?: number;
  /** False for a plant on sun alone. */
  readonly generator?: boolean;
  /** Files of parts, as the scenario shall write them. */
  readonly parts_files?: readonly string[];
  readonly panel?: Named;
  readonly module?: Named;
  readonly inverter?: Named;
  readonly generatorPart?: Named;
}

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
  let lines = PLAIN_STARTER.split('\n');
  const { site, weather, load_kWh_day, array, modules_parallel } = answers;
  if (site !== undefined) {
    for (const [key, value] of Object.entries(site)) lines = setKey(lines, 'site', key, scalar(value));
  }
  if (weather !== undefined) lines = withWeather(lines, weather);
  for (const [key, value] of Object.entries(array ?? {})) {
    if (key !== 'panels') lines = setKey(lines, 'arrays', key, scalar(value));
  }
  if (modules_parallel !== undefined) {
    lines = setKey(lines, 'bank', 'modules_parallel', scalar(modules_parallel));
  }
  if (load_kWh_day !== undefined) lines = withOneLoad(lines, load_kWh_day);
  lines = withParts(lines, answers);
  if (answers.generator === false) {
    lines = dropSection(lines, 'generator');
    if (lines.some((line) => line.startsWith('charger:'))) lines = dropSection(lines, 'charger');
  }
  return [EDITOR_LINE, ...commented(withHeader(lines, answers))].join('\n');
}

/** Text that YAML could take for something else goes in quotes. */
const scalar = (value: string | number): string =>
  typeof value === 'number' || /^[\p{L}][\p{L}\d /_.+-]*$/u.test(value)
    ? String(value)
    : JSON.stringify(value);

const list = (values: readonly number[]): string => `[${values.join(', ')}]`;

function withWeather(lines: string[], weather: NonNullable<Answers['weather']>): string[] {
  const { ghi_kWh_m2_day, air_temperature_C } = weather;
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

const withOneLoad = (lines: string[], energy_kWh_day: number): string[] =>
  addKeys(dropSection(lines, 'loads', true), 'loads', [
    '  - kind: daily',
    '    name: all loads',
    `    energy_kWh_day: ${energy_kWh_day}`,
    '    shape: evening',
  ]);

/** A part stands in for what its section leaves out, so what it lends must be left out. */
function withParts(given: string[], answers: Answers): string[] {
  let lines = given;
  const { parts_files, panel, module, inverter, generatorPart, array } = answers;
  if (parts_files !== undefined) {
    const at = lines.findIndex((line) => line.startsWith('# parts_files:'));
    lines = lines.with(at, `parts_files: [${parts_files.map((file) => JSON.stringify(file)).join(', ')}]`);
  }
  const lend = (section: string, named: Named | undefined): void => {
    if (named === undefined) return;
    for (const key of Object.keys(named.part?.values ?? {})) lines = dropKey(lines, section, key);
    const behind = section === 'arrays' ? 'name' : undefined;
    const indent = section === 'arrays' ? '    ' : '  ';
    lines = addKeys(lines, section, [`${indent}part: ${scalar(named.name)}`], behind);
  };
  lend('arrays', panel);
  if (array?.panels !== undefined) {
    lines = dropKey(lines, 'arrays', 'size_kWp');
    lines = addKeys(lines, 'arrays', [`    panels: ${array.panels}`], 'name');
  }
  lend('bank', module);
  lend('inverter', inverter);
  if (inverter?.part?.brings.tracker !== undefined) lines = dropKey(lines, 'arrays', 'tracker');
  if (inverter?.part?.brings.charger !== undefined) lines = dropSection(lines, 'charger');
  lend('generator', generatorPart);
  return lines;
}

/** The starter begins by saying that all of it is invented. */
function withHeader(lines: string[], answers: Answers): string[] {
  const told = [
    answers.site && 'site',
    answers.weather && 'weather',
    answers.array && 'array',
    answers.modules_parallel && 'number of modules',
    answers.load_kWh_day !== undefined && 'loads',
    (answers.panel || answers.module || answers.inverter || answers.generatorPart) && 'names of parts',
  ].filter((word) => typeof word === 'string');
  if (told.length === 0) return lines;
  const from = lines.findIndex((line) => line.includes('Everything here is invented'));
  const to = lines.findIndex((line) => line.startsWith('# Units are in the keys'));
  return lines.toSpliced(
    from,
    to - from,
    ...[
      '# A stand-alone solar plant, for longnight.',
      `# Given when this file was written: ${told.join(', ')}.`,
      '# Everything else here is invented and stands for no real place or product: replace each',
      '# figure with your own.',
    ],
  );
}
