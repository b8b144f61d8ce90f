import { type Block, type Document, type Section, shownOn, type Table, type Tone } from './document.ts';
import type { Paint } from './paint.ts';
import { beside, LABEL, plain, WIDTH, wrapped } from './plain-text.ts';

/** The files written and their folder as the user wrote it; null if none were asked for. */
export type Written = { readonly folder: string; readonly names: readonly string[] } | null;

/** A document on a terminal, 80 characters wide; tables are as wide as they are. */
export function toScreen(document: Document, written: Written, paint: Paint): string {
  const lines = wrapped(plain(document.title), WIDTH).map(paint.heading);
  for (const { label, title, sentence = '', tone, blocks } of document.dangers ?? [])
    lines.push(
      '',
      ...answer(label ?? title, sentence, tone, paint),
      ...blocks.flatMap((block) => linesOf(block, LABEL, paint)),
      '',
    );
  lines.push(...document.about.flatMap((text) => wrapped(plain(text), WIDTH)));
  let beforeLabelled = false;
  for (const section of shownOn(document.sections, 'screen')) {
    const blocks = shownOn(section.blocks, 'screen');
    const labelled = section.sentence !== undefined || blocks[0]?.kind === 'answers';
    // Answers follow each other closely, whatever section they are from.
    if (lines.length > 0 && !(labelled && beforeLabelled)) lines.push('');
    beforeLabelled = labelled && blocks.every(({ kind }) => kind !== 'table');
    lines.push(...headOf(section, labelled, paint));
    const indent = labelled ? LABEL : section.title === '' ? 0 : 2;
    for (const block of blocks) lines.push(...linesOf(block, indent, paint));
  }
  if (written !== null)
    lines.push('', ...wrapped(plain(`Files: ${written.names.join(', ')} in ${written.folder}`), WIDTH));
  return `${lines.join('\n')}\n`;
}

function headOf(
  { title, label = title, sentence, brief = sentence, tone }: Section,
  labelled: boolean,
  paint: Paint,
): string[] {
  if (brief !== undefined) return answer(label, brief, tone, paint);
  return labelled || title === '' ? [] : wrapped(plain(title), WIDTH).map(paint.heading);
}

function answer(label: string, told: string, tone: Tone | undefined, paint: Paint): string[] {
  const lines = wrapped(plain(told), WIDTH - LABEL);
  const tint = tone === undefined ? undefined : paint[tone];
  return label.length < LABEL
    ? [...beside(label, lines, paint, tint)]
    : [paint.heading(label), ...beside('', lines, paint, tint)];
}

/** Tables have the whole width, whatever they stand under. */
function linesOf(block: Block, indent: number, paint: Paint): readonly string[] {
  const text = (told: string, left = indent): string[] =>
    wrapped(plain(told), WIDTH - left).map((line) => ' '.repeat(left) + line);
  switch (block.kind) {
    case 'text':
      return text(block.text);
    case 'heading':
      return ['', paint.heading(plain(block.text))];
    case 'list':
      return block.items.flatMap((item) =>
        text(item, indent + 2).map((line, k) =>
          k === 0 ? `${' '.repeat(indent)}- ${line.slice(indent + 2)}` : line,
        ),
      );
    case 'terms':
      return block.terms.flatMap(([term, said]) => text(`${term}: ${said}`));
    case 'answers':
      return block.answers.flatMap(([asked, told, tone]) => answer(asked, told, tone, paint));
    case 'table':
      return [...(indent === LABEL ? [''] : []), ...tableLines(block, paint)];
    case 'command':
      return [`  ${block.text}`];
    case 'strip':
      return block.lines.map((line) => ' '.repeat(indent) + line);
    case 'drawing':
      return [];
  }
}

/** Narrower than this no text is made for the sake of the figures beside it. */
const LEAST_TEXT = 16;
/** A head over figures is broken into words from here on. */
const HEAD = 10;

/**
 * A table in 80 characters where its figures leave room: they stand to the right under heads broken into words and
 * their unit, and the widest text is broken into lines.
 */
export function tableLines({ columns, rows, sums }: Table, paint: Paint): string[] {
  const all = (sums === undefined ? rows : [...rows, sums]).map((row) =>
    row.map((cell) => /^ */.exec(cell)![0] + plain(cell.trimStart())),
  );
  const isFigure = (k: number): boolean => columns[k]!.holds === 'figures';
  const longest = (texts: readonly string[]): number => Math.max(0, ...texts.map((text) => text.length));
  const widths = columns.map(({ title, unit = '' }, k) => {
    const words = isFigure(k) && title.length > HEAD ? [' '.repeat(HEAD)] : [title];
    return longest([...words, unit, ...all.map((row) => row[k]!)]);
  });
  const over = widths.reduce((sum, width) => sum + width + 2, -2) - WIDTH;
  const text = columns.map((_, k) => (isFigure(k) ? 0 : widths[k]!));
  const widest = text.indexOf(Math.max(...text));
  if (over > 0) widths[widest] = Math.min(widths[widest]!, Math.max(LEAST_TEXT, widths[widest]! - over));
  const line = (row: readonly string[]): string =>
    row
      .map((cell, k) => (isFigure(k) ? cell.padStart(widths[k]!) : cell.padEnd(widths[k]!)))
      .join('  ')
      .trimEnd();
  const heads = columns.map(({ title, unit }, k) => [
    ...(isFigure(k) ? pieces(plain(title), widths[k]!) : wrapped(plain(title), widths[k]!)),
    ...(unit === undefined ? [] : [unit]),
  ]);
  const height = Math.max(...heads.map((head) => head.length));
  const headLines = Array.from({ length: height }, (_, n) =>
    line(heads.map((head) => head[n - (height - head.length)] ?? '')),
  );
  return [
    ...headLines.map(paint.heading),
    ...all.flatMap((row) => {
      const indent = /^ */.exec(row[widest]!)![0];
      const [first = '', ...others] = wrapped(row[widest]!.trim(), widths[widest]! - indent.length).map(
        (broken) => indent + broken,
      );
      return [
        line(row.map((cell, k) => (k === widest ? first : cell))),
        ...others.map((more) => line(row.map((_, k) => (k === widest ? more : '')))),
      ];
    }),
  ];
}

/** A head in lines of at most `width`, broken behind `-`, `_`, `.`, `/` or a space, or else where it must. */
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
  return lines.map((piece) => piece.trimEnd());
}
