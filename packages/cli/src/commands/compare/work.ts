import { comparePlants, prepareYear } from '@longnight/core';
import { plantNames } from '../../files/labels.ts';
import { madeFrom, readFiles } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { compareCsv } from '../../render/compare/csv.ts';
import { compareDocument } from '../../render/compare/document.ts';
import { compareJson } from '../../render/compare/json.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { watched } from '../../workers/progress.ts';
import { type Given, tell } from '../tell.ts';

const NAMES = ['compare.md', 'compare.json', 'compare.csv', 'compare.html'];

/** `longnight compare`: plants side by side over the hours of the first. */
export async function compare(files: readonly string[], given: Given, io: Io): Promise<void> {
  const opened = files.map((file) => readFiles(io.cwd, file, given.set));
  const labels = plantNames(
    files,
    opened.map(({ read }) => read.scenario.site.name),
  );
  const paths = opened.flatMap((one) => one.paths);
  checkOutputs(io.cwd, given.out, NAMES, paths);
  const first = opened[0]!;
  const plants = opened.map(({ read }, k) => ({ label: labels[k]!, scenario: read.scenario }));
  const comparison = watched(io, 'plants', plants.length, (at) => comparePlants(plants, first.texts, at));
  const shown = { comparison, scenario: first.read.scenario };
  const names = opened.map((one) => one.name);
  const { notices } = prepareYear(first.read, files[0]!, first.texts);
  await tell(io, given, NAMES, {
    document: compareDocument(shown, madeFrom(...opened), names),
    json: compareJson(shown),
    tables: [{ name: 'compare.csv', text: compareCsv(comparison) }],
    notes: [...comparison.notices, ...notices].map(noticeText),
  });
}
