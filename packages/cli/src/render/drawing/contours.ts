import { contours } from 'd3-contour';
import type { Point } from './marks.ts';

/** One contour: the area at or above its value, and the lines that bound it within the grid. */
export interface Contour {
  readonly value: number;
  /** Rings in the coordinates of the drawing; they may reach beyond the grid, which is to be clipped. */
  readonly rings: readonly (readonly Point[])[];
  readonly lines: readonly (readonly Point[])[];
}

/**
 * Contours of a field by marching squares, straight between the values played.
 *
 * @param field the first key varying fastest; a gap takes the value of the nearest design, and is drawn over
 * @param x coordinates of the nodes of the first key, y of the second
 */
export function contoursOf(
  field: Float64Array,
  x: readonly number[],
  y: readonly number[],
  values: readonly number[],
): Contour[] {
  const filled = Array.from(withoutGaps(field, x.length));
  const layOut = contours().size([x.length, y.length]);
  const inside = ([u, v]: Point): boolean =>
    u > 0.5 - EDGE && u < x.length - 0.5 + EDGE && v > 0.5 - EDGE && v < y.length - 0.5 + EDGE;
  const place = ([u, v]: Point): Point => [between(x, u - 0.5), between(y, v - 0.5)];
  return values.map((value) => {
    const found = layOut
      .contour(filled, value)
      .coordinates.flat()
      .map((ring) => ring.map(([u, v]): Point => [u!, v!]));
    return {
      value,
      rings: found.map((ring) => ring.map(place)),
      lines: found.flatMap((ring) => cut(ring, inside)).map((line) => line.map(place)),
    };
  });
}

const EDGE = 1e-9;

/** The runs of a ring that lie within the grid; what runs along its rim is no contour. */
function cut(ring: readonly Point[], inside: (point: Point) => boolean): Point[][] {
  const points = ring.slice(0, -1);
  const outside = points.findIndex((point) => !inside(point));
  if (outside < 0) return [[...ring] as Point[]];
  const runs: Point[][] = [];
  let run: Point[] = [];
  for (let k = 1; k <= points.length; k++) {
    const point = points[(outside + k) % points.length]!;
    if (inside(point)) run.push(point);
    else {
      if (run.length > 1) runs.push(run);
      run = [];
    }
  }
  return runs;
}

/** Straight between the entries of a list, and on beyond its ends. */
function between(list: readonly number[], at: number): number {
  const k = Math.max(0, Math.min(list.length - 2, Math.floor(at)));
  return list[k]! + (at - k) * (list[k + 1]! - list[k]!);
}

function withoutGaps(field: Float64Array, width: number): Float64Array {
  const known = [...field.keys()].filter((k) => !Number.isNaN(field[k]!));
  if (known.length === field.length) return field;
  const far = (a: number, b: number): number =>
    ((a % width) - (b % width)) ** 2 + (Math.floor(a / width) - Math.floor(b / width)) ** 2;
  return field.map((value, at) => {
    if (!Number.isNaN(value) || known.length === 0) return value;
    return field[known.reduce((near, k) => (far(k, at) < far(near, at) ? k : near))]!;
  });
}
