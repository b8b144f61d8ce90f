import type { Limit, Report } from '@longnight/core';
import type { StringCheck } from '@longnight/core/array';
import type { BankConductor } from '@longnight/core/wiring';
import { conductorSentences, surgeSentences } from '../../packages/cli/src/render/report/conductor.ts';
import { limitWords } from '../../packages/cli/src/render/report/limit-words.ts';
import { noticeText } from '../../packages/cli/src/render/report/notice-words.ts';
import { peakSentences } from '../../packages/cli/src/render/report/peak.ts';
import { stringSentences } from '../../packages/cli/src/render/report/strings.ts';

/** What the CLI says of what core found, for tests that hold figures and words together. */

const START = 'Conflict: ';
const conflictsIn = (sentences: readonly string[]): readonly string[] =>
  sentences.filter((text) => text.startsWith(START)).map((text) => text.slice(START.length));

export const stringConflicts = (check: StringCheck) => conflictsIn(stringSentences(check));
export const surgeConflicts = (surge: Report['surge']) => conflictsIn(surgeSentences(surge));
export const peakConflicts = (report: Pick<Report, 'peak' | 'run'>) => conflictsIn(peakSentences(report));
export const conductorConflicts = (conductor: BankConductor) => conflictsIn(conductorSentences(conductor));

/** The limit in one place of those behind a figure, the first by default. */
export const limitSaid = ({ limits }: { readonly limits: readonly Limit[] }, place = 0): string =>
  limitWords(limits[place]!);

/** What is said of the notices of an id. */
export const noticesSaid = (
  notices: readonly Parameters<typeof noticeText>[0][],
  id: string,
): readonly string[] => notices.filter((notice) => notice.id === id).map(noticeText);
