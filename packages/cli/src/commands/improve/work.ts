import { improvePlant, prepareYear } from '@longnight/core';
import { studyNotices } from '@longnight/core/study';
import manifest from '../../../package.json' with { type: 'json' };
import { readFiles, sha256Of } from '../../files/scenario.ts';
import { checkOutputs, writeOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { paint } from '../../render/document/paint.ts';
import { plain } from '../../render/document/plain-text.ts';
import { toMarkdown } from '../../render/document/to-markdown.ts';
import { toPage } from '../../render/document/to-page.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { improveCsv } from '../../render/improve/csv.ts';
import { improveDocument } from '../../render/improve/document.ts';
import { improveJson } from '../../render/improve/json.ts';
import { noticeText } from '../../render/report/notice-words.ts';

const OUTPUT_NAMES = ['improve.html', 'improve.md', 'improve.json', 'improve.csv'];

interface ImproveOptions {
  /** Folder for the outputs; null writes none. */
  readonly out: string | null;
  readonly json: boolean;
}

/** `longnight improve`: what the next part buys. */
export function mend(file: string, options: ImproveOptions, io: Io): void {
  const { out } = options;
  const files = readFiles(io.cwd, file);
  const { read, source, texts, paths } = files;
  if (out !== null) checkOutputs(io.cwd, out, OUTPUT_NAMES, paths);
  const notices = [...prepareYear(read, file, texts).notices, ...studyNotices(read.scenario)];
  const improvement = improvePlant(source, texts);
  const shown = { improvement, scenario: read.scenario };

  const json = improveJson(shown);
  const document = improveDocument(shown, files.name, { version: manifest.version, read: sha256Of(files) });
  if (out !== null)
    writeOutputs(io.cwd, out, [
      { name: 'improve.html', text: toPage(document) },
      { name: 'improve.md', text: toMarkdown(document) },
      { name: 'improve.json', text: json },
      { name: 'improve.csv', text: improveCsv(improvement) },
    ]);
  const written = out === null ? null : { folder: out, names: OUTPUT_NAMES };
  io.out(options.json ? json : toScreen(document, written, paint(io.colour)));
  for (const notice of notices) io.err(`note: ${plain(noticeText(notice))}\n`);
  for (const notice of notices) io.err(`note: ${plain(noticeText(notice))}\n`);
}
