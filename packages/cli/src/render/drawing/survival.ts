import type { Report } from '@longnight/core';
import { scaleLinear } from 'd3-scale';
import { area, line as lineShape } from 'd3-shape';
import { fixed, hoursAndDays } from '../document/figures.ts';
import { type Drawing, line, path, type Room, text, WIDTH } from './page-svg.ts';

const LEFT = 46;

type Dark = Report['autonomy']['sunless_hours'];

/** How many of all starts a full bank carries through the dark, over the hours that it must. */
export function survivalCurve({ survival, least, p05, median }: Dark, room: Room): Drawing {
  const width = WIDTH[room];
  // Above the curve stands the first label, above that the title.
  const [top, bottom] = [40, room === 'wide' ? 224 : 200];
  const longest = survival.at(-1)!.hours;
  const x = scaleLinear([0, longest], [LEFT, width - 14]);
  const y = scaleLinear([0, 1], [bottom, top]);
  const title =
    room === 'wide'
      ? '% of starts from which a full bank lasts so long or longer'
      : '% of starts that last so long or longer';
  const body = [text(LEFT, 14, title, 't-bold')];
  for (const share of [0, 0.25, 0.5, 0.75, 1])
    body.push(
      line([LEFT, y(share)], [width - 14, y(share)], 'hair'),
      text(LEFT - 6, y(share) + 4, fixed(100 * share, 0), 't-end t-faint'),
    );
  body.push(
    path(
      area<Dark['survival'][number]>(
        (point) => x(point.hours),
        bottom,
        (point) => y(point.starts_share),
      ).digits(1)(survival)!,
      'f-bank-soft',
    ),
    path(
      lineShape<Dark['survival'][number]>(
        (point) => x(point.hours),
        (point) => y(point.starts_share),
      ).digits(1)(survival)!,
      'line e-bank',
    ),
  );
  // The sentence above has the days; a phone has no room for them here.
  const said = (value: number): string =>
    room === 'wide' ? hoursAndDays(value) : hoursAndDays(value).replace(/ \(.*/, '');
  const marks: readonly (readonly [number, number, string])[] = [
    [least, 1, `every start: ${said(least)}`],
    [p05, 0.95, `95 % of starts: ${said(p05)}`],
    [median, 0.5, `half of them: ${said(median)}`],
  ];
  marks.forEach(([hours, share, words], k) => {
    const [at, height] = [x(hours), y(share)];
    body.push(
      line([at, height], [at, bottom], 'mark'),
      `<circle cx="${at.toFixed(1)}" cy="${height.toFixed(1)}" r="3.5"/>`,
    );
    // Right of the curve there is room, unless it ends there: then below it. The first two are close to each other.
    const fits = at + 10 + words.length * 6.6 < width;
    const drop = (fits ? [-6, 14, 4] : [20, 40, 4])[k]!;
    body.push(text(fits ? at + 9 : at - 9, height + drop, words, fits ? 't-halo' : 't-end t-over'));
  });
  const step = tickStep_h(longest, room);
  for (let at = 0; at <= longest + 1e-9; at += step)
    body.push(
      line([x(at), bottom], [x(at), bottom + 5], 'axis'),
      text(x(at), bottom + 18, step % 24 === 0 ? `${at / 24}` : `${at}`, 't-mid t-faint'),
    );
  body.push(
    line([LEFT, bottom], [width - 14, bottom], 'axis'),
    text((LEFT + width) / 2, bottom + 36, step % 24 === 0 ? 'days without sun' : 'sunless hours', 't-mid'),
  );
  return { width, height: bottom + 42, body };
}

/** Whole days where there are some, else parts of a day. */
function tickStep_h(longest: number, room: Room): number {
  if (longest <= 12) return 3;
  if (longest <= 60) return longest > 30 && room === 'narrow' ? 12 : 6;
  return 24 * Math.max(1, Math.ceil(longest / 24 / (room === 'wide' ? 10 : 5)));
}
