import { closeSync, openSync, readSync } from 'node:fs';

/** A whole line of a file, without its line end. */
interface Line {
  readonly text: string;
  /** Bytes from the start of the file to the end of this line, line end included. */
  readonly end_bytes: number;
}

const BLOCK_bytes = 2 ** 18;

/**
 * Lines of a UTF-8 file that are ended by CRLF, one block in memory at a time. What follows the last line end is torn
 * and left out.
 */
export function* wholeLines(path: string): Generator<Line, undefined> {
  const handle = openSync(path, 'r');
  try {
    const block = Buffer.allocUnsafe(BLOCK_bytes);
    let rest: Buffer = Buffer.alloc(0);
    let end_bytes = 0;
    for (;;) {
      const length = readSync(handle, block);
      if (length === 0) return;
      const bytes = Buffer.concat([rest, block.subarray(0, length)]);
      let from = 0;
      for (let to = bytes.indexOf('\r\n'); to >= 0; to = bytes.indexOf('\r\n', from)) {
        end_bytes += to + 2 - from;
        yield { text: bytes.toString('utf8', from, to), end_bytes };
        from = to + 2;
      }
      rest = bytes.subarray(from);
    }
  } finally {
    closeSync(handle);
  }
}
