import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { line as lineShape } from 'd3-shape';
import { px, tickText } from './chart-svg.ts';
import { type Drawing, line, path, type Room, text, WIDTH } from './page-svg.ts';

/** One of several curves of a figure, and the point on it that is marked. */
export interface Curve {
  /** Stands at its end. */
  readonly name: string;
  readonly points: readonly (readonly [x: number, y: number])[];
  readonly marked: number | null;
}

const LEFT = 50;
/** Told apart by dashes and by the names at their ends. */
const DASHES = ['', '7 3', '2 3', '9 3 2 3', '12 4', '4 6'];

/** Curves of one figure over one other, each with its name at its end and a ring where it is marked. */
export function curveFamily(curves: readonly Curve[], xTitle: string, yTitle: string, room: Room): Drawing {
  const [width, top, bottom] = [WIDTH[room], 32, 250];
  const right = width - 20 - 7 * Math.max(...curves.map(({ name }) => name.length));
  const all = curves.flatMap(({ points }) => points);
  const xs = all.map(([x]) => x);
  const x = scaleLinear([Math.min(...xs), Math.max(...xs)], [LEFT + 8, right]);
  const y = scaleLinear([0, max(all, ([, value]) => value) || 1], [bottom, top]).nice(4);
  const ticks = { x: x.ticks(room === 'wide' ? 6 : 3), y: y.ticks(4) };
  const step = (values: readonly number[]): number => (values.length > 1 ? values[1]! - values[0]! : 1);
  const body = [
    text(LEFT, 14, yTitle, 't-bold'),
    ...ticks.y.flatMap((tick) => [
      line([LEFT, y(tick)], [right, y(tick)], 'hair'),
      text(LEFT - 6, y(tick) + 4, tickText(tick, step(ticks.y)), 't-end t-faint'),
    ]),
    ...ticks.x.flatMap((tick) => [
      line([x(tick), bottom], [x(tick), bottom + 5], 'axis'),
      text(x(tick), bottom + 18, tickText(tick, step(ticks.x)), 't-mid t-faint'),
    ]),
    line([LEFT, bottom], [right, bottom], 'axis'),
    text((LEFT + right) / 2, bottom + 36, xTitle, 't-mid'),
  ];
  const shape = lineShape<readonly [number, number]>(
    ([at]) => x(at),
    ([, value]) => y(value),
  ).digits(1);
  // From the lowest end upwards, so that no name lies on another.
  let free = bottom + 4;
  for (const { name, points } of [...curves].sort((a, b) => a.points.at(-1)![1] - b.points.at(-1)![1])) {
    const [at, value] = points.at(-1)!;
    free = Math.min(free, y(value) + 4);
    body.push(text(x(at) + 10, free, name));
    free -= 15;
  }
  curves.forEach(({ points, marked }, k) => {
    const dash = DASHES[k % DASHES.length]!;
    body.push(
      `<g${dash === '' ? '' : ` stroke-dasharray="${dash}"`}>${path(shape(points)!, 'line e-engine')}</g>`,
    );
    for (const [at, value] of points)
      body.push(`<circle cx="${px(x(at))}" cy="${px(y(value))}" r="2.5" class="f-ink"/>`);
    if (marked === null) return;
    const [cx, cy] = [x(points[marked]![0]), y(points[marked]![1])];
    body.push(path(`M${px(cx - 8)} ${px(cy)}a8 8 0 1 0 16 0a8 8 0 1 0 -16 0`, 'line e-ink'));
  });
  return { width, height: bottom + 42, body };
}
