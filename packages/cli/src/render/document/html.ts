import { type Column, columnTitle, type Table } from './document.ts';
import { plain, unitsHeld } from './plain-text.ts';

/** Pieces of the pages: text in, HTML out. What comes from a file goes through `escaped`, here or before. */

export const escaped = (text: string): string =>
  plain(text).replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);

/** Running text: dates stay whole, and figures stay with their units. */
const running = (text: string): string =>
  unitsHeld(escaped(text)).replace(/\d{4}-\d\d-\d\d(?: \d\d:\d\d)?/g, '<span class="whole">$&</span>');

/** A sentence that may hold text from a file. */
export const paragraph = (text: string, className = ''): string =>
  `<p${className === '' ? '' : ` class="${className}"`}>${running(text)}</p>`;

/** The name of a key, which may be broken at its dots and underscores and nowhere else. */
const key = (text: string): string => escaped(text).replace(/[._](?=\w)/g, '$&<wbr>');

export const list = (items: readonly string[]): string =>
  `<ul>\n${items.map((item) => `<li>${running(item)}</li>`).join('\n')}\n</ul>`;

/** Terms and what is said of them. */
export const terms = (pairs: readonly (readonly [string, string])[]): string =>
  `<dl>\n${pairs.map(([term, said]) => `<div><dt>${escaped(term)}</dt><dd>${escaped(said)}</dd></div>`).join('\n')}\n</dl>`;

/** Characters of a table's type that a sheet of A4 holds upright. */
const SHEET = 112;

/** True if a table is too wide for an upright sheet however its words are broken: then it is printed across. */
function isTurned({ columns, rows }: Table): boolean {
  const longest = (texts: readonly string[]): number => Math.max(0, ...texts.map((text) => text.length));
  const width = columns.reduce((sum, column, k) => {
    const cells = rows.map((row) => row[k]!);
    const least = { words: 35, code: 19, figures: longest(cells) };
    const words = longest(cells.flatMap((cell) => cell.split(' ')));
    return (
      sum + 2 + Math.max(column.holds ? least[column.holds] : words, longest(columnTitle(column).split(' ')))
    );
  }, 0);
  return width > SHEET;
}

/**
 * A table that scrolls within itself where a screen is too narrow for it, also by keyboard.
 *
 * @param title that stands over it: a caption that says the same is not shown twice
 */
export function table(shown: Table, title = ''): string {
  const { caption, columns, rows, sums } = shown;
  const classOf = ({ holds }: Column): string =>
    holds === undefined ? '' : ` class="${holds === 'figures' ? 'n' : holds}"`;
  const row = (cells: readonly string[]): string =>
    `<tr>${cells
      .map((cell, k) => {
        const column = columns[k]!;
        const inner = { code: key, words: running, figures: escaped, text: escaped }[column.holds ?? 'text'](
          cell,
        );
        return k === 0 && cell !== ''
          ? `<th scope="row"${classOf(column)}>${inner}</th>`
          : `<td${classOf(column)}>${inner}</td>`;
      })
      .join('')}</tr>`;
  const heads = columns.map(
    (column) =>
      `<th scope="col"${column.holds === 'figures' ? ' class="n"' : ''}>${key(columnTitle(column))}</th>`,
  );
  return [
    `<div class="scroll${isTurned(shown) ? ' turned' : ''}${caption === title ? ' titled' : ''}" role="group" tabindex="0" aria-label="${escaped(caption)}">`,
    `<table><caption>${escaped(caption)}</caption>`,
    `<thead><tr>${heads.join('')}</tr></thead>`,
    `<tbody>\n${rows.map(row).join('\n')}\n</tbody>`,
    ...(sums === undefined ? [] : [`<tfoot>${row(sums)}</tfoot>`]),
    '</table></div>',
  ].join('\n');
}

/** What is there for those who ask for it. */
export const details = (summary: string, body: string, className = ''): string =>
  `<details${className === '' ? '' : ` class="${className}"`}><summary>${escaped(summary)}</summary>\n${body}\n</details>`;
