import { LEDGER_COLUMNS, type Report, type StaticLimits } from '@longnight/core';
import { clockTime, counted, fixed, hours, imbalance, kW, kWh } from '../document/figures.ts';
import { bullets, escaped, table } from '../document/markdown-text.ts';
import {
  CURTAILED_WORDS,
  LIMIT_WORDS,
  largestFirst,
  placeWords,
  spellWords,
  UNMET_WORDS,
  weatherWords,
} from '../document/words.ts';
import { grouped } from './assumption-groups.ts';
import { moneyMarkdown } from './bill.ts';
import { conductorSentences, surgeSentences } from './conductor.ts';
import { dangerSentence, dangersTitle } from './dangers.ts';
import { ensembleSection } from './ensemble.ts';
import { everyYearSection } from './every-year.ts';
import { limitWords } from './limit-words.ts';
import { lossRows } from './losses.ts';
import { answers } from './markdown-answers.ts';
import { months, spellDays } from './markdown-time.ts';
import { noticeText } from './notice-words.ts';
import { peakSentences } from './peak.ts';
import { runCommand } from './run-command.ts';
import { staticFigures } from './static-figures.ts';
import { stringSentences, stringsTitle } from './strings.ts';
import { wearSection } from './wear.ts';
import { yearsSection } from './years.ts';

/** What report.md says beyond the report itself. Nothing in it may depend on the machine or the folder. */
export interface MarkdownContext {
  /** Name of the scenario file, without its folder. */
  readonly scenarioName: string;
  /** Every file that was read, by the name used for it, with the SHA-256 of its bytes. */
  readonly read: readonly { readonly name: string; readonly sha256: string }[];
  readonly version: string;
}

/** report.md: the summary's answers, then the tables behind them. CommonMark with pipe tables. */
export function reportMarkdown(report: Report, context: MarkdownContext): string {
  const { site, run, dangers } = report;
  const sections: [string, string][] = [
    ...(dangers.length === 0
      ? []
      : [
          [
            dangersTitle(dangers),
            bullets(dangers.map((danger) => `**${escaped(dangerSentence(danger))}**`)),
          ] as [string, string],
        ]),
    ['Answers', answers(report)],
    ['Month by month', months(report)],
    [`The darkest ${spellWords(report.darkest_spell.days)}, day by day`, spellDays(report)],
    ['Why load went unserved', unmetCauses(report)],
    ['Why sun went unused', curtailedCauses(report)],
    ['What the plant can do before an hour is played', limits(report.limits)],
    [
      'What the loads can ask for at once',
      [...peakSentences(report), ...surgeSentences(report.surge)].map(escaped).join('\n\n'),
    ],
    [
      'Cable between bank and inverter',
      bullets(conductorSentences(report.limits.bank_conductor).map(escaped)),
    ],
    ...report.strings.map((check): [string, string] => [
      escaped(stringsTitle(check)),
      bullets(stringSentences(check).map(escaped)),
    ]),
    ['How close each limit came', closest(report)],
    ['Losses', losses(report)],
    ...(report.money === null ? [] : [['Money', moneyMarkdown(report.money)] as [string, string]]),
    ['How the bank wears', wearSection(report.bank.wear)],
    ...(report.years === null
      ? []
      : ([['Year after year', yearsSection(report.years)]] as [string, string][])),
    ...(report.every_year === null
      ? []
      : ([['Every year of the weather file', everyYearSection(report.every_year)]] as [string, string][])),
    ...(report.ensemble === null
      ? []
      : ([['Other years that fit the same means', ensembleSection(report.ensemble)]] as [string, string][])),
    ['Cautions', bullets(report.cautions.map(escaped))],
    ['Notices', notices(report)],
    ['Assumptions', assumptions(report.assumptions)],
    ['How to make this report again', reproduce(report, context)],
  ];
  const head = [
    `# ${escaped(site.name)}: the year ${run.year}`,
    '',
    `${placeWords(site)}, ${escaped(site.time_zone)}. Weather: ${weatherWords(run)}. ` +
      `${counted(run.steps, 'step')} of ${run.step_min} min.`,
    '',
  ];
  return `${[...head, ...sections.flatMap(([title, body]) => [`## ${title}`, '', body, ''])].join('\n').trimEnd()}\n`;
}

function unmetCauses(report: Report): string {
  const { unmet, load } = report;
  if (unmet.energy_kWh === 0) return 'No load went unserved.';
  const causes = table(
    [{ title: 'cause' }, { title: 'kWh', figures: true }, { title: '% of unmet', figures: true }],
    largestFirst(unmet.by_cause_kWh).map(([cause, energy]) => [
      UNMET_WORDS[cause],
      fixed(energy, 2),
      fixed((100 * energy) / unmet.energy_kWh, 1),
    ]),
  );
  const tiers = table(
    [{ title: 'tier' }, { title: 'wanted, kWh', figures: true }, { title: 'unmet, kWh', figures: true }],
    load.by_tier.map((tier) => [`${tier.tier}`, fixed(tier.wanted_kWh, 1), fixed(tier.unmet_kWh, 2)]),
  );
  const longest = [...unmet.spells].sort((a, b) => b.hours - a.hours).slice(0, 10);
  const spells = table(
    [{ title: 'start' }, { title: 'hours', figures: true }, { title: 'unmet, kWh', figures: true }],
    longest.map((spell) => [clockTime(spell.start), fixed(spell.hours, 1), fixed(spell.energy_kWh, 2)]),
  );
  return [
    causes,
    'Loads of a lower tier number are served first.',
    tiers,
    `${counted(unmet.spells.length, 'spell')} with unserved load, ${hours(unmet.hours)} in all. The longest:`,
    spells,
  ].join('\n\n');
}

function curtailedCauses(report: Report): string {
  const { array } = report;
  if (array.curtailed_kWh === 0) return 'No array energy went unused.';
  return table(
    [{ title: 'cause' }, { title: 'kWh', figures: true }, { title: '% of offered', figures: true }],
    largestFirst(array.curtailed_by_cause_kWh).map(([cause, energy]) => [
      CURTAILED_WORDS[cause],
      fixed(energy, 1),
      fixed((100 * energy) / array.available_kWh, 1),
    ]),
  );
}

function closest(report: Report): string {
  const rows = report.gives_out_first.closest.map((near) => [
    LIMIT_WORDS[near.limit],
    fixed(100 * near.used_share, 1),
    clockTime(near.time),
  ]);
  return [
    `Means over steps of ${report.run.step_min} min: a moment within a step may have come closer.`,
    table([{ title: 'limit' }, { title: '% used', figures: true }, { title: 'at' }], rows),
  ].join('\n\n');
}

const losses = (report: Report): string =>
  table(
    [{ title: 'where' }, { title: 'kWh', figures: true }],
    lossRows(report).map(([where, energy]) => [where, fixed(energy, 1)]),
  );

const notices = (report: Report): string =>
  report.notices.length === 0
    ? 'None: nothing was filled or clipped on the way in.'
    : bullets(report.notices.map((notice) => escaped(noticeText(notice))));

function reproduce(report: Report, context: MarkdownContext): string {
  const { largest_imbalance_kWh, steps_checked } = report.audit;
  return [
    `    ${runCommand(report, context.scenarioName)}`,
    `Longnight ${context.version}, report format ${report.longnight.format}. The same files give the same bytes. Read were:`,
    table(
      [{ title: 'file' }, { title: 'SHA-256' }],
      context.read.map((file) => [escaped(file.name), file.sha256]),
    ),
    `The books were checked in ${counted(steps_checked, 'step')}; the largest miss is ${imbalance(largest_imbalance_kWh)}. ` +
      `hours.csv holds every step (${LEDGER_COLUMNS.length} ledger columns), report.json every figure: ` +
      `${kWh(report.load.wanted_kWh)} wanted is the sum of its column load_wanted_kWh, and so on.`,
  ].join('\n\n');
}

/** Every assumption. */
function assumptions(list: Report['assumptions']): string {
  const rows = grouped(list).map(({ path, value, why }) => [
    `\`${path.replaceAll('`', '')}\``,
    value === null ? '' : escaped(String(value)),
    escaped(why),
  ]);
  return [
    `${counted(list.length, 'assumption')}: defaults that the scenario left open, and what the model leaves out.`,
    table([{ title: 'what' }, { title: 'value' }, { title: 'why' }], rows),
  ].join('\n\n');
}

/** The static figures: for each the limits in ascending order, the first of which sets it. */
function limits(limits: StaticLimits): string {
  const rows = staticFigures(limits).flatMap(({ title, figure, none }) =>
    figure.limits.length === 0
      ? [[title, none, 'n/a']]
      : figure.limits.map((limit, k) => [
          k === 0 ? title : '',
          k === 0 ? `**${escaped(limitWords(limit))}**` : escaped(limitWords(limit)),
          fixed(limit.limit_kW, 2),
        ]),
  );
  return [
    `The bank stores ${kWh(limits.capacity_kWh)}, of which ${kWh(limits.usable_kWh)} may be used. The limit in bold sets ` +
      `each figure; of the AC output, ${kW(limits.ac_output.after_inverter_loss_kW)} reach the loads. ` +
      'A charging limit caps what goes into the bank; load served in the same hour comes on top of it.',
    table([{ title: 'figure' }, { title: 'limit' }, { title: 'kW', figures: true }], rows),
  ].join('\n\n');
}
