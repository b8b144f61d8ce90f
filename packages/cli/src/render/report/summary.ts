import type { Report } from '@longnight/core';
import {
  amount,
  clockTime,
  counted,
  days,
  fixed,
  hours,
  hoursAndDays,
  imbalance,
  kWh,
  litres,
  MONTHS,
  percent,
  socPercent,
} from '../document/figures.ts';
import type { Paint } from '../document/paint.ts';
import { beside, LABEL, plain, WIDTH, wrapped } from '../document/plain-text.ts';
import { CURTAILED_WORDS, largestFirst, placeWords, spellWords, weatherWords } from '../document/words.ts';
import { moneySentence } from './bill.ts';
import { dangerSentence, dangersTitle } from './dangers.ts';
import { ensembleLines, ensembleSentences } from './ensemble.ts';
import { everyYearLines, everyYearSentences } from './every-year.ts';
import { otherSources } from './other-sources.ts';
import { serviceSentence } from './service.ts';
import { givesOutSentence, verdictSentence } from './verdict-words.ts';
import { wearSentence } from './wear.ts';
import { yearsLines, yearsSentences } from './years.ts';

/** What the summary says beyond the report itself. */
interface SummaryContext {
  /** The files written and their folder as the user wrote it; null if none were asked for. */
  readonly written: { readonly folder: string; readonly names: readonly string[] } | null;
  /** A line for each bound that was asked for. */
  readonly bounds?: readonly string[];
  /** The months and the darkest spell as bars, ready to print; absent where none are wanted. */
  readonly strips?: { readonly months: readonly string[]; readonly spell: readonly string[] };
}

/** The first screen: five questions a practitioner asks, in that order, then what the answer rests on. */
export function summary(report: Report, context: SummaryContext, paint: Paint): string {
  const { verdict } = report;
  const title = `${plain(report.site.name)}, ${placeWords(report.site)}`;
  const { dangers } = report;
  const answers: [string, readonly string[]][] = [
    ...(dangers.length === 0
      ? []
      : [[dangersTitle(dangers), dangers.map(dangerSentence)] as [string, string[]]]),
    ['Does it hold?', [verdictSentence(report), ...unmetMonths(report)]],
    [`Darkest ${spellWords(report.darkest_spell.days)}`, darkestSpell(report)],
    ['Autonomy', autonomy(report)],
    ['Gives out first', [givesOutSentence(report)]],
    ['Generator', [generator(report)]],
    ...otherSources(report).map(([label, text]): [string, string[]] => [label, [text]]),
    ['Array', [array(report)]],
    ['Bank', [bank(report)]],
    ...(report.money === null ? [] : [['Money', [moneySentence(report.money)]] as [string, string[]]]),
    ...(report.years === null
      ? []
      : ([[`In ${counted(report.years.by_year.length, 'year')}`, yearsSentences(report.years)]] as [
          string,
          readonly string[],
        ][])),
    ...(report.every_year === null
      ? []
      : ([['Every year', everyYearSentences(report.every_year)]] as [string, readonly string[]][])),
    ...(report.ensemble === null
      ? []
      : ([[`${counted(report.ensemble.years, 'seed')}`, ensembleSentences(report.ensemble)]] as [
          string,
          readonly string[],
        ][])),
    ['Books', [books(report)]],
    ['Rests on', [restsOn(report, context)]],
  ];
  if (context.bounds !== undefined && context.bounds.length > 0) answers.push(['Bounds', context.bounds]);
  if (context.written !== null)
    answers.push(['Files', [`${context.written.names.join(', ')} in ${context.written.folder}`]]);
  const lines = [
    ...wrapped(title, WIDTH).map(paint.heading),
    `${report.run.year}, ${weatherWords(report.run)}`,
    '',
  ];
  for (const [label, paragraphs] of answers) {
    const body = paragraphs.flatMap((text) => wrapped(plain(text), WIDTH - LABEL));
    if (label === 'Does it hold?') body.push(...(context.strips?.months ?? []));
    if (label.startsWith('Darkest ')) body.push(...(context.strips?.spell ?? []));
    const isDanger = dangers.length > 0 && label === dangersTitle(dangers);
    const tint = isDanger
      ? paint.bad
      : label === 'Does it hold?'
        ? verdict.holds
          ? paint.good
          : paint.bad
        : undefined;
    lines.push(...beside(label, body, paint, tint));
  }
  if (report.every_year !== null) lines.push('', ...everyYearLines(report.every_year));
  if (report.years !== null) lines.push('', ...yearsLines(report.years));
  if (report.ensemble !== null) lines.push('', ...ensembleLines(report.ensemble));
  return `${lines.join('\n')}\n`;
}

function unmetMonths(report: Report): string[] {
  if (report.unmet.hours === 0) return [];
  const months = report.unmet.by_month_kWh
    .map((energy, m) => ({ energy, name: MONTHS[m]! }))
    .filter((month) => month.energy > 0)
    .sort((a, b) => b.energy - a.energy);
  const shown = months.slice(0, 4).map((month) => `${month.name} ${kWh(month.energy)}`);
  const rest = months.length - shown.length;
  return [`Unserved by month: ${shown.join(', ')}${rest > 0 ? ` and ${rest} more` : ''}.`];
}

function darkestSpell(report: Report): string[] {
  const spell = report.darkest_spell;
  const sun =
    spell.sun_to_load === null
      ? 'no load is wanted'
      : `the array offers ${percent(spell.sun_to_load)} of what the loads want`;
  const unserved = spell.unmet_kWh > 0 ? `${kWh(spell.unmet_kWh)} unserved` : 'nothing unserved';
  const from = `${counted(spell.days, 'day')} from ${spell.start}: ${sun}.`;
  const soc = `Bank from ${socPercent(spell.start_soc)} % down to ${socPercent(spell.lowest_soc)} %; ${unserved}.`;
  if (spell.days > 14) return [`${from} ${soc}`];
  const byDay = spell.by_day.map((day) => socPercent(day.lowest_soc)).join(' ');
  return [`${from} ${soc}`, `Lowest charge day by day: ${byDay} %.`];
}

function autonomy(report: Report): string[] {
  const { nominal_days, dark_hours } = report.autonomy;
  const least = dark_hours.capped ? 'over a year' : hoursAndDays(dark_hours.least);
  return [
    `${days(nominal_days)} nominal: usable bank over mean daily load.`,
    `From a full bank with no sun and no generator, losses in it: ${least} at worst (from ` +
      `${clockTime(dark_hours.least_start)}), ${hoursAndDays(dark_hours.median)} in the middle of all starts.`,
  ];
}

function generator(report: Report): string {
  const { generator } = report;
  if (generator === null) return 'None in this plant.';
  if (generator.run_hours === 0) return 'Never ran.';
  const most = generator.run_hours_by_month.reduce(
    (best, value, m, all) => (value > all[best]! ? m : best),
    0,
  );
  return (
    `${hours(generator.run_hours)} in ${counted(generator.starts, 'start')}, ${litres(generator.fuel_L)} of fuel, ` +
    `${kWh(generator.energy_kWh)} at ${percent(generator.mean_load_share)} of its rating on average; ` +
    `most in ${MONTHS[most]} (${hours(generator.run_hours_by_month[most]!)}).${serviceSentence(generator)}`
  );
}

function array(report: Report): string {
  const { array } = report;
  const [main] = largestFirst(array.curtailed_by_cause_kWh);
  const curtailed =
    main === undefined
      ? 'nothing curtailed'
      : `${percent(array.curtailed_share)} curtailed (most: ${CURTAILED_WORDS[main[0]]})`;
  return (
    `${amount(array.size_kWp)} kWp offered ${kWh(array.available_kWh)}, ${kWh(array.used_kWh)} used, ${curtailed}. ` +
    `Performance ratio ${figureOrNone(array.performance_ratio)}, counted at the loads.`
  );
}

const figureOrNone = (value: number | null): string => fixed(value, 2);

function bank(report: Report): string {
  const { bank } = report;
  const cold =
    bank.hours_too_cold_to_charge > 0 ? `, ${hours(bank.hours_too_cold_to_charge)} too cold to charge` : '';
  return (
    `${kWh(bank.usable_kWh)} usable of ${kWh(bank.capacity_kWh)}; ${kWh(bank.throughput_kWh)} through it, ` +
    `${counted(Math.round(bank.equivalent_full_cycles), 'full cycle')}. ` +
    `Lowest charge ${socPercent(bank.lowest_soc)} % at ${clockTime(bank.lowest_soc_time)}; ` +
    `${hours(bank.hours_at_floor)} at its floor${cold}.${wearSentence(bank.wear)}`
  );
}

function books(report: Report): string {
  const { largest_imbalance_kWh, steps_checked } = report.audit;
  return (
    `Energy in and out was checked in each of ${counted(steps_checked, 'step')}; ` +
    `the largest miss is ${imbalance(largest_imbalance_kWh)}.`
  );
}

function restsOn(report: Report, context: SummaryContext): string {
  const count = counted(report.assumptions.length, 'assumption');
  return context.written === null
    ? `${count}; --out DIR writes a report that lists each.`
    : `${count}; report.md lists each, with the cautions: read both.`;
}
