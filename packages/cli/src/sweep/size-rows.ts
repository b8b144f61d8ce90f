import { mkdirSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Axis } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import type { PlayedChunk } from '@longnight/core/study';
import { removeEmpty } from '../files/write.ts';
import { openRowFile, type RowFile } from './row-file.ts';
import { sweepRows } from './rows.ts';

export const SIZE_NAMES = ['size.md', 'size.json', 'size.csv', 'size.html'];

/** size.csv while it is being written. */
export interface SizeRows {
  append(indices: readonly number[], played: PlayedChunk): void;
  /** Gives it its name. */
  finish(): void;
  /** Takes away what is not finished, and the folder if this run made it. */
  abandon(): void;
}

/**
 * Opens size.csv under a temporary name in its folder. Its rows are those of a sweep; with an ensemble, of a sweep with
 * `weather.seed` as the last key.
 */
export function openSizeRows(
  cwd: string,
  out: string,
  axes: readonly Axis[],
  seeds: readonly number[],
): SizeRows {
  const folder = resolve(cwd, out);
  const temporary = join(folder, `.size.csv.${process.pid}.tmp`);
  const rows = sweepRows(seeds.length === 0 ? axes : [...axes, { path: 'weather.seed', values: seeds }]);
  const made = onDisk(out, () => mkdirSync(folder, { recursive: true }));
  let file: RowFile | null = null;
  const abandon = (): void => {
    file?.leave();
    file = null;
    rmSync(temporary, { force: true });
    if (made !== undefined) removeEmpty(folder, made);
  };
  const append = (bytes: Uint8Array): void => onDisk(out, () => file?.append(bytes));
  try {
    rmSync(temporary, { force: true });
    file = onDisk(out, () => openRowFile(temporary, null));
    append(new TextEncoder().encode(rows.header));
  } catch (error) {
    abandon();
    throw error;
  }
  return {
    append(indices, played) {
      append(rows.write(...bySeed(indices, played, seeds.length)));
    },
    finish() {
      onDisk(out, () => file?.finish(join(folder, 'size.csv')));
      file = null;
    },
    abandon() {
      if (file !== null) abandon();
    },
  };
}

/** A disk that refuses is the user's to mend, not ours. */
function onDisk<T>(out: string, act: () => T): T {
  try {
    return act();
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw refused('out-unwritable', { file: out })`size.csv can't be written (${code ?? message}) | free
      some room, or name another folder with --out | a writable folder with room for it`;
  }
}

/** A design in several years as as many designs: the figures stand in that order already. */
function bySeed(
  indices: readonly number[],
  played: PlayedChunk,
  seeds: number,
): [readonly number[], PlayedChunk] {
  if (seeds === 0) return [indices, played];
  const each = Array.from({ length: seeds }, (_, year) => year);
  return [
    indices.flatMap((index) => each.map((year) => index * seeds + year)),
    { figures: played.figures, contradictions: played.contradictions.flatMap((why) => each.map(() => why)) },
  ];
}
