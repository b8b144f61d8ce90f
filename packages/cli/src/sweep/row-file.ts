import { createHash } from 'node:crypto';
import {
  appendFileSync,
  closeSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readFileSync,
  renameSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { diskError } from '../files/disk.ts';
import { blocksOf } from '../files/hash.ts';
import { ELSEWHERE, type Output, openOutputSet } from '../files/output-set.ts';

/** Writes some bytes at the end of an open file and says how many it took: `writeSync`, or what a test puts there. */
export type Write = (handle: number, bytes: Uint8Array) => number;

/** A file that rows are added to and that gets its name only when it is whole. */
export interface RowFile {
  /** @throws what the disk throws; what was written before stays */
  append(bytes: Uint8Array): void;
  /** Closes it as it is, to go on with another time. */
  leave(): void;
  /** Puts everything on the disk and closes it; gives the SHA-256 of all that was written. */
  finish(): string;
}

/** Beside rows that may be gone on with: their SHA-256 up to a length, again after each addition. */
export const sumsOf = (path: string): string => `${path}.sums`;

/**
 * Opens a file for rows.
 *
 * @param keep_bytes what of it stays; null makes the file and refuses one that is there
 * @param isKept true where it may be gone on with another time
 */
export function openRowFile(
  path: string,
  keep_bytes: number | null,
  {
    write = writeSync,
    isKept = false,
  }: { readonly write?: Write | undefined; readonly isKept?: boolean } = {},
): RowFile {
  const hash = createHash('sha256');
  let length_bytes = 0;
  const add = (bytes: Uint8Array): void => {
    hash.update(bytes);
    length_bytes += bytes.length;
  };
  const sum = (): string => `${hash.copy().digest('hex')} ${length_bytes}\n`;
  if (keep_bytes !== null) for (const block of blocksOf(path, keep_bytes)) add(block);
  const handle = openSync(path, keep_bytes === null ? 'ax' : 'a');
  if (isKept) {
    writeFileSync(`${sumsOf(path)}.tmp`, sum());
    renameSync(`${sumsOf(path)}.tmp`, sumsOf(path));
  }
  if (keep_bytes !== null) ftruncateSync(handle, keep_bytes);
  let open = true;
  const leave = (): void => {
    if (open) closeSync(handle);
    open = false;
  };
  return {
    append(bytes) {
      // A disk that fills up takes a part first and refuses the rest.
      try {
        for (let at = 0; at < bytes.length; ) {
          const taken = bytes.subarray(at, at + write(handle, bytes.subarray(at)));
          add(taken);
          at += taken.length;
        }
      } finally {
        if (isKept) appendFileSync(sumsOf(path), sum());
      }
    },
    leave,
    finish() {
      fsyncSync(handle);
      leave();
      return hash.digest('hex');
    },
  };
}

/** How much of rows that may be gone on with is as it was written: up to the last length whose SHA-256 is right. */
export function writtenBytes(path: string): { readonly bytes: number; readonly isAltered: boolean } {
  const hash = createHash('sha256');
  const kept = { bytes: 0, isAltered: false };
  let sums = '';
  try {
    sums = readFileSync(sumsOf(path), 'utf8');
  } catch {
    // Without them nothing is known of the rows.
  }
  const lengths = [...sums.matchAll(/^([0-9a-f]{64}) (\d+)$/gm)].map(
    ([, sum, at]) => [sum, Number(at)] as const,
  );
  let [at_bytes, next] = [0, 0];
  const isRight = (): boolean => lengths[next]![0] === hash.copy().digest('hex');
  for (const block of blocksOf(path)) {
    let from = 0;
    for (; next < lengths.length && lengths[next]![1] <= at_bytes + block.length; next++) {
      const to = lengths[next]![1] - at_bytes;
      hash.update(block.subarray(from, to));
      from = to;
      if (!isRight()) return { ...kept, isAltered: true };
      kept.bytes = at_bytes + to;
    }
    hash.update(block.subarray(from));
    at_bytes += block.length;
  }
  return kept;
}

/** Rows that are whole or not there at all, among the other outputs of their command. */
export interface NewRows {
  append(bytes: Uint8Array): void;
  /** Puts them in place with the outputs beside them; gives what is to be said of files that lie there from before. */
  swap(outputs: readonly Output[]): readonly string[];
  /** Takes away what is not in place, and the folder if this run made it. */
  close(): void;
}

/**
 * Begins a file of rows; nobody else writes the outputs that it belongs to until it is closed.
 *
 * @param name of the rows: the others begin like it
 * @param may every name that the command may write
 * @throws InputError if the disk refuses, then nothing is left behind; or if another process has these outputs
 */
export function openNewRows(
  cwd: string,
  out: string,
  name: string,
  may: readonly string[],
  header: string,
): NewRows {
  const set = openOutputSet(cwd, out, name.replace(/\.csv$/, ''), may);
  let file: RowFile | null = null;
  const close = (): void => {
    file?.leave();
    set.close();
  };
  const onDisk = <T>(act: () => T): T => {
    try {
      return act();
    } catch (error) {
      close();
      throw diskError(error, `${out}/${name}`, 'nothing was written', `make room, or ${ELSEWHERE}`);
    }
  };
  onDisk(() => {
    file = openRowFile(set.staged(name), null);
    file.append(Buffer.from(header));
  });
  return {
    append: (bytes) => onDisk(() => file!.append(bytes)),
    swap: (outputs) => set.swap([{ name, sha256: onDisk(() => file!.finish()) }, ...outputs]),
    close,
  };
}
