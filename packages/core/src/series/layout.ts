/** How a delimited text is laid out, as a scenario says it. */
export interface Layout {
  readonly delimiter: string;
  /** Decimal mark of numbers; a point unless said. */
  readonly decimal?: 'point' | 'comma' | undefined;
  /** Lines that begin with it are no rows. */
  readonly comment?: string | undefined;
  /** Rows between the header and the first row of values. */
  readonly skip_rows?: number | undefined;
  /** What stands in a cell whose value is missing; an empty cell always does. */
  readonly missing?: readonly (number | string)[] | undefined;
}

/** A table within a text: what a format knows of it beyond its layout. */
export interface Table extends Layout {
  /** Lines of the text before the table. */
  readonly lines_before?: number;
  /** Names of the columns where no header row gives them. */
  readonly names?: readonly string[];
}

/** A column that is wanted. */
export interface Wanted {
  /** Our name. */
  readonly name: string;
  /** The column's name in the file. */
  readonly column: string;
  /** Values from here on stand for a missing one. */
  readonly missing_from?: number;
}
