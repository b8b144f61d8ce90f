import { existsSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { type InputError, partsFilesNamed, prepareYear, readScenario } from '@longnight/core';
import { refusal } from '@longnight/core/scenario';
import { readText, SCENARIO_LIMIT_bytes } from '../../files/read.ts';
import type { Io } from '../../io.ts';
import { schemaText } from '../schema/work.ts';
import { answersOf, type InitFlags, sayAnything } from './flags.ts';
import { askForFlags } from './questions.ts';
import { filledStarter, SCHEMA_FILE } from './starter/filled.ts';

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
  const text = filledStarter({
    ...answers,
    parts_files: answers.parts_files.map((name) => fromFolder(folder, resolve(io.cwd, name))),
  });
  // What is written must be readable: what was told may contradict itself, as a December sun brighter than the sky.
  const parts = new Map(
    partsFilesNamed(text, file).map((name) => [name, readText(folder, name, SCENARIO_LIMIT_bytes)]),
  );
  prepareYear(readScenario(text, file, parts), file, new Map());

  const schemaPath = join(folder, SCHEMA_FILE);
  const isTaken = existsSync(schemaPath) && !isOurs(schemaPath);
  write(path, file, text);
  if (!isTaken) write(schemaPath, SCHEMA_FILE, schemaText('scenario'));
  io.out(`${file}\n`);
  if (isTaken)
    io.err(`note: ${SCHEMA_FILE} is not ours and was left as it is: editors won't complete ${file}\n`);
  const invented =
    !sayAnything(told) || told.example === true ? 'Every figure in it' : 'What you did not tell';
  io.err(
    `${invented} is invented: put your own in, then\n  longnight check ${file}\n  longnight run ${file} --out DIR\n`,
  );
  if (answers.weather?.ghi_kWh_m2_day === null)
    io.err('note: a sky without clouds all year is no forecast: decide nothing by it\n');
}

/** A file as the scenario shall write it: from its own folder, with the slashes that every system reads. */
function fromFolder(folder: string, path: string): string {
  const there = relative(folder, path);
  return isAbsolute(there) ? there : there.replaceAll('\\', '/');
}

function checkPlace(path: string, file: string, mayOverwrite: boolean): void {
  const folder = dirname(path);
  if (!existsSync(folder) || !statSync(folder).isDirectory())
    throw refuse(dirname(file), 'no-such-folder', 'no such folder', 'a folder that exists', 'make it first');
  if (!existsSync(path)) return;
  if (statSync(path).isDirectory())
    throw refuse(
      file,
      'is-directory',
      'this is a folder',
      'a file name',
      `name a file: ${file}/scenario.yaml`,
    );
  if (!mayOverwrite)
    throw refuse(
      file,
      'file-exists',
      'the file is there already',
      'a free name',
      'name another file, or add --force',
    );
}

/** True if the schema beside the scenario was written by us, perhaps by an older version. */
function isOurs(path: string): boolean {
  try {
    return /"title": "Scenario of longnight"/.test(readFileSync(path, 'utf8'));
  } catch {
    return false;
  }
}

function write(path: string, file: string, text: string): void {
  const temporary = `${path}.${process.pid}.tmp`;
  try {
    writeFileSync(temporary, text);
    renameSync(temporary, path);
  } catch (error) {
    rmSync(temporary, { force: true });
    const { code, message } = error as NodeJS.ErrnoException;
    throw refuse(
      file,
      'unwritable',
      `the file can't be written (${code ?? message})`,
      'a writable folder',
      'name another place',
    );
  }
}

function refuse(file: string, code: string, message: string, expected: string, fix: string): InputError {
  return refusal(code, { file }, message, fix, expected);
}
