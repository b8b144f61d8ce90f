import { type Issue, issue } from '../../basis/errors.ts';

/** A broken rule, its text behind it as behind `issue`; where its path stands is added by who knows the file. */
export const broken = (path: string, code = 'contradiction', also: Pick<Issue, 'expected'> = {}) =>
  issue(code, path, also);

/** The broken rule of points that ascend, each once. */
export const notAfter = (path: string, value: string, before: string, each: string, first = 'lowest') =>
  broken(path)`${value} does not come after ${before} | list each ${each} once, ${first} first`;

/** Each entry of a list but the first, with its position and the one before it. */
export const pairs = <T>(list: readonly T[] = []): readonly (readonly [i: number, before: T, entry: T])[] =>
  list.slice(1).map((entry, k) => [k + 1, list[k]!, entry] as const);

/** A window that begins and ends at one minute is empty. */
export const isEmptyWindow = (window: string): boolean => window.slice(0, 5) === window.slice(6);
export const emptyWindow = (path: string, window: string) =>
  broken(path, 'empty-window')`"${window}" ends where it begins | write "00:00-24:00" for the whole day`;
