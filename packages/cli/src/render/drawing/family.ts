import { line as lineShape } from 'd3-shape';
import { px } from './chart-svg.ts';
import { type Drawing, path, type Room, text, WIDTH } from './page-svg.ts';
import { planeFor, ring } from './scatter.ts';

/** One of several curves of a figure, and the point on it that is marked. */
export interface Curve {
  /** Stands at its end. */
  readonly name: string;
  readonly points: readonly (readonly [x: number, y: number])[];
  readonly marked: number | null;
}

/** Told apart by dashes and by the names at their ends. */
const DASHES = ['', '7 3', '2 3', '9 3 2 3', '12 4', '4 6'];

/** Curves of one figure over one other, each with its name at its end and a ring where it is marked. */
export function curveFamily(
  curves: readonly Curve[],
  titles: readonly [x: string, y: string],
  room: Room,
): Drawing {
  const width = WIDTH[room];
  const right = width - 20 - 7 * Math.max(...curves.map(({ name }) => name.length));
  const all = curves.flatMap(({ points }) => points.map(([x, y]) => ({ x, y })));
  const { x, y, body, bottom } = planeFor(all, titles, room, right);
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
    body.push(ring(x(points[marked]![0]), y(points[marked]![1])));
  });
  return { width, height: bottom + 42, body };
}
