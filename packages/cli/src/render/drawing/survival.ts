import type { Report } from '@longnight/core';
import { scaleLinear } from 'd3-scale';
import { fixed, hoursAndDays } from '../document/figures.ts';
import { areaUnder, axisBelow, circle, line, rules, text } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';

type Dark = Report['autonomy']['sunless_hours'];

/** How many of all starts a full bank carries through the dark, over the hours that it must. */
export function survivalCurve({ survival, least, p05, median }: Dark, room: Room): Drawing {
  const wide = room === 'wide';
  const width = WIDTH[room];
  // Above the curve stands the first label, above that the title.
  const [left, right, top, bottom] = [46, width - 14, 40, wide ? 224 : 200];
  const longest = survival.at(-1)!.hours;
  const x = scaleLinear([0, longest], [left, right]);
  const y = scaleLinear([0, 1], [bottom, top]);
  const shares = [0, 0.25, 0.5, 0.75, 1].map((share) => ({ at: y(share), words: fixed(100 * share, 0) }));
  const curve = survival.map(({ hours, starts_share }) => [x(hours), y(starts_share)] as const);
  // The sentence above has the days; a phone has no room for them here.
  const said = (value: number): string =>
    wide ? hoursAndDays(value) : hoursAndDays(value).replace(/ \(.*/, '');
  const marks: readonly (readonly [number, number, string])[] = [
    [least, 1, `every start: ${said(least)}`],
    [p05, 0.95, `95 % of starts: ${said(p05)}`],
    [median, 0.5, `half of them: ${said(median)}`],
  ];
  const step = tickStep_h(longest, room);
  const inDays = step % 24 === 0;
  const ticks = Array.from({ length: Math.floor(longest / step + 1e-9) + 1 }, (_, k) => ({
    at: x(k * step),
    words: `${(k * step) / (inDays ? 24 : 1)}`,
  }));
  return {
    width,
    height: bottom + 42,
    body: [
      text(
        left,
        14,
        `% of starts ${wide ? 'from which a full bank lasts' : 'that last'} so long or longer`,
        't-bold',
      ),
      ...rules(shares, left, right),
      ...areaUnder(curve, bottom, 'f-bank-soft', 'e-bank'),
      ...marks.flatMap(([hours, share, words], k) => {
        const [at, height] = [x(hours), y(share)];
        // Right of the curve there is room, unless it ends there: then below it. The first two are close to each other.
        const fits = at + 10 + words.length * 6.6 < width;
        const drop = (fits ? [-6, 14, 4] : [20, 40, 4])[k]!;
        return [
          line([at, height], [at, bottom], 'mark'),
          circle([at, height], 3.5),
          text(fits ? at + 9 : at - 9, height + drop, words, fits ? 't-halo' : 't-end t-over'),
        ];
      }),
      ...axisBelow(ticks, { left, right: width - 14, bottom }, inDays ? 'days without sun' : 'sunless hours'),
    ],
  };
}

/** Whole days where there are some, else parts of a day. */
function tickStep_h(longest: number, room: Room): number {
  if (longest <= 12) return 3;
  if (longest <= 60) return longest > 30 && room === 'narrow' ? 12 : 6;
  return 24 * Math.max(1, Math.ceil(longest / 24 / (room === 'wide' ? 10 : 5)));
}
