import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { legend, line, rect, text } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';

/** What a figure becomes with each of two values of one thing. */
export interface Swing {
  readonly name: string;
  /** Low first. */
  readonly ends: readonly SwingEnd[];
}

interface SwingEnd {
  /** The value it is moved to. */
  readonly words: string;
  readonly value: number;
  readonly figure: string;
}

/** The low value and the high one, told apart by hatching too. */
const FILLS = ['f-unused e-unused', 'f-bank'] as const;
/** Height of the name over its bars, and of a bar with the room below it. */
const [NAME, BAR] = [20, 15];

/** What a reader who can't see them is told. */
export const swingsSaid = (swings: readonly Swing[]): string =>
  swings
    .map(
      ({ name, ends }) => `${name}: ${ends.map(({ words, figure }) => `${figure} at ${words}`).join(', ')}`,
    )
    .join('; ');

/** Bars from what a figure is today to what it becomes, a pair below each name. */
export function swingBars(
  swings: readonly Swing[],
  today: { readonly value: number; readonly figure: string },
  room: Room,
): Drawing {
  const width = WIDTH[room];
  const ends = swings.flatMap((swing) => swing.ends);
  const labelOf = ({ words, figure }: SwingEnd): string => `${figure} at ${words}`;
  const [least = 0, most = 1] = extent([today.value, ...ends.map(({ value }) => value)]);
  const roomFor = (some: readonly SwingEnd[]): number =>
    Math.max(0, ...some.map((end) => labelOf(end).length * 6.3 + 8));
  const left = roomFor(ends.filter(({ value }) => value < today.value));
  const right = roomFor(ends.filter(({ value }) => value >= today.value));
  const x = scaleLinear([least, most > least ? most : least + 1], [left, width - right]);
  const at = x(today.value);
  const key = legend(
    [
      [FILLS[0], 'with the low value of a guess'],
      [FILLS[1], 'with the high one'],
    ],
    0,
    0,
    width,
  );
  const head = key.height + 20;
  let y = head;
  const bars: string[] = [];
  for (const { name, ends } of swings) {
    bars.push(text(0, y + 13, name, 't-halo'));
    y += NAME;
    for (const [k, end] of ends.entries()) {
      const to = x(end.value);
      const isLeft = end.value < today.value;
      const long = Math.max(Math.abs(to - at), end.value === today.value ? 0 : 1.5);
      if (long > 0) bars.push(rect(isLeft ? at - long : at, y, long, 10, FILLS[k === 0 ? 0 : 1]));
      bars.push(
        text(
          isLeft ? at - long - 5 : at + long + 5,
          y + 9.5,
          labelOf(end),
          isLeft ? 't-end t-halo' : 't-halo',
        ),
      );
      y += BAR;
    }
    y += 5;
  }
  const mid = at < width * 0.2 ? '' : at > width * 0.8 ? 't-end' : 't-mid';
  return {
    width,
    height: y,
    body: [
      ...key.body,
      text(at, head - 6, `today ${today.figure}`, `${mid} t-bold`.trim()),
      line([at, head], [at, y - 2], 'mark'),
      ...bars,
    ],
  };
}
