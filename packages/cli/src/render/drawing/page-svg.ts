import { escaped, px } from './chart-svg.ts';

/** Drawing for the pages: like `chart-svg.ts`, but colours are classes, so that a page can be light, dark or printed. */

type Point = readonly [x: number, y: number];

/** A drawing is made twice: for a page's full width and for a phone. */
export type Room = 'wide' | 'narrow';
const ROOMS: readonly Room[] = ['wide', 'narrow'];
export const WIDTH: Readonly<Record<Room, number>> = { wide: 768, narrow: 328 };

export const text = (x: number, y: number, words: string, classes = ''): string =>
  `<text x="${px(x)}" y="${px(y)}"${classOf(classes)}>${escaped(words)}</text>`;

export const line = ([x1, y1]: Point, [x2, y2]: Point, classes: string): string =>
  `<path d="M${px(x1)} ${px(y1)}L${px(x2)} ${px(y2)}"${classOf(classes)}/>`;

export const rect = (x: number, y: number, width: number, height: number, classes: string): string =>
  `<path d="M${px(x)} ${px(y)}h${px(width)}v${px(height)}h${px(-width)}z"${classOf(classes)}/>`;

export const path = (d: string, classes: string): string => `<path d="${d}"${classOf(classes)}/>`;

const classOf = (classes: string): string => (classes === '' ? '' : ` class="${classes}"`);

export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly body: readonly string[];
}

interface Chart {
  /** Unique on the page. */
  readonly id: string;
  readonly title: string;
  /** What a reader who can't see it is told. */
  readonly description: string;
  readonly caption?: string;
}

/** A chart in one drawing for any width, or in one for each. */
export function figure(chart: Chart, drawings: Drawing | Readonly<Record<Room, Drawing>>): string {
  const { id, title, description, caption } = chart;
  const svgs =
    'body' in drawings
      ? [svg(id, '', drawings, title, description)]
      : ROOMS.map((room) => svg(`${id}-${room}`, room, drawings[room], title, description));
  const said = caption === undefined ? '' : `\n<figcaption>${escaped(caption)}</figcaption>`;
  return `<figure>\n${svgs.join('\n')}${said}\n</figure>`;
}

function svg(
  id: string,
  classes: string,
  { width, height, body }: Drawing,
  title: string,
  said: string,
): string {
  return [
    `<svg${classOf(classes)} viewBox="0 0 ${px(width)} ${px(height)}" width="${px(width)}" height="${px(height)}" role="img" aria-labelledby="${id}-t ${id}-d">`,
    `<title id="${id}-t">${escaped(title)}</title>`,
    `<desc id="${id}-d">${escaped(said)}</desc>`,
    ...body.filter((piece) => piece !== ''),
    '</svg>',
  ].join('\n');
}

/** Swatches with their names, in lines of the width there is. */
export function legend(
  entries: readonly (readonly [classes: string, words: string])[],
  left: number,
  top: number,
  width: number,
): { readonly body: readonly string[]; readonly height: number } {
  const body: string[] = [];
  let x = left;
  let y = top;
  for (const [classes, words] of entries) {
    const room = 17 + words.length * 6.6 + 14;
    if (x > left && x + room - 14 > width) {
      x = left;
      y += 18;
    }
    body.push(rect(x, y, 11, 11, `${classes} key`), text(x + 16, y + 10, words));
    x += room;
  }
  return { body, height: y + 16 - top };
}
