import { resolve } from 'node:path';
import type { InputError } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import { fileSha256 } from '../../files/hash.ts';
import { wholeLines } from '../../files/lines.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { paint } from '../../render/document/paint.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { sweepDocument } from '../../render/sweep/document.ts';
import { sweepJson } from '../../render/sweep/json.ts';
import { SweepDigest } from '../../sweep/digest.ts';
import { sweepNames, sweepOutputs } from '../../sweep/folder.ts';
import { viewsOf } from '../../sweep/outputs.ts';
import { findParts, type PartFile } from '../../sweep/parts.ts';
import { openNewRows } from '../../sweep/row-file.ts';
import { type SweepRow, type SweepRows, sweepRows } from '../../sweep/rows.ts';
import { type DesignList, designsOf, shareOf } from '../../workers/designs.ts';
import { progressOf } from '../../workers/progress.ts';
import type { Given } from '../tell.ts';

/** `longnight gather`: the parts of a sweep become the sweep, row for row what one process would have written. */
export function gather(paths: readonly string[], given: Given & { readonly out: string }, io: Io): void {
  const { out } = given;
  const parts = findParts(io.cwd, paths);
  const made = { ...parts[0]!.made, part: null };
  const list = designsOf(made.axes, made.sample, null);
  const rows = sweepRows(made.axes, made.years);
  const digest = new SweepDigest(made.axes, list, made.years);
  const names = sweepNames(null);
  const inputs = parts.flatMap(({ name }) => [name, name.replace(/\.csv$/, '.json')]);
  const outputs = sweepOutputs(null);
  checkOutputs(io.cwd, out, outputs, inputs);

  const file = openNewRows(io.cwd, out, names.rows, outputs, rows.header);
  const progress = progressOf(io, 'designs', list.count);
  try {
    let block = '';
    for (const { place, row, text } of rowsOf(parts, list, rows, io.cwd)) {
      digest.take(list.at(place), row);
      block += `${text}\r\n`;
      progress.at(place);
      if (block.length < BLOCK && place < list.count - 1) continue;
      file.append(Buffer.from(block));
      block = '';
    }
    progress.end();
    const shown = viewsOf(made, digest);
    for (const note of [...shown.notes, ...file.swap(shown.views)]) io.err(`note: ${note}\n`);
    if (given.json) {
      // The rows are read once more: none is printed before all of them are known to be right.
      const json = sweepJson(made, io);
      for (const { place, row } of rowsOf(parts, list, rows, io.cwd)) json.design(list.at(place), row);
      json.end();
    } else
      io.out(toScreen(sweepDocument(made, digest), { folder: out, names: shown.names }, paint(io.colour)));
  } finally {
    progress.end();
    // Its folder is empty only if the parts were refused.
    file.close();
  }
}

/** Characters written at a time. */
const BLOCK = 2 ** 18;

/** The rows of all parts, each held against the design that must stand there. */
function* rowsOf(
  parts: readonly PartFile[],
  list: DesignList,
  rows: SweepRows,
  cwd: string,
): Generator<{ place: number; row: SweepRow; text: string }> {
  for (const part of parts) {
    const { from, to } = shareOf(list.whole, part.made.part);
    let line = 0;
    for (const { text } of wholeLines(resolve(cwd, part.name))) {
      line++;
      const place = from + line - 2;
      if (line === 1) {
        if (`${text}\r\n` !== rows.header) throw altered(part.name, line, 'the header of this sweep');
        continue;
      }
      const row = place < to ? rows.read(list.at(place), text) : null;
      if (row === null)
        throw altered(
          part.name,
          line,
          place < to ? `the row of design ${list.at(place) + 1}` : 'the end of the file',
        );
      yield { place, row, text };
    }
    if (line < to - from + 1)
      throw altered(part.name, line + 1, `a header and ${to - from} rows, their lines ended by CRLF`);
    if (fileSha256(resolve(cwd, part.name)) !== part.made.rows_sha256)
      throw altered(part.name, null, 'the rows whose SHA-256 stands in the .json beside them');
  }
}

const altered = (file: string, line: number | null, expected: string): InputError =>
  refused(
    'altered-part',
    line === null ? { file } : { file, line },
  )`this part is not as longnight sweep wrote it | a spreadsheet that
    saved it may have changed it: copy it anew from where it was played, or play it again | ${expected}`;
