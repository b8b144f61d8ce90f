import { existsSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { InputError } from '@longnight/core';
import type { Io } from '../io.ts';
import { STARTER } from '../starter.ts';

/** `longnight init`: writes the starter scenario, never over a file unless asked to. */
export function init(file: string, options: { force: boolean }, io: Io): void {
  const path = resolve(io.cwd, file);
  const folder = dirname(path);
  if (!existsSync(folder) || !statSync(folder).isDirectory())
    throw refuse(dirname(file), 'no-such-folder', 'no such folder', 'a folder that exists', 'make it first');
  if (existsSync(path)) {
    if (statSync(path).isDirectory())
      throw refuse(
        file,
        'is-directory',
        'this is a folder',
        'a file name',
        `name a file: ${file}/scenario.yaml`,
      );
    if (!options.force)
      throw refuse(
        file,
        'file-exists',
        'the file is there already',
        'a free name',
        'name another file, or add --force',
      );
  }
  const temporary = `${path}.${process.pid}.tmp`;
  try {
    writeFileSync(temporary, STARTER);
    renameSync(temporary, path);
  } catch (error) {
    rmSync(temporary, { force: true });
    const { code, message } = error as NodeJS.ErrnoException;
    throw refuse(
      file,
      'unwritable',
      `the file can't be written (${code ?? message})`,
      'a writable folder',
      'name another place',
    );
  }
  io.out(`${file}\n`);
  io.err(
    `Every figure in it is invented: put your own in, then\n  longnight check ${file}\n  longnight run ${file} --out DIR\n`,
  );
}

function refuse(file: string, code: string, message: string, expected: string, fix: string): InputError {
  return new InputError([{ code, path: '', message, expected, fix, place: { file } }]);
}
