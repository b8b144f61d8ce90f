import { mkdirSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Axis } from '@longnight/core';
import type { PlayedChunk } from '@longnight/core/study';
import { diskError } from '../files/disk.ts';
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
 *
 * @throws InputError if the disk refuses
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
  let made: string | undefined;
  let file: RowFile | null = null;
  const abandon = (): void => {
    file?.leave();
    rmSync(temporary, { force: true });
    if (made !== undefined) removeEmpty(folder, made);
  };
  const onDisk = (act: () => void): void => {
    try {
      act();
    } catch (error) {
      abandon();
      const fix = 'make room, or name another folder with --out';
      throw diskError(error, `${out}/size.csv`, 'nothing was written', fix);
    }
  };
  onDisk(() => {
    made = mkdirSync(folder, { recursive: true });
    rmSync(temporary, { force: true });
    file = openRowFile(temporary, null);
    file.append(Buffer.from(rows.header));
  });
  return {
    append: (indices, played) =>
      onDisk(() => file!.append(rows.write(...bySeed(indices, played, seeds.length)))),
    finish: () => onDisk(() => file!.finish(join(folder, 'size.csv'))),
    abandon,
  };
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
