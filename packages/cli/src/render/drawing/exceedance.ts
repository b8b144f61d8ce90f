import { scaleLinear } from 'd3-scale';
import { evenly } from '../../sweep/spread.ts';
import { fixed } from '../document/figures.ts';
import { axisBelow, type Point, path, rules, text, through, ticksOf } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';

/** So many of all years have more than a value. */
interface Exceeded {
  readonly value: number;
  readonly years: number;
  /** The same as a share of them. */ readonly share: number;
}

/** Points of a curve at most: steps of more years would be finer than its line. */
const MOST = 60;

/** In how many years more than a value is reached, for 0 and the values met, ascending; many are thinned evenly. */
export function exceeded(values: readonly number[]): readonly Exceeded[] {
  const met = [...new Set([0, ...values])].sort((a, b) => a - b);
  return evenly(met.length, MOST).map((k) => {
    const years = values.filter((value) => value > met[k]!).length;
    return { value: met[k]!, years, share: years / values.length };
  });
}

/** The share of the years with more than a value, over the values: down a step at each. */
export function exceedanceCurve(
  points: readonly Exceeded[],
  title: string,
  colour: string,
  room: Room,
): Drawing {
  const width = WIDTH[room];
  const [left, right, top, bottom] = [46, width - 14, 28, room === 'wide' ? 190 : 170];
  const x = scaleLinear([0, points.at(-1)!.value], [left, right]).nice(4);
  const y = scaleLinear([0, 1], [bottom, top]);
  const shares = [0, 0.25, 0.5, 0.75, 1].map((share) => ({ at: y(share), words: fixed(100 * share, 0) }));
  const steps = points.flatMap(({ value, share }, k): Point[] => [
    ...(k === 0 ? [] : [[x(value), y(points[k - 1]!.share)] as const]),
    [x(value), y(share)],
  ]);
  return {
    width,
    height: bottom + 42,
    body: [
      text(left, 14, '% of the years have more than that', 't-bold'),
      ...rules(shares, left, right),
      path(through(steps), `line e-${colour}`),
      ...axisBelow(ticksOf(x, room === 'wide' ? 8 : 4), { left, right, bottom }, title),
    ],
  };
}
