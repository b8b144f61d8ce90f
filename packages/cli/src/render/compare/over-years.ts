import type { Comparison } from '@longnight/core';
import type { ComparedName, CompareYears, CompareYearsRow, YearsSpread } from '@longnight/core/study';
import { isAsked, judgedWords } from '../check/judge-words.ts';
import {
  type Block,
  type ColumnOf,
  FILES,
  figures,
  type Section,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { titleOf } from '../document/figure-words.ts';
import { counted } from '../document/figures.ts';
import { listed, sentenceCase } from '../document/words.ts';
import { curveFamily } from '../drawing/family.ts';
import { drawing } from '../drawing/page-svg.ts';
import { cellText } from './rows.ts';

/** Plants that keep what is required, in the words of what it is. */
export const keepWords = ({ judge }: Comparison, count: number): string =>
  isAsked(judge) ? `keep${count === 1 ? 's' : ''} what is required` : `hold${count === 1 ? 's' : ''}`;

const labelsOf = ({ plants }: Comparison, keeping: boolean): readonly string[] =>
  plants.filter(({ judged }) => judged.keeps === keeping).map(({ label }) => label);

/** What standard error says where bounds were given and no plant keeps them; null else. */
export function noneKeeps(comparison: Comparison): string | null {
  const { judge, plants } = comparison;
  if (judge.all_served || labelsOf(comparison, true).length > 0) return null;
  return `missed: none of ${counted(plants.length, 'plant')} keeps every requirement`;
}

/** Who keeps what is required, and over many years how often each does; none where nobody asked. */
export function judgedSections(comparison: Comparison): readonly Section[] {
  const { plants, judge, over_years } = comparison;
  if (!isAsked(judge)) return [];
  const [keeping, missing] = [labelsOf(comparison, true), labelsOf(comparison, false)];
  const sentence =
    missing.length === 0
      ? `${plants.length === 2 ? 'Both' : `All ${plants.length}`} plants keep what is required.`
      : keeping.length === 0
        ? `${plants.length === 2 ? 'Neither plant keeps' : `None of ${plants.length} plants keeps`} what is required.`
        : `${sentenceCase(listed(keeping))} ${keeping.length === 1 ? 'keeps' : 'keep'} what is required; ${listed(missing)} ${missing.length === 1 ? 'does' : 'do'} not.`;
  const items = plants.map(({ label, judged }) => `${label}: ${judgedWords(judged, judge)}`);
  return [
    {
      id: 'required',
      title: 'Which keeps what is required?',
      label: 'Keeps it?',
      sentence,
      tone: missing.length === 0 ? 'good' : 'bad',
      blocks: [{ kind: 'list', items }, ...(over_years === null ? [] : yearsBlocks(comparison, over_years))],
    },
  ];
}

/** Who goes short in years in which another does not, and how often how much goes unmet. */
function yearsBlocks({ plants }: Comparison, over: CompareYears): readonly Block[] {
  const shortest = Math.min(...over.short_years);
  const best = over.short_years.indexOf(shortest);
  const against = plants.flatMap(({ label }, k) =>
    k === best ? [] : [shortText(over, k, best, label, plants[best]!.label)],
  );
  const unmet = over.by_year[0]!.map((_, p) => over.by_year.map((year) => year[p]!['unmet.energy_kWh'] ?? 0));
  const sentences = over.short_years.every((years) => years === 0)
    ? [`No plant goes short in any of ${counted(over.years.length, 'year')}.`]
    : against;
  const chart = {
    id: 'exceeded',
    title: 'Unmet energy that so many years come to or go beyond',
    description: plants
      .map(
        ({ label }, p) =>
          `${label}: ${over.short_years[p]} of ${over.years.length} years, at most ${Math.max(...unmet[p]!)} kWh`,
      )
      .join('; '),
    caption: 'Each plant’s years, from the one with most unmet energy on.',
  };
  return [
    ...textsOf([...sentences, 'All plants are played in the same years, with the same weather and loads.']),
    ...(over.years.length < 2 || unmet.flat().every((kWh) => kWh === 0)
      ? []
      : [
          drawing(chart, (room) =>
            curveFamily(
              plants.map(({ label }, p) => ({
                name: label,
                points: unmet[p]!.toSorted((a, b) => b - a).map(
                  (kWh, k) => [(100 * (k + 1)) / over.years.length, kWh] as const,
                ),
                marked: null,
              })),
              '% of the years',
              'Unmet, kWh in a year, at least',
              room,
            ),
          ),
        ]),
  ];
}

/** `In 7 of 20 years sun goes short and engine does not; in none the other way round.` */
function shortText(over: CompareYears, one: number, other: number, name: string, than: string): string {
  const [here, there] = [over.short_alone[one]![other]!, over.short_alone[other]![one]!];
  const of = counted(over.years.length, 'year');
  if (here === 0 && there === 0)
    return `In each of ${of} ${name} and ${than} both go short, or neither does.`;
  const back = there === 0 ? 'in none' : `in ${there}`;
  return here === 0
    ? `In ${there} of ${of} ${than} goes short and ${name} does not; in none the other way round.`
    : `In ${here} of ${of} ${name} goes short and ${than} does not; ${back} the other way round.`;
}

const MEANING =
  'Of 20 years one has less than the 5 % figure, ten less than the median, and one has more than the 95 % figure. ' +
  'A star marks the best mean: of those that have the figure, and in money of those that keep what is required and are no danger.';

/** What a terminal has the room for. */
const ON_SCREEN: ReadonlySet<ComparedName> = new Set([
  'unmet.energy_kWh',
  'unmet.hours',
  'unmet.longest_hours',
  'generator.run_hours',
  'generator.fuel_L',
  'shore.energy_kWh',
  'bank.lowest_soc',
  'money.total',
]);

/** One figure of one plant. */
interface Line {
  readonly row: CompareYearsRow;
  readonly p: number;
}

/** What differs from year to year, for each plant beside its own year. */
export function yearsTable(comparison: Comparison): readonly Section[] {
  const { plants, over_years: over, rows, currency } = comparison;
  if (over === null) return [];
  const told = over.rows.filter(
    ({ name, spreads }) =>
      (currency !== null || !name.startsWith('money.')) &&
      spreads.some((spread) => (spread?.mean ?? 0) !== 0),
  );
  if (told.length === 0) return [];
  const title = `Over ${counted(over.years.length, 'year')}`;
  const cell =
    (which: keyof YearsSpread) =>
    ({ row: { name, spreads, winners }, p }: Line): string =>
      `${cellText(name, spreads[p]?.[which] ?? null)}${which === 'mean' && winners.includes(p) ? ' *' : ''}`;
  const columns: readonly ColumnOf<Line>[] = [
    [
      figures('own year'),
      ({ row, p }) => cellText(row.name, rows.find(({ name }) => name === row.name)!.values[p]!),
    ],
    [figures('5 %'), cell('p5')],
    [figures('median'), cell('p50')],
    [figures('95 %'), cell('p95')],
    [figures('mean'), cell('mean')],
  ];
  const name = ({ row }: Line): string => titleOf(row.name, currency ?? '');
  const linesOf = (all: readonly CompareYearsRow[]): readonly Line[] =>
    all.flatMap((row) => plants.map((_, p) => ({ row, p })));
  const few = linesOf(told.filter((row) => ON_SCREEN.has(row.name)));
  const screen = tableOf(title, few, [['figure', ({ p }) => `  ${plants[p]!.label}`], ...columns]);
  return [
    {
      id: 'over-years',
      title,
      blocks: [
        {
          ...screen,
          on: ['screen'],
          rows: screen.rows.flatMap((cells, k) =>
            few[k]!.p === 0 ? [[name(few[k]!), ...columns.map(() => '')], cells] : [cells],
          ),
        },
        {
          ...tableOf(title, linesOf(told), [
            ['figure', (line) => (line.p === 0 ? name(line) : '')],
            ['plant', ({ p }) => plants[p]!.label],
            ...columns,
          ]),
          on: FILES,
        },
        ...textsOf([MEANING]),
        ...textsOf(
          [
            'Each year begins with the state it ends with, or with run.initial_soc: these are possible years, not years in a row. years.csv holds each year of each plant.',
          ],
          FILES,
        ),
      ],
    },
  ];
}
