import type { Report } from '@longnight/core';
import { clockTime, days, fixed, hoursAndDays, kWh, percent } from '../document/figures.ts';
import { details, escaped, list, paragraph, type Section, table } from '../document/html.ts';
import { CURTAILED_WORDS, LIMIT_WORDS, largestFirst, UNMET_WORDS } from '../document/words.ts';
import { type Bar, lyingBars, standingBars } from '../drawing/bars.ts';
import { figure, WIDTH } from '../drawing/page-svg.ts';
import { survivalCurve } from '../drawing/survival.ts';
import { lossRows } from './losses.ts';
import { givesOutSentence } from './verdict-words.ts';
import { wearSentence } from './wear.ts';
import { YEAR_TITLES, yearCells, yearsBasis, yearsSentences } from './years.ts';

/** The sections about limits of the plant and its bank: autonomy, what gives out first, wear. */

const figures = true as const;

export function autonomySection({ autonomy }: Report): Section {
  const { dark_hours, nominal_days } = autonomy;
  const sentence =
    `With no sun and no generator a full bank carries the loads for ${hoursAndDays(dark_hours.least)} from the worst start ` +
    `(${clockTime(dark_hours.least_start)}) and for ${hoursAndDays(dark_hours.median)} from the middle one; its nominal autonomy is ${days(nominal_days)}.`;
  const chart = {
    id: 'survival',
    title: 'How many start hours a full bank carries through the dark, and for how long',
    description: sentence,
    caption: `Every step of the year as a start, losses included; usable bank over mean daily load makes ${days(nominal_days)}, without losses.`,
  };
  return {
    id: 'autonomy',
    title: 'Autonomy',
    sentence: dark_hours.capped
      ? `${sentence} Some starts outlast the year: these are lower bounds.`
      : sentence,
    body: [
      figure(chart, { wide: survivalCurve(dark_hours, 'wide'), narrow: survivalCurve(dark_hours, 'narrow') }),
      details(
        'The curve as figures',
        table({
          caption: 'Share of all starts that a full bank carries so long',
          columns: [
            { title: 'hours', figures },
            { title: '% of starts', figures },
          ],
          rows: dark_hours.survival.map((point) => [
            fixed(point.hours, 0),
            fixed(100 * point.starts_share, 1),
          ]),
        }),
      ),
    ],
  };
}

export function givesOutSection(report: Report): Section {
  const { unmet, array } = report;
  const [main] = largestFirst(array.curtailed_by_cause_kWh);
  const unused =
    main === undefined
      ? 'All sun offered is used.'
      : `Of the sun offered ${percent(array.curtailed_share)} goes unused, most of it because: ${CURTAILED_WORDS[main[0]]}.`;
  return {
    id: 'gives-out',
    title: 'What gives out first',
    sentence: `${givesOutSentence(report)} ${unused}`,
    body: [
      ...causes(
        'Why load goes unserved',
        'unmet',
        largestFirst(unmet.by_cause_kWh).map(([cause, energy]) => [UNMET_WORDS[cause], energy]),
        unmet.energy_kWh,
        'unserved',
        'f-unmet e-unmet',
      ),
      ...causes(
        'Why sun goes unused',
        'curtailed',
        largestFirst(array.curtailed_by_cause_kWh).map(([cause, energy]) => [CURTAILED_WORDS[cause], energy]),
        array.available_kWh,
        'offered',
        'f-unused e-unused',
      ),
      ...closest(report),
      details('Where energy is lost', lossTable(report)),
    ],
  };
}

function causes(
  title: string,
  id: string,
  split: readonly (readonly [string, number])[],
  whole: number,
  wholeWords: string,
  fill: string,
): string[] {
  if (split.length === 0)
    return [
      `<h3>${escaped(title)}</h3>`,
      paragraph(id === 'unmet' ? 'No load goes unserved.' : 'No sun goes unused.'),
    ];
  const bars: Bar[] = split.map(([name, energy]) => ({
    name,
    value: energy,
    figure: `${kWh(energy)}, ${percent(energy / whole)}`,
  }));
  const chart = {
    id,
    title,
    description: `${bars.map((bar) => `${bar.name}: ${bar.figure}`).join('; ')} of what is ${wholeWords}.`,
  };
  return [
    `<h3>${escaped(title)}</h3>`,
    figure(chart, { wide: lyingBars(bars, fill, WIDTH.wide), narrow: lyingBars(bars, fill, WIDTH.narrow) }),
    details(
      `${title}, as figures`,
      table({
        caption: `${title}, kWh and share of what is ${wholeWords}`,
        columns: [{ title: 'cause' }, { title: 'kWh', figures }, { title: '%', figures }],
        rows: split.map(([name, energy]) => [name, fixed(energy, 2), fixed((100 * energy) / whole, 1)]),
      }),
    ),
  ];
}

function closest({ gives_out_first, run }: Report): string[] {
  const bars = gives_out_first.closest.map(({ limit, used_share }) => ({
    name: LIMIT_WORDS[limit],
    value: used_share,
    figure: percent(used_share),
  }));
  const chart = {
    id: 'closest',
    title: 'How close each limit came',
    description: bars.map((bar) => `${bar.name}: ${bar.figure} used`).join('; '),
    caption: `The dotted line is the limit. Means over ${run.step_min} min: a moment within may have come closer.`,
  };
  const whole = Math.max(1, ...bars.map((bar) => bar.value));
  return [
    '<h3>How close each limit came</h3>',
    figure(chart, {
      wide: lyingBars(bars, 'f-bank', WIDTH.wide, whole),
      narrow: lyingBars(bars, 'f-bank', WIDTH.narrow, whole),
    }),
    details(
      'The limits as figures',
      table({
        caption: 'How close the plant came to each limit',
        columns: [{ title: 'limit' }, { title: '% used', figures }, { title: 'at' }],
        rows: gives_out_first.closest.map((near) => [
          LIMIT_WORDS[near.limit],
          fixed(100 * near.used_share, 1),
          clockTime(near.time),
        ]),
      }),
    ),
  ];
}

function lossTable(report: Report): string {
  const rows = lossRows(report).map(([where, energy]) => [where, fixed(energy, 1)]);
  return table({
    caption: 'Losses in kWh',
    columns: [{ title: 'where' }, { title: 'kWh', figures }],
    rows: rows.slice(0, -1),
    sums: rows.at(-1)!,
  });
}

export function wearSection({ bank, years }: Report): Section {
  const { wear } = bank;
  const body: string[] = [];
  if (wear !== null) {
    const bars = wear.cycles_by_depth.map((band) => ({
      name: fixed(100 * band.depth_to_share, 0),
      value: band.cycles,
      figure: fixed(band.cycles, band.cycles < 10 && !Number.isInteger(band.cycles) ? 1 : 0),
    }));
    const chart = {
      id: 'cycles',
      title: 'Cycles of the bank in the year, by depth',
      description: wear.cycles_by_depth
        .map((band) => `${bandName(band)} %: ${fixed(band.cycles, 1)}`)
        .join('; '),
      caption: 'Counted by rainflow over the state of charge (ASTM E1049-85); a half counts as 0.5.',
    };
    const axis = 'depth up to, % of capacity';
    body.push(
      figure(chart, {
        wide: standingBars(bars, 'f-bank', WIDTH.wide, axis),
        narrow: standingBars(bars, 'f-bank', WIDTH.narrow, axis),
      }),
      details(
        'The cycles as figures',
        table({
          caption: 'Cycles in the year by depth',
          columns: [{ title: 'depth, % of capacity' }, { title: 'cycles', figures }],
          rows: wear.cycles_by_depth.map((band) => [bandName(band), fixed(band.cycles, 1)]),
        }),
      ),
    );
  }
  if (years !== null)
    body.push(
      '<h3>Year after year</h3>',
      paragraph(yearsSentences(years).join(' ')),
      table({
        caption: 'Each year as played; bank and arrays are what is left of them at its start',
        columns: YEAR_TITLES.map((title, k) => (k === 0 ? { title } : { title, figures })),
        rows: yearCells(years),
      }),
      list(yearsBasis(years)),
    );
  return {
    id: 'wear',
    title: 'How the bank wears',
    sentence:
      wear === null
        ? `The scenario states no life of the bank, neither bank.cycle_life nor bank.life_years; in this year it makes ${fixed(bank.equivalent_full_cycles, 0)} full cycles.`
        : `${kWh(bank.throughput_kWh)} go through the bank, ${fixed(bank.equivalent_full_cycles, 0)} full cycles.${wearSentence(wear)}`,
    body,
  };
}

const bandName = (band: { depth_from_share: number; depth_to_share: number }): string =>
  `${fixed(100 * band.depth_from_share, 0)} to ${fixed(100 * band.depth_to_share, 0)}`;
