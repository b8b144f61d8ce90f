import { max } from 'd3-array';
import type { scaleLinear } from 'd3-scale';
import { area as areaShape, line as lineShape } from 'd3-shape';
import { fixed } from '../document/figures.ts';
import { escaped } from '../document/html.ts';

/** Marks that drawings are made of. Colours are classes, so that a page can be light, dark or printed. */

export type Point = readonly [x: number, y: number];
export type Linear = ReturnType<typeof scaleLinear<number>>;

/** The area of a panel within its axes. */
export interface Frame {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A coordinate to a hundredth of a pixel. */
export function px(value: number): string {
  const text = value.toFixed(2).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/** To a tenth, where there are many. */
export const px1 = (value: number): string => px(Math.round(value * 10) / 10);

export const classOf = (classes: string): string => (classes === '' ? '' : ` class="${classes}"`);

/** @param turn degrees clockwise about the point */
export const text = (x: number, y: number, words: string, classes = '', turn = 0): string =>
  `<text x="${px(x)}" y="${px(y)}"${turn === 0 ? '' : ` transform="rotate(${px(turn)} ${px(x)} ${px(y)})"`}${classOf(classes)}>${escaped(words)}</text>`;

export const path = (d: string, classes = '', more = ''): string =>
  `<path d="${d}"${classOf(classes)}${more}/>`;

export const line = (from: Point, to: Point, classes: string): string => path(through([from, to]), classes);

export const box = (x: number, y: number, width: number, height: number): string =>
  `M${px(x)} ${px(y)}h${px(width)}v${px(height)}h${px(-width)}z`;

export const rect = (x: number, y: number, width: number, height: number, classes: string): string =>
  path(box(x, y, width, height), classes);

/** `M0 0L1 1`, and back to the start if it is closed. */
export const through = (points: readonly Point[], closed = false): string =>
  points.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${px(x)} ${px(y)}`).join('') + (closed ? 'Z' : '');

export const circle = ([x, y]: Point, radius: number, more = ''): string =>
  `<circle cx="${px1(x)}" cy="${px1(y)}" r="${radius}"${more}/>`;

/** Around what is chosen. */
export const ring = ([x, y]: Point): string =>
  path(`M${px(x - 8)} ${px(y)}a8 8 0 1 0 16 0a8 8 0 1 0 -16 0`, 'line e-ink');

/** All as one path: lines of no length with round ends. */
export const dots = (points: readonly Point[], radius: number, more: string): string =>
  `<path d="${points.map(([x, y]) => `M${px(x)} ${px(y)}h0`).join('')}" fill="none" stroke-width="${2 * radius}" stroke-linecap="round"${more}/>`;

/** Crosses where nothing could be played; nothing at all where there are none. */
export const crosses = (points: readonly Point[], more: string): string =>
  points.length === 0
    ? ''
    : path(points.map(([x, y]) => `M${px(x - 4)} ${px(y - 4)}l8 8m0 -8l-8 8`).join(''), '', more);

/** A line over a filled area that reaches down to `foot`. */
export const areaUnder = (points: readonly Point[], foot: number, fill: string, edge: string): string[] => [
  path(
    areaShape<Point>(
      ([x]) => x,
      foot,
      ([, y]) => y,
    ).digits(1)(points as Point[])!,
    fill,
  ),
  path(lineShape<Point>().digits(1)(points as [number, number][])!, `line ${edge}`),
];

/** The largest, 0 of none: where a scale ends. */
export const top = (values: Iterable<number | null>): number => max(values, (value) => value ?? 0) ?? 0;

export interface Tick {
  readonly at: number;
  readonly words: string;
}

/** Ticks of a scale with as many decimals as their step needs. */
export function ticksOf(scale: Linear, count: number, kept: (tick: number) => boolean = () => true): Tick[] {
  const values = scale.ticks(count).filter(kept);
  const step = values.length > 1 ? values[1]! - values[0]! : 1;
  const decimals = Math.max(0, Math.min(9, Math.ceil(-Math.log10(step) - 1e-9)));
  return values.map((value) => ({ at: scale(value), words: fixed(value, decimals) }));
}

/** Lines across at the ticks of an upright scale, each with its figure before it. */
export const rules = (ticks: readonly Tick[], left: number, right: number): string[] =>
  ticks.flatMap(({ at, words }) => [
    line([left, at], [right, at], 'hair'),
    text(left - 6, at + 4, words, 't-end t-faint'),
  ]);

/** Ticks below a line with their words, and what they count under the middle of it. */
export const axisBelow = (
  ticks: readonly Tick[],
  { left, right, bottom }: Pick<Frame, 'left' | 'right' | 'bottom'>,
  title: string,
): string[] => [
  ...ticks.flatMap(({ at, words }) => [
    line([at, bottom], [at, bottom + 5], 'axis'),
    text(at, bottom + 18, words, 't-mid t-faint'),
  ]),
  line([left, bottom], [right, bottom], 'axis'),
  text((left + right) / 2, bottom + 36, title, 't-mid'),
];

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
