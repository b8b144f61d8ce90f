import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { axisBelow, circle, path, ring, rules, text, through, ticksOf, top } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';

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
export function curveFamily(curves: readonly Curve[], xTitle: string, yTitle: string, room: Room): Drawing {
  const [left, bottom, width] = [50, 250, WIDTH[room]];
  const right = width - 20 - 7 * Math.max(...curves.map(({ name }) => name.length));
  const all = curves.flatMap(({ points }) => points);
  const [least = 0, most = 1] = extent(all, ([at]) => at);
  const x = scaleLinear([least, most], [left + 8, right]);
  const y = scaleLinear([0, top(all.map(([, value]) => value)) || 1], [bottom, 32]).nice(4);
  const drawn = curves.map(({ points, ...curve }) => ({
    ...curve,
    points: points.map(([at, value]) => [x(at), y(value)] as const),
  }));
  // From the lowest end upwards, so that no name lies on another.
  let free = bottom + 4;
  const names = [...drawn]
    .sort((a, b) => b.points.at(-1)![1] - a.points.at(-1)![1])
    .map(({ name, points }) => {
      const [at, height] = points.at(-1)!;
      const label = Math.min(free, height + 4);
      free = label - 15;
      return text(at + 10, label, name);
    });
  return {
    width,
    height: bottom + 42,
    body: [
      text(left, 14, yTitle, 't-bold'),
      ...rules(ticksOf(y, 4), left, right),
      ...axisBelow(ticksOf(x, room === 'wide' ? 6 : 3), { left, right, bottom }, xTitle),
      ...names,
      ...drawn.flatMap(({ points, marked }, k) => [
        path(
          through(points),
          'line e-engine',
          k % DASHES.length === 0 ? '' : ` stroke-dasharray="${DASHES[k % DASHES.length]}"`,
        ),
        ...points.map((point) => circle(point, 2.5, ' class="f-ink"')),
        marked === null ? '' : ring(points[marked]!),
      ]),
    ],
  };
}
