import { createHash } from 'node:crypto';
import { closeSync, openSync, readSync } from 'node:fs';

/** SHA-256 of a text or of bytes. */
export const sha256 = (text: string | Uint8Array): string => createHash('sha256').update(text).digest('hex');

const BLOCK_bytes = 2 ** 18;

/** Blocks of a file up to a length, one in memory at a time: each is overwritten by the next. */
export function* blocksOf(
  path: string,
  length_bytes = Number.POSITIVE_INFINITY,
): Generator<Buffer, undefined> {
  const handle = openSync(path, 'r');
  try {
    const block = Buffer.allocUnsafe(BLOCK_bytes);
    for (let left_bytes = length_bytes; left_bytes > 0; ) {
      const read = readSync(handle, block, 0, Math.min(block.length, left_bytes), null);
      if (read === 0) return;
      left_bytes -= read;
      yield block.subarray(0, read);
    }
  } finally {
    closeSync(handle);
  }
}

/** SHA-256 of a file. */
export function fileSha256(path: string): string {
  const hash = createHash('sha256');
  for (const block of blocksOf(path)) hash.update(block);
  return hash.digest('hex');
}
