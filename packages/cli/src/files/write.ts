import {
  accessSync,
  constants,
  existsSync,
  mkdirSync,
  realpathSync,
  renameSync,
  rmdirSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { refused } from '@longnight/core/scenario';

/** One file to be written: its name in the output folder and its text, or that as UTF-8. */
export interface Output {
  readonly name: string;
  readonly text: string | Uint8Array;
}

/**
 * Finds out before any work is done whether the outputs could be written, without touching the disk.
 *
 * @param folder as the user wrote it; without one nothing is to be written
 * @param inputs files of this run that must not be written over, paths relative to `cwd` or absolute
 * @throws InputError if the folder or one of the names in it can't be used
 */
export function checkOutputs(
  cwd: string,
  folder: string | undefined,
  names: readonly string[],
  inputs: readonly string[],
): void {
  if (folder === undefined) return;
  const path = resolve(cwd, folder);
  let existing = path;
  while (!existsSync(existing) && existing !== dirname(existing)) existing = dirname(existing);
  if (!statSync(existing).isDirectory())
    throw refuse(folder, 'out-is-file')`${existing === path ? 'this' : 'part of this path'} is a
      file | ${ELSEWHERE} | a folder`;
  try {
    accessSync(existing, constants.W_OK | constants.X_OK);
  } catch {
    throw refuse(folder, 'out-unwritable')`the folder may not be written to | ${ELSEWHERE} | a
      writable folder`;
  }
  const taken = new Map(inputs.map((input) => [realpathSync(resolve(cwd, input)), input]));
  for (const name of names) {
    const output = join(path, name);
    if (!existsSync(output)) continue;
    if (statSync(output).isDirectory())
      throw refuse(`${folder}/${name}`, 'out-is-folder')`a folder has the name of an output |
        ${ELSEWHERE} | a free name`;
    const input = taken.get(realpathSync(output));
    if (input !== undefined)
      throw refuse(folder, 'out-over-input')`${name} would be written over ${input}, which this run
        reads | ${ELSEWHERE} | a folder without the files of the scenario`;
  }
}

/**
 * Writes all outputs or none: each goes to a temporary name beside its place, and only when every one is on the disk
 * are they renamed. The folder is made if it isn't there.
 *
 * @throws InputError if the disk refuses; then nothing new is left behind
 */
export function writeOutputs(cwd: string, folder: string, outputs: readonly Output[], fix = ELSEWHERE): void {
  const path = resolve(cwd, folder);
  const temporary = (output: Output) => join(path, `.${output.name}.${process.pid}.tmp`);
  let firstMade: string | undefined;
  try {
    firstMade = mkdirSync(path, { recursive: true });
    for (const output of outputs) writeFileSync(temporary(output), output.text);
    for (const output of outputs) renameSync(temporary(output), join(path, output.name));
  } catch (error) {
    for (const output of outputs) rmSync(temporary(output), { force: true });
    if (firstMade !== undefined) removeEmpty(path, firstMade);
    const { code, message } = error as NodeJS.ErrnoException;
    throw refuse(folder, 'out-unwritable')`the outputs can't be written (${code ?? message}) | ${fix} | a
      writable folder`;
  }
}

/** Takes away the folders this run made, from the innermost up to `outermost`, as far as they are empty. */
export function removeEmpty(innermost: string, outermost: string): void {
  try {
    for (let folder = innermost; folder.startsWith(outermost); folder = dirname(folder)) rmdirSync(folder);
  } catch {
    // Not empty or not ours to remove: it stays, and the error that brought us here is the one to tell.
  }
}

const ELSEWHERE = 'name another folder with --out';

const refuse = (file: string, code: string) => refused(code, { file });
