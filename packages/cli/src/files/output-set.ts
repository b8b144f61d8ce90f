import { existsSync, mkdirSync, readFileSync, renameSync, rmdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { InputError } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import { fileSha256, sha256 } from './hash.ts';
import { takeLock } from './lock.ts';

/**
 * One file to be written: its name in the output folder and its text, or that as UTF-8. Rows that were written while
 * they were played come with their hash: they lie where `staged` says, or beside their place as NAME.partial.
 */
export type Output = { readonly name: string } & (
  | { readonly text: string | Uint8Array }
  | { readonly sha256: string }
);

/** The outputs of a command in a folder, which are replaced as a whole. No other process writes them until it is closed. */
interface OutputSet {
  /** A path for rows on their way to an output. */
  staged(name: string): string;
  /**
   * Puts the outputs in place of those of an earlier run, all or none. STEM.sha256 lists them as `sha256sum` does, so
   * that files of different runs can be told apart; what an earlier list has and this one hasn't is taken away.
   *
   * @returns what is to be said of files that lie here from before
   * @throws InputError if the disk refuses; then everything is as it was before
   */
  swap(outputs: readonly Output[]): readonly string[];
  /** Takes away what was not put in place, and the folder if this run made it. */
  close(): void;
}

export const ELSEWHERE = 'name another folder with --out';

/**
 * Takes the outputs of a command into our hands. What a killed run has left is cleared up first: its outputs are put in
 * place if all were on the disk, and taken away if not.
 *
 * @param folder as the user wrote it; it is made if it isn't there
 * @param stem what the outputs are called
 * @param may every name that the command may write: no other is ever taken away
 * @throws InputError if the disk refuses, or another process has them
 */
export function openOutputSet(
  cwd: string,
  folder: string,
  stem: string,
  may: readonly string[],
  { fix = ELSEWHERE, isListed = true } = {},
): OutputSet {
  const path = resolve(cwd, folder);
  const at = (name: string): string => join(path, name);
  const list = at(`${stem}.sha256`);
  const staging = at(`.${stem}.new`);
  const staged = (name: string): string => join(staging, 'new', name);
  const aside = (name: string): string => join(staging, 'old', name);
  /** Once this is there, all outputs are on the disk and will be put in place, by this run or by the next. */
  const ready = join(staging, 'sha256');

  const firstMade = onDisk(() => makeFolders(path));
  let unlock = (): void => {};
  const close = (): void => {
    // It is only still there if what was there before could not be put back: the next run goes on from it.
    if (!existsSync(ready)) rmSync(staging, { recursive: true, force: true });
    unlock();
    if (firstMade !== undefined) removeEmpty(path, firstMade);
  };
  try {
    unlock = onDisk(() => takeLock(path, folder, stem));
    if (existsSync(ready)) onDisk(() => place());
    onDisk(() => {
      rmSync(staging, { recursive: true, force: true });
      for (const path of [staged(''), aside('')]) mkdirSync(path, { recursive: true });
    });
  } catch (error) {
    // What is ready stays so for the next run.
    unlock();
    if (firstMade !== undefined) removeEmpty(path, firstMade);
    throw error;
  }
  return {
    staged,
    swap: (outputs) =>
      onDisk(() => {
        for (const output of outputs)
          if ('text' in output) writeFileSync(staged(output.name), output.text, { flush: true });
        const sums = outputs.map(
          (output) => `${'text' in output ? sha256(output.text) : output.sha256}  ${output.name}\n`,
        );
        writeFileSync(`${ready}.tmp`, sums.join(''), { flush: true });
        renameSync(`${ready}.tmp`, ready);
        return place();
      }),
    close,
  };

  /** Everything by renames, each undone if a later one fails; the list last, for it says that all are there. */
  function place(): readonly string[] {
    const now = sumsIn(ready);
    const before = sumsIn(list);
    const notes: string[] = [];
    const moved: [from: string, to: string][] = [];
    const move = (from: string, to: string): void => {
      renameSync(from, to);
      moved.push([from, to]);
    };
    try {
      for (const name of may.filter((name) => !now.has(name) && existsSync(at(name)))) {
        const isOurs = before.has(name) && fileSha256(at(name)) === before.get(name);
        if (isOurs) move(at(name), aside(name));
        notes.push(
          isOurs
            ? `the ${name} of an earlier run was removed from ${folder}`
            : `${name} in ${folder} is not of this run and was left as it is`,
        );
      }
      for (const [name, hash] of now) {
        const from = [staged(name), at(`${name}.partial`)].find(
          (source) => existsSync(source) && fileSha256(source) === hash,
        );
        if (from === undefined) {
          if (existsSync(at(name)) && fileSha256(at(name)) === hash) continue;
          throw refused('out-unwritable', { file: `${folder}/${name}` })`this is not as it was written: does
            another program write it? | ${fix} | a folder that nobody else writes into`;
        }
        if (existsSync(at(name))) move(at(name), aside(name));
        move(from, at(name));
      }
      if (existsSync(list)) move(list, aside('sha256'));
      if (isListed) move(ready, list);
      else rmSync(ready);
    } catch (error) {
      for (const [from, to] of moved.reverse()) renameSync(to, from);
      rmSync(ready, { force: true });
      throw error;
    }
    return notes;
  }

  function onDisk<T>(act: () => T): T {
    try {
      return act();
    } catch (error) {
      const { code, syscall, dest, path: source } = error as NodeJS.ErrnoException & { dest?: string };
      if (error instanceof InputError || code === undefined) throw error;
      const which = (dest ?? source)?.split(/[\\/]/).at(-1);
      throw refused('out-unwritable', { file: folder })`the outputs can't be written
        (${syscall === undefined || which === undefined ? code : `${which}: ${code}`}), and nothing was
        changed | ${fix} | a writable folder`;
    }
  }
}

/** Names and hashes of a list; names that lead elsewhere are none of ours. */
function sumsIn(path: string): ReadonlyMap<string, string> {
  if (!existsSync(path)) return new Map();
  const lines = readFileSync(path, 'utf8').matchAll(/^([0-9a-f]{64}) {2}([^/\\\n]+)$/gm);
  return new Map([...lines].map(([, hash, name]) => [name!, hash!]));
}

/**
 * Makes a folder and those it lies in. Node's own way tries for ever where a path is never there, as under /proc.
 *
 * @returns the outermost that was made
 */
function makeFolders(path: string): string | undefined {
  if (existsSync(path)) return undefined;
  const outermost = makeFolders(dirname(path));
  try {
    mkdirSync(path);
  } catch (error) {
    // Another run may make the same folder at this moment.
    if (!existsSync(path)) throw error;
    return outermost;
  }
  return outermost ?? path;
}

/** Takes away the folders this run made, from the innermost up to `outermost`, as far as they are empty. */
function removeEmpty(innermost: string, outermost: string): void {
  try {
    for (let folder = innermost; folder.startsWith(outermost); folder = dirname(folder)) rmdirSync(folder);
  } catch {
    // Not empty or not ours to remove: it stays, and the error that brought us here is the one to tell.
  }
}
