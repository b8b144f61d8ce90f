import { existsSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { InputError } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import { runsOf } from '../render/document/words.ts';
import { differences, readManifest, type SweepManifest } from './manifest.ts';

const refuse = refused.bind(null, 'sweep-parts');

/** One part of a sweep on the disk. */
export interface PartFile {
  /** As messages show it. */
  readonly name: string;
  readonly made: SweepManifest;
  readonly number: number;
  readonly of: number;
}

const PART = /^sweep\.part-\d+of\d+\.csv$/;

/**
 * Finds the parts of one sweep.
 *
 * @param paths folders with parts, or the parts themselves
 * @returns every part once, the first first
 * @throws InputError if a part is missing, unfinished, there twice, or of another sweep
 */
export function findParts(cwd: string, paths: readonly string[]): readonly PartFile[] {
  const names = paths.flatMap((path) => partsIn(cwd, path));
  const parts = [...new Set(names)].map((name) => readPart(cwd, name)).sort((a, b) => a.number - b.number);
  const first = parts[0]!;
  for (const part of parts) {
    const found = [...differences(first.made, part.made)];
    if (part.of !== first.of) found.push(`it is one of ${part.of} parts`);
    if (found.length > 0)
      throw refuse({ file: part.name })`this part belongs to another sweep than ${first.name}:
        ${found.join('; ')} | name the parts that belong together, or play this one again | parts of one
        sweep`;
  }
  parts.forEach((part, k) => {
    const before = parts[k - 1];
    if (before?.number === part.number)
      throw refuse({ file: part.name })`part ${part.number} is there twice: also as ${before.name} | leave
        one out | each part once`;
  });
  const missing = Array.from({ length: first.of }, (_, k) => k + 1).filter(
    (number) => !parts.some((part) => part.number === number),
  );
  if (missing.length > 0) throw incomplete(cwd, paths, missing, first.of);
  return parts;
}

function partsIn(cwd: string, path: string): readonly string[] {
  if (!existsSync(resolve(cwd, path)))
    throw refuse({ file: path })`no such file or folder | check the name | a folder with parts, or a part`;
  if (!statSync(resolve(cwd, path)).isDirectory()) return [path];
  const found = readdirSync(resolve(cwd, path)).filter((name) => PART.test(name));
  if (found.length === 0)
    throw refuse({ file: path })`no part of a sweep is here | play them with longnight sweep … --part K/N
      --out DIR | files named sweep.part-KofN.csv`;
  return found.sort().map((name) => join(path, name));
}

function readPart(cwd: string, name: string): PartFile {
  if (!name.endsWith('.csv'))
    throw refuse({ file: name })`this is not a part of a sweep | name the rows, not what lies beside them |
      a file named sweep.part-KofN.csv`;
  const made = readManifest(cwd, name.replace(/\.csv$/, '.json'));
  if (made.part === null)
    throw refuse({ file: name })`this is a whole sweep | leave it out: it needs no gathering | a part`;
  return { name, made, number: made.part.number, of: made.part.of };
}

function incomplete(
  cwd: string,
  paths: readonly string[],
  missing: readonly number[],
  of: number,
): InputError {
  const unfinished = paths
    .filter((path) => statSync(resolve(cwd, path)).isDirectory())
    .flatMap((path) =>
      readdirSync(resolve(cwd, path))
        .filter((name) => /^sweep\.part-\d+of\d+\.csv\.partial$/.test(name))
        .map((name) => join(path, name)),
    );
  return refuse({
    file: paths[0]!,
  })`${missing.length === 1 ? `part ${missing[0]} of ${of} is missing` : `parts ${runsOf(missing)} of ${of} are missing`}
    |
    ${unfinished.length === 0 ? `play what is missing: the same sweep with --part ${missing[0]}/${of}` : `finish ${unfinished[0]} first: the same sweep with its --part and --resume`}
    | all ${of}`;
}
