import type { Comparison, Scenario } from '@longnight/core';
import type { AskedKind, CompareRow } from '@longnight/core/study';
import { judgeOptions, judgeSentences } from '../check/judge-words.ts';
import { againSection, type ReadFrom } from '../document/again.ts';
import {
  type Block,
  type ColumnOf,
  type Document,
  FILES,
  figures,
  present,
  type Section,
  type Table,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { titleOf } from '../document/figure-words.ts';
import { counted, price } from '../document/figures.ts';
import { escaped } from '../document/html.ts';
import { fileWord } from '../document/shell.ts';
import { listed, overWords, seedOf, sentenceCase } from '../document/words.ts';
import { barsSaid, lyingBars } from '../drawing/bars.ts';
import { figure } from '../drawing/page-svg.ts';
import { billSum, billTable, notPriced } from '../report/bill.ts';
import { cautionSection, dangersNamed } from '../report/dangers.ts';
import { noticeText } from '../report/notice-words.ts';
import { verdictSentence } from '../report/verdict-words.ts';
import { dearerSentences } from './dearer-words.ts';
import { judgedSections, keepWords, yearsTable } from './over-years.ts';
import {
  ASKED_WORDS,
  type CompareShown,
  cellText,
  compareCautions,
  compareDangers,
  sectionsOf,
  setBy,
} from './rows.ts';

/** Four plants side by side take a terminal's width; more go below each other. */
const MOST_BESIDE = 4;

/**
 * What `longnight compare` says: which plants hold, their figures side by side, what sets them, what the dearer buys.
 *
 * @param names of the scenario files, in the order in which they were given
 */
export function compareDocument(shown: CompareShown, from: ReadFrom, names: readonly string[]): Document {
  const { comparison, scenario, possible } = shown;
  const { plants, currency, notices, judge, over_years } = comparison;
  const sentences = dearerSentences(comparison);
  const limits = plants.flatMap(({ label, limits }) =>
    setBy(limits).map(([title, what], k) => [k === 0 ? label : '', title, what] as const),
  );
  return {
    title: `${scenario.site.name}: ${counted(plants.length, 'plant')} side by side`,
    dangers: dangersNamed('Danger', compareDangers(comparison)),
    about: [
      overWords(scenario),
      ...judgeSentences(judge, possible),
      `All are played over the hours of ${plants[0]!.label}: its site, weather, loads and year.`,
      ...notices.map((notice) => `! ${noticeText(notice)}`),
    ],
    sections: present([
      ...judgedSections(comparison),
      verdictSection(shown),
      ...askedSections(shown),
      ...yearsTable(comparison),
      ...figureSections(shown),
      {
        id: 'limits',
        title: 'What sets it',
        blocks: [
          tableOf('The limit that sets each figure', limits, [
            ['plant', ([label]) => label],
            ['figure', ([, title]) => title],
            [{ title: 'set by', holds: 'words' }, ([, , what]) => what],
          ]),
        ],
      },
      sentences.length > 0 && {
        id: 'buys',
        title: 'What the dearer one buys',
        blocks: textsOf([
          over_years !== null &&
            `Energy, hours, fuel and costs are means of ${counted(over_years.years.length, 'year')}.`,
          ...sentences,
        ]),
      },
      currency !== null && billsSection(shown, currency),
      ...cautionSection(compareCautions(comparison)),
      againSection(
        `longnight compare ${names.map(fileWord).join(' ')}${judgeOptions(judge)} --out DIR`,
        from,
        'compare.csv and compare.json hold every figure.',
      ),
    ]),
    foot: `Made by Longnight ${from.version}.`,
  };
}

function verdictSection({ comparison, scenario }: CompareShown): Section {
  const { plants, rows, over_years } = comparison;
  const holding = plants.filter((plant) => plant.report.verdict.holds).map((plant) => plant.label);
  const failing = plants.map((plant) => plant.label).filter((label) => !holding.includes(label));
  const drawn = rows.filter(
    (row) => row.name in DRAWN && row.values.some((value) => value !== null) && new Set(row.values).size > 1,
  );
  const both = plants.length === 2;
  const sentence =
    failing.length === 0
      ? `${both ? 'Both' : `All ${plants.length}`} plants hold: no load goes unmet in any.`
      : holding.length === 0
        ? `${both ? 'Neither plant' : `None of ${plants.length} plants`} holds: load goes unmet in each.`
        : `${sentenceCase(listed(holding))} ${holding.length === 1 ? 'holds' : 'hold'}; load goes unmet in ${listed(failing)}.`;
  const items = plants.map((plant) => `${plant.label}: ${verdictSentence(plant.report)}`);
  return {
    id: 'verdict',
    title: over_years === null ? 'Which holds?' : `Which holds in ${ownYear(scenario)} alone?`,
    label: over_years === null ? 'Which holds?' : sentenceCase(ownYear(scenario)),
    sentence,
    tone: failing.length === 0 ? 'good' : 'bad',
    blocks: [
      { kind: 'list', on: FILES, items },
      { kind: 'drawing', draw: () => drawn.flatMap((row, k) => bars(row, comparison, `bars-${k}`)) },
    ],
  };
}

/** The year that the first plant's file names: `drawn year 92`, `2026`. */
const ownYear = ({ weather, run }: Scenario): string => {
  const seed = seedOf(weather);
  return seed === null ? `${run.year}` : `drawn year ${seed}`;
};

/** Rows that are drawn where any plant has the figure and they are not all alike. */
const DRAWN: Readonly<Record<string, string>> = {
  'unmet.energy_kWh': 'f-unmet e-unmet',
  'generator.run_hours': 'f-engine e-engine',
  'bank.lowest_soc': 'f-bank',
  'array.curtailed_share': 'f-unused e-unused',
  'money.total': 'f-socket e-socket',
};

/** Shares are drawn within the whole: a bank at 23 % must not look full. */
const OF_ONE = new Set(['bank.lowest_soc', 'array.curtailed_share']);

function bars({ name, values }: CompareRow, { plants, currency }: Comparison, id: string): string[] {
  const whole = OF_ONE.has(name) ? 1 : undefined;
  const title = titleOf(name, currency ?? '');
  const bars = plants.map(({ label }, p) => ({
    name: label,
    value: values[p]!,
    figure: cellText(name, values[p]!),
  }));
  const chart = {
    id,
    title,
    description: barsSaid(bars),
    ...(whole === undefined ? {} : { caption: 'The dotted line is 100 %.' }),
  };
  return [`<h3>${escaped(title)}</h3>`, figure(chart, (room) => lyingBars(bars, DRAWN[name]!, room, whole))];
}

const starText = (comparison: Comparison): string =>
  `A star marks the best of a row: of those that have the figure, and in money of those that ${keepWords(comparison, 2)} and are no danger.`;

const DIFFER: Readonly<Record<AskedKind, string>> = {
  store: 'The plants differ in their banks alone, which are compared per usable kWh',
  power: 'The plants differ in inverter, charger and trackers alone, which are compared per kW',
  plant: 'Whole plants are compared by their cost over the years per kWh served',
};

/** What the plants differ in, and its price over what it buys. */
function askedSections({ comparison }: CompareShown): readonly Section[] {
  const { asked, plants, currency, over_years } = comparison;
  const rows = asked.rows.filter(({ values }) => values.some((value) => value !== null));
  if (rows.length === 0) return [];
  const best = rows.flatMap(({ name, values, winners }) =>
    winners.map(
      (k) => `${plants[k]!.label} costs least ${ASKED_WORDS[name]}: ${price(values[k]!)} ${currency}`,
    ),
  );
  return [
    {
      id: 'asked',
      title: 'Compared by what differs',
      label: 'What differs',
      sentence: `${DIFFER[asked.kind]}${over_years !== null && asked.kind === 'plant' ? ', the mean of the years' : ''}. ${best.length === 0 ? 'No two that could be the best differ in it.' : `${sentenceCase(best.join('; '))}.`}`,
      blocks: [
        tableOf('Price over what it buys', plants, [
          ['plant', ({ label }) => label],
          ...rows.map(
            ({ name, values, winners }): ColumnOf<unknown> => [
              figures(ASKED_WORDS[name], currency!),
              (_, k) => `${price(values[k]!)}${winners.includes(k) ? ' *' : ''}`,
            ],
          ),
        ]),
      ],
    },
  ];
}

/** The figures of all plants; on a terminal at most four plants beside each other. */
function figureSections({ comparison }: CompareShown): Section[] {
  const { plants } = comparison;
  const groups = sectionsOf(comparison);
  const tableOfSome = (title: string, rows: readonly CompareRow[], from: number, to: number): Table =>
    tableOf(title, rows, [
      ['figure', ({ name }) => titleOf(name)],
      ...plants
        .slice(from, to)
        .map(
          ({ label }, k): ColumnOf<CompareRow> => [
            figures(label),
            ({ name, values, winners }) =>
              `${cellText(name, values[from + k]!)}${winners.includes(from + k) ? ' *' : ''}`,
          ],
        ),
    ]);
  return groups.map(([title, rows], g) => {
    const blocks: Block[] = [{ ...tableOfSome(title, rows, 0, plants.length), on: FILES }];
    for (let from = 0; from < plants.length; from += MOST_BESIDE)
      blocks.push({ ...tableOfSome(title, rows, from, from + MOST_BESIDE), on: ['screen'] });
    if (g === groups.length - 1) blocks.push({ kind: 'text', text: starText(comparison) });
    return { id: `figures-${g}`, title, blocks };
  });
}

function billsSection({ comparison }: CompareShown, currency: string): Section {
  const { plants } = comparison;
  const priced = plants.filter(
    ({ bill, judged, dangers }) => bill.capital !== null && judged.keeps && dangers.length === 0,
  );
  // A plant that is a danger may hold and have its prices: it is none of those meant here.
  const those = (count: 1 | 2): string =>
    keepWords(comparison, count) +
    (plants.every(({ dangers }) => dangers.length === 0)
      ? ''
      : ` and ${count === 1 ? 'is' : 'are'} no danger`);
  const least = Math.min(...priced.map(({ bill }) => bill.capital!));
  const cheapest = priced.filter(({ bill }) => bill.capital === least);
  const names = sentenceCase(listed(cheapest.map(({ label }) => label)));
  const [first] = cheapest;
  const text =
    first === undefined
      ? `No plant that ${those(1)} has a price for everything in it.`
      : `${priced.length === 1 ? `Of those that ${those(2)} only ${first.label} has all its prices` : `${names} ${cheapest.length === 1 ? 'costs' : 'cost'} least to buy of those that ${those(2)}`}: ${billSum(first.bill.lines, least)} ${currency}.`;
  return {
    id: 'bills',
    title: `Bills of materials, ${currency}`,
    blocks: [
      ...textsOf([text]),
      ...plants.flatMap(({ label, bill }): Block[] => [
        { kind: 'heading', text: label },
        billTable(`Bill of materials of ${label}`, currency, bill.lines, bill.capital),
        ...textsOf([bill.capital === null && notPriced(bill.unpriced)]),
      ]),
    ],
  };
}
