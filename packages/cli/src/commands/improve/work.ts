import { improvePlant, prepareYear } from '@longnight/core';
import { studyNotices } from '@longnight/core/study';
import { madeFrom, readFiles } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { improveCsv } from '../../render/improve/csv.ts';
import { improveDocument } from '../../render/improve/document.ts';
import { improveJson } from '../../render/improve/json.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { watched } from '../../workers/progress.ts';
import { type JudgeGiven, readJudge } from '../judge.ts';
import { type Given, tell } from '../tell.ts';

const NAMES = ['improve.html', 'improve.md', 'improve.json', 'improve.csv'];

/** `longnight improve`: what the next part buys. */
export async function improve(file: string, given: Given & JudgeGiven, io: Io): Promise<void> {
  const files = readFiles(io.cwd, file, given.set);
  const { read, source, texts, paths } = files;
  checkOutputs(io.cwd, given.out, NAMES, paths);
  const notices = [...prepareYear(read, file, texts).notices, ...studyNotices(read.scenario)];
  const { possible, ask } = readJudge(files, given);
  const improvement = watched(io, 'years', null, (at) => improvePlant(source, texts, ask, at));
  const shown = { improvement, scenario: read.scenario, possible };
  await tell(io, given, NAMES, {
    document: improveDocument(shown, files.name, madeFrom(files)),
    json: improveJson(shown),
    tables: [{ name: 'improve.csv', text: improveCsv(improvement) }],
    notes: notices.map(noticeText),
  });
}
