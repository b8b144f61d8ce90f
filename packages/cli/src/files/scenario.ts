import { createHash } from 'node:crypto';
import { basename, dirname, resolve } from 'node:path';
import { filesNamed, type PreparedYear, prepareYear, readScenario } from '@longnight/core';
import { readText, SCENARIO_LIMIT_bytes, SERIES_LIMIT_bytes } from './read.ts';

/** A scenario and all it names, read and prepared. */
export interface Opened {
  readonly year: PreparedYear;
  /** Name without folder: what reports may show. */
  readonly name: string;
  /** Paths of every file read, for the check that no output is written over one. */
  readonly paths: readonly string[];
  readonly read: readonly { readonly name: string; readonly sha256: string }[];
}

/**
 * Reads a scenario, the series beside it, and prepares the year.
 *
 * @param file as the user wrote it; series are looked for beside it
 * @throws InputError with every issue found
 */
export function openScenario(cwd: string, file: string): Opened {
  const text = readText(cwd, file, SCENARIO_LIMIT_bytes);
  const read = readScenario(text, file);
  const folder = dirname(resolve(cwd, file));
  const texts = new Map(
    filesNamed(read.scenario).map((name) => [name, readText(folder, name, SERIES_LIMIT_bytes)]),
  );
  const name = basename(file);
  return {
    year: prepareYear(read, file, texts),
    name,
    paths: [resolve(cwd, file), ...[...texts.keys()].map((series) => resolve(folder, series))],
    read: [[name, text] as const, ...texts].map(([readName, content]) => ({
      // A series may be named by an absolute path; a report must not tell where somebody's files are.
      name: readName.split(/[\\/]/).at(-1) ?? readName,
      sha256: createHash('sha256').update(content).digest('hex'),
    })),
  };
}
