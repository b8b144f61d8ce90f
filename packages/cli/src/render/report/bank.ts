import type { Report } from '@longnight/core';
import { type Block, figureColumns, type Section, textsOf } from '../document/document.ts';
import {
  amount,
  clockTime,
  counted,
  days,
  fixed,
  hours,
  hoursAndDays,
  kWh,
  percent,
} from '../document/figures.ts';
import { CURTAILED_WORDS, LIMIT_WORDS, largestFirst, UNMET_WORDS } from '../document/words.ts';
import { type Bar, lyingBars, standingBars } from '../drawing/bars.ts';
import { figure } from '../drawing/page-svg.ts';
import { survivalCurve } from '../drawing/survival.ts';
import { givesOutSentence } from './verdict-words.ts';

/** The sections about limits of the plant and its bank: autonomy, what gives out first, wear. */

const FILES = ['markdown', 'page'] as const;
/** For who asks for it. */
const ASIDE = { on: FILES, folded: true } as const;

export function autonomySection({ autonomy }: Report): Section {
  const { sunless_hours, nominal_days } = autonomy;
  const brief =
    `With no sun and no generator a full bank carries the loads for ${sunless_hours.capped ? 'over a year' : hoursAndDays(sunless_hours.least)} from the worst start ` +
    `(${clockTime(sunless_hours.least_start)}), for ${hoursAndDays(sunless_hours.median)} from the median start`;
  const sentence = `${brief}; nominal autonomy, usable bank over mean daily load, is ${days(nominal_days)}.`;
  const chart = {
    id: 'survival',
    title: 'How many start hours a full bank carries with no sun, and for how long',
    description: sentence,
    caption: `Every step of the year as a start, losses included; usable bank over mean daily load makes ${days(nominal_days)}, without losses.`,
  };
  const rest = `${hoursAndDays(sunless_hours.p05)} or more from 95 % of all starts.`;
  return {
    id: 'autonomy',
    title: 'Autonomy',
    sentence,
    brief: `${brief}.`,
    blocks: [
      ...textsOf(
        [sunless_hours.capped ? `${rest} Some starts outlast the year: these are lower bounds.` : rest],
        FILES,
      ),
      {
        kind: 'drawing',
        draw: () => [figure(chart, (room) => survivalCurve(sunless_hours, room))],
      },
      {
        kind: 'table',
        on: ['page'],
        folded: true,
        caption: 'Share of all starts that a full bank carries so long',
        columns: figureColumns(['hours'], ['% of starts']),
        rows: sunless_hours.survival.map((point) => [
          fixed(point.hours, 0),
          fixed(100 * point.starts_share, 1),
        ]),
      },
    ],
  };
}

export function givesOutSection(report: Report): Section {
  const { unmet, array, run, gives_out_first } = report;
  const [main] = largestFirst(array.curtailed_by_cause_kWh);
  const unused =
    main === undefined
      ? 'All sun offered is used.'
      : `Of the sun offered ${percent(array.curtailed_share)} is curtailed, most of it because: ${CURTAILED_WORDS[main[0]]}.`;
  return {
    id: 'gives-out',
    title: 'What gives out first',
    label: 'Gives out first',
    sentence: givesOutSentence(report),
    blocks: [
      ...textsOf([unused], FILES),
      ...causeBlocks({
        title: 'Why load goes unmet',
        id: 'unmet',
        split: largestFirst(unmet.by_cause_kWh).map(([cause, energy]) => [UNMET_WORDS[cause], energy]),
        whole_kWh: unmet.energy_kWh,
        of: 'unmet',
        fill: 'f-unmet e-unmet',
      }),
      ...(unmet.energy_kWh === 0 ? [] : unmetBlocks(report)),
      ...causeBlocks({
        title: 'Why sun is curtailed',
        id: 'curtailed',
        split: largestFirst(array.curtailed_by_cause_kWh).map(([cause, energy]) => [
          CURTAILED_WORDS[cause],
          energy,
        ]),
        whole_kWh: array.available_kWh,
        of: 'offered',
        fill: 'f-unused e-unused',
      }),
      { kind: 'heading', text: 'How close each limit came', on: FILES },
      { kind: 'drawing', draw: () => [closestBars(report)] },
      ...textsOf(
        [`Means over steps of ${run.step_min} min: a moment within a step may have come closer.`],
        ['markdown'],
      ),
      {
        kind: 'table',
        ...ASIDE,
        caption: 'How close the plant came to each limit',
        columns: [{ title: 'limit' }, ...figureColumns(['% used']), { title: 'at' }],
        rows: gives_out_first.closest.map((near) => [
          LIMIT_WORDS[near.limit],
          fixed(100 * near.used_share, 1),
          clockTime(near.time),
        ]),
      },
      { kind: 'heading', text: 'Where energy is lost', on: FILES },
      lossTable(report),
    ],
  };
}

interface Causes {
  readonly title: string;
  readonly id: string;
  readonly split: readonly (readonly [string, number])[];
  readonly whole_kWh: number;
  /** What it is a share of. */
  readonly of: string;
  readonly fill: string;
}

function causeBlocks({ title, id, split, whole_kWh, of, fill }: Causes): Block[] {
  if (split.length === 0) return [];
  const bars: Bar[] = split.map(([name, energy]) => ({
    name,
    value: energy,
    figure: `${kWh(energy)}, ${percent(energy / whole_kWh)}`,
  }));
  const chart = {
    id,
    title,
    description: `${bars.map((bar) => `${bar.name}: ${bar.figure}`).join('; ')} of what is ${of}.`,
  };
  return [
    { kind: 'heading', text: title, on: FILES },
    {
      kind: 'drawing',
      draw: () => [figure(chart, (room) => lyingBars(bars, fill, room))],
    },
    {
      kind: 'table',
      ...ASIDE,
      caption: `${title}, kWh and share of what is ${of}`,
      columns: [{ title: 'cause' }, ...figureColumns(['kWh'], ['%'])],
      rows: split.map(([name, energy]) => [name, fixed(energy, 2), fixed((100 * energy) / whole_kWh, 1)]),
    },
  ];
}

/** Which loads, and in which outages. */
function unmetBlocks({ unmet, load }: Report): Block[] {
  const longest = [...unmet.outages].sort((a, b) => b.hours - a.hours).slice(0, 10);
  return [
    {
      kind: 'table',
      ...ASIDE,
      caption: 'Unmet by tier: loads of a lower number are served first',
      columns: [{ title: 'tier' }, ...figureColumns(['wanted', 'kWh'], ['unmet', 'kWh'])],
      rows: load.by_tier.map((tier) => [`${tier.tier}`, fixed(tier.wanted_kWh, 1), fixed(tier.unmet_kWh, 2)]),
    },
    {
      kind: 'table',
      ...ASIDE,
      caption: `The longest of ${counted(unmet.outages.length, 'outage')}, ${hours(unmet.hours)} in all`,
      columns: [{ title: 'start' }, ...figureColumns(['hours'], ['unmet', 'kWh'])],
      rows: longest.map((one) => [clockTime(one.start), fixed(one.hours, 1), fixed(one.energy_kWh, 2)]),
    },
  ];
}

function closestBars({ gives_out_first, run }: Report): string {
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
  return figure(chart, (room) => lyingBars(bars, 'f-bank', room, whole));
}

/** Where energy is lost, the parts that the plant has, then all. */
function lossTable({ losses, limits, generator }: Report): Block {
  const rows: readonly (readonly [string, number])[] = [
    ['trackers', losses.tracker_kWh],
    ['bank: charging, discharging, self-discharge', losses.bank_kWh],
    ...(losses.heater_kWh === 0 ? [] : [['heaters of the bank', losses.heater_kWh] as const]),
    ['inverter, idle draw included', losses.inverter_kWh],
    ...(limits.ac_charging.figure_kW === null ? [] : [['charger', losses.charger_kWh] as const]),
    ...(generator === null
      ? []
      : [['generator energy spilled to keep its least load', losses.generator_spilled_kWh] as const]),
  ];
  return {
    kind: 'table',
    ...ASIDE,
    caption: 'Losses in kWh',
    columns: [{ title: 'where' }, ...figureColumns(['kWh'])],
    rows: rows.map(([where, energy]) => [where, fixed(energy, 1)]),
    sums: ['all', fixed(losses.total_kWh, 1)],
  };
}

type Wear = NonNullable<Report['bank']['wear']>;

const ENDS = { cycles: 'its cycles', calendar: 'its years' } as const;

/** One sentence on how long the bank lasts; nothing where its life is not stated. */
export function wearSentence(wear: Wear | null): string {
  if (wear === null) return '';
  const { years_to_end_of_life, worst, cycle_life_used_share, calendar_life_used_share } = wear;
  if (years_to_end_of_life === null || worst === null) return ' Nothing in this year wears it.';
  const shares = [
    ...(cycle_life_used_share === null ? [] : [`${percent(cycle_life_used_share)} of its cycle life`]),
    ...(calendar_life_used_share === null
      ? []
      : [`${percent(calendar_life_used_share)} of its calendar life`]),
  ];
  return ` Worn after ${amount(years_to_end_of_life)} such years, by ${ENDS[worst]} (${shares.join(', ')} in this one).`;
}

/** The cycles of the year by depth. */
export function wearSection({ bank }: Report): Section {
  const { wear } = bank;
  const head = { id: 'wear', title: 'How the bank wears', on: FILES };
  if (wear === null)
    return {
      ...head,
      sentence: `The scenario states no life of the bank, neither bank.cycle_life nor bank.life_years; in this year it makes ${fixed(bank.equivalent_full_cycles, 0)} full cycles.`,
      blocks: [],
    };
  const { cycles_by_depth } = wear;
  const bars = cycles_by_depth.map((band) => ({
    name: fixed(100 * band.depth_to_share, 0),
    value: band.cycles,
    figure: fixed(band.cycles, band.cycles < 10 && !Number.isInteger(band.cycles) ? 1 : 0),
  }));
  const counting = 'Counted by rainflow over the state of charge (ASTM E1049-85); a half counts as 0.5.';
  const chart = {
    id: 'cycles',
    title: 'Cycles of the bank in the year, by depth',
    description: cycles_by_depth.map((band) => `${bandName(band)} %: ${fixed(band.cycles, 1)}`).join('; '),
    caption: counting,
  };
  const axis = 'depth up to, % of capacity';
  return {
    ...head,
    sentence: `${kWh(bank.throughput_kWh)} go through the bank, ${fixed(bank.equivalent_full_cycles, 0)} full cycles.${wearSentence(wear)}`,
    blocks: [
      {
        kind: 'drawing',
        draw: () => [figure(chart, (room) => standingBars(bars, 'f-bank', room, axis))],
      },
      ...textsOf([counting], ['markdown']),
      {
        kind: 'table',
        ...ASIDE,
        caption: 'Cycles in the year by depth',
        columns: [{ title: 'depth, % of capacity' }, ...figureColumns(['cycles'])],
        rows: cycles_by_depth.map((band) => [bandName(band), fixed(band.cycles, 1)]),
      },
    ],
  };
}

const bandName = (band: { depth_from_share: number; depth_to_share: number }): string =>
  `${fixed(100 * band.depth_from_share, 0)} to ${fixed(100 * band.depth_to_share, 0)}`;
