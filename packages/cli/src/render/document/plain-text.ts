import type { Paint } from './paint.ts';

/** Text that came from a file must not steer the terminal that shows it. */

// C0 and C1 controls, and the characters that turn the direction of writing around.
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const CONTROL = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const CONTROL_BUT_LINES = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

/** The text without control characters; line breaks become spaces unless they are ours to keep. */
export const plain = (text: string, options: { keepLines?: boolean } = {}): string =>
  options.keepLines
    ? text.replace(CONTROL_BUT_LINES, '')
    : text.replace(/[^\S\u00a0]+/g, ' ').replace(CONTROL, '');

/** Width of what is told on a terminal, and of the labels at its left, in characters. */
export const WIDTH = 80;
export const LABEL = 17;

/** Lines beside a label; `tint` colours the first of them. */
export const beside = (
  label: string,
  lines: readonly string[],
  paint: Paint,
  tint: (text: string) => string = (text) => text,
): readonly string[] =>
  lines.map((line, k) =>
    k === 0 ? paint.heading(label.padEnd(LABEL)) + tint(line) : ' '.repeat(LABEL) + line,
  );

/** The space before a unit, a bank's `×` or a sign: figure and unit stay on one line. */
const BEFORE_UNIT = /(?<=\d) (?=(?:%|kWh|kWp|kW|h|V|A|L|days?|modules?|×)(?![\p{L}\d]))/gu;
const HELD = '\u00a0';

/** Text in which no figure is parted from its unit, where lines are broken by others. */
export const unitsHeld = (text: string): string => text.replace(BEFORE_UNIT, HELD);

/**
 * Breaks text into lines of at most `width` characters at its spaces; a longer word keeps a line of its own.
 *
 * @param width in characters
 */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of unitsHeld(text).split(' ')) {
    if (line !== '' && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  if (line !== '') lines.push(line);
  return lines.map((whole) => whole.replaceAll(HELD, ' '));
}
