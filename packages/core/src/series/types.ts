import type { Notice } from '../basis/notices.ts';

/**
 * A labelled table of numbers read from a CSV: row r covers [start_ms[r], end_ms[r]). Rows are in time order without
 * duplicates. A missing value is NaN here and nowhere else in the library.
 */
export interface Series {
  readonly file: string;
  readonly start_ms: Float64Array;
  readonly end_ms: Float64Array;
  /** Line of the file each row came from, header is line 1. */
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

/** The text of each file that a scenario names, by the name it uses. Core never opens a file itself. */
export type FileTexts = ReadonlyMap<string, string>;
