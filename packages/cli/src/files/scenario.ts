import { createHash } from 'node:crypto';
import { basename, dirname, resolve } from 'node:path';
import {
  filesNamed,
  type PreparedYear,
  partsFilesNamed,
  prepareYear,
  type ReadScenario,
  type StudyText,
} from '@longnight/core';
import { readSetting, readSource } from '@longnight/core/study';
import * as z from 'zod';
import manifest from '../../package.json' with { type: 'json' };
import type { ReadFrom } from '../render/document/again.ts';
import { readText, SCENARIO_LIMIT_bytes, SERIES_LIMIT_bytes } from './read.ts';

// Compiled checkers pay off after hundreds of files; a command reads one, and starts 15 ms earlier without.
z.config({ jitless: true });

/** A scenario and all it names, read but not prepared. */
export interface ReadFiles {
  readonly read: ReadScenario;
  /** The text of the scenario and of its parts files: what a study is made from. */
  readonly source: StudyText;
  /** Text of every series that the scenario names. */
  readonly texts: ReadonlyMap<string, string>;
  /** Name without folder: what reports may show. */
  readonly name: string;
  /** Paths of every file read, for the check that no output is written over one. */
  readonly paths: readonly string[];
}

/** A scenario and all it names, read and prepared. */
export interface Opened extends ReadFiles {
  readonly year: PreparedYear;
}

/**
 * Reads a scenario, the parts files and the series that it names.
 *
 * @param file as the user wrote it; the files it names are looked for beside it
 * @param set keys that are played with other values, as the user wrote them
 * @throws InputError with every issue found
 */
export function readFiles(cwd: string, file: string, set: readonly string[] = []): ReadFiles {
  const text = readText(cwd, file, SCENARIO_LIMIT_bytes);
  const folder = dirname(resolve(cwd, file));
  const partsTexts = new Map(
    partsFilesNamed(text, file).map((name) => [name, readText(folder, name, SCENARIO_LIMIT_bytes)]),
  );
  const source = { text, file, partsTexts, set: set.map(readSetting) };
  const read = readSource(source);
  const texts = new Map(
    filesNamed(read.scenario).map((name) => [name, readText(folder, name, SERIES_LIMIT_bytes)]),
  );
  return {
    read,
    source,
    texts,
    name: basename(file),
    paths: [
      resolve(cwd, file),
      ...[...partsTexts.keys(), ...texts.keys()].map((named) => resolve(folder, named)),
    ],
  };
}

/**
 * Reads a scenario with all it names, and prepares its year.
 *
 * @throws InputError as `readFiles`, and if a series can't be used
 */
export function openScenario(cwd: string, file: string, set?: readonly string[]): Opened {
  const files = readFiles(cwd, file, set);
  return { ...files, year: prepareYear(files.read, file, files.texts) };
}

/** A file that was read, by the SHA-256 of its text. */
export const hashed = (name: string, text: string): ReadFrom['read'][number] => ({
  // A file may be named by an absolute path; what is handed on must not tell where somebody's files are.
  name: name.split(/[\\/]/).at(-1) ?? name,
  sha256: createHash('sha256').update(text).digest('hex'),
});

/** What a document was made by and from: every file that was read, once, without its folder, with its SHA-256. */
export function madeFrom(...all: readonly ReadFiles[]): ReadFrom {
  const read = all.flatMap(({ name, source, texts }) =>
    [[name, source.text] as const, ...source.partsTexts, ...texts].map((file) => hashed(...file)),
  );
  const once = new Map(read.map((file) => [`${file.name} ${file.sha256}`, file]));
  const set = all[0]?.source.set ?? [];
  return { version: manifest.version, read: [...once.values()], set };
}
