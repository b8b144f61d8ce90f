import type { Place } from '../basis/errors.ts';
import type { Notice } from '../basis/notices.ts';
import type { GivenSeries } from '../scenario/given.ts';

/**
 * A labelled table of numbers, read from a CSV or handed over: row r covers [start_ms[r], end_ms[r]). Rows are in time order without
 * duplicates. A missing value is NaN here and nowhere else in the library.
 */
export interface Series {
  /** Name of the file, or of the numbers that stand in its place. */
  readonly file: string;
  readonly start_ms: Float64Array;
  readonly end_ms: Float64Array;
  /** True if it was handed over as numbers. */
  readonly given: boolean;
  /** Line of the file each row came from, header is line 1; of numbers handed over their place, from 0. */
  readonly line: Uint32Array;
  /** Values by our own name of the column (`ghi`, `air_temperature`, `power`), in the file's unit. */
  readonly values: ReadonlyMap<string, Float64Array>;
  /** The year that every row was read as of; null where the stamps' own years stand. */
  readonly as_of_year: number | null;
  /** What became of 29 February when the rows were read as of a year. */
  readonly leap_day: 'as_filed' | 'repeated' | 'left_out';
}

/** A series laid on a clock: means over the clock's steps. */
export interface Gridded {
  readonly values: ReadonlyMap<string, Float64Array>;
  /** By column, 1 for each step of which any part was missing and filled; columns without gaps are left out. */
  readonly filled: ReadonlyMap<string, Uint8Array>;
  readonly notices: readonly Notice[];
}

/** Where a row stands, for messages; without a row the series as a whole. */
export const placeOf = ({ file, line, given }: Series, row?: number, field?: string): Place => ({
  file,
  ...(row === undefined ? {} : { [given ? 'index' : 'line']: line[row] }),
  ...(field === undefined ? {} : { field }),
});

/** What messages call where a series comes from. */
export const sourceWord = ({ given }: Series): 'file' | 'series' => (given ? 'series' : 'file');

/**
 * The text of each file that a scenario names, by the name it uses; or its numbers, which then need no CSV. Core never
 * opens a file itself.
 */
export type FileTexts = ReadonlyMap<string, string | GivenSeries>;
