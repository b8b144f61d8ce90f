import {
  closeSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { diskError } from '../files/disk.ts';
import { removeEmpty } from '../files/write.ts';

/** Writes some bytes at the end of an open file and says how many it took: `writeSync`, or what a test puts there. */
export type Write = (handle: number, bytes: Uint8Array) => number;

/** A file that rows are added to and that gets its name only when it is whole. */
export interface RowFile {
  /** @throws what the disk throws; what was written before stays */
  append(bytes: Uint8Array): void;
  /** Closes it as it is, to go on with another time. */
  leave(): void;
  /**
   * Puts everything on the disk and gives the file its name.
   *
   * @throws Error if somebody else wrote to it as well
   */
  finish(path: string): void;
}

/**
 * Opens a file for rows.
 *
 * @param keep_bytes what of it stays; null makes the file and refuses one that is there
 */
export function openRowFile(path: string, keep_bytes: number | null, write: Write = writeSync): RowFile {
  const handle = openSync(path, keep_bytes === null ? 'ax' : 'a');
  let length_bytes = keep_bytes ?? 0;
  if (keep_bytes !== null) ftruncateSync(handle, keep_bytes);
  let open = true;
  const leave = (): void => {
    if (open) closeSync(handle);
    open = false;
  };
  return {
    append(bytes) {
      // A disk that fills up takes a part first and refuses the rest.
      for (let at = 0; at < bytes.length; ) at += write(handle, bytes.subarray(at));
      length_bytes += bytes.length;
    },
    leave,
    finish(final) {
      fsyncSync(handle);
      const { size } = fstatSync(handle);
      leave();
      if (size !== length_bytes)
        throw new Error(`${path} has ${size} bytes where ${length_bytes} were written: is it written twice?`);
      renameSync(path, final);
    },
  };
}

/** Rows under a temporary name in their folder. */
export interface NewRows {
  append(bytes: Uint8Array): void;
  /** Gives them their name. */
  finish(): void;
  /** Takes away what is not finished, and the folder if this run made it. */
  abandon(): void;
}

/**
 * Begins a file of rows that is whole or not there at all.
 *
 * @throws InputError if the disk refuses; then nothing is left behind
 */
export function openNewRows(cwd: string, out: string, name: string, header: string): NewRows {
  const folder = resolve(cwd, out);
  const temporary = join(folder, `.${name}.${process.pid}.tmp`);
  let made: string | undefined;
  let file: RowFile | null = null;
  const abandon = (): void => {
    file?.leave();
    rmSync(temporary, { force: true });
    if (made !== undefined) removeEmpty(folder, made);
  };
  const onDisk = (act: () => void): void => {
    try {
      act();
    } catch (error) {
      abandon();
      const fix = 'make room, or name another folder with --out';
      throw diskError(error, `${out}/${name}`, 'nothing was written', fix);
    }
  };
  onDisk(() => {
    made = mkdirSync(folder, { recursive: true });
    rmSync(temporary, { force: true });
    file = openRowFile(temporary, null);
    file.append(Buffer.from(header));
  });
  return {
    append: (bytes) => onDisk(() => file!.append(bytes)),
    finish: () => onDisk(() => file!.finish(join(folder, name))),
    abandon,
  };
}
