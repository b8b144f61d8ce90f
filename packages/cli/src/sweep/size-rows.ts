import type { Axis } from '@longnight/core';
import type { PlayedChunk } from '@longnight/core/study';
import { type NewRows, openNewRows } from './row-file.ts';
import { sweepRows } from './rows.ts';

export const SIZE_NAMES = ['size.md', 'size.json', 'size.csv', 'size.html'];

/** size.csv while it is being written. */
export interface SizeRows extends Omit<NewRows, 'append'> {
  append(indices: readonly number[], played: PlayedChunk): void;
}

/**
 * Begins size.csv. Its rows are those of a sweep; with an ensemble, of a sweep with `weather.seed` as the last key.
 *
 * @throws InputError if the disk refuses
 */
export function openSizeRows(
  cwd: string,
  out: string,
  axes: readonly Axis[],
  seeds: readonly number[],
): SizeRows {
  const rows = sweepRows(seeds.length === 0 ? axes : [...axes, { path: 'weather.seed', values: seeds }]);
  const file = openNewRows(cwd, out, 'size.csv', SIZE_NAMES, rows.header);
  return {
    ...file,
    append: (indices, played) => file.append(rows.write(...bySeed(indices, played, seeds.length))),
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
