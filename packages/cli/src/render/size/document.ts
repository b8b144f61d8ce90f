import type { Tried } from '@longnight/core/study';
import { againSection, type ReadFrom } from '../document/again.ts';
import {
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
import { amount, counted, hours, kWh, litres, price, socPercent } from '../document/figures.ts';
import { axisTitle, axisValue, designText, edgeText, valueAt } from '../document/key-words.ts';
import { overWords, sentenceCase } from '../document/words.ts';
import { keptWords, yearsWords } from '../document/year-words.ts';
import { drawing } from '../drawing/page-svg.ts';
import { scatter } from '../drawing/scatter.ts';
import { billSum, billTable, notPriced } from '../report/bill.ts';
import { cautionSection } from '../report/dangers.ts';
import {
  ageText,
  askedText,
  boundLines,
  cautionsOfSize,
  countsYears,
  currencyOf,
  frontShown,
  frontWords,
  harderText,
  keepsText,
  leastSentence,
  leastWords,
  nothingHolds,
  oftenText,
  playedText,
  type SizeShown,
  sizeCommand,
} from './answers.ts';
import { choiceSection, designColumns } from './designs.ts';

/** Rows of the front where there is little room, and where there is more. */
const FRONT_ROWS = { few: 12, many: 60 };

/** What `longnight size` says: the answer, what stands beside it, the front, harder years, the bill. */
export function sizeDocument(shown: SizeShown, from: ReadFrom): Document {
  const { question, answer, harder, bill } = shown;
  const { scenario } = question.files.read;
  const { possible } = question;
  const pick = answer.best ?? answer.nearest;
  const design = pick === null ? undefined : answer.tried(pick);
  return {
    title: `${scenario.site.name}: the least ${leastWords(question).name}`,
    about: [
      [overWords(scenario, possible.years.length > 0), ...yearsWords(possible)].join(' '),
      askedText(question),
      ...present([ageText(question)]),
      playedText(shown),
    ],
    sections: present([
      design === undefined
        ? { id: 'answer', title: 'Answer', sentence: noneText(nothingHolds(shown)!), tone: 'bad', blocks: [] }
        : answerSection(shown, design),
      shown.beside.length > 0 && design !== undefined && besideSection(shown, design),
      shown.choice.length > 1 && choiceSection(shown),
      frontSection(shown),
      harder.length > 0 && {
        id: 'harder',
        title: 'If it is harder than that',
        blocks: [
          {
            kind: 'list',
            items: harder.map((one) => `${one.words}${oftenText(one)}: ${harderText(shown, one)}`),
          },
        ],
      },
      bill !== null && design !== undefined && billSection(shown, design),
      ...cautionSection(cautionsOfSize(shown)),
      againSection(
        sizeCommand(question),
        from,
        'size.csv holds every design played, size.json every figure; any number of threads makes the same.',
      ),
    ]),
    foot: `Made by Longnight ${from.version} from ${question.files.name}.`,
  };
}

/** What standard error says behind its first word, as a sentence. */
const noneText = (missed: string): string =>
  `${missed.replace(/^missed: (.)/, (_, first: string) => first.toUpperCase())}.`;

function answerSection(shown: SizeShown, design: Tried): Section {
  const { question, years } = shown;
  const { axes, ask, possible } = question;
  const none = nothingHolds(shown);
  const capital =
    ask.least === 'money.capital' || design.capital === null
      ? ''
      : `, ${price(design.capital)} ${currencyOf(question)} to buy`;
  const kept = countsYears(question)
    ? `${ask.holds.every(({ statistic }) => statistic === null) ? 'All' : 'Those without a statistic'} are kept in ${keptWords(design.years_held, years.length, ask.years_to_hold)}`
    : '';
  const rank = `Figures are those that ${ask.years_to_hold} of ${years.length} years keep to.`;
  return {
    id: 'answer',
    title: none === null ? 'The answer' : 'No design keeps every requirement',
    label: 'Answer',
    sentence:
      none === null
        ? `Design ${design.index + 1} (${designText(axes, design.index)}): ${leastSentence(question, design.least)}${capital}.`
        : noneText(none),
    tone: none === null ? 'good' : 'bad',
    blocks: [
      {
        ...tableOf(none === null ? 'What it is made of' : 'The nearest design', axes, [
          ['what', axisTitle],
          [figures('value'), (_, k) => valueAt(axes, design.index, k)],
          [{ title: 'key', holds: 'code' }, ({ path }) => path],
        ]),
        on: FILES,
      },
      { kind: 'list', items: boundLines(question, design) },
      ...textsOf([
        possible.years.length === 0 ? yearText(shown) : `${kept} ${rank}`,
        edgeText(axes, [design.index]),
      ]),
    ],
  };
}

function yearText({ years }: SizeShown): string {
  const year = years[0]!;
  const run = year['generator.run_hours'];
  const generator =
    run === null ? 'no generator' : `generator ${hours(run)}, ${litres(year['generator.fuel_L'])} of fuel`;
  return (
    `Its year: ${amount(year['array.size_kWp'])} kWp, ${kWh(year['bank.usable_kWh'])} usable; ` +
    `${kWh(year['unmet.energy_kWh'])} unmet in ${hours(year['unmet.hours']!)}; ${generator}; ` +
    `lowest state of charge ${socPercent(year['bank.lowest_soc']!)} %.`
  );
}

function besideSection(shown: SizeShown, best: Tried): Section {
  const { question, beside } = shown;
  const keeping = beside.filter((step) => step.tried?.holds === true).length;
  const keep = keeping === 0 ? 'none keeps' : keeping === 1 ? 'one keeps' : `${keeping} keep`;
  const steps = [
    { step: 'the answer', tried: best },
    ...beside.map(({ axis, value, tried }) => ({
      step: axisValue(question.axes[axis]!, value, 'short'),
      tried,
    })),
  ];
  return {
    id: 'beside',
    title: 'Beside it, one step along one key',
    blocks: [
      ...textsOf(
        [`Of the ${counted(beside.length, 'design')} one step away ${keep} the requirements.`],
        FILES,
      ),
      tableOf('Designs one step away', steps, [
        ['step', ({ step }) => step],
        ...designColumns<(typeof steps)[number]>(shown, ({ tried }) => tried),
        ['keeps them all', ({ tried }) => (tried === best ? 'yes' : keepsText(question, tried))],
      ]),
    ],
  };
}

function frontSection(shown: SizeShown): Section {
  const { question } = shown;
  const rows = frontShown(shown, FRONT_ROWS.many);
  // Where all is served everywhere, what the money buys is quiet.
  const byUnmet = rows.length === 0 || rows.some((design) => design.unmet_kWh > 0);
  const isMoney = question.ask.least.startsWith('money.');
  const costs = rows.map((design) => (isMoney ? design.least : design.capital));
  const against = byUnmet ? 'unmet energy' : 'generator hours';
  const isPriced = rows.length === 0 || costs.some((cost) => cost !== null);
  const what = isPriced ? 'Cost' : sentenceCase(leastWords(question).name);
  const head = { id: 'front', title: `${what} against ${against}` };
  if (rows.length === 0) return { ...head, on: FILES, sentence: 'No design has a price.', blocks: [] };
  const xTitle = `${currencyOf(question)} ${isMoney ? leastWords(question).behind : 'to buy'}`;
  const yTitle = byUnmet ? 'Unmet, kWh a year' : 'Generator, h a year';
  const dots = rows.flatMap((design, k) => {
    const name = design.index === shown.answer.best ? `design ${design.index + 1}` : null;
    const y = byUnmet ? design.unmet_kWh : (design.run_hours ?? 0);
    return costs[k] === null ? [] : [{ x: costs[k]!, y, name }];
  });
  const few = frontShown(shown, FRONT_ROWS.few);
  const chart = {
    id: 'front-chart',
    title: `${yTitle}, over ${xTitle}`,
    description: dots.map((dot) => `${amount(dot.x)}: ${amount(dot.y)}`).join('; '),
    caption: 'A dot is a design; the ring is the answer.',
  };
  return {
    ...head,
    blocks: [
      ...textsOf([`${frontWords(shown, few.length)}.`], ['screen']),
      ...textsOf([`${frontWords(shown, rows.length)}.`], FILES),
      ...(dots.length < 2 || dots.every((dot) => dot.y === 0)
        ? []
        : [drawing(chart, (room) => scatter(dots, xTitle, yTitle, room))]),
      { ...frontTable(shown, few), on: ['screen'] },
      { ...frontTable(shown, rows), on: FILES, folded: true },
    ],
  };
}

function frontTable(shown: SizeShown, rows: readonly Tried[]): Table {
  const { question, answer } = shown;
  return tableOf('Designs that no other beats, as figures', rows, [
    [figures('design'), ({ index }) => `${index + 1}`],
    ...designColumns<Tried>(shown, (design) => design),
    ...question.axes.map(
      ({ short, unit }, k): ColumnOf<Tried> => [
        figures(short, unit),
        ({ index }) => valueAt(question.axes, index, k),
      ],
    ),
    [
      'keeps all',
      ({ holds, index }) => `${holds ? 'yes' : 'no'}${index === answer.best ? ', the answer' : ''}`,
    ],
  ]);
}

function billSection({ bill, question }: SizeShown, design: Tried): Section {
  const { lines, capital, unpriced } = bill!;
  const currency = currencyOf(question);
  const text =
    capital === null
      ? notPriced(unpriced)
      : `Design ${design.index + 1} costs ${billSum(lines, capital)} ${currency} to buy.`;
  const title = 'Bill of materials';
  return { id: 'bill', title, blocks: [...textsOf([text]), billTable(title, currency, lines, capital)] };
}
