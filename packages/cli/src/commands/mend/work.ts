import { mendPlant, prepareYear } from '@longnight/core';
import { studyNotices } from '@longnight/core/study';
import { readFiles } from '../../files/scenario.ts';
import { checkOutputs, writeOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { paint } from '../../render/document/paint.ts';
import { plain } from '../../render/document/plain-text.ts';
import { mendCsv } from '../../render/improve/csv.ts';
import { mendJson } from '../../render/improve/json.ts';
import { mendMarkdown } from '../../render/improve/markdown.ts';
import { mendText } from '../../render/improve/text.ts';

const OUTPUT_NAMES = ['mend.md', 'mend.json', 'mend.csv'];

interface MendOptions {
  /** Folder for the outputs; null writes none. */
  readonly out: string | null;
  readonly json: boolean;
}

/** `longnight mend`: what the next part buys. */
export function mend(file: string, options: MendOptions, io: Io): void {
  const { out } = options;
  const { read, source, texts, paths } = readFiles(io.cwd, file);
  if (out !== null) checkOutputs(io.cwd, out, OUTPUT_NAMES, paths);
  const notices = [...prepareYear(read, file, texts).notices, ...studyNotices(read.scenario)];
  const mending = mendPlant(source, texts);
  const shown = { mending, scenario: read.scenario };

  const json = mendJson(shown);
  if (out !== null)
    writeOutputs(io.cwd, out, [
      { name: 'mend.md', text: mendMarkdown(shown) },
      { name: 'mend.json', text: json },
      { name: 'mend.csv', text: mendCsv(mending) },
    ]);
  const written = out === null ? null : { folder: out, names: OUTPUT_NAMES };
  io.out(options.json ? json : mendText(shown, written, paint(io.colour)));
  for (const notice of notices) io.err(`note: ${plain(notice.message)}\n`);
}
