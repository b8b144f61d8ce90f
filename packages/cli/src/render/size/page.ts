import type { Tried } from '@longnight/core/study';
import { amount, fixed } from '../document/figures.ts';
import { details, list, paragraph, type Section, table } from '../document/html.ts';
import { pageDocument } from '../document/page.ts';
import { figure } from '../drawing/page-svg.ts';
import { scatter } from '../drawing/scatter.ts';
import { billOnPage, billSum, notPriced } from '../report/bill.ts';
import { againSection, type ReadFrom } from '../week/page.ts';
import {
  askedText,
  boundLines,
  cautionsOfSize,
  currencyOf,
  designText,
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

/** size.html: the answer, what stands beside it, the front, harder years, the bill. */
export function sizePage(shown: SizeShown, from: ReadFrom): string {
  const { question, answer } = shown;
  const pick = answer.best ?? answer.nearest;
  const design = pick === null ? undefined : answer.tried(pick);
  return pageDocument({
    title: `${question.files.read.scenario.site.name}: the least ${question.ask.least}`,
    about: [`${weatherText(shown)}.`, askedText(question), playedText(shown)],
    sections: [
      answerSection(shown, design),
      ...(shown.beside.length === 0 ? [] : [besideSection(shown)]),
      frontSection(shown),
      ...(shown.harder.length === 0 ? [] : [harderSection(shown)]),
      ...(shown.bill === null || design === undefined ? [] : [billSection(shown, design)]),
      {
        id: 'cautions',
        title: 'Cautions',
        sentence: 'The design above is chosen by a model; whoever wires one needs these as well.',
        body: [list(cautionsOfSize(shown))],
      },
      againSection(
        sizeCommand(question),
        from,
        'size.csv holds every design played, size.json every figure.',
      ),
    ],
    foot: `Made by Longnight ${from.version} from ${question.files.name}.`,
  });
}

function answerSection(shown: SizeShown, design: Tried | undefined): Section {
  const { question, answer } = shown;
  const none = nothingHolds(shown);
  const title = answer.best === null ? 'No design keeps every bound' : 'The answer';
  if (design === undefined)
    return { id: 'answer', title, sentence: `${none}.`, tone: 'verdict fails', body: [] };
  const values = valuesOf(question.axes, design.index);
  const edge = edgeText(question, design.index);
  return {
    id: 'answer',
    title,
    sentence:
      none === null
        ? `Design ${design.index + 1}, ${designText(question.axes, design.index)}: ${leastSentence(question, design.least)}.`
        : `${none}.`,
    tone: none === null ? 'verdict' : 'verdict fails',
    body: [
      table({
        caption: none === null ? 'What it is made of' : 'The nearest design',
        columns: [
          { title: 'key', code: true },
          { title: 'value', figures },
        ],
        rows: question.axes.map((axis, k) => [axis.path, values[k]!]),
      }),
      list(boundLines(question, design)),
      ...(edge === '' ? [] : [paragraph(edge)]),
    ],
  };
}

const figureColumns = ({ question }: SizeShown) =>
  [
    'design',
    question.ask.least.startsWith('money.')
      ? `${currencyOf(question)} ${leastWords(question)}`
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

function besideSection(shown: SizeShown): Section {
  const { question, beside } = shown;
  const keeping = beside.filter((step) => step.tried?.holds === true).length;
  return {
    id: 'beside',
    title: 'Beside it, one step along one key',
    sentence: `Of the ${beside.length} designs one step away ${keeping === 0 ? 'none keeps' : keeping === 1 ? 'one keeps' : `${keeping} keep`} the bounds.`,
    body: [
      table({
        caption: 'Designs one step away',
        columns: [{ title: 'step', code: true }, ...figureColumns(shown), { title: 'keeps the bounds' }],
        rows: beside.map((step) => [
          `${question.axes[step.axis]!.path} ${valueText(step.value)}`,
          ...figureCells(shown, step.tried),
          keepsText(question, step.tried),
        ]),
      }),
    ],
  };
}

function frontSection(shown: SizeShown): Section {
  const { question, answer } = shown;
  const rows = frontShown(shown, FRONT_ROWS);
  // Where all is served everywhere, what the money buys is quiet.
  const byUnmet = rows.length === 0 || rows.some((design) => design.unmet_kWh > 0);
  const title = `Cost against ${byUnmet ? 'unserved energy' : 'generator hours'}`;
  const head = { id: 'front', title };
  if (rows.length === 0) return { ...head, sentence: 'No design has a price.', body: [] };
  const isMoney = question.ask.least.startsWith('money.');
  const costs = rows.map((design) => (isMoney ? design.least : design.capital));
  const xTitle = `${currencyOf(question)} ${isMoney ? leastWords(question) : 'to buy'}`;
  const value = (design: Tried): number => (byUnmet ? design.unmet_kWh : (design.run_hours ?? 0));
  const yTitle = byUnmet ? 'Unserved, kWh a year' : 'Generator, h a year';
  const dots = rows.flatMap((design, k) =>
    costs[k] === null
      ? []
      : [
          {
            x: costs[k]!,
            y: value(design),
            name: design.index === answer.best ? `design ${design.index + 1}` : null,
          },
        ],
  );
  const chart = {
    id: 'front-chart',
    title: `${yTitle}, over ${xTitle}`,
    description: dots.map((dot) => `${amount(dot.x)}: ${amount(dot.y)}`).join('; '),
    caption: 'A dot is a design; the ring is the answer.',
  };
  return {
    ...head,
    sentence: `${frontWords(shown, rows.length)}.`,
    body: [
      ...(dots.length < 2 || dots.every((dot) => dot.y === 0)
        ? []
        : [
            figure(chart, {
              wide: scatter(dots, xTitle, yTitle, 'wide'),
              narrow: scatter(dots, xTitle, yTitle, 'narrow'),
            }),
          ]),
      details(
        'These designs as figures',
        table({
          caption: 'Designs that no other beats',
          columns: [
            ...figureColumns(shown),
            ...question.axes.map((axis) => ({ title: axis.path, figures })),
            { title: 'keeps the bounds' },
          ],
          rows: rows.map((design) => [
            ...figureCells(shown, design),
            ...valuesOf(question.axes, design.index),
            (design.holds ? 'yes' : 'no') + (design.index === answer.best ? ', the answer' : ''),
          ]),
        }),
      ),
    ],
  };
}

function harderSection(shown: SizeShown): Section {
  const [first, ...others] = shown.harder.map((one) => `${one.words}: ${harderText(shown, one)}`);
  return {
    id: 'harder',
    title: 'If it is harder than that',
    sentence: first!.charAt(0).toUpperCase() + first!.slice(1),
    body: others.map((text) => paragraph(text.charAt(0).toUpperCase() + text.slice(1))),
  };
}

function billSection(shown: SizeShown, design: Tried): Section {
  const { lines, capital, unpriced } = shown.bill!;
  const currency = currencyOf(shown.question);
  return {
    id: 'bill',
    title: 'Bill of materials',
    sentence:
      capital === null
        ? notPriced(unpriced)
        : `Design ${design.index + 1} costs ${billSum(lines, capital)} ${currency} to buy.`,
    body: [billOnPage('Bill of materials', currency, lines, capital)],
  };
}
