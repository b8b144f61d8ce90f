import type { Report } from '@longnight/core';
import {
  asideOf,
  type Block,
  FILES,
  figures,
  present,
  type Section,
  tableOf,
  textsOf,
} from '../document/document.ts';
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
import { type Bar, barsSaid, lyingBars, standingBars } from '../drawing/bars.ts';
import { drawing } from '../drawing/page-svg.ts';
import { survivalCurve } from '../drawing/survival.ts';
import { givesOutSentence } from './verdict-words.ts';

/** The sections about limits of the plant and its bank: autonomy, what gives out first, wear. */

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
      drawing(chart, (room) => survivalCurve(sunless_hours, room)),
      {
        ...tableOf('Share of all starts that a full bank carries so long', sunless_hours.survival, [
          [figures('hours'), (point) => fixed(point.hours, 0)],
          [figures('% of starts'), (point) => fixed(100 * point.starts_share, 1)],
        ]),
        on: ['page'],
        folded: true,
      },
    ],
  };
}

export function givesOutSection(report: Report): Section {
  const { unmet, array, run, gives_out_first } = report;
  const curtailed = largestFirst(array.curtailed_by_cause_kWh).map(
    ([cause, energy]) => [CURTAILED_WORDS[cause], energy] as const,
  );
  const unused =
    curtailed[0] === undefined
      ? 'All sun offered is used.'
      : `Of the sun offered ${percent(array.curtailed_share)} is curtailed, most of it because: ${curtailed[0][0]}.`;
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
        split: curtailed,
        whole_kWh: array.available_kWh,
        of: 'offered',
        fill: 'f-unused e-unused',
      }),
      { kind: 'heading', text: 'How close each limit came', on: FILES },
      closestBars(report),
      ...textsOf(
        [`Means over steps of ${run.step_min} min: a moment within a step may have come closer.`],
        ['markdown'],
      ),
      asideOf('How close the plant came to each limit', gives_out_first.closest, [
        ['limit', (near) => LIMIT_WORDS[near.limit]],
        [figures('% used'), (near) => fixed(100 * near.used_share, 1)],
        ['at', (near) => clockTime(near.time)],
      ]),
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
  const chart = { id, title, description: `${barsSaid(bars)} of what is ${of}.` };
  return [
    { kind: 'heading', text: title, on: FILES },
    drawing(chart, (room) => lyingBars(bars, fill, room)),
    asideOf(`${title}, kWh and share of what is ${of}`, split, [
      ['cause', ([name]) => name],
      [figures('kWh'), ([, energy]) => fixed(energy, 2)],
      [figures('%'), ([, energy]) => fixed((100 * energy) / whole_kWh, 1)],
    ]),
  ];
}

/** Which loads, and in which outages. */
function unmetBlocks({ unmet, load }: Report): Block[] {
  const longest = [...unmet.outages].sort((a, b) => b.hours - a.hours).slice(0, 10);
  const all = `The longest of ${counted(unmet.outages.length, 'outage')}, ${hours(unmet.hours)} in all`;
  return [
    asideOf('Unmet by tier: loads of a lower number are served first', load.by_tier, [
      ['tier', ({ tier }) => `${tier}`],
      [figures('wanted', 'kWh'), ({ wanted_kWh }) => fixed(wanted_kWh, 1)],
      [figures('unmet', 'kWh'), ({ unmet_kWh }) => fixed(unmet_kWh, 2)],
    ]),
    asideOf(all, longest, [
      ['start', (one) => clockTime(one.start)],
      [figures('hours'), (one) => fixed(one.hours, 1)],
      [figures('unmet', 'kWh'), (one) => fixed(one.energy_kWh, 2)],
    ]),
  ];
}

function closestBars({ gives_out_first, run }: Report): Block {
  const bars = gives_out_first.closest.map(({ limit, used_share }) => ({
    name: LIMIT_WORDS[limit],
    value: used_share,
    figure: percent(used_share),
  }));
  const chart = {
    id: 'closest',
    title: 'How close each limit came',
    description: barsSaid(bars, ' used'),
    caption: `The dotted line is the limit. Means over ${run.step_min} min: a moment within may have come closer.`,
  };
  const whole = Math.max(1, ...bars.map((bar) => bar.value));
  return drawing(chart, (room) => lyingBars(bars, 'f-bank', room, whole));
}

/** Where energy is lost, the parts that the plant has, then all. */
function lossTable({ losses, limits, generator }: Report): Block {
  const rows: readonly (readonly [string, number])[] = present([
    ['trackers', losses.tracker_kWh],
    ['bank: charging, discharging, self-discharge', losses.bank_kWh],
    losses.heater_kWh > 0 && ['heaters of the bank', losses.heater_kWh],
    ['inverter, idle draw included', losses.inverter_kWh],
    limits.ac_charging.figure_kW !== null && ['charger', losses.charger_kWh],
    generator && ['generator energy spilled to keep its least load', losses.generator_spilled_kWh],
  ]);
  const table = asideOf('Losses in kWh', rows, [
    ['where', ([where]) => where],
    [figures('kWh'), ([, energy]) => fixed(energy, 1)],
  ]);
  return { ...table, sums: ['all', fixed(losses.total_kWh, 1)] };
}

type Wear = NonNullable<Report['bank']['wear']>;

const ENDS = { cycles: 'its cycles', calendar: 'its years' } as const;

/** One sentence on how long the bank lasts; nothing where its life is not stated. */
export function wearSentence(wear: Wear | null): string {
  if (wear === null) return '';
  const { years_to_end_of_life, worst, cycle_life_used_share, calendar_life_used_share } = wear;
  if (years_to_end_of_life === null || worst === null) return ' Nothing in this year wears it.';
  const shares = present([
    cycle_life_used_share !== null && `${percent(cycle_life_used_share)} of its cycle life`,
    calendar_life_used_share !== null && `${percent(calendar_life_used_share)} of its calendar life`,
  ]);
  return ` Worn after ${amount(years_to_end_of_life)} such years, by ${ENDS[worst]} (${shares.join(', ')} in this one).`;
}

/** The cycles of the year by depth. */
export function wearSection({ bank }: Report): Section {
  const { wear } = bank;
  const head = { id: 'wear', title: 'How the bank wears', on: FILES };
  if (wear === null)
    return {
      ...head,
      sentence: `The scenario states no life of the bank, no bank.cycle_life, bank.life_cycles or bank.life_years; in this year it makes ${fixed(bank.equivalent_full_cycles, 0)} full cycles.`,
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
      drawing(chart, (room) => standingBars(bars, 'f-bank', room, axis)),
      ...textsOf([counting], ['markdown']),
      asideOf('Cycles in the year by depth', cycles_by_depth, [
        ['depth, % of capacity', bandName],
        [figures('cycles'), (band) => fixed(band.cycles, 1)],
      ]),
    ],
  };
}

const bandName = (band: { depth_from_share: number; depth_to_share: number }): string =>
  `${fixed(100 * band.depth_from_share, 0)} to ${fixed(100 * band.depth_to_share, 0)}`;
