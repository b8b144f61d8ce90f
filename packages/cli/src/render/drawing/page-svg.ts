import type { Block } from '../document/document.ts';
import { escaped } from '../document/html.ts';
import { classOf, px } from './marks.ts';

/** A drawing is made twice: for a page's full width and for a phone. */
export type Room = 'wide' | 'narrow';
const ROOMS: readonly Room[] = ['wide', 'narrow'];
export const WIDTH: Readonly<Record<Room, number>> = { wide: 768, narrow: 328 };

export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly body: readonly string[];
}

/** A chart of a page and what is said of it. */
export interface Chart {
  /** Unique on the page. */
  readonly id: string;
  readonly title: string;
  /** What a reader who can't see it is told. */
  readonly description: string;
  readonly caption?: string;
}

/** A chart in one drawing for any width, or in one for each. */
export function figure(chart: Chart, drawn: Drawing | ((room: Room) => Drawing)): string {
  const { id, caption } = chart;
  const svgs =
    typeof drawn === 'object'
      ? [svg(chart, id, '', drawn)]
      : ROOMS.map((room) => svg(chart, `${id}-${room}`, room, drawn(room)));
  const said = caption === undefined ? '' : `\n<figcaption>${escaped(caption)}</figcaption>`;
  return `<figure>\n${svgs.join('\n')}${said}\n</figure>`;
}

/** The same as a block of a document, drawn only if it is shown. */
export const drawing = (chart: Chart, drawn: (room: Room) => Drawing): Block => ({
  kind: 'drawing',
  draw: () => [figure(chart, drawn)],
});

function svg(chart: Chart, id: string, classes: string, { width, height, body }: Drawing): string {
  return [
    `<svg${classOf(classes)} viewBox="0 0 ${px(width)} ${px(height)}" width="${px(width)}" height="${px(height)}" role="img" aria-labelledby="${id}-t ${id}-d">`,
    `<title id="${id}-t">${escaped(chart.title)}</title>`,
    `<desc id="${id}-d">${escaped(chart.description)}</desc>`,
    ...body.filter((piece) => piece !== ''),
    '</svg>',
  ].join('\n');
}
