import { type Command, InvalidArgumentError } from 'commander';
import type { Io } from '../io.ts';

/** Declares a command; its work is imported only when it is asked for. */
export type Declare = (program: Command, io: Io) => void;

/** An empty name is a slip, as when a shell variable is not set; as a path it would mean the folder one is in. */
export function named(text: string): string {
  if (text === '') throw new InvalidArgumentError('expected a name, found nothing');
  return text;
}

/** A parser of whole numbers within bounds. */
export const wholeNumber =
  (from: number, to: number, what: string) =>
  (text: string): number => {
    const number = Number(text);
    if (!/^\d+$/.test(text) || number < from || number > to)
      throw new InvalidArgumentError(`expected a whole number of ${what} from ${from} to ${to}`);
    return number;
  };

/** Gathers what an option that may be given several times was given. */
export const several =
  <T>(read: (text: string) => T) =>
  (text: string, before: readonly T[] | undefined): readonly T[] => [...(before ?? []), read(text)];

/** A price of 0 or more. */
export function price(text: string): number {
  if (!/^(\d+\.?\d*|\.\d+)$/.test(text))
    throw new InvalidArgumentError('expected an amount of money, such as 12.5');
  return Number(text);
}
/** What several commands take, said once. */
export const SCENARIO = ['<file>', 'scenario, YAML or JSON', named] as const;
export const VARY = [
  '--vary <path=values>',
  'a key of the scenario and its values: PATH=A,B,C or PATH=FROM:TO:STEP; arrays[*] is all arrays, x1.5 times what the file says; may be given several times',
  several(named),
] as const;
export const SET = [
  '--set <path=value>',
  'play the file with another value of a key, as for --vary; may be given several times',
  several(named),
] as const;
export const SEEDS = [
  '--seeds <n>',
  "play n drawn years, 1 to 10000: the scenario's seed and those after it; of a weather file from its own monthly means",
  wholeNumber(1, 10_000, 'years'),
] as const;
export const EVERY_YEAR = ['--every-year', 'play each whole year of the weather file'] as const;
export const IN = [
  '--in <m>',
  'in how many of these years every requirement without a statistic must be kept (default: all)',
  wholeNumber(1, 10_100, 'years'),
] as const;
/** @param what a command makes of it */
export const requirement = (what: string) =>
  [
    '--require <requirement>',
    `${what}, such as 'unmet.share<=0.001'; over many years also 'unmet.share.p95<=0.001', any of p1 to p99, mean or worst; may be given several times`,
    several(named),
  ] as const;
/** Whole percentiles, ascending and once each. */
const percentiles = (text: string): readonly number[] => {
  const numbers = text.split(',').map(Number);
  if (!/^\d+(,\d+)*$/.test(text) || numbers.some((number) => number < 1 || number > 99))
    throw new InvalidArgumentError('expected whole percentiles from 1 to 99, such as 5,50,95');
  return [...new Set(numbers)].sort((a, b) => a - b);
};
export const PERCENTILES = [
  '--percentiles <list>',
  'which percentiles of a figure over the years to tell, beside the median (default: 5,50,95)',
  percentiles,
] as const;
export const THREADS = [
  '--threads <n>',
  'worker threads (default: one for each processor, if there is work for them)',
  wholeNumber(1, 256, 'threads'),
] as const;
export const outInto = (files: string) =>
  ['-o, --out <dir>', `write ${files} into this folder`, named] as const;
