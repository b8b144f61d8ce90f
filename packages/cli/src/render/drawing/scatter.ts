import { max, min } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { px, tickText } from './chart-svg.ts';
import { type Drawing, line, path, type Room, text, WIDTH } from './page-svg.ts';

/** A point of a plane, and what is written beside it. */
interface Dot {
  readonly x: number;
  readonly y: number;
  /** The one that the page is about: a ring, and its name. */
  readonly name: string | null;
}

const LEFT = 50;

interface Plane {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly body: string[];
  readonly bottom: number;
}

/** Two axes with their ticks for some points, from nothing upwards on the second. */
export function planeFor(
  points: readonly Pick<Dot, 'x' | 'y'>[],
  [xTitle, yTitle]: readonly [string, string],
  room: Room,
  right: number,
): Plane {
  const [top, bottom] = [32, 220];
  const ends = [min(points, (point) => point.x) ?? 0, max(points, (point) => point.x) ?? 1] as const;
  const x = scaleLinear([ends[0], ends[0] === ends[1] ? ends[0] + 1 : ends[1]], [LEFT + 8, right - 8]).nice(
    5,
  );
  const y = scaleLinear([0, max(points, (point) => point.y) || 1], [bottom, top]).nice(4);
  const ticks = { x: x.ticks(room === 'wide' ? 6 : 3), y: y.ticks(4) };
  const step = (values: readonly number[]): number => (values.length > 1 ? values[1]! - values[0]! : 1);
  const body = [text(LEFT, 14, yTitle, 't-bold')];
  for (const tick of ticks.y)
    body.push(
      line([LEFT, y(tick)], [right, y(tick)], 'hair'),
      text(LEFT - 6, y(tick) + 4, tickText(tick, step(ticks.y)), 't-end t-faint'),
    );
  for (const tick of ticks.x)
    body.push(
      line([x(tick), bottom], [x(tick), bottom + 5], 'axis'),
      text(x(tick), bottom + 18, tickText(tick, step(ticks.x)), 't-mid t-faint'),
    );
  body.push(
    line([LEFT, bottom], [right, bottom], 'axis'),
    text((LEFT + right) / 2, bottom + 36, xTitle, 't-mid'),
  );
  return { x, y, body, bottom };
}

/** A ring around a point. */
export const ring = (x: number, y: number): string =>
  path(`M${px(x - 8)} ${px(y)}a8 8 0 1 0 16 0a8 8 0 1 0 -16 0`, 'line e-ink');

/** Points over two figures; a ring marks the chosen one. */
export function scatter(dots: readonly Dot[], xTitle: string, yTitle: string, room: Room): Drawing {
  const width = WIDTH[room];
  const { x, y, body, bottom } = planeFor(dots, [xTitle, yTitle], room, width - 14);
  for (const dot of dots)
    body.push(`<circle cx="${px(x(dot.x))}" cy="${px(y(dot.y))}" r="3" class="f-bank"/>`);
  for (const dot of dots.filter(({ name }) => name !== null)) {
    const [at, height] = [x(dot.x), y(dot.y)];
    const before = at > width / 2;
    body.push(
      ring(at, height),
      text(before ? at - 13 : at + 13, height - 8, dot.name!, before ? 't-end t-halo' : 't-halo'),
    );
  }
  return { width, height: bottom + 42, body };
}
