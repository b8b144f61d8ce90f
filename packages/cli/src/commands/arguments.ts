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
export const THREADS = [
  '--threads <n>',
  'worker threads (default: one for each processor, if there is work for them)',
  wholeNumber(1, 256, 'threads'),
] as const;
export const outInto = (files: string) =>
  ['-o, --out <dir>', `write ${files} into this folder`, named] as const;
