import { InputError, type Issue, issue } from '../basis/errors.ts';
import { nearest } from '../basis/nearest.ts';

/**
 * Positions of the wanted columns in a header row.
 *
 * @param names header cells; blanks around them don't count
 * @param wanted columns by the name they have in the file
 * @throws InputError naming every column that is missing or stands there twice
 */
export function columnPositions(
  names: readonly string[],
  wanted: readonly string[],
  delimiter: string,
  place: { readonly file: string; readonly line: number },
): number[] {
  const header = names.map((name) => name.trim());
  const other = [',', ';', '\t'].find(
    (d) => d !== delimiter && header.length === 1 && header[0]!.includes(d),
  );
  if (other !== undefined && !wanted.includes(header[0]!))
    throw new InputError([
      issue('wrong-delimiter', '', { place })`the header has one column only:
        ${JSON.stringify(header[0]!.slice(0, 60))} | set delimiter: ${JSON.stringify(other)}`,
    ]);
  const issues: Issue[] = [];
  const positions = wanted.map((column) => {
    const position = header.indexOf(column.trim());
    if (position < 0)
      issues.push(
        issue('missing-column', '', { expected: listed(header), place })`no column is called "${column}" |
          ${fixFor(column, header)}`,
      );
    else if (header.indexOf(column.trim(), position + 1) >= 0)
      issues.push(
        issue('duplicate-column', '', {
          place,
        })`two columns are called "${column}" | rename one of them in the file`,
      );
    return position;
  });
  if (issues.length > 0) throw new InputError(issues);
  return positions;
}

const SHOWN = 20;

function listed(header: readonly string[]): string {
  const shown = header.slice(0, SHOWN).map((name) => `"${name}"`);
  const rest = header.length - shown.length;
  return `one of ${shown.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}`;
}

function fixFor(column: string, header: readonly string[]): string {
  const meant = nearest(column, header);
  return meant === undefined ? 'name one of the columns of the file' : `did you mean "${meant}"?`;
}
