import { existsSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { InputError } from '@longnight/core';
import { differences, readManifest, type SweepManifest } from './sweep-manifest.ts';

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
      throw refuse(
        part.name,
        `this part belongs to another sweep than ${first.name}: ${found.join('; ')}`,
        'parts of one sweep',
        'name the parts that belong together, or play this one again',
      );
  }
  parts.forEach((part, k) => {
    const before = parts[k - 1];
    if (before?.number === part.number)
      throw refuse(
        part.name,
        `part ${part.number} is there twice: also as ${before.name}`,
        'each part once',
        'leave one out',
      );
  });
  const missing = Array.from({ length: first.of }, (_, k) => k + 1).filter(
    (number) => !parts.some((part) => part.number === number),
  );
  if (missing.length > 0) throw incomplete(cwd, paths, missing, first.of);
  return parts;
}

function partsIn(cwd: string, path: string): readonly string[] {
  if (!existsSync(resolve(cwd, path)))
    throw refuse(path, 'no such file or folder', 'a folder with parts, or a part', 'check the name');
  if (!statSync(resolve(cwd, path)).isDirectory()) return [path];
  const found = readdirSync(resolve(cwd, path)).filter((name) => PART.test(name));
  if (found.length === 0)
    throw refuse(
      path,
      'no part of a sweep is here',
      'files named sweep.part-KofN.csv',
      'play them with longnight sweep … --part K/N --out DIR',
    );
  return found.sort().map((name) => join(path, name));
}

function readPart(cwd: string, name: string): PartFile {
  if (!name.endsWith('.csv'))
    throw refuse(
      name,
      'this is not a part of a sweep',
      'a file named sweep.part-KofN.csv',
      'name the rows, not what lies beside them',
    );
  const made = readManifest(cwd, name.replace(/\.csv$/, '.json'));
  if (made.part === null)
    throw refuse(name, 'this is a whole sweep', 'a part', 'leave it out: it needs no gathering');
  return { name, made, number: made.part.number, of: made.part.of };
}

/** Runs of numbers in words: `3, 7 to 9`. */
function runsOf(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const number of numbers) {
    const last = runs.at(-1);
    if (last !== undefined && last[1] === number - 1) last[1] = number;
    else runs.push([number, number]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ');
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
  return refuse(
    paths[0]!,
    missing.length === 1
      ? `part ${missing[0]} of ${of} is missing`
      : `parts ${runsOf(missing)} of ${of} are missing`,
    `all ${of}`,
    unfinished.length === 0
      ? `play what is missing: the same sweep with --part ${missing[0]}/${of}`
      : `finish ${unfinished[0]} first: the same sweep with its --part and --resume`,
  );
}

const refuse = (file: string, message: string, expected: string, fix: string): InputError =>
  new InputError([{ code: 'sweep-parts', path: '', message, expected, fix, place: { file } }]);
