import { fixed } from '../document/figures.ts';
import { plain, wrapped } from '../document/plain-text.ts';

/** Pieces of SVG text. A chart is one file with nothing outside it, the same bytes from the same rows. */

const FONT = "system-ui, 'Segoe UI', 'DejaVu Sans', Helvetica, Arial, sans-serif";
export const INK = '#22262b';
export const FAINT = '#5b636c';
const HAIR = '#c9ced4';

/** What a drawing is written with outside its fields of colour. */
export interface Inks {
  readonly ink: string;
  readonly faint: string;
  readonly hair: string;
}
/** On white paper, in a file of its own. */
export const ON_WHITE: Inks = { ink: INK, faint: FAINT, hair: HAIR };

/** A coordinate to a hundredth of a pixel. */
export function px(value: number): string {
  const text = value.toFixed(2).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

export const escaped = (text: string): string =>
  plain(text).replace(/[&<>"']/g, (character) => `&#${character.charCodeAt(0)};`);

interface TextStyle {
  readonly size?: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly fill?: string;
  readonly bold?: boolean;
  /** Degrees clockwise about the point. */
  readonly turn?: number;
  /** White around the letters, so that they stay legible on lines. */
  readonly halo?: boolean;
}

export function textAt(x: number, y: number, text: string, style: TextStyle = {}): string {
  const { size = 13, anchor = 'start', fill = INK, bold = false, turn = 0, halo = false } = style;
  const attributes = [
    `x="${px(x)}" y="${px(y)}" font-size="${size}" fill="${fill}"`,
    anchor === 'start' ? '' : `text-anchor="${anchor}"`,
    bold ? 'font-weight="600"' : '',
    turn === 0 ? '' : `transform="rotate(${px(turn)} ${px(x)} ${px(y)})"`,
    halo ? 'stroke="#fff" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke"' : '',
  ];
  return `<text ${attributes.filter((part) => part !== '').join(' ')}>${escaped(text)}</text>`;
}

export const lineFrom = (
  [x1, y1]: readonly [number, number],
  [x2, y2]: readonly [number, number],
  stroke = HAIR,
  more = '',
): string =>
  `<line x1="${px(x1)}" y1="${px(y1)}" x2="${px(x2)}" y2="${px(y2)}" stroke="${stroke}"${more === '' ? '' : ` ${more}`}/>`;

/** `M0 0L1 1`, and back to the start if it is closed. */
export const pathThrough = (points: readonly (readonly [number, number])[], closed = false): string =>
  points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${px(x)} ${px(y)}`).join('') + (closed ? 'Z' : '');

/** The head of a chart: whose it is, and what one has to know to read it. */
export function heading(site: string, words: string, width: number): { body: string[]; height: number } {
  const [left, gap] = [28, 17];
  const titles = wrapped(plain(site), Math.floor((width - 2 * left) / 10));
  const lines = wrapped(words, Math.floor((width - 2 * left) / 6.9));
  const body = [
    ...titles.map((text, k) => textAt(left, 34 + 22 * k, text, { size: 18, bold: true })),
    ...lines.map((text, k) => textAt(left, 34 + 22 * titles.length + gap * k, text, { fill: FAINT })),
  ];
  return { body, height: 34 + 22 * titles.length + gap * lines.length };
}

/** A number beside a tick, with the decimals that its step needs. */
export function tickText(value: number, step: number): string {
  const decimals = Math.max(0, Math.min(9, Math.ceil(-Math.log10(step) - 1e-9)));
  return fixed(value, decimals);
}

/** A whole drawing on white paper. */
export function svgOf(
  width: number,
  height: number,
  title: string,
  description: string,
  body: readonly string[],
): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" font-family="${FONT}">`,
    `<title>${escaped(title)}</title>`,
    `<desc>${escaped(description)}</desc>`,
    `<rect width="${width}" height="${height}" fill="#fff"/>`,
    ...body,
    '</svg>',
    '',
  ].join('\n');
}
