import type { Compared, CompareRow } from '@longnight/core/study';
import { titleOf } from '../document/figure-words.ts';
import { counted, kWh, socPercent } from '../document/figures.ts';
import { details, escaped, list, paragraph, type Section, table } from '../document/html.ts';
import { pageDocument } from '../document/page.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { lyingBars } from '../drawing/bars.ts';
import { figure, WIDTH } from '../drawing/page-svg.ts';
import { billOnPage, billSum, notPriced } from '../report/bill.ts';
import { listed } from '../report/page-year.ts';
import { againSection, type ReadFrom } from '../week/page.ts';
import { type CompareShown, cellText, compareCautions, compareDangers, sectionsOf, setBy } from './rows.ts';

const figures = true as const;

/**
 * compare.html: plants side by side.
 *
 * @param names of the scenario files, in the order in which they were given
 */
export function comparePage(shown: CompareShown, from: ReadFrom, names: readonly string[]): string {
  const { comparison, scenario } = shown;
  const { plants, currency, sentences, notices } = comparison;
  const { site, run, weather } = scenario;
  const seed = weather.kind === 'normals' ? weather.seed : null;
  return pageDocument({
    title: `${site.name}: ${counted(plants.length, 'plant')} side by side`,
    about: [
      `${placeWords(site)}, ${run.year}. Weather: ${weatherWords({ weather: weather.kind, seed })}.`,
      `All are played over the hours of ${plants[0]!.label}: its site, weather, loads and year.`,
      ...compareDangers(comparison),
      ...notices.map((notice) => notice.message),
    ],
    sections: [
      beside(shown),
      figuresSection(shown),
      setSection(plants),
      ...(sentences.length === 0
        ? []
        : [
            {
              id: 'buys',
              title: 'What the dearer one buys',
              sentence: sentences[0]!,
              body: sentences.slice(1).map((text) => paragraph(text)),
            },
          ]),
      ...(currency === null ? [] : [billsSection(plants, currency)]),
      {
        id: 'cautions',
        title: 'Cautions',
        sentence: 'These figures are models of plants; whoever wires one needs these as well.',
        body: [list(compareCautions(comparison))],
      },
      againSection(
        `longnight compare ${names.join(' ')} --out DIR`,
        from,
        'compare.csv and compare.json hold every figure.',
      ),
    ],
    foot: `Made by Longnight ${from.version}.`,
  });
}

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

function beside({ comparison }: CompareShown): Section {
  const { plants, rows, currency } = comparison;
  const holding = plants.filter((plant) => plant.report.verdict.holds).map((plant) => plant.label);
  const drawn = rows.filter(
    (row) => row.name in DRAWN && row.values.some((value) => value !== null) && new Set(row.values).size > 1,
  );
  const words = ({ name }: CompareRow): string => titleOf(name, currency ?? '');
  return {
    id: 'verdict',
    title: 'Which holds?',
    sentence:
      holding.length === plants.length
        ? `${plants.length === 2 ? 'Both' : `All ${plants.length}`} plants hold: no load goes unserved in any.`
        : holding.length === 0
          ? `${plants.length === 2 ? 'Neither plant' : `None of ${plants.length} plants`} holds: load goes unserved in each.`
          : `${listed(holding)} ${holding.length === 1 ? 'holds' : 'hold'}; load goes unserved in ${listed(plants.map((plant) => plant.label).filter((label) => !holding.includes(label)))}.`,
    tone: holding.length === plants.length ? 'verdict' : 'verdict fails',
    body: [
      list(plants.map((plant) => `${plant.label}: ${plant.report.verdict.sentence}`)),
      ...drawn.flatMap((row, k) => {
        const bars = plants.map((plant, p) => ({
          name: plant.label,
          value: row.values[p]!,
          figure: cellText(row.name, row.values[p]!),
        }));
        const whole = OF_ONE.has(row.name) ? 1 : undefined;
        const chart = {
          id: `bars-${k}`,
          title: words(row),
          description: bars.map((bar) => `${bar.name}: ${bar.figure}`).join('; '),
          ...(whole === undefined ? {} : { caption: 'The dotted line is 100 %.' }),
        };
        return [
          `<h3>${escaped(words(row))}</h3>`,
          figure(chart, {
            wide: lyingBars(bars, DRAWN[row.name]!, WIDTH.wide, whole),
            narrow: lyingBars(bars, DRAWN[row.name]!, WIDTH.narrow, whole),
          }),
        ];
      }),
    ],
  };
}

function figuresSection({ comparison }: CompareShown): Section {
  const { plants } = comparison;
  return {
    id: 'figures',
    title: 'Side by side',
    sentence: `${plants.map((plant) => `${plant.label}: ${kWh(plant.report.unmet.energy_kWh)} unserved, lowest charge ${socPercent(plant.report.bank.lowest_soc)} %`).join('; ')}. A star marks the best of a row, where one end is better and not all are alike.`,
    body: sectionsOf(comparison).map(([title, some]) =>
      table({
        caption: title,
        columns: [{ title: 'figure' }, ...plants.map((plant) => ({ title: plant.label, figures }))],
        rows: some.map((row) => [
          titleOf(row.name),
          ...row.values.map(
            (value, p) => `${cellText(row.name, value)}${row.winners.includes(p) ? ' *' : ''}`,
          ),
        ]),
      }),
    ),
  };
}

function setSection(plants: readonly Compared[]): Section {
  const [first] = plants;
  const causes = setBy(first!.limits).map(([title, what]) => `${title} by ${what}`);
  return {
    id: 'limits',
    title: 'What sets it',
    sentence: `In ${first!.label} the limits set ${listed(causes)}.`,
    body: [
      table({
        caption: 'The limit that sets each figure',
        columns: [{ title: 'plant' }, { title: 'figure' }, { title: 'set by' }],
        rows: plants.flatMap((plant) =>
          setBy(plant.limits).map(([title, what], k) => [k === 0 ? plant.label : '', title, what]),
        ),
      }),
    ],
  };
}

function billsSection(plants: readonly Compared[], currency: string): Section {
  const priced = plants.filter((plant) => plant.bill.capital !== null);
  const cheapest = [...priced].sort((a, b) => a.bill.capital! - b.bill.capital!)[0];
  return {
    id: 'bills',
    title: 'Bills of materials',
    sentence:
      cheapest === undefined
        ? 'No plant has a price for everything in it.'
        : `${cheapest.label} costs least to buy: ${billSum(cheapest.bill.lines, cheapest.bill.capital!)} ${currency}.`,
    body: plants.flatMap(({ label, bill }) => [
      details(
        `Bill of materials of ${label}`,
        billOnPage(`Bill of materials of ${label}`, currency, bill.lines, bill.capital),
        true,
      ),
      ...(bill.capital === null ? [paragraph(notPriced(bill.unpriced))] : []),
    ]),
  };
}
