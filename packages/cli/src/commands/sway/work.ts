import { prepareYear, swayPlant } from '@longnight/core';
import { DESIGN_FIGURES, readRequirement, studyNotices } from '@longnight/core/study';
import { Ending, EXIT } from '../../exit-codes.ts';
import { madeFrom, readFiles } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { isKept, missedText } from '../../render/check/requirements.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { swayCsv } from '../../render/sway/csv.ts';
import { swayDocument } from '../../render/sway/document.ts';
import { swayJson } from '../../render/sway/json.ts';
import { watched } from '../../workers/progress.ts';
import { type Given, tell } from '../tell.ts';

const NAMES = ['sway.html', 'sway.md', 'sway.json', 'sway.csv'];

interface SwayGiven extends Given {
  readonly move?: readonly string[];
  readonly require?: readonly string[];
}

/**
 * `longnight sway`: what the answer hangs on.
 *
 * @throws Ending with exit code 3, after all is written and printed, if a bound is missed as the plant is described
 */
export async function sway(file: string, given: SwayGiven, io: Io): Promise<void> {
  const { move: moves = [], require = [] } = given;
  const known = DESIGN_FIGURES.map(({ name }) => name);
  const requirements = require.map((text) => readRequirement(text, known));
  const files = readFiles(io.cwd, file, given.set);
  const { read, source, texts, paths } = files;
  checkOutputs(io.cwd, given.out, NAMES, paths);
  const notices = [...prepareYear(read, file, texts).notices, ...studyNotices(read.scenario)];
  const answer = watched(io, 'years', null, (at) => swayPlant(source, texts, { moves, requirements }, at));
  const shown = { sway: answer, scenario: read.scenario, moves };
  await tell(io, given, NAMES, {
    document: swayDocument(shown, files.name, madeFrom(files)),
    json: swayJson(shown),
    tables: [{ name: 'sway.csv', text: swayCsv(shown) }],
    notes: notices.map(noticeText),
  });
  const missed = requirements
    .map((hold) => ({ hold, figure: answer.now[hold.name as keyof typeof answer.now] }))
    .filter((bounded) => !isKept(bounded));
  if (missed.length > 0) throw new Ending(EXIT.missedTarget, missedText(missed));
}
