import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { refused } from '@longnight/core/scenario';
import { diskError } from '../files/disk.ts';
import { fileSha256 } from '../files/hash.ts';
import { wholeLines } from '../files/lines.ts';
import { ELSEWHERE, type Output, openOutputSet } from '../files/output-set.ts';
import { checkOutputs } from '../files/write.ts';
import type { DesignList } from '../workers/designs.ts';
import { differences, manifestText, readManifest, type SweepManifest } from './manifest.ts';
import { openRowFile, type RowFile, sumsOf, type Write, writtenBytes } from './row-file.ts';
import type { SweepRow, SweepRows } from './rows.ts';

const refuse = refused.bind(null, 'sweep-folder');

/** Names of what a sweep leaves in its folder; those of parts sort in their order. */
export function sweepNames(part: SweepManifest['part']) {
  const stem =
    part === null
      ? 'sweep'
      : `sweep.part-${String(part.number).padStart(String(part.of).length, '0')}of${part.of}`;
  return {
    stem,
    rows: `${stem}.csv`,
    manifest: `${stem}.json`,
    chart: `${stem}.svg`,
    page: `${stem}.html`,
  };
}

/** Those of them that a sweep or a part may write. */
export function sweepOutputs(part: SweepManifest['part']): readonly string[] {
  const { rows, manifest, chart, page } = sweepNames(part);
  return part === null ? [rows, chart, page] : [rows, manifest];
}

/** The unfinished rows of a sweep on the disk. */
export interface SweepFolder {
  /** Rows that were there when it was opened: the first of the list. */
  readonly done: number;
  /** True if the rows were whole already and nothing has to be played. */
  readonly complete: boolean;
  /** True if rows behind those are not as they were written. */
  readonly isAltered: boolean;
  append(rows: Uint8Array, designs: number): void;
  /** Leaves what there is, to go on with. */
  leave(): void;
  /** Puts the rows in place with what is shown beside them; gives what is to be said of files from before. */
  finish(views: readonly Output[]): readonly string[];
}

/**
 * Opens the folder of a sweep. Rows go to NAME.partial, with what they are made from beside it, and get their own name
 * when they are whole; a part keeps what it is made from, so that parts can be joined. Nobody else writes this sweep
 * until the folder is left.
 *
 * @param inputs files that must not be written over
 * @param take is given every row that is there already
 * @throws InputError if the folder can't be used, another process plays this sweep, or it holds unfinished rows and
 *   `resume` is not asked for, or those of another sweep
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
  const outputs = sweepOutputs(made.part);
  const partial = `${names.rows}.partial`;
  const beside = `${partial}.json`;
  checkOutputs(cwd, folder, [...outputs, partial, beside], inputs);
  const at = (name: string): string => join(resolve(cwd, folder), name);

  const set = openOutputSet(cwd, folder, names.stem, outputs, {
    fix: 'make room, then give the same command with --resume',
    isListed: made.part === null,
  });
  let file: RowFile | null = null;
  const leave = (): void => {
    file?.leave();
    set.close();
  };
  try {
    return opened();
  } catch (error) {
    leave();
    throw error;
  }

  function opened(): SweepFolder {
    const unfinished = existsSync(at(partial));
    if (unfinished && !options.resume)
      throw refuse({ file: `${folder}/${partial}` })`unfinished rows of a sweep are here | add --resume to go
        on with them, or remove ${partial} to start anew | a folder without any`;
    // What belonged to rows that a killed run had made whole already.
    if (!unfinished) removeUnfinished();
    if (
      !unfinished &&
      options.resume &&
      made.part !== null &&
      outputs.every((name) => existsSync(at(name)))
    ) {
      const { rows_sha256 } = mustMatch(names.manifest, names.rows);
      const { done } = keep(at(names.rows), rows, list, take);
      if (done !== list.count || fileSha256(at(names.rows)) !== rows_sha256)
        throw refuse({ file: `${folder}/${names.rows}` })`this is not as it was written: ${done} of
          ${list.count} rows can be read | remove it to play this part anew | a whole part`;
      return { done, complete: true, isAltered: false, append() {}, leave, finish: () => [] };
    }

    let [done, isAltered] = [0, false];
    if (unfinished) {
      mustMatch(beside, partial);
      const written = writtenBytes(at(partial));
      const kept = keep(at(partial), rows, list, take, written.bytes);
      ({ done } = kept);
      ({ isAltered } = written);
      file = openRowFile(at(partial), kept.bytes, { write: options.write, isKept: true });
      if (kept.bytes === 0) file.append(Buffer.from(rows.header));
    } else {
      try {
        writeFileSync(at(beside), manifestText(made));
        file = openRowFile(at(partial), null, { write: options.write, isKept: true });
        file.append(Buffer.from(rows.header));
      } catch (error) {
        removeUnfinished();
        throw diskError(error, `${folder}/${partial}`, 'nothing was played', ELSEWHERE);
      }
    }
    return { done, complete: false, isAltered, ...writing(file, done) };
  }

  function writing(file: RowFile, done: number): Pick<SweepFolder, 'append' | 'leave' | 'finish'> {
    let now = done;
    const guarded = <T>(act: () => T): T => {
      try {
        return act();
      } catch (error) {
        const state = `${now} of ${list.count} designs are in it`;
        throw diskError(
          error,
          `${folder}/${partial}`,
          state,
          'make room, then give the same command with --resume',
        );
      }
    };
    return {
      append(bytes, designs) {
        guarded(() => file.append(bytes));
        now += designs;
      },
      leave,
      finish(views) {
        const rows_sha256 = guarded(() => file.finish());
        const manifest = { name: names.manifest, text: manifestText({ ...made, rows_sha256 }) };
        const whole = { name: names.rows, sha256: rows_sha256 };
        const notes = set.swap([whole, ...(made.part === null ? views : [manifest])]);
        removeUnfinished();
        return notes;
      },
    };
  }

  function mustMatch(manifest: string, name: string): SweepManifest {
    const found = readManifest(cwd, `${folder}/${manifest}`);
    const differ = differences(found, made);
    if (differ.length > 0)
      throw refuse({ file: `${folder}/${name}` })`these rows belong to another sweep: ${differ.join('; ')} |
        take those, or remove ${name} to start anew, or ${ELSEWHERE} | the scenario and options that they were
        begun with`;
    return found;
  }

  function removeUnfinished(): void {
    for (const name of [partial, sumsOf(partial), beside]) rmSync(at(name), { force: true });
  }
}

/** Reads the rows that are there, as far as they are whole and those of the list. */
function keep(
  path: string,
  rows: SweepRows,
  list: DesignList,
  take: (index: number, row: SweepRow) => void,
  length_bytes?: number,
): { readonly done: number; readonly bytes: number } {
  let done = -1;
  let bytes = 0;
  for (const line of wholeLines(path, length_bytes)) {
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
