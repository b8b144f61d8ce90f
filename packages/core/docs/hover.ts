/**
 * Gives the properties of the report's types the words that the table of figures has for them, for editors to show:
 * `/** … *\/ readonly name`. What has a comment of its own on the line above keeps it.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { FIGURES } from '@longnight/core';

const FINDINGS = join(import.meta.dirname, '../src/findings');

/** The files that hold types of the report: all of findings but the table of figures itself. */
export const REPORT: readonly string[] = readdirSync(FINDINGS, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts') && !file.startsWith('figures'))
  .map((file) => join(FINDINGS, file));

/** Where in a report the types of the files stand. */
const STANDS: Readonly<Record<string, readonly string[]>> = {
  Report: [],
  ReportHead: [],
  LoadFindings: ['load'],
  UnmetFindings: ['unmet'],
  Autonomy: ['autonomy'],
  GivesOutFirst: ['gives_out_first'],
  Closest: ['gives_out_first', 'closest'],
  GeneratorFindings: ['generator'],
  Drawn: ['shore'],
  ArrayFindings: ['array'],
  BankFindings: ['bank'],
  WearFindings: ['bank', 'wear'],
  Losses: ['losses'],
  MeanPeak: ['peak'],
  Surge: ['surge'],
  StringCheck: ['strings'],
  Money: ['money'],
  Years: ['years'],
  ManyYears: ['ensemble'],
  YearsRow: ['years', 'by_year'],
  ManyYearsRow: ['ensemble', 'by_year'],
  OverYears: ['ensemble', 'over_years'],
  Stretch: ['season_weeks'],
  MonthRow: ['by_month'],
  SurvivalPoint: ['autonomy', 'sunless_hours', 'survival'],
  DayFigures: ['leanest_days', 'by_day'],
};

/** The text of the file as it should be; a test holds the file to it. */
export function hovered(text: string): string {
  const meanings = new Map<string, string>(FIGURES.map(({ name, meaning }) => [name, meaning]));
  let at: readonly string[] = [];
  const lines = text.split('\n');
  return lines
    .map((line, k) => {
      const type = /^export interface (\w+) \{/.exec(line)?.[1];
      if (type !== undefined) at = STANDS[type] ?? ['no figures'];
      else if (/^\S/.test(line) && line !== '}') at = ['no figures'];
      if (/^ +\}/.test(line)) at = at.slice(0, -1);
      const [, margin, property, name] = /^( +)(?:\/\*\*.*?\*\/ )?(readonly (\w+).*)$/.exec(line) ?? [];
      if (name === undefined) return line;
      const meaning = meanings.get([...at, name].join('.'));
      if (line.endsWith('{')) at = [...at, name];
      if (meaning === undefined || lines[k - 1]!.endsWith('*/')) return line;
      return `${margin}/** ${meaning.charAt(0).toUpperCase()}${meaning.slice(1)}. */ ${property}`;
    })
    .join('\n');
}

if (process.argv[1] === import.meta.filename)
  for (const file of REPORT) writeFileSync(file, hovered(readFileSync(file, 'utf8')));
