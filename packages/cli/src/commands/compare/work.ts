import { comparePlants, prepareYear } from '@longnight/core';
import manifest from '../../../package.json' with { type: 'json' };
import { plantNames } from '../../files/labels.ts';
import { type Opened, readFiles, sha256Of } from '../../files/scenario.ts';
import { checkOutputs, writeOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { compareCsv } from '../../render/compare/csv.ts';
import { compareDocument } from '../../render/compare/document.ts';
import { compareJson } from '../../render/compare/json.ts';
import { paint } from '../../render/document/paint.ts';
import { plain } from '../../render/document/plain-text.ts';
import { toMarkdown } from '../../render/document/to-markdown.ts';
import { toPage } from '../../render/document/to-page.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { noticeText } from '../../render/report/notice-words.ts';

const OUTPUT_NAMES = ['compare.md', 'compare.json', 'compare.csv', 'compare.html'];

interface CompareOptions {
  /** Folder for the outputs; null writes none. */
  readonly out: string | null;
  readonly json: boolean;
}

/** `longnight compare`: plants side by side over the hours of the first. */
export async function compare(files: readonly string[], options: CompareOptions, io: Io): Promise<void> {
  const { out } = options;
  const opened = files.map((file) => readFiles(io.cwd, file));
  const labels = plantNames(
    files,
    opened.map(({ read }) => read.scenario.site.name),
  );
  if (out !== null) {
    checkOutputs(
      io.cwd,
      out,
      OUTPUT_NAMES,
      opened.flatMap((one) => one.paths),
    );
  }
  const first = opened[0]!;
  const comparison = comparePlants(
    opened.map(({ read }, k) => ({ label: labels[k]!, scenario: read.scenario })),
    first.texts,
  );
  const shown = { comparison, scenario: first.read.scenario };

  const json = compareJson(shown);
  const from = { version: manifest.version, read: once(opened.flatMap(sha256Of)) };
  const names = opened.map((one) => one.name);
  const document = compareDocument(shown, from, names);
  if (out !== null) {
    writeOutputs(io.cwd, out, [
      { name: 'compare.md', text: toMarkdown(document) },
      { name: 'compare.json', text: json },
      { name: 'compare.csv', text: compareCsv(comparison) },
      { name: 'compare.html', text: toPage(document) },
    ]);
  }
  const written = out === null ? null : { folder: out, names: OUTPUT_NAMES };
  io.out(options.json ? json : toScreen(document, written, paint(io.colour)));
  const { notices } = prepareYear(first.read, files[0]!, first.texts);
  for (const notice of [...comparison.notices, ...notices]) io.err(`note: ${plain(noticeText(notice))}\n`);
}

/** Parts files that several plants name are read for each, and told of once. */
const once = (read: Opened['read']): Opened['read'] => [
  ...new Map(read.map((file) => [`${file.name} ${file.sha256}`, file])).values(),
];
