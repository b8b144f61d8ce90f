import { scaleLinear } from 'd3-scale';
import { line, rect, text, top } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';

/** One thing beside others: its name above its bar, its figure behind it. */
export interface Bar {
  readonly name: string;
  /** Null where there is no such figure. */
  readonly value: number | null;
  readonly figure: string;
}

const valuesOf = (bars: readonly Bar[]) => bars.map(({ value }) => value);

/** What a reader who can't see them is told. */
export const barsSaid = (bars: readonly Bar[], behind = ''): string =>
  bars.map(({ name, figure }) => `${name}: ${figure}${behind}`).join('; ');

/**
 * Bars that lie, named in full: a phone has the room for it too.
 *
 * @param whole where the bars would end; their longest if not given
 */
export function lyingBars(bars: readonly Bar[], fill: string, room: Room, whole?: number): Drawing {
  const width = WIDTH[room];
  const figures = Math.max(...bars.map(({ figure }) => figure.length)) * 7.9 + 12;
  const x = scaleLinear([0, whole ?? (top(valuesOf(bars)) || 1)], [0, width - figures]);
  const body = bars.flatMap(({ name, value, figure }, k) => {
    const head = 42 * k;
    // What is nothing has no bar; what is little still has one.
    const long = value === null || value === 0 ? 0 : Math.max(1.5, x(value));
    return [
      text(0, head + 13, name),
      long === 0 ? '' : rect(0, head + 19, long, 12, fill),
      text(long === 0 ? 0 : long + 7, head + 29, figure, 't-bold'),
    ];
  });
  const foot = 42 * bars.length - 6;
  if (whole !== undefined) body.push(line([x(whole), 2], [x(whole), foot], 'mark'));
  return { width, height: foot, body };
}

/** Bars that stand over the bands of a scale, each with its figure on top. */
export function standingBars(bars: readonly Bar[], fill: string, room: Room, axis: string): Drawing {
  const width = WIDTH[room];
  const [bottom, foot, each] = [140, 176, width / bars.length];
  const y = scaleLinear([0, top(valuesOf(bars)) || 1], [bottom, 20]);
  const body = bars.flatMap(({ name, value, figure }, k) => {
    const head = y(value ?? 0);
    return [
      head < bottom ? rect(k * each + each * 0.12, head, each * 0.76, bottom - head, fill) : '',
      text((k + 0.5) * each, head - 5, figure, 't-mid'),
      text((k + 0.5) * each, bottom + 16, name, 't-mid t-faint'),
    ];
  });
  body.push(line([0, bottom], [width, bottom], 'axis'), text(width / 2, foot - 4, axis, 't-mid'));
  return { width, height: foot, body };
}
