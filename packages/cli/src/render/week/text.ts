import { dangersOf, plantOf, type SpellAnswer } from '@longnight/core';
import { fixed, percent, socPercent } from '../document/figures.ts';
import type { Paint } from '../document/paint.ts';
import { beside, LABEL, plain, WIDTH, wrapped } from '../document/plain-text.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import { dangerSentence, dangersTitle, PARTS_CAUTION } from '../report/dangers.ts';
import { askedText, dayCells, isRidden, type SpellShown, spellAnswers } from './answers.ts';

/** The answer on a terminal: what was asked, the answers, the days. */
export function spellText(
  shown: SpellShown,
  written: { readonly folder: string; readonly names: readonly string[] } | null,
  paint: Paint,
): string {
  const { answer, years } = shown;
  const { site, weather } = answer.year.scenario;
  const dangers = dangersOf(answer.year, plantOf(answer.year.scenario));
  const seed = weather.kind === 'normals' ? weather.seed : null;
  const lines = [
    ...wrapped(`${plain(site.name)}, ${placeWords(site)}`, WIDTH).map(paint.heading),
    `${answer.year.clock.year}, ${weatherWords({ weather: weather.kind, seed })}`,
    '',
    ...(dangers.length === 0 ? [] : [paint.bad(dangersTitle(dangers))]),
    ...dangers.flatMap((danger) => [...wrapped(plain(dangerSentence(danger)), WIDTH), '']),
    ...wrapped(askedText(shown), WIDTH),
    '',
  ];
  for (const [label, text] of spellAnswers(shown)) {
    const tint = label === 'Ridden out?' ? (isRidden(answer) ? paint.good : paint.bad) : undefined;
    lines.push(...beside(label, wrapped(text, WIDTH - LABEL), paint, tint));
  }
  if (years !== null) lines.push('', ...yearRows(shown, paint));
  lines.push('', ...dayRows(answer, paint), '', ...wrapped(PARTS_CAUTION, WIDTH));
  if (written !== null) lines.push('', `Files: ${written.names.join(', ')} in ${written.folder}`);
  return `${lines.join('\n')}\n`;
}

/** Right-aligned columns under a head of two lines. */
function rows(
  head: readonly (readonly [string, string])[],
  cells: readonly (readonly string[])[],
  paint: Paint,
) {
  const widths = head.map(([a, b], k) => Math.max(a.length, b.length, ...cells.map((row) => row[k]!.length)));
  const line = (row: readonly string[]): string =>
    row.map((cell, k) => (k === 0 ? cell.padEnd(widths[k]!) : cell.padStart(widths[k]! + 2))).join('');
  return [
    paint.heading(line(head.map(([a]) => a))).trimEnd(),
    line(head.map(([, b]) => b)).trimEnd(),
    ...cells.map((row) => line(row).trimEnd()),
  ];
}

function dayRows(answer: SpellAnswer, paint: Paint): string[] {
  const generator = answer.generator;
  const head: [string, string][] = [
    ['day', ''],
    ['wanted', 'kWh'],
    ['sun offered', 'kWh'],
    ...(generator ? ([['generator', 'kWh']] as [string, string][]) : []),
    ['unserved', 'kWh'],
    ['lowest SoC', '%'],
    ['at midnight', '%'],
  ];
  const cells = answer.by_day.map((day) => dayCells(day, generator));
  return rows(head, cells, paint);
}

function yearRows({ years, ask }: SpellShown, paint: Paint): string[] {
  const head: [string, string][] = [
    ['year', ''],
    [ask.days === 1 ? 'darkest day' : 'darkest days from', ''],
    ['sun/load', ''],
    ['unserved', 'kWh'],
    ['hours', ''],
    ['lowest SoC', '%'],
    ['rides', 'days'],
    ['modules', 'to ride'],
  ];
  const cells = years!.years.map(({ year, answer }, k) => [
    `${year}${k === years!.worst ? ' *' : ''}`,
    answer.start,
    percent(answer.sun_to_load),
    fixed(answer.unmet_kWh, 2),
    fixed(answer.unmet_hours, Number.isInteger(answer.unmet_hours) ? 0 : 1),
    socPercent(answer.lowest_soc),
    answer.rides_days === null ? 'all' : fixed(answer.rides_days, 1),
    answer.modules_to_ride === null ? 'none' : fixed(answer.modules_to_ride, 0),
  ]);
  const out = years!.left_out.flatMap(({ year, why }) =>
    wrapped(plain(`${year} is left out: ${why}`), WIDTH),
  );
  return [...rows(head, cells, paint), '* hardest to ride out; its days are below', ...out];
}
