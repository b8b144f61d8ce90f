import { offsetText, parseZone, type Zone } from '../clock/zone.ts';
import type { SeriesTime } from '../scenario/schema/schema.ts';
import { FIRST_YEAR, LAST_YEAR, type Stamp, stampReader } from './stamp.ts';
import { isOverLines, OVER_LINES } from './table.ts';

/** How the stamps of a file are to be understood: said by a scenario, or known of a format. */
export interface Stamping {
  /** Columns that make up a stamp. */
  readonly columns: readonly string[];
  /** Reads the cells of these columns; undefined if they are no stamp, `left_out` for a day that the year lacks. */
  readonly read: (cells: readonly string[]) => Stamp | undefined | 'left_out';
  /** What is wrong with cells that are no stamp, and what to do. */
  readonly trouble: (text: string) => [message: string, fix: string];
  readonly zone: Zone;
  readonly zoneName: string;
  readonly label: SeriesTime['label'];
  /** Year that every stamp is read as of; null if it keeps its own. */
  readonly as_of_year: number | null;
  /** What to do where rows go back by months or more. */
  readonly manyYears: string;
}

/**
 * Stamps as a scenario describes them.
 *
 * @throws RangeError if `time` has no zone or no year; the scenario's schema and check see to it
 */
export function stampingOf(time: SeriesTime): Stamping {
  const zone = parseZone(time.zone);
  if (!zone) throw new RangeError(`readSeries: unknown zone ${time.zone}`);
  const readStamp = stampReader(time);
  return {
    columns: [time.column].flat(),
    read: (cells) => readStamp(cells.length === 1 ? cells[0]! : cells.map((cell) => cell.trim()).join(' ')),
    trouble: (text) => stampTrouble(text, time),
    zone,
    zoneName: time.zone,
    label: time.label,
    as_of_year: time.year ?? null,
    manyYears:
      time.year === undefined
        ? 'if this is a typical year of months from several years, read it as one: set time.year'
        : 'if the file holds more than one year, leave time.year out',
  };
}

/**
 * What stamps of the standard weather formats have in common: the standard time that the file's head names, all year.
 *
 * @param year that every row is read as of; null keeps the years of the stamps
 */
export const standardStamping = (
  offset_min: number,
  year: number | null,
  label: SeriesTime['label'] = 'end',
): Pick<Stamping, 'zone' | 'zoneName' | 'label' | 'as_of_year' | 'manyYears'> => ({
  zone: { kind: 'fixed', offset_min },
  zoneName: offsetText(offset_min),
  label,
  as_of_year: year,
  manyYears:
    year === null
      ? 'a typical year has months of several years: set weather.years: typical'
      : 'if the file holds more than one year, set weather.years: own',
});

function stampTrouble(cell: string, time: SeriesTime): [message: string, fix: string] {
  if (isOverLines(cell)) return OVER_LINES;
  const form = time.format === undefined ? 'an ISO 8601 time' : `a time of the form ${time.format}`;
  const years = time.year === undefined ? `the years ${FIRST_YEAR} to ${LAST_YEAR}` : `the year ${time.year}`;
  const message = `"${cell.trim().slice(0, 40)}" is not ${form} of ${years}`;
  if (/(^|\D)(0?2[-/.]29|29[-/.]0?2)(\D|$)/.test(cell))
    return [message, 'only leap years have a 29 February: check the year, or take the day out of the file'];
  const like =
    typeof time.column === 'string'
      ? 'dd.MM.yyyy HH:mm'
      : 'yyyy M d H m'.slice(0, 2 + 2 * time.column.length);
  const example = `describe the stamps with time.format, such as "${like}"`;
  return [message, time.format === undefined ? example : 'correct the stamp, or time.format'];
}
