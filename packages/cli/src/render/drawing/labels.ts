import type { Frame, Point } from './marks.ts';

interface Label {
  readonly x: number;
  readonly y: number;
  /** Degrees clockwise, never upside down. */
  readonly turn: number;
}

interface Room {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Shares of a line's length at which its label is tried, the middle first. */
const TRIED = [0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78, 0.14, 0.86, 0.08, 0.92];

/**
 * Finds places for labels on lines, none on another and all within the frame.
 *
 * @param taken places that must stay free
 */
export function labeller(
  frame: Frame,
  taken: readonly Room[] = [],
): (lines: readonly (readonly Point[])[], text: string) => Label | null {
  const rooms = [...taken];
  const { left, top, right, bottom } = frame;
  const isFree = (room: Room): boolean =>
    rooms.every((other) => Math.hypot(other.x - room.x, other.y - room.y) >= other.radius + room.radius);
  return (lines, text) => {
    const radius = 4 * text.length + 4;
    const long = lines.map((line) => ({ line, length: lengthOf(line) })).sort((a, b) => b.length - a.length);
    const onLine = long
      .filter(({ length }) => length >= 1.6 * radius)
      .flatMap(({ line, length }) =>
        TRIED.map((share) => {
          const [x, y] = along(line, share * length);
          return { x, y, radius, turn: turnAt(line, share * length, radius) };
        }),
      )
      .filter(({ x, y }) => x - radius > left && x + radius < right && y - 9 > top && y + 9 < bottom);
    // A short line across a corner, say: level, as near to its middle as there is room.
    const beside = long.map(({ line, length }) => {
      const [x, y] = along(line, length / 2);
      const within = (value: number, least: number, most: number) => Math.min(most, Math.max(least, value));
      const [inX, inY] = [within(x, left + radius, right - radius), within(y, top + 12, bottom - 12)];
      return { x: inX, y: inY, radius, turn: 0 };
    });
    const found = [...onLine, ...beside].find(isFree) ?? null;
    if (found !== null) rooms.push(found);
    return found;
  };
}

const lengthOf = (line: readonly Point[]): number =>
  line.reduce(
    (sum, [x, y], k) => (k === 0 ? 0 : sum + Math.hypot(x - line[k - 1]![0], y - line[k - 1]![1])),
    0,
  );

/** The point at a distance along a line. */
function along(line: readonly Point[], distance: number): Point {
  let left = Math.max(0, distance);
  for (let k = 1; k < line.length; k++) {
    const [[x0, y0], [x1, y1]] = [line[k - 1]!, line[k]!];
    const step = Math.hypot(x1 - x0, y1 - y0);
    if (left <= step && step > 0) return [x0 + ((x1 - x0) * left) / step, y0 + ((y1 - y0) * left) / step];
    left -= step;
  }
  return line.at(-1)!;
}

function turnAt(line: readonly Point[], distance: number, reach: number): number {
  const [x0, y0] = along(line, distance - reach);
  const [x1, y1] = along(line, distance + reach);
  const turn = (Math.atan2(y1 - y0, x1 - x0) * 180) / Math.PI;
  return turn > 90 ? turn - 180 : turn < -90 ? turn + 180 : turn;
}
