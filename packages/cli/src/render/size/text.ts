import type { Tried } from '@longnight/core/study';
import { amount, counted, fixed, hours, kWh, litres, price, socPercent } from '../document/figures.ts';
import type { Paint } from '../document/paint.ts';
import { beside, LABEL, plain, WIDTH, wrapped } from '../document/plain-text.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { billLines, notPriced } from '../report/bill.ts';
import { PARTS_CAUTION } from '../report/dangers.ts';
import {
  askedText,
  axisNames,
  boundLines,
  currencyOf,
  edgeText,
  frontShown,
  frontWords,
  harderText,
  keepsText,
  leastSentence,
  leastText,
  leastWords,
  playedText,
  type SizeShown,
  valuesOf,
  valueText,
  yearsText,
} from './answers.ts';

const FRONT_ROWS = 12;

/** The answer on a terminal. */
export function sizeText(
  shown: SizeShown,
  written: { readonly folder: string; readonly names: readonly string[] } | null,
  paint: Paint,
): string {
  const { question, answer, bill } = shown;
  const { scenario } = question.files.read;
  const lines = [
    ...wrapped(`${plain(scenario.site.name)}, ${placeWords(scenario.site)}`, WIDTH).map(paint.heading),
    ...wrapped(weatherText(shown), WIDTH),
    '',
  ];
  const say = (label: string, texts: readonly string[], tint?: (text: string) => string): void => {
    const body = texts.flatMap((text) => wrapped(plain(text), WIDTH - LABEL));
    lines.push(...beside(label, body, paint, tint));
  };
  say('Asked', [askedText(question)]);
  say('Looked at', [playedText(shown)]);
  const pick = answer.best ?? answer.nearest;
  const design = pick === null ? undefined : answer.tried(pick);
  if (answer.best === null) say('Answer', ['None: no design keeps every bound.'], paint.bad);
  if (design !== undefined) {
    const name = answer.best === null ? 'Nearest' : 'Answer';
    say(
      name,
      [`Design ${design.index + 1}: ${priceText(shown, design)}.`],
      answer.best === null ? undefined : paint.good,
    );
    const values = valuesOf(question.axes, design.index);
    const edge = edgeText(question, design.index);
    say('', [...question.axes.map((axis, k) => `${axis.path} ${values[k]}`), ...(edge === '' ? [] : [edge])]);
    say('Bounds', [...boundLines(question, design), ...yearLines(shown, design)]);
    say('Its year', yearText(shown));
  }
  if (answer.best !== null && design !== undefined) {
    lines.push('', paint.heading('Beside it, one step along one key'), ...besideRows(shown, design, paint));
  }
  const front = frontRows(shown, paint);
  if (front.length > 0) lines.push('', ...front);
  if (shown.harder.length > 0) {
    lines.push('', paint.heading('If it is harder than that'));
    for (const harder of shown.harder) {
      wrapped(plain(`${harder.words}: ${harderText(shown, harder)}`), WIDTH - 4).forEach((line, k) => {
        lines.push((k === 0 ? '  ' : '    ') + line);
      });
    }
  }
  if (bill !== null && design !== undefined) {
    lines.push('', paint.heading(`Bill of materials of design ${design.index + 1}, ${currencyOf(question)}`));
    lines.push(...billLines(bill.lines, bill.capital, WIDTH - 2).map((line) => `  ${line}`));
    if (bill.capital === null)
      lines.push(...wrapped(notPriced(bill.unpriced), WIDTH - 2).map((line) => `  ${line}`));
  }
  lines.push('', ...wrapped(PARTS_CAUTION, WIDTH));
  if (written !== null) lines.push('', `Files: ${written.names.join(', ')} in ${written.folder}`);
  return `${lines.join('\n')}\n`;
}

/** The hours that designs were played over. */
export function weatherText({ question }: SizeShown): string {
  const { weather, run } = question.files.read.scenario;
  const { seeds } = question;
  if (seeds.length > 0)
    return `${run.year}, ${counted(seeds.length, 'year')} drawn from monthly means (seeds ${seeds[0]} to ${seeds.at(-1)})`;
  return `${run.year}, ${weatherWords({ weather: weather.kind, seed: weather.kind === 'normals' ? weather.seed : null })}`;
}

function priceText({ question }: SizeShown, design: Tried): string {
  const least = leastSentence(question, design.least);
  return question.ask.least === 'money.capital' || design.capital === null
    ? least
    : `${least}, ${price(design.capital)} ${currencyOf(question)} to buy`;
}

function yearLines({ question, years }: SizeShown, design: Tried): string[] {
  if (question.seeds.length === 0) return [];
  const ranks = `Figures are those that ${question.ask.years_to_hold} of ${years.length} years keep to.`;
  return [`All are kept in ${yearsText(question, design)}. ${ranks}`];
}

function yearText({ question, years }: SizeShown): string[] {
  if (question.seeds.length > 0) return [];
  const year = years[0]!;
  const run = year['generator.run_hours'];
  const generator =
    run === null ? 'no generator' : `generator ${hours(run)}, ${litres(year['generator.fuel_L'])} of fuel`;
  return [
    `${amount(year['array.size_kWp'])} kWp, ${kWh(year['bank.usable_kWh'])} usable; ` +
      `${kWh(year['unmet.energy_kWh'])} unserved in ${hours(year['unmet.hours']!)}; ${generator}; ` +
      `lowest charge ${socPercent(year['bank.lowest_soc']!)} %.`,
  ];
}

/** Columns of figures under a head of two lines; the last one is text. */
function rows(
  head: readonly (readonly [string, string])[],
  cells: readonly (readonly string[])[],
  paint: Paint,
): string[] {
  const last = head.length - 1;
  const widths = head.map(([a, b], k) => Math.max(a.length, b.length, ...cells.map((row) => row[k]!.length)));
  const line = (row: readonly string[]): string =>
    `  ${row.map((cell, k) => (k === 0 || k === last ? cell.padEnd(widths[k]!) : cell.padStart(widths[k]!))).join('  ')}`.trimEnd();
  return [
    paint.heading(line(head.map(([a]) => a))),
    paint.heading(line(head.map(([, b]) => b))),
    ...cells.map(line),
  ];
}

/** Columns that every table of designs has. */
const figureHead = ({ question }: SizeShown): readonly (readonly [string, string])[] => [
  ['', 'design'],
  [leastWords(question), currencyOf(question)],
  ['unserved', 'kWh'],
  ['generator', 'h'],
];

const figureCells = ({ question }: SizeShown, design: Tried | null): readonly string[] =>
  design === null
    ? ['', '', '', '']
    : [
        `${design.index + 1}`,
        leastText(question, design.least),
        amount(design.unmet_kWh),
        design.run_hours === null ? 'none' : fixed(design.run_hours, 0),
      ];

function besideRows(shown: SizeShown, best: Tried, paint: Paint): string[] {
  const { question, beside } = shown;
  // Without the numbers of the designs: the steps name them, and lines get long enough.
  const figures = (design: Tried | null): readonly string[] => figureCells(shown, design).slice(1);
  const cells = [
    ['the answer', ...figures(best), 'yes'],
    ...beside.map((step) => [
      `${question.axes[step.axis]!.path} ${valueText(step.value)}`,
      ...figures(step.tried),
      keepsText(question, step.tried),
    ]),
  ];
  return rows([['', ''], ...figureHead(shown).slice(1), ['keeps', 'bounds']], cells, paint);
}

function frontRows(shown: SizeShown, paint: Paint): string[] {
  const { question, answer } = shown;
  const front = frontShown(shown, FRONT_ROWS);
  if (front.length === 0) return [];
  const which = `Cost against unserved energy: ${frontWords(shown, front.length)}`;
  const head = [
    ...figureHead(shown),
    ['keeps', 'bounds'],
    ['', axisNames(question.axes).join(', ')],
  ] as const;
  const cells = front.map((design) => [
    ...figureCells(shown, design),
    design.holds ? 'yes' : 'no',
    `${valuesOf(question.axes, design.index).join(', ')}${design.index === answer.best ? '  <- the answer' : ''}`,
  ]);
  return [...wrapped(which, WIDTH).map(paint.heading), ...rows(head, cells, paint)];
}
