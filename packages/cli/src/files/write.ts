import { accessSync, constants, existsSync, readlinkSync, realpathSync, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { refused } from '@longnight/core/scenario';
import { ELSEWHERE, type Output, openOutputSet } from './output-set.ts';

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
  while (!existsSync(existing) && existing !== dirname(existing)) {
    if (isLink(existing))
      throw refuse(folder, 'out-is-file')`part of this path is a link that leads nowhere | ${ELSEWHERE} | a
        folder`;
    existing = dirname(existing);
  }
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

function isLink(path: string): boolean {
  try {
    readlinkSync(path);
    return true;
  } catch {
    return false;
  }
}

/**
 * Writes outputs in place of those of an earlier run, all or none.
 *
 * @param stem what they are called
 * @param may every name that the command may write
 * @returns what is to be said of files that lie there from before
 * @throws InputError if the disk refuses; then nothing is changed
 */
export function writeOutputs(
  cwd: string,
  folder: string,
  stem: string,
  outputs: readonly Output[],
  may: readonly string[],
): readonly string[] {
  const set = openOutputSet(cwd, folder, stem, may);
  try {
    return set.swap(outputs);
  } finally {
    set.close();
  }
}

const refuse = (file: string, code: string) => refused(code, { file });
