import { comparePlants, prepareYear } from '@longnight/core';
import { Ending, EXIT } from '../../exit-codes.ts';
import { plantNames } from '../../files/labels.ts';
import { madeFrom, readFiles } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { compareCsv, compareYearsCsv } from '../../render/compare/csv.ts';
import { compareDocument } from '../../render/compare/document.ts';
import { compareJson } from '../../render/compare/json.ts';
import { noneKeeps } from '../../render/compare/over-years.ts';
import { present } from '../../render/document/document.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { watched } from '../../workers/progress.ts';
import { type JudgeGiven, readJudge } from '../judge.ts';
import { type Given, tell } from '../tell.ts';

const NAMES = ['compare.md', 'compare.json', 'compare.csv', 'compare.html'];
const YEARS = 'years.csv';

/**
 * `longnight compare`: plants side by side over the hours of the first.
 *
 * @throws Ending with exit code 3, after all is written and printed, if bounds are given and no plant keeps them
 */
export async function compare(files: readonly string[], given: Given & JudgeGiven, io: Io): Promise<void> {
  const opened = files.map((file) => readFiles(io.cwd, file, given.set));
  const labels = plantNames(
    files,
    opened.map(({ read }) => read.scenario.site.name),
  );
  const paths = opened.flatMap((one) => one.paths);
  const first = opened[0]!;
  const { possible, ask } = readJudge(first, given);
  const outputs = present([...NAMES, ask.years.length > 0 && YEARS]);
  checkOutputs(io.cwd, given.out, outputs, paths);
  // Before the plants: what is wrong with the hours is said of a line of the file.
  const { notices } = prepareYear(first.read, files[0]!, first.texts);
  const plants = opened.map(({ read }, k) => ({ label: labels[k]!, scenario: read.scenario }));
  const what = ask.years.length === 0 ? 'plants' : 'years';
  const comparison = watched(io, what, null, (at) => comparePlants(plants, first.texts, ask, at));
  const shown = { comparison, scenario: first.read.scenario, possible };
  const names = opened.map((one) => one.name);
  const { over_years } = comparison;
  await tell(io, given, outputs, {
    document: compareDocument(shown, madeFrom(...opened), names),
    json: compareJson(shown),
    tables: present([
      { name: 'compare.csv', text: compareCsv(comparison) },
      over_years && { name: YEARS, text: compareYearsCsv(comparison, over_years) },
    ]),
    notes: [...comparison.notices, ...notices].map(noticeText),
  });
  const none = noneKeeps(comparison);
  if (none !== null) throw new Ending(EXIT.missedTarget, none);
}
