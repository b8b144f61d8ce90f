/**
 * Errors as data. Everything that can be wrong with what a user gave us becomes an `Issue`; all issues of
 * one reading are collected and thrown together. Anything else that is thrown is our own fault.
 */

import { expectArgument } from './arguments.ts';
import { atBar } from './bar.ts';

/** Where in the user's files something is wrong. Lines, columns and rows count from 1, as editors and spreadsheets do. */
export interface Place {
  /** Name as the scenario writes it. */ readonly file: string;
  /** From 1. */ readonly line?: number;
  /** Of the line, from 1. */ readonly column?: number;
  /** Place of a value, from 0, in a series that was handed over as numbers; `field` is then the name of its column. */
  readonly index?: number;
  /** Name of a CSV column, when the place is a cell; `line` is then the row of the file, header included. */
  readonly field?: string;
}

/** One thing that is wrong with what a user gave us. */
export interface Issue {
  /** Stable, kebab-case: `unknown-key`, `wrong-type`, `out-of-range`, `gap`, … */ readonly code: string;
  /** Scenario path such as `bank.module.capacity_Ah`, or empty. */ readonly path: string;
  /** One sentence: what is wrong, with the value that was found. */ readonly message: string;
  /** What was expected instead. */ readonly expected?: string;
  /** What to do about it. */ readonly fix?: string;
  /** Left out where no file is to blame. */ readonly place?: Place;
}

/** A place as text: `load.csv:18 column "kW"`, `loads[0].series column "power" index 16`. */
export function placeText({ file, line, column, field, index }: Place): string {
  let where = file;
  if (line !== undefined) where += `:${line}`;
  if (column !== undefined) where += `:${column}`;
  if (field !== undefined) where += ` column "${field}"`;
  if (index !== undefined) where += ` index ${index}`;
  return where;
}

/** One issue as a line of text: place, path, what, expected, fix. */
export function issueText(issue: Issue): string {
  expectArgument('issueText', 'issue', issue, 'issue');
  const where = issue.place === undefined ? '' : `${placeText(issue.place)}: `;
  const path = issue.path === '' ? '' : `${issue.path}: `;
  const expected = issue.expected === undefined ? '' : `; expected ${issue.expected}`;
  const fix = issue.fix === undefined ? '' : `\n    fix: ${issue.fix}`;
  return `${where}${path}${issue.message}${expected}${fix}`;
}

/** Sorts issues by line and column; those without a place come first. */
export function inFileOrder(issues: readonly Issue[]): Issue[] {
  const order = (place: Place | undefined) => (place?.line ?? 0) * 1e6 + (place?.column ?? 0);
  return [...issues].sort((a, b) => order(a.place) - order(b.place));
}

/** The user's input can't be played. Carries the issues found, in file order: all of them, unless they are hundreds. */
export class InputError extends Error {
  readonly code = 'input';
  readonly issues: readonly Issue[];
  /** Issues that are counted only, beyond those of `issues`. */
  readonly more: number;
  constructor(issues: readonly Issue[], more = 0) {
    super([...issues.map(issueText), ...(more > 0 ? [`… and ${more} more`] : [])].join('\n'));
    this.name = 'InputError';
    this.issues = issues;
    this.more = more;
  }
}

/**
 * An issue with its text behind it: what is wrong and, behind a bar, what to do about it.
 * `issue('too-few-rows', '', { place })`the file is empty | give a header and rows``
 */
export const issue =
  (code: string, path: string, also: Pick<Issue, 'expected' | 'place'> = {}) =>
  (text: TemplateStringsArray, ...values: readonly unknown[]): Issue => {
    const [message, fix] = atBar(text, values);
    return { code, path, message, ...(fix === undefined ? {} : { fix }), ...also };
  };

/**
 * The error for one thing that is wrong, to be thrown, with its text behind it: what is wrong, what to do about it, what
 * was expected. `throw refused('size', '--in')`counts years, and there is one | leave it out``; a piece that is not said
 * is left empty. `refused.bind(null, code)` fixes what a file always says.
 *
 * @param where path of the scenario or option it is about; or the place in a file
 */
export const refused =
  (code: string, where: string | Place) =>
  (text: TemplateStringsArray, ...values: readonly unknown[]): InputError => {
    const [message, fix, expected] = atBar(text, values);
    return refusal(code, where, message, fix || undefined, expected);
  };

/**
 * The error for one thing that is wrong, to be thrown. `refusal.bind(null, code)` fixes what a file always says.
 *
 * @param where path of the scenario or option it is about; or the place in a file
 */
export const refusal = (
  code: string,
  where: string | Place,
  message: string,
  fix?: string,
  expected?: string,
): InputError =>
  new InputError([
    {
      code,
      message,
      ...(typeof where === 'string' ? { path: where } : { path: '', place: where }),
      ...(expected === undefined ? {} : { expected }),
      ...(fix === undefined ? {} : { fix }),
    },
  ]);

/** The books of a played year don't balance: a defect of Longnight, never of the input. */
export class BalanceError extends Error {
  readonly code = 'balance';
  constructor(message: string) {
    super(message);
    this.name = 'BalanceError';
  }
}
