import { existsSync, readFileSync, statSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { filesNamed, partsFilesNamed, prepareYear, readScenario } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import { openOutputSet } from '../../files/output-set.ts';
import { readText, SCENARIO_LIMIT_bytes, SERIES_LIMIT_bytes } from '../../files/read.ts';
import type { Io } from '../../io.ts';
import { jsonText } from '../../render/document/json.ts';
import { plain, WIDTH, wrapped } from '../../render/document/plain-text.ts';
import { schemaText } from '../schema/work.ts';
import { answersOf, type InitFlags, sayAnything } from './flags.ts';
import { askForFlags } from './questions.ts';
import { type Answers, filledStarter, SCHEMA_FILE } from './starter/filled.ts';

/**
 * `longnight init`: writes the starter scenario, with what the person says of the plant in it, and the JSON Schema for
 * their editor. Never over a file of theirs unless asked to; asks only where there is a terminal to answer on.
 */
export async function init(file: string, flags: InitFlags, io: Io): Promise<void> {
  const path = resolve(io.cwd, file);
  const folder = dirname(path);
  checkPlace(path, file, flags.force === true);
  const told = io.ask !== undefined && !sayAnything(flags) ? await askForFlags(io.ask, io) : flags;
  const answers = answersOf(told, io);
  const { weather, loads } = answers;
  const placed = (name: string): string => fromFolder(folder, resolve(io.cwd, name));
  const text = filledStarter({
    ...answers,
    parts_files: answers.parts_files.map(placed),
    ...(weather && 'file' in weather ? { weather: { ...weather, file: placed(weather.file) } } : {}),
    ...(loads && { loads: { ...loads, file: placed(loads.file) } }),
  });
  // What is written must be readable: what was told may contradict itself, as a December sun brighter than the sky.
  const parts = new Map(
    partsFilesNamed(text, file).map((name) => [name, readText(folder, name, SCENARIO_LIMIT_bytes)]),
  );
  const read = readScenario(text, file, parts);
  const texts = filesNamed(read.scenario).map(
    (name) => [name, readText(folder, name, SERIES_LIMIT_bytes)] as const,
  );
  const { sky } = prepareYear(read, file, new Map(texts));

  const schemaPath = join(folder, SCHEMA_FILE);
  const isTaken = existsSync(schemaPath) && !isOurs(schemaPath);
  const schema = isTaken ? [] : [{ name: SCHEMA_FILE, text: schemaText('scenario') }];
  const set = openOutputSet(io.cwd, dirname(file), basename(file), [], {
    fix: 'name another place',
    isListed: false,
  });
  try {
    set.swap([{ name: basename(file), text }, ...schema]);
  } finally {
    set.close();
  }
  const made = {
    file,
    schema: isTaken ? null : join(dirname(file), SCHEMA_FILE),
    invented: untold(read.source.written.data, toldPaths(answers)),
    assumed: Object.entries(answers.assumed).map(([path, why]) => ({
      path: inFile(path),
      value: answers.values[path],
      why,
    })),
    assumptions: read.assumptions,
  };
  io.out(flags.json ? jsonText('init', made) : `${file}\n`);
  if (isTaken)
    io.err(`note: ${SCHEMA_FILE} is not ours and was left as it is: editors won't complete ${file}\n`);
  const { example: _, ...ofPlant } = told;
  const invented = sayAnything(ofPlant) ? 'What you did not tell' : 'Every figure in it';
  io.err(
    `${invented} is invented: put your own in, then\n  longnight check ${file}\n  longnight run ${file} --out DIR\n`,
  );
  const said = (text: string): void => io.err(`${wrapped(plain(text), WIDTH).join('\n')}\n`);
  for (const [path, why] of Object.entries(answers.assumed))
    said(`${inFile(path)}: ${answers.values[path]}, ${why}`);
  const guess = sky.assumptions.find(({ path }) => path === 'weather.source');
  if (guess !== undefined && weather?.kind === 'monthly_means') {
    for (const key of ['ghi_kWh_m2_day', 'air_temperature_C'] as const)
      io.err(`  ${key}: [${weather[key].join(', ')}]\n`);
    said(`weather: ${guess.why}.`);
    said(FIGURES_OF_A_PLACE);
  }
  if (loads)
    said(
      `loads: the stamps of ${loads.file} are taken as local time and as the start of their rows; correct zone and label in the file if they are not`,
    );
  if (answers.parts_files.length === 0 && answers.weather !== undefined)
    said('Data sheets and prices go into a parts file: init --parts FILE, longnight schema parts.');
  if (weather?.kind === 'clear-sky')
    io.err('note: a sky without clouds all year is no forecast: decide nothing by it\n');
}

const FIGURES_OF_A_PLACE =
  'Better figures of a place: its national weather service, a farm or university station near by, the solar atlas of a ' +
  'public institute; what is wanted is global irradiation on the horizontal. Sums of a month are divided by its days, ' +
  'MJ/m2 by 3.6. Hours of a typical year come from public archives as TMY3 or EPW: init --weather FILE.';

/** A file as the scenario shall write it: from its own folder, with the slashes that every system reads. */
function fromFolder(folder: string, path: string): string {
  const there = relative(folder, path);
  return isAbsolute(there) ? there : there.replaceAll('\\', '/');
}

/** The plant that is asked for has one array and one load. */
const inFile = (path: string): string => path.replace(/^(arrays|loads)\./, '$1[0].');

/** Keys of the scenario that answers fill in, with all that lies below them. */
const toldPaths = ({ values, weather, loads, parts_files, parts }: Answers): readonly string[] => [
  ...[...Object.keys(values), ...Object.keys(parts).map((section) => `${section}.part`)].map(inFile),
  ...Object.keys(weather ?? {}).map((key) => `weather.${key}`),
  ...(loads ? ['loads[0]'] : []),
  ...(parts_files.length === 0 ? [] : ['parts_files']),
];

/** Every value of a scenario that nobody told. */
function untold(
  data: unknown,
  told: readonly string[],
  at = '',
): readonly { readonly path: string; readonly value: unknown }[] {
  if (told.includes(at)) return [];
  const isValue = (it: unknown): boolean => typeof it !== 'object' || it === null;
  if (isValue(data) || (Array.isArray(data) && data.every(isValue))) return [{ path: at, value: data }];
  return Object.entries(data as object).flatMap(([key, value]) =>
    untold(value, told, Array.isArray(data) ? `${at}[${key}]` : at === '' ? key : `${at}.${key}`),
  );
}

function checkPlace(path: string, file: string, mayOverwrite: boolean): void {
  const folder = dirname(path);
  if (!existsSync(folder) || !statSync(folder).isDirectory())
    throw refuse(dirname(file), 'no-such-folder')`no such folder | make it first | a folder that exists`;
  if (!existsSync(path)) return;
  if (statSync(path).isDirectory())
    throw refuse(file, 'is-directory')`this is a folder | name a file: ${file}/scenario.yaml | a file name`;
  if (!mayOverwrite)
    throw refuse(file, 'file-exists')`the file is there already | name another file, or add --force | a free
      name`;
}

/** True if the schema beside the scenario was written by us, perhaps by an older version. */
function isOurs(path: string): boolean {
  try {
    return /"title": "Scenario of longnight"/.test(readFileSync(path, 'utf8'));
  } catch {
    return false;
  }
}

const refuse = (file: string, code: string) => refused(code, { file });
