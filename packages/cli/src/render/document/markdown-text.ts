import { plain } from './plain-text.ts';

/** Any text as CommonMark that shows just that text: marks are escaped, line breaks and controls are gone. */
export const escaped = (text: string): string => plain(text).replace(/[\\`*_[\]<>|~#&!]/g, '\\$&');

interface Column {
  readonly title: string;
  /** Figures stand to the right. */
  readonly figures?: true;
}

/**
 * A pipe table whose source is aligned too, so that it reads in a plain editor; a last column of text may be as long as
 * it likes and is not padded. Cells are taken as they are: text that is not ours must have been escaped.
 */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const widths = columns.map((column, k) =>
    Math.max(3, column.title.length, ...rows.map((row) => row[k]!.length)),
  );
  const last = columns.length - 1;
  if (!columns[last]!.figures) widths[last] = columns[last]!.title.length;
  const pad = (cell: string, k: number) =>
    columns[k]!.figures ? cell.padStart(widths[k]!) : cell.padEnd(widths[k]!);
  const line = (cells: readonly string[]) => `| ${cells.map(pad).join(' | ')} |`;
  const rule = columns.map((column, k) =>
    column.figures ? `${'-'.repeat(widths[k]! - 1)}:` : '-'.repeat(widths[k]!),
  );
  return [line(columns.map((column) => column.title)), line(rule), ...rows.map(line)].join('\n');
}

export const bullets = (items: readonly string[]): string => items.map((item) => `- ${item}`).join('\n');
