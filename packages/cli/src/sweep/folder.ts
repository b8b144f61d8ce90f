import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { refused } from '@longnight/core/scenario';
import { diskError } from '../files/disk.ts';
import { wholeLines } from '../files/lines.ts';
import { checkOutputs, removeEmpty } from '../files/write.ts';
import type { DesignList } from '../workers/designs.ts';
import { differences, manifestText, readManifest, type SweepManifest } from './manifest.ts';
import { openRowFile, type RowFile, type Write } from './row-file.ts';
import type { SweepRow, SweepRows } from './rows.ts';

const refuse = refused.bind(null, 'sweep-folder');

/** Names of what a sweep leaves in its folder; those of parts sort in their order. */
export function sweepNames(part: SweepManifest['part']) {
  const stem =
    part === null
      ? 'sweep'
      : `sweep.part-${String(part.number).padStart(String(part.of).length, '0')}of${part.of}`;
  return { rows: `${stem}.csv`, manifest: `${stem}.json`, chart: `${stem}.svg`, page: `${stem}.html` };
}

/** The unfinished rows of a sweep on the disk. */
export interface SweepFolder {
  /** Rows that were there when it was opened: the first of the list. */
  readonly done: number;
  /** True if the rows were whole already and nothing has to be played. */
  readonly complete: boolean;
  append(rows: Uint8Array, designs: number): void;
  /** Leaves what there is, to go on with. */
  leave(): void;
  /** Gives the rows their name. */
  finish(): void;
}

/**
 * Opens the folder of a sweep. Rows go to NAME.partial, with what they are made from beside it, and get their own name
 * when they are whole; a part keeps what it is made from, so that parts can be joined.
 *
 * @param inputs files that must not be written over
 * @param take is given every row that is there already
 * @throws InputError if the folder can't be used, holds unfinished rows and `resume` is not asked for, or holds those
 *   of another sweep
 */
export function openSweepFolder(
  cwd: string,
  folder: string,
  made: SweepManifest,
  rows: SweepRows,
  list: DesignList,
  inputs: readonly string[],
  options: { readonly resume?: true; readonly write?: Write },
  take: (index: number, row: SweepRow) => void,
): SweepFolder {
  const names = sweepNames(made.part);
  const partial = `${names.rows}.partial`;
  const beside = `${partial}.json`;
  const outputs = made.part === null ? [names.rows, names.chart, names.page] : [names.rows, names.manifest];
  checkOutputs(cwd, folder, [...outputs, partial, beside], inputs);
  const at = (name: string): string => join(resolve(cwd, folder), name);

  const unfinished = existsSync(at(partial));
  if (unfinished && !options.resume)
    throw refuse({ file: `${folder}/${partial}` })`unfinished rows of a sweep are here | add --resume to go
      on with them, or remove ${partial} to start anew | a folder without any`;
  const mustMatch = (manifest: string, name: string): void => {
    const found = differences(readManifest(cwd, `${folder}/${manifest}`), made);
    if (found.length > 0)
      throw refuse({ file: `${folder}/${name}` })`these rows belong to another sweep: ${found.join('; ')} |
        take those, or remove ${name} to start anew, or name another folder with --out | the scenario and
        options that they were begun with`;
  };

  if (
    !unfinished &&
    options.resume &&
    made.part !== null &&
    existsSync(at(names.manifest)) &&
    existsSync(at(names.rows))
  ) {
    mustMatch(names.manifest, names.rows);
    const kept = keep(at(names.rows), rows, list, take);
    if (kept.done === list.count)
      return { done: kept.done, complete: true, append() {}, leave() {}, finish() {} };
    throw refuse({ file: `${folder}/${names.rows}` })`holds ${kept.done} rows of ${list.count} | remove it
      to play this part anew | a whole part`;
  }

  let file: RowFile;
  let done = 0;
  if (unfinished) {
    mustMatch(beside, partial);
    const kept = keep(at(partial), rows, list, take);
    done = kept.done;
    file = openRowFile(at(partial), kept.bytes, options.write);
    if (kept.bytes === 0) file.append(Buffer.from(rows.header));
  } else {
    const path = resolve(cwd, folder);
    let firstMade: string | undefined;
    try {
      firstMade = mkdirSync(path, { recursive: true });
      writeFileSync(at(beside), manifestText(made));
      file = openRowFile(at(partial), null, options.write);
      file.append(Buffer.from(rows.header));
    } catch (error) {
      for (const name of [beside, partial]) rmSync(at(name), { force: true });
      if (firstMade !== undefined) removeEmpty(path, firstMade);
      throw diskError(error, `${folder}/${partial}`, 'nothing was played', 'name another folder with --out');
    }
  }
  let now = done;
  const guarded = (act: () => void): void => {
    try {
      act();
    } catch (error) {
      file.leave();
      throw diskError(
        error,
        `${folder}/${partial}`,
        `${now} of ${list.count} designs are in it`,
        'make room, then give the same command with --resume',
      );
    }
  };
  return {
    done,
    complete: false,
    append(bytes, designs) {
      guarded(() => file.append(bytes));
      now += designs;
    },
    leave: () => file.leave(),
    finish() {
      guarded(() => {
        if (made.part !== null) {
          writeFileSync(at(`${names.manifest}.tmp`), manifestText(made));
          renameSync(at(`${names.manifest}.tmp`), at(names.manifest));
        }
        file.finish(at(names.rows));
      });
      rmSync(at(beside), { force: true });
    },
  };
}

/** Reads the rows that are there, as far as they are whole and those of the list. */
function keep(
  path: string,
  rows: SweepRows,
  list: DesignList,
  take: (index: number, row: SweepRow) => void,
): { readonly done: number; readonly bytes: number } {
  let done = -1;
  let bytes = 0;
  for (const line of wholeLines(path)) {
    if (done < 0) {
      if (`${line.text}\r\n` !== rows.header) break;
    } else {
      const row = done < list.count ? rows.read(list.at(done), line.text) : null;
      if (row === null) break;
      take(list.at(done), row);
    }
    done++;
    bytes = line.end_bytes;
  }
  return { done: Math.max(0, done), bytes };
}
