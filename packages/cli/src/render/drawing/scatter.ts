import { extent } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { axisBelow, circle, ring, rules, text, ticksOf, top } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';

/** A point of a plane, and what is written beside it. */
interface Dot {
  readonly x: number;
  readonly y: number;
  /** The one that the page is about: a ring, and its name. */
  readonly name: string | null;
}

/** Points over two figures, from nothing upwards on the second; a ring marks the chosen one. */
export function scatter(dots: readonly Dot[], xTitle: string, yTitle: string, room: Room): Drawing {
  const width = WIDTH[room];
  const [left, right, bottom] = [50, width - 14, 220];
  const [least = 0, most = 1] = extent(dots, (dot) => dot.x);
  const x = scaleLinear([least, least === most ? least + 1 : most], [left + 8, right - 8]).nice(5);
  const y = scaleLinear([0, top(dots.map((dot) => dot.y)) || 1], [bottom, 32]).nice(4);
  const rings = dots.filter(({ name }) => name !== null);
  return {
    width,
    height: bottom + 42,
    body: [
      text(left, 14, yTitle, 't-bold'),
      ...rules(ticksOf(y, 4), left, right),
      ...axisBelow(ticksOf(x, room === 'wide' ? 6 : 3), { left, right, bottom }, xTitle),
      ...dots.map((dot) => circle([x(dot.x), y(dot.y)], 3, ' class="f-bank"')),
      ...rings.flatMap((dot) => {
        const [at, height] = [x(dot.x), y(dot.y)];
        const before = at > width / 2;
        // High up it would lie on the title.
        const level = height < 46 ? height + 20 : height - 8;
        return [
          ring([at, height]),
          text(before ? at - 13 : at + 13, level, dot.name!, before ? 't-end t-halo' : 't-halo'),
        ];
      }),
    ],
  };
}
