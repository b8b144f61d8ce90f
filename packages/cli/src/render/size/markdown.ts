import type { Tried } from '@longnight/core/study';
import { amount, fixed } from '../document/figures.ts';
import { bullets, escaped, table } from '../document/markdown-text.ts';
import { billTable, notPriced } from '../report/bill.ts';
import {
  askedText,
  boundLines,
  cautionsOfSize,
  currencyOf,
  edgeText,
  frontShown,
  frontWords,
  harderText,
  keepsText,
  leastSentence,
  leastText,
  leastWords,
  nothingHolds,
  playedText,
  type SizeShown,
  sizeCommand,
  valuesOf,
  valueText,
} from './answers.ts';
import { weatherText } from './text.ts';

const figures = true as const;
const FRONT_ROWS = 60;

/** size.md: the answer, what stands beside it, the front, harder years, the bill. CommonMark with pipe tables. */
export function sizeMarkdown(shown: SizeShown): string {
  const { question, answer, bill, beside, harder } = shown;
  const { axes } = question;
  const pick = answer.best ?? answer.nearest;
  const design = pick === null ? undefined : answer.tried(pick);
  const sections: [string, string][] = [
    ['Asked', `${escaped(askedText(question))} ${escaped(playedText(shown))}`],
  ];
  if (design !== undefined) {
    const values = valuesOf(axes, design.index);
    const none = nothingHolds(shown);
    sections.push([
      answer.best === null ? 'No design keeps every bound: the nearest' : 'The answer',
      [
        none === null
          ? `Design ${design.index + 1}: ${escaped(leastSentence(question, design.least))}.`
          : `${escaped(none)}.`,
        table(
          [{ title: 'key' }, { title: 'value' }],
          axes.map((axis, k) => [`\`${axis.path}\``, escaped(values[k]!)]),
        ),
        bullets(boundLines(question, design).map(escaped)),
        ...[edgeText(question, design.index)].filter((text) => text !== '').map(escaped),
      ].join('\n\n'),
    ]);
  }
  if (beside.length > 0) {
    sections.push([
      'Beside it, one step along one key',
      table(
        [{ title: 'step' }, ...figureColumns(shown), { title: 'keeps the bounds' }],
        beside.map((step) => [
          `\`${axes[step.axis]!.path}\` ${escaped(valueText(step.value))}`,
          ...figureCells(shown, step.tried),
          escaped(keepsText(question, step.tried)),
        ]),
      ),
    ]);
  }
  sections.push(['Cost against unserved energy', front(shown)]);
  if (harder.length > 0) {
    sections.push([
      'If it is harder than that',
      bullets(harder.map((one) => escaped(`${one.words}: ${harderText(shown, one)}`))),
    ]);
  }
  if (bill !== null && design !== undefined) {
    const unpriced = bill.capital === null ? `\n\n${escaped(notPriced(bill.unpriced))}` : '';
    sections.push([
      `Bill of materials of design ${design.index + 1}, ${escaped(currencyOf(question))}`,
      billTable(bill.lines, bill.capital) + unpriced,
    ]);
  }
  sections.push(['Cautions', bullets(cautionsOfSize(shown).map(escaped))]);
  sections.push(['How to make this again', again(shown)]);
  const head = [
    `# ${escaped(question.files.read.scenario.site.name)}: the design with the least ${question.ask.least}`,
    '',
    `${escaped(weatherText(shown))}.`,
    '',
  ];
  return `${[...head, ...sections.flatMap(([title, body]) => [`## ${title}`, '', body, ''])].join('\n').trimEnd()}\n`;
}

const figureColumns = ({ question }: SizeShown) =>
  [
    'design',
    question.ask.least.startsWith('money.')
      ? `${escaped(currencyOf(question))} ${leastWords(question)}`
      : leastWords(question),
    'unserved, kWh',
    'generator, h',
  ].map((title) => ({ title, figures }));

const figureCells = ({ question }: SizeShown, design: Tried | null): readonly string[] =>
  design === null
    ? ['', '', '', '']
    : [
        `${design.index + 1}`,
        leastText(question, design.least),
        amount(design.unmet_kWh),
        design.run_hours === null ? 'none' : fixed(design.run_hours, 0),
      ];

function front(shown: SizeShown): string {
  const { question, answer } = shown;
  const rows = frontShown(shown, FRONT_ROWS);
  if (rows.length === 0) return 'No design has a price.';
  return [
    `${frontWords(shown, rows.length)}. size.csv has every design played.`,
    table(
      [
        ...figureColumns(shown),
        ...question.axes.map((axis) => ({ title: `\`${axis.path}\``, figures })),
        { title: 'keeps the bounds' },
      ],
      rows.map((design) => [
        ...figureCells(shown, design),
        ...valuesOf(question.axes, design.index).map(escaped),
        (design.holds ? 'yes' : 'no') + (design.index === answer.best ? ', the answer' : ''),
      ]),
    ),
  ].join('\n\n');
}

const again = ({ question }: SizeShown): string =>
  `    ${sizeCommand(question)}\n\nThe same files give the same bytes, on any number of threads.`;
