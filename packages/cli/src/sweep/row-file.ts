import { closeSync, fstatSync, fsyncSync, ftruncateSync, openSync, renameSync, writeSync } from 'node:fs';

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
