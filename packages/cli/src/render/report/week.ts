import type { Ledger, Report, Stretch } from '@longnight/core';
import {
  asideOf,
  type Block,
  type ColumnOf,
  FILES,
  figures,
  type Section,
  textsOf,
} from '../document/document.ts';
import { amount, counted, fixed, hours, kWh, MONTHS, percent, socPercent } from '../document/figures.ts';
import { escaped, paragraph } from '../document/html.ts';
import { daysWords, listed } from '../document/words.ts';
import { drawing, figure, WIDTH } from '../drawing/page-svg.ts';
import { type Stretched, stretched } from '../drawing/stretched.ts';
import { timePanels, topsOf } from '../drawing/time-panels.ts';
import { daysTable } from '../week/days.ts';

/** The sections that look at days hour by hour: the leanest days, a week for each season. */

export function leanestSection(report: Report, ledger: Ledger, strip: readonly string[]): Section {
  const lean = report.leanest_days;
  return {
    id: 'leanest',
    title: `The leanest ${daysWords(lean.days)}`,
    label: `Leanest ${daysWords(lean.days)}`,
    sentence: daysSentence(lean),
    blocks: [
      { kind: 'strip', lines: strip },
      ...hourBlocks('week', ledger, lean),
      {
        ...daysTable(lean.by_day, { start: lean.start, generator: report.generator !== null }),
        on: FILES,
        folded: 'till_printed',
      },
    ],
  };
}
/** The panels of some days and their hours as figures. */
export function hourBlocks(id: string, ledger: Ledger, lean: Stretch): Block[] {
  const shown = stretched(ledger, lean);
  const tops = topsOf([shown]);
  const chart = {
    id,
    title: `${counted(lean.days, 'day')} from ${lean.start}, hour by hour`,
    description: `${daysSentence(lean)} ${dayWords(lean)}`,
    caption: `Each panel has a scale of its own. ${intervalWords(shown)}`,
  };
  const panels = drawing(chart, (room) => timePanels(shown, tops, WIDTH[room], room === 'wide' ? 74 : 60));
  // Beyond a fortnight the days are told, and hours.csv has the rest.
  return [panels, ...(lean.days > 14 ? [] : [hourTable(shown)])];
}

const intervalWords = ({ interval_h }: Stretched): string =>
  `Powers are means over ${interval_h < 1 ? `${fixed(60 * interval_h, 0)} min` : hours(interval_h)}; the charge is the lowest in them.`;

/** `84 % of what`, `17.4 times what`. */
const sunWords = (share: number): string =>
  share < 2 ? `${percent(share)} of what` : `${amount(share)} times what`;

/** What the sun is to the load. */
const sunClause = (share: number | null): string =>
  share === null ? 'no load is wanted' : `the array offers ${sunWords(share)} the loads want`;

export function daysSentence(lean: Stretch): string {
  const sun = sunClause(lean.sun_to_load);
  const unmet = lean.unmet_kWh > 0 ? `${kWh(lean.unmet_kWh)} go unmet` : 'nothing goes unmet';
  return (
    `In the ${counted(lean.days, 'day')} from ${lean.start} ${sun}; the bank goes in with ` +
    `${socPercent(lean.initial_soc)} %, comes down to ${socPercent(lean.lowest_soc)} %, and ${unmet}.`
  );
}

const dayWords = (lean: Stretch): string =>
  lean.days > 14
    ? ''
    : `Lowest state of charge day by day, %: ${lean.by_day.map((day) => socPercent(day.lowest_soc)).join(', ')}.`;

function hourTable(shown: Stretched): Block {
  const powers: readonly (readonly [string, Float64Array])[] = [
    ['wanted', shown.wanted_kW],
    ['served', shown.served_kW],
    ['sun offered', shown.offered_kW],
    ['sun used', shown.used_kW],
    ...shown.sources.map(({ title, power_kW }) => [title.toLowerCase(), power_kW] as const),
  ];
  const caption = `Mean powers over ${hours(shown.interval_h)} and the lowest state of charge in it, from ${shown.days[0]!.date}`;
  const table = asideOf(caption, shown.times, [
    ['from', (time) => time],
    ...powers.map(([title, kW]): ColumnOf<string> => [figures(title, 'kW'), (_, k) => fixed(kW[k]!, 2)]),
    [figures('SoC', '%'), (_, k) => socPercent(shown.soc[k]!)],
  ]);
  return { ...table, on: ['page'] };
}

export function seasonsSection(report: Report, ledger: Ledger): Section {
  const weeks = report.season_weeks;
  const draw = (): string[] => {
    const shown = weeks.map((week) => stretched(ledger, week));
    const tops = topsOf(shown);
    const drawn = weeks.map((week, k) => {
      const chart = {
        id: `week-${week.months[0]}`,
        title: `An ordinary week of ${monthsOf(week.months)}, from ${week.start}`,
        description: `${daysSentence(week)} ${dayWords(week)}`,
      };
      return [
        '<div>',
        `<h3>${escaped(seasonName(week.months, report.site.latitude_deg))}</h3>`,
        paragraph(weekWords(week)),
        figure(chart, timePanels(shown[k]!, tops, WIDTH.narrow, 44)),
        '</div>',
      ].join('\n');
    });
    return [`<div class="weeks">\n${drawn.join('\n')}\n</div>`];
  };
  return {
    id: 'seasons',
    title: 'A week for each season',
    on: ['page'],
    sentence: seasonsSentence(report),
    blocks: [
      { kind: 'drawing', draw },
      ...weeks.map((week) => ({
        ...daysTable(week.by_day, { start: week.start, generator: report.generator !== null }),
        on: FILES,
        folded: true as const,
      })),
      ...textsOf([
        'Each is the week in the middle when the weeks of its three months are ranked by sun offered over load wanted. The four share their scales.',
      ]),
    ],
  };
}

const monthsOf = (months: readonly number[]): string =>
  `${MONTHS[months[0]! - 1]} to ${MONTHS[months.at(-1)! - 1]}`;

const SEASONS = ['winter', 'spring', 'summer', 'autumn'];
/** Between the tropics there is no winter to speak of. */
const TROPIC_deg = 23.44;

function seasonName(months: readonly number[], latitude_deg: number): string {
  const name = monthsOf(months);
  if (Math.abs(latitude_deg) < TROPIC_deg) return name;
  const quarter = Math.floor((months[0]! % 12) / 3);
  return `${name}: ${SEASONS[(quarter + (latitude_deg < 0 ? 2 : 0)) % 4]}`;
}

const weekWords = (week: Stretch): string =>
  `From ${week.start}: ${sunClause(week.sun_to_load)}, ` +
  `lowest state of charge ${socPercent(week.lowest_soc)} %${week.unmet_kWh > 0 ? `, ${kWh(week.unmet_kWh)} unmet` : ''}.`;

function seasonsSentence({ season_weeks: weeks }: Report): string {
  if (weeks.length === 0) return 'No season of this year has seven whole days.';
  const dark = weeks.filter((week) => week.unmet_kWh > 0);
  const known = weeks.filter((week) => week.sun_to_load !== null);
  if (known.length === 0) return 'No load is wanted in any of these weeks.';
  const sorted = [...known].sort((a, b) => a.sun_to_load! - b.sun_to_load!);
  const [least, most] = [sorted[0]!, sorted.at(-1)!];
  const unmet =
    dark.length === 0
      ? 'in none of the four does load go unmet'
      : dark.length === weeks.length
        ? 'load goes unmet in all of them'
        : `load goes unmet in that of ${listed(dark.map((week) => monthsOf(week.months)))}`;
  return (
    `In an ordinary week the array offers ${sunWords(most.sun_to_load!)} the loads want in ${monthsOf(most.months)} ` +
    `and ${sunWords(least.sun_to_load!)} they want in ${monthsOf(least.months)}; ${unmet}.`
  );
}
