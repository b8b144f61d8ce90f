import type { scaleLinear } from 'd3-scale';
import { FAINT, INK, type Inks, lineFrom, px, textAt, tickText } from './chart-svg.ts';
import type { Point } from './contours.ts';
import type { ChartGrid, ChartKey } from './grid.ts';

/** The area of a panel within its axes. */
export interface Frame {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}
export type Linear = ReturnType<typeof scaleLinear<number>>;

/** Up to here each design played gets a dot. */
export const DOTTED = 900;

/** Grey over what was not played. */
export function gapCells(grid: ChartGrid, xs: readonly number[], ys: readonly number[]): string {
  const edges = (list: readonly number[], k: number): readonly [number, number] => [
    (list[Math.max(0, k - 1)]! + list[k]!) / 2,
    (list[k]! + list[Math.min(list.length - 1, k + 1)]!) / 2,
  ];
  const cells = grid.unplayed.flatMap((is, k) => {
    if (!is) return [];
    const [x0, x1] = edges(xs, k % xs.length);
    const [y0, y1] = edges(ys, Math.floor(k / xs.length));
    return [`M${px(x0)} ${px(y0)}H${px(x1)}V${px(y1)}H${px(x0)}Z`];
  });
  return cells.length === 0 ? '' : `<path d="${cells.join('')}" fill="#e4e6e8"/>`;
}

/** A dot for each design played, a cross for each that contradicted itself. */
export function dots(
  grid: ChartGrid,
  field: Float64Array,
  xs: readonly number[],
  ys: readonly number[],
): string[] {
  if (field.length > DOTTED) return [];
  const at = (k: number): Point => [xs[k % xs.length]!, ys[Math.floor(k / xs.length)]!];
  const all = [...field.keys()];
  const played = all.filter((k) => !Number.isNaN(field[k]!)).map(at);
  const not = all.filter((k) => grid.unplayed[k]).map(at);
  const circles = played.map(([x, y]) => `<circle cx="${px(x)}" cy="${px(y)}" r="1.2"/>`);
  const crosses = not.map(([x, y]) => `M${px(x - 3)} ${px(y - 3)}l6 6m0 -6l-6 6`);
  return [
    `<g fill="${INK}" fill-opacity="0.5">${circles.join('')}</g>`,
    ...(crosses.length === 0 ? [] : [`<path d="${crosses.join('')}" stroke="${FAINT}" stroke-width="1"/>`]),
  ];
}

export function axes(
  x: Linear,
  y: Linear,
  frame: Frame,
  [across, up]: readonly [ChartKey, ChartKey],
  { ink: fill }: Inks,
): string[] {
  // Nobody buys half a module: whole values have whole ticks.
  const ticksOf = (scale: Linear, { nodes }: ChartKey): number[] =>
    scale.ticks(7).filter((tick) => Number.isInteger(tick) || !nodes.every(Number.isInteger));
  const ticks = { x: ticksOf(x, across), y: ticksOf(y, up) };
  const step = (values: readonly number[]): number => (values.length > 1 ? values[1]! - values[0]! : 1);
  return [
    `<rect x="${frame.left}" y="${frame.top}" width="${frame.right - frame.left}" height="${frame.bottom - frame.top}" fill="none" stroke="${fill}" stroke-width="1"/>`,
    ...ticks.x.flatMap((tick) => [
      lineFrom([x(tick), frame.bottom], [x(tick), frame.bottom + 5], fill),
      textAt(x(tick), frame.bottom + 19, tickText(tick, step(ticks.x)), { anchor: 'middle', size: 12, fill }),
    ]),
    ...ticks.y.flatMap((tick) => [
      lineFrom([frame.left - 5, y(tick)], [frame.left, y(tick)], fill),
      textAt(frame.left - 9, y(tick) + 4, tickText(tick, step(ticks.y)), { anchor: 'end', size: 12, fill }),
    ]),
    textAt((frame.left + frame.right) / 2, frame.bottom + 40, across.title, { anchor: 'middle', fill }),
    textAt(frame.left - 44, (frame.top + frame.bottom) / 2, up.title, { anchor: 'middle', turn: -90, fill }),
  ];
}
