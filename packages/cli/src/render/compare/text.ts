import type { CompareRow } from '@longnight/core/study';
import { titleOf } from '../document/figure-words.ts';
import type { Paint } from '../document/paint.ts';
import { plain, wrapped } from '../document/plain-text.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { billLines, notPriced } from '../report/bill.ts';
import { PARTS_CAUTION } from '../report/dangers.ts';
import { type CompareShown, cellText, compareDangers, sectionsOf, setBy } from './rows.ts';

const WIDTH = 80;
const LABEL = 27;
const CELL = 15;
/** Four plants side by side take 87 columns; more go below each other. */
const MOST_BESIDE = 4;
const BEST = ' *';

/** Plants side by side on a terminal; the best of a row carries a sign. */
export function compareText(
  shown: CompareShown,
  written: { readonly folder: string; readonly names: readonly string[] } | null,
  paint: Paint,
): string {
  const { comparison, scenario } = shown;
  const { plants, sentences, currency } = comparison;
  const labels = plants.map((plant) => plain(plant.label));
  const seed = scenario.weather.kind === 'normals' ? scenario.weather.seed : null;
  const lines: string[] = [
    ...wrapped(`${plain(scenario.site.name)}, ${placeWords(scenario.site)}`, WIDTH).map(paint.heading),
    `${scenario.run.year}, ${weatherWords({ weather: scenario.weather.kind, seed })}`,
    ...wrapped(`All are played over the hours of ${labels[0]}: its site, weather, loads and year.`, WIDTH),
    ...compareDangers(comparison).flatMap((text) => wrapped(plain(`! ${text}`), WIDTH).map(paint.bad)),
    ...comparison.notices.flatMap((notice) => wrapped(plain(`! ${notice.message}`), WIDTH)),
  ];
  for (let from = 0; from < plants.length; from += MOST_BESIDE) {
    const to = Math.min(plants.length, from + MOST_BESIDE);
    lines.push('', ...headLines(labels.slice(from, to), paint));
    for (const [heading, rows] of sectionsOf(comparison)) {
      lines.push(paint.heading(heading), ...rows.map((row) => rowLine(row, from, to, paint)));
    }
  }
  lines.push('', `${BEST.trim()} best of its row, where one end is better and not all are alike`);

  lines.push('', paint.heading('What sets it'));
  plants.forEach(({ limits }, k) => {
    const causes = setBy(limits).map(([title, what]) => `${title} by ${what}`);
    lines.push(...indented(`${labels[k]}: ${causes.join('; ')}`));
  });
  if (sentences.length > 0) {
    lines.push(
      '',
      paint.heading('What the dearer one buys'),
      ...sentences.flatMap((text) => indented(plain(text))),
    );
  }
  if (currency !== null) {
    plants.forEach(({ bill }, k) => {
      lines.push('', paint.heading(`Bill of materials of ${labels[k]}, ${plain(currency)}`));
      lines.push(...billLines(bill.lines, bill.capital, WIDTH - 2).map((line) => `  ${line}`));
      if (bill.capital === null) lines.push(...indented(notPriced(bill.unpriced)));
    });
  }
  lines.push('', ...wrapped(PARTS_CAUTION, WIDTH));
  if (written !== null) lines.push('', `Files: ${written.names.join(', ')} in ${written.folder}`);
  return `${lines.join('\n')}\n`;
}

const indented = (text: string): string[] =>
  wrapped(text, WIDTH - 4).map((line, k) => (k === 0 ? '  ' : '    ') + line);

function rowLine(row: CompareRow, from: number, to: number, paint: Paint): string {
  const cells = row.values.slice(from, to).map((value, k) => {
    const isBest = row.winners.includes(from + k);
    const text = (cellText(row.name, value) + (isBest ? BEST : '  ')).padStart(CELL);
    return isBest ? paint.good(text) : text;
  });
  return `  ${titleOf(row.name).padEnd(LABEL - 2)}${cells.join('')}`.trimEnd();
}

/** Names over their columns, broken where they have a break, the last line of each at the bottom. */
function headLines(labels: readonly string[], paint: Paint): string[] {
  const broken = labels.map((label) => pieces(label, CELL - 3));
  const height = Math.max(...broken.map((lines) => lines.length));
  return Array.from({ length: height }, (_, k) => {
    const cells = broken.map((lines) => `${lines[k - (height - lines.length)] ?? ''}  `.padStart(CELL));
    return paint.heading(`${' '.repeat(LABEL)}${cells.join('')}`.trimEnd());
  });
}

/** A name in lines of at most `width`, broken behind `-`, `_`, `.`, `/` or a space, or else where it must. */
function pieces(label: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of label.match(/[^-_./ ]*[-_./ ]?/g) ?? []) {
    for (let rest = word; rest !== ''; ) {
      if (line.length + rest.length <= width) {
        line += rest;
        rest = '';
      } else if (line !== '') {
        lines.push(line);
        line = '';
      } else {
        lines.push(rest.slice(0, width));
        rest = rest.slice(width);
      }
    }
  }
  if (line !== '') lines.push(line);
  return lines;
}
