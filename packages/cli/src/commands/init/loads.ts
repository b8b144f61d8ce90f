import { refused } from '@longnight/core/scenario';
import { readText, SERIES_LIMIT_bytes } from '../../files/read.ts';
import type { Io } from '../../io.ts';

/** A file of measured loads, as its head says. */
export interface LoadsAnswer {
  readonly file: string;
  readonly delimiter: string;
  readonly time: string;
  readonly power: string;
  readonly unit: string;
  /** Calendar year of the first row. */
  readonly year: number;
}

const ISO = /^\s*"?(\d{4})-\d\d-\d\d[T ]\d\d:\d\d/;
/** A unit as a word of its own: `load_kW`, `Power [W]`. */
const UNIT = /(?:^|[^A-Za-z])(kWh|kW|Wh|W)(?![A-Za-z])/;

/**
 * What the first two rows of a table say: its column of stamps, and the one column that names a unit of power or energy.
 *
 * @throws InputError if they don't say it: nothing is guessed between several
 */
export function readLoadsHead(file: string, io: Io): LoadsAnswer {
  const [head = '', row = ''] = readText(io.cwd, file, SERIES_LIMIT_bytes).split(/\r?\n/, 2);
  const delimiter = [',', ';', '\t'].find((sign) => head.includes(sign)) ?? ',';
  const cells = (line: string): string[] =>
    line.split(delimiter).map((cell) => cell.trim().replace(/^"(.*)"$/, '$1'));
  const [names, values] = [cells(head), cells(row)];
  const stamps = names.filter((_, k) => ISO.test(values[k] ?? ''));
  const powers = names.filter((name) => UNIT.test(name));
  if (stamps.length === 1 && powers.length === 1)
    return {
      file,
      delimiter,
      time: stamps[0]!,
      power: powers[0]!,
      unit: UNIT.exec(powers[0]!)![1]!,
      year: Number(ISO.exec(values[names.indexOf(stamps[0]!)]!)![1]),
    };
  const seen = names.slice(0, 12).map((name) => `"${name.slice(0, 40)}"`);
  throw refused('unclear-columns', { file, line: 1 })`the columns are ${seen.join(', ')}, and
    ${stamps.length === 1 ? `${powers.length} of them name W, kW, Wh or kWh` : 'no one holds stamps such as 2025-01-31 18:00'}
    | leave --loads out and describe the file in the scenario: longnight explain loads | one column of stamps, and
    one whose name ends with its unit, such as load_kW`;
}
