import { fixed, MONTHS } from '../document/figures.ts';
import { legend, line, type Point, path, rect, text } from './marks.ts';
import { type Drawing, type Room, WIDTH } from './page-svg.ts';
import type { YearGrid } from './year-grid.ts';

/** Shades of the map: fifths of the capacity. */
const LEVELS = 5;
const SHADES = Array.from(
  { length: LEVELS },
  (_, k) => [`soc${k}`, `${(100 * k) / LEVELS} to ${(100 * (k + 1)) / LEVELS} %`] as const,
);
const DARK = ['dark-hour', 'unmet load'] as const;

/** Where cells begin, how large they are and how long the bar of a day without any power is. */
const LAYOUT = {
  wide: { left: 38, head: 22, day: 2, hour: 7, bar: 22 },
  narrow: { left: 34, head: 32, day: 2, hour: 10.5, bar: 36 },
} as const;

/** Every hour of the year: days across and hours down, or on a phone the other way round. */
export function yearMap(grid: YearGrid, room: Room): Drawing {
  const wide = room === 'wide';
  const { left, head, day, hour, bar } = LAYOUT[room];
  const isDark = grid.unmet_h.some((h) => h > 0);
  const top = wide && isDark ? head + 18 : head;
  /** The point at a day and an hour. */
  const at = (d: number, h: number): Point =>
    wide ? [left + d * day, top + h * hour] : [left + h * hour, top + d * day];
  const [right, bottom] = at(grid.days, 24);
  const shades = isDark ? [...SHADES, DARK] : SHADES;
  const key = wide
    ? legend(shades, left, bottom + 28, right - left)
    : legend(shades, 0, bottom + 12, WIDTH.narrow);
  /** The base of the bars: above the days, or right of them. */
  const base = wide ? top - 4 : right + 4;
  const body = [
    text(left, 12, wide && isDark ? 'Hours with unmet load, each day' : 'Hours of each day', 't-bold'),
    !wide && isDark ? text(WIDTH.narrow, 12, 'unmet h', 't-end t-bold') : '',
    ...unmetDays(grid).map(([d, hours]) => {
      const long = Math.max(2, (bar * Math.min(24, hours)) / 24);
      return wide
        ? rect(left + d * day, base - long, day, long, 'bar')
        : rect(base, top + d * day, long, day, 'bar');
    }),
    isDark ? line(wide ? [left, base] : [base, top], wide ? [right, base] : [base, bottom], 'axis') : '',
    `<g class="cells" transform="translate(${left} ${top}) scale(${wide ? `${day} ${hour}` : `${hour} ${day}`})">`,
    ...shades.map(([shade], k) => {
      const d = runs(grid, wide, (cell) =>
        k < LEVELS ? levelOf(grid.soc[cell]!) === k : grid.unmet_h[cell]! > 0,
      );
      return d === '' ? '' : path(d, shade);
    }),
    '</g>',
    ...[0, 6, 12, 18, 24].map((h) => {
      const [x, y] = at(0, h);
      const words = `${h}`.padStart(2, '0');
      return wide ? text(x - 6, y + 4, words, 't-end t-faint') : text(x, y - 5, words, 't-mid t-faint');
    }),
    ...grid.monthStarts.flatMap((first, m) => {
      const [x, y] = at(first, wide ? 24 : 0);
      const name = MONTHS[m % 12]!;
      return wide
        ? [line([x, y], [x, y + 6], 'axis'), text(x + 4, y + 14, name, 't-faint')]
        : [line([x - 6, y], [x, y], 'axis'), text(0, y + 12, name, 't-faint')];
    }),
    ...key.body,
  ];
  return wide
    ? { width: WIDTH.wide + 2, height: bottom + 28 + key.height, body }
    : { width: WIDTH.narrow, height: bottom + 12 + key.height, body };
}

/** -1 of none. */
const levelOf = (soc: number): number =>
  Number.isNaN(soc) ? -1 : Math.min(LEVELS - 1, Math.max(0, Math.floor(soc * LEVELS)));

/** The cells for which something is so, in runs along each day, as lines one cell wide. */
function runs(grid: YearGrid, dayRunsDown: boolean, isSo: (cell: number) => boolean): string {
  let d = '';
  for (let day = 0; day < grid.days; day++)
    for (let from = 0; from < 24; from++) {
      let to = from;
      while (to < 24 && isSo(day * 24 + to)) to++;
      if (to === from) continue;
      d += dayRunsDown ? `M${day}.5 ${from}V${to}` : `M${from} ${day}.5H${to}`;
      from = to;
    }
  return d;
}

/** Days with unmet load and their hours of it. */
function unmetDays({ days, unmet_h }: YearGrid): readonly (readonly [day: number, hours: number])[] {
  const each = Array.from({ length: days }, (_, day) => day);
  const hoursOf = (day: number) => unmet_h.subarray(day * 24, day * 24 + 24).reduce((sum, h) => sum + h, 0);
  return each.map((day) => [day, hoursOf(day)] as const).filter(([, hours]) => hours > 0);
}

/** What a reader who does not see the map is told: the lowest hour of each month. */
export function yearMapWords(grid: YearGrid): string {
  const lows = grid.monthStarts.map((first, m) => {
    const end = grid.monthStarts[m + 1] ?? grid.days;
    let low = 1;
    for (let k = first * 24; k < end * 24; k++) if (grid.soc[k]! < low) low = grid.soc[k]!;
    return `${MONTHS[m % 12]} ${fixed(100 * low, 0)}`;
  });
  return `Each cell is an hour, shaded by the lowest state of charge in it. Lowest by month, %: ${lows.join(', ')}.`;
}
