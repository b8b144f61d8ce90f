import { blocksOf } from './hash.ts';

/** A whole line of a file, without its line end. */
interface Line {
  readonly text: string;
  /** Bytes from the start of the file to the end of this line, line end included. */
  readonly end_bytes: number;
}

/**
 * Lines of a UTF-8 file that are ended by CRLF, one block in memory at a time. What follows the last line end is torn
 * and left out.
 *
 * @param length_bytes where to stop reading
 */
export function* wholeLines(path: string, length_bytes?: number): Generator<Line, undefined> {
  let rest: Buffer = Buffer.alloc(0);
  let end_bytes = 0;
  for (const block of blocksOf(path, length_bytes)) {
    const bytes = Buffer.concat([rest, block]);
    let from = 0;
    for (let to = bytes.indexOf('\r\n'); to >= 0; to = bytes.indexOf('\r\n', from)) {
      end_bytes += to + 2 - from;
      yield { text: bytes.toString('utf8', from, to), end_bytes };
      from = to + 2;
    }
    rest = bytes.subarray(from);
  }
}
