import { dirname, join, resolve } from 'node:path';
import { InputError, type Part, partsFilesNamed, readParts } from '@longnight/core';
import { readText, SCENARIO_LIMIT_bytes } from './read.ts';

/** A part with the file that holds it, as messages show it. */
export interface FoundPart {
  readonly file: string;
  readonly part: Part;
}

/**
 * Reads the parts of parts files, or of those that a scenario names.
 *
 * @param files as the user wrote them; files that a scenario names are looked for beside it
 * @throws InputError if one can't be read, or names no parts
 */
export function readPartsOf(cwd: string, files: readonly string[]): readonly FoundPart[] {
  const read = new Set<string>();
  return files.flatMap((file) => {
    const text = readText(cwd, file, SCENARIO_LIMIT_bytes);
    const named = partsFilesNamed(text, file);
    if (named.length === 0) {
      if (isScenario(text)) throw namesNone(file);
      return partsOf(text, file);
    }
    return named.flatMap((name) =>
      partsOf(readText(cwd, beside(file, name), SCENARIO_LIMIT_bytes), beside(file, name)),
    );
  });

  /** Each file once, however many scenarios name it. */
  function partsOf(text: string, file: string): FoundPart[] {
    const path = resolve(cwd, file);
    if (read.has(path)) return [];
    read.add(path);
    return readParts(text, file).map((part) => ({ file, part }));
  }
}

const beside = (file: string, name: string): string => join(dirname(file), name);

/** No parts file has a site. */
const isScenario = (text: string): boolean =>
  /^\s*"?site"?\s*:/m.test(text) && !/^\s*"?parts"?\s*:/m.test(text);

const namesNone = (file: string): InputError =>
  new InputError([
    {
      code: 'no-parts',
      path: 'parts_files',
      message: 'this scenario names no parts_files',
      expected: 'a parts file, or a scenario that names some',
      fix: 'give the parts file itself, or add parts_files: [parts.yaml] to the scenario',
      place: { file },
    },
  ]);
