import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { type InputError, refusal, refused } from '../../basis/errors.ts';
import { tidy } from '../../basis/rounding.ts';
import { expectWhole } from '../../basis/within.ts';

/** One key of the scenario and the values it takes in a study. */
export interface Axis {
  /** Path in the scenario file: `bank.modules_parallel`, `arrays[0].size_kWp`, `bank.part`; `arrays[*]` is all of them. */
  readonly path: string;
  /** That it takes, in this order; the text `x1.5` is so many times the number that the file says. */ readonly values: readonly (
    | number
    | string
  )[];
}

/** A key of the scenario and the value it is played with, whatever the file says. */
export interface Setting {
  /** As of an axis. */ readonly path: string;
  /** In place of the one in the file. */ readonly value: number | string;
}

/** Most values one axis may have: a range with a tiny step is more likely a slip than a wish. */
const MOST_VALUES = 100_000;

const NUMBER = String.raw`[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?`;
const IS_NUMBER = new RegExp(`^${NUMBER}$`);
const IS_RANGE = new RegExp(`^(${NUMBER}):(${NUMBER}):(${NUMBER})$`);

const IS_FACTOR = new RegExp(`^x(${NUMBER})$`);

/**
 * The factor of a value such as `x1.5`; null of any other.
 *
 * @param value of an axis, a number in the unit of its key or a text
 */
export function factorOf(value: number | string): number | null {
  const factor = typeof value === 'string' ? IS_FACTOR.exec(value)?.[1] : undefined;
  return factor === undefined ? null : Number(factor);
}

const refuse = (text: string, message: string, fix: string): InputError =>
  refusal('axis', text, message, fix, 'PATH=A,B,C or PATH=FROM:TO:STEP');

/**
 * Reads a setting, `PATH=VALUE`.
 *
 * @throws InputError with a fix if it is none, or has several values
 */
export function readSetting(text: string): Setting {
  expectArguments('readSetting', { text });
  const asked = refused('axis', `--set ${text}`);
  if (text.indexOf('=') < 1)
    throw asked`there is no "=" | write for example run.load_factor=1.2 | PATH=VALUE`;
  const { path, values } = readAxis(text);
  if (values.length > 1)
    throw asked`has ${values.length} values | give one; longnight sweep --vary plays several | PATH=VALUE`;
  return { path, value: values[0]! };
}

/** An axis whose values are counted and not yet laid out. */
interface Outline {
  readonly path: string;
  readonly count: number;
  readonly values: () => Axis['values'];
}

/**
 * Reads one axis: `PATH=A,B,C` (numbers or names) or `PATH=FROM:TO:STEP` (both ends belong to it when the step hits
 * them). Values of a range are rounded to 12 digits, so that 0.1:0.3:0.1 holds 0.3 and not 0.30000000000000004.
 *
 * @throws InputError with a fix if the text is not an axis, the range is empty or a value stands twice
 */
export const readAxis = (text: string): Axis => laidOut(text, outlined(text));

/**
 * Reads the axes of a study. Their combinations are counted before any value is laid out.
 *
 * @throws InputError as `readAxis`, and if there are more combinations than can be counted (2^53 - 1)
 */
export function readAxes(texts: readonly string[]): readonly Axis[] {
  expectArgument('readAxes', 'texts', texts, 'list');
  const outlines = texts.map(outlined);
  const all = outlines.reduce((count, outline) => count * outline.count, 1);
  if (all > Number.MAX_SAFE_INTEGER)
    throw refusal(
      'designs',
      '--vary',
      `about ${all.toExponential(0)} combinations can't be counted`,
      'take larger steps or fewer keys',
      `at most ${Number.MAX_SAFE_INTEGER}`,
    );
  return outlines.map((outline, k) => laidOut(texts[k]!, outline));
}

function outlined(text: string): Outline {
  expectArguments('readAxis', { text });
  const at = text.indexOf('=');
  if (at < 1) {
    throw refuse(text, 'is not an axis: there is no "="', 'write for example bank.modules_parallel=1:6:1');
  }
  const path = text.slice(0, at).trim();
  const list = text.slice(at + 1).trim();
  const range = IS_RANGE.exec(list);
  if (range) return { path, ...rangeOf(text, Number(range[1]), Number(range[2]), Number(range[3])) };
  const items = list.split(',');
  return { path, count: items.length, values: () => items.map((item) => value(text, item.trim())) };
}

function laidOut(text: string, outline: Outline): Axis {
  const values = outline.values();
  const seen = new Set<number | string>();
  const twice = values.find((v) => seen.size === seen.add(v).size);
  if (twice !== undefined) throw refuse(text, `the value ${twice} stands twice`, 'name each value once');
  return { path: outline.path, values };
}

function value(text: string, item: string): number | string {
  if (item === '') throw refuse(text, 'has an empty value', 'remove the comma too many, or give a value');
  return IS_NUMBER.test(item) ? Number(item) : item;
}

function rangeOf(text: string, from: number, to: number, step: number): Omit<Outline, 'path'> {
  if (step === 0 || (to - from) / step < 0) {
    throw refuse(
      text,
      'is an empty range',
      `step from ${from} towards ${to}, for example ${from}:${to}:${to > from ? 1 : -1}`,
    );
  }
  const count = Math.floor((to - from) / step + 1e-9) + 1;
  if (count > MOST_VALUES) {
    throw refuse(text, `has ${count} values; at most ${MOST_VALUES}`, 'take a larger step');
  }
  const values = () => Array.from({ length: count }, (_, k) => tidy(from + k * step));
  return { count, values };
}

/** How many designs all combinations make. Exact up to 2^53, beyond that only known to be too many. */
export function combinations(axes: readonly Axis[]): number {
  expectArguments('combinations', { axes });
  return axes.reduce((count, axis) => count * axis.values.length, 1);
}

/** Which value each axis takes in a design, the last axis varying fastest: mixed-radix digits of the index. */
export function digitsOf(axes: readonly Axis[], index: number): readonly number[] {
  expectArguments('digitsOf', { axes });
  expectWhole('digitsOf', 'index', index, 0, Number.MAX_SAFE_INTEGER);
  const digits = new Array<number>(axes.length);
  let left = index;
  for (let k = axes.length - 1; k >= 0; k--) {
    const base = axes[k]!.values.length;
    digits[k] = left % base;
    left = Math.floor(left / base);
  }
  return digits;
}
