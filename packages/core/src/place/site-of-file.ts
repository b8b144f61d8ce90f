import { expectArguments } from '../basis/arguments.ts';
import { readEpw } from '../series/epw.ts';
import { firstLines } from '../series/table.ts';
import { readTmy3 } from '../series/tmy3.ts';
import type { FileSite } from '../series/weather-file.ts';

/** Rows of a typical year come from several, and are in order within one alone. */
const ANY_YEAR = 2001;

/** Kinds of weather files that say where they are from. */
export type SitedKind = 'tmy3' | 'epw';

/**
 * Where a weather file says that it is from, and which of the open formats it has.
 *
 * @param file its name, for messages
 * @returns null for a file of another format
 * @throws InputError if the file is of such a format and can't be read
 */
export function siteOfFile(text: string, file: string): { kind: SitedKind; site: FileSite } | null {
  expectArguments('siteOfFile', { text, file });
  const [head = '', names = ''] = firstLines(text, 2);
  const [kind, read]: [SitedKind, typeof readEpw] | [] = /^\s*LOCATION\s*,/i.test(head)
    ? ['epw', readEpw]
    : names.includes('Date (MM/DD/YYYY)')
      ? ['tmy3', readTmy3]
      : [];
  const site = read?.(text, file, ANY_YEAR).site;
  return kind && site ? { kind, site } : null;
}
