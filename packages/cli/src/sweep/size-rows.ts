import type { Axis } from '@longnight/core';
import type { PlayedChunk, PossibleYear } from '@longnight/core/study';
import { yearName } from '../render/document/year-words.ts';
import { type NewRows, openNewRows } from './row-file.ts';
import { sweepRows } from './rows.ts';

export const SIZE_NAMES = ['size.md', 'size.json', 'size.csv', 'size.html'];

/** size.csv while it is being written. */
export interface SizeRows extends Omit<NewRows, 'append'> {
  append(indices: readonly number[], played: PlayedChunk): void;
}

/**
 * Begins size.csv. Its rows are those of a sweep; with several years, of a sweep with the year as the last key: a drawn
 * year is its seed, a measured one that of the calendar.
 *
 * @throws InputError if the disk refuses
 */
export function openSizeRows(
  cwd: string,
  out: string,
  axes: readonly Axis[],
  years: readonly PossibleYear[],
): SizeRows {
  const rows = sweepRows(
    years.length === 0 ? axes : [...axes, { path: 'year', values: years.map(yearName) }],
  );
  const file = openNewRows(cwd, out, 'size.csv', SIZE_NAMES, rows.header);
  return {
    ...file,
    append: (indices, played) => file.append(rows.write(...byYear(indices, played, years.length))),
  };
}

/** A design in several years as as many designs: the figures stand in that order already. */
function byYear(
  indices: readonly number[],
  played: PlayedChunk,
  years: number,
): [readonly number[], PlayedChunk] {
  if (years === 0) return [indices, played];
  const each = Array.from({ length: years }, (_, year) => year);
  return [
    indices.flatMap((index) => each.map((year) => index * years + year)),
    { figures: played.figures, contradictions: played.contradictions.flatMap((why) => each.map(() => why)) },
  ];
}
