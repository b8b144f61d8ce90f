import { fixed, MONTHS } from '../document/figures.ts';
import { type Drawing, legend, line, path, type Room, rect, text, WIDTH } from './page-svg.ts';
import { cellPaths, LEVELS, type YearGrid } from './year-grid.ts';

/** What the shades of the map stand for. */
const SHADES = Array.from(
  { length: LEVELS },
  (_, k) => [`soc${k}`, `${(100 * k) / LEVELS} to ${(100 * (k + 1)) / LEVELS} %`] as const,
);

/** Every hour of the year: days across and hours down, or on a phone the other way round. */
export const yearMap = (grid: YearGrid, room: Room): Drawing => (room === 'wide' ? wide(grid) : narrow(grid));

const HOURS = [0, 6, 12, 18, 24];

function wide(grid: YearGrid): Drawing {
  const [left, day, hour, strip] = [38, 2, 7, 22];
  const dark = isDark(grid);
  const top = dark ? 40 : 22;
  const width = grid.days * day;
  const bottom = top + 24 * hour;
  const body = [
    text(left, 12, dark ? 'Hours with unmet load, each day' : 'Hours of each day', 't-bold'),
    ...strips(grid, (d, h) => rect(left + d * day, top - 4 - h, day, h, 'bar'), strip),
    dark ? line([left, top - 4], [left + width, top - 4], 'axis') : '',
    cells(grid, true, left, top, day, hour),
  ];
  for (const h of HOURS) {
    body.push(text(left - 6, top + h * hour + 4, `${h}`.padStart(2, '0'), 't-end t-faint'));
  }
  grid.monthStarts.forEach((first, m) => {
    const x = left + first * day;
    body.push(
      line([x, bottom], [x, bottom + 6], 'axis'),
      text(x + 4, bottom + 14, MONTHS[m % 12]!, 't-faint'),
    );
  });
  const key = keyOf(grid, left, bottom + 28, width);
  return { width: WIDTH.wide + 2, height: bottom + 28 + key.height, body: [...body, ...key.body] };
}

function narrow(grid: YearGrid): Drawing {
  const [left, top, day, hour, strip] = [34, 32, 2, 10.5, 36];
  const right = left + 24 * hour;
  const dark = isDark(grid);
  const bottom = top + grid.days * day;
  const body = [
    text(left, 12, 'Hours of each day', 't-bold'),
    dark ? text(WIDTH.narrow, 12, 'unmet h', 't-end t-bold') : '',
    ...strips(grid, (d, h) => rect(right + 4, top + d * day, h, day, 'bar'), strip),
    dark ? line([right + 4, top], [right + 4, bottom], 'axis') : '',
    cells(grid, false, left, top, hour, day),
  ];
  for (const h of HOURS) body.push(text(left + h * hour, top - 5, `${h}`.padStart(2, '0'), 't-mid t-faint'));
  grid.monthStarts.forEach((first, m) => {
    const y = top + first * day;
    body.push(line([left - 6, y], [left, y], 'axis'), text(0, y + 12, MONTHS[m % 12]!, 't-faint'));
  });
  const key = keyOf(grid, 0, bottom + 12, WIDTH.narrow);
  return { width: WIDTH.narrow, height: bottom + 12 + key.height, body: [...body, ...key.body] };
}

function cells(
  grid: YearGrid,
  dayRunsDown: boolean,
  x: number,
  y: number,
  across: number,
  down: number,
): string {
  const { levels, unmet } = cellPaths(grid, dayRunsDown);
  return [
    `<g class="cells" transform="translate(${x} ${y}) scale(${across} ${down})">`,
    ...levels.map((d, k) => (d === '' ? '' : path(d, `soc${k}`))),
    unmet === '' ? '' : path(unmet, 'dark-hour'),
    '</g>',
  ].join('');
}

/** A bar for each day with unmet load, 24 hours being the full length. */
function strips(grid: YearGrid, bar: (day: number, length: number) => string, length: number): string[] {
  const bars: string[] = [];
  for (let day = 0; day < grid.days; day++) {
    const hours = grid.unmet_h.subarray(day * 24, day * 24 + 24).reduce((sum, h) => sum + h, 0);
    if (hours > 0) bars.push(bar(day, Math.max(2, (length * Math.min(24, hours)) / 24)));
  }
  return bars;
}

/** True if any load goes unmet. */
const isDark = (grid: YearGrid): boolean => grid.unmet_h.some((h) => h > 0);

const keyOf = (grid: YearGrid, left: number, top: number, width: number) =>
  legend([...SHADES, ...(isDark(grid) ? [['dark-hour', 'unmet load'] as const] : [])], left, top, width);

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
