import type { Report } from '@longnight/core';
import type { PeakConflict } from '@longnight/core/findings';
import { present } from '../document/document.ts';
import { clockTime, kW } from '../document/figures.ts';
import { said, type WordsFor } from '../document/said.ts';

const CONFLICTS: WordsFor<PeakConflict> = {
  over_output: ({ wanted_kW, gives_kW, row_min, time }) =>
    `The loads want ${kW(wanted_kW)} ${row_min === null ? 'in a step' : `in a row of ${row_min} min at ${clockTime(time)}`}, bank and inverter give ${kW(gives_kW)} without sun.`,
  over_hot_rating: ({ wanted_kW, gives_kW, time }) =>
    `The loads want ${kW(wanted_kW)} at ${clockTime(time)}, when heat leaves ${kW(gives_kW)} of the inverter's rating.`,
  over_leg: ({ leg, wanted_kW, gives_kW, time }) =>
    `Leg ${leg} is asked for ${kW(wanted_kW)} at ${clockTime(time)}; it gives ${kW(gives_kW)}.`,
};

/** What the loads want and is not given. */
export const peakConflictWords = (conflict: PeakConflict): string => said(CONFLICTS, conflict);

/** What was found, one sentence each; else that nothing was. */
export const conflictSentences = (
  found: readonly string[],
  none = 'No conflict found.',
): readonly string[] => (found.length === 0 ? [none] : found.map((sentence) => `Conflict: ${sentence}`));

/** Steps are means: a conflict found here is one, none found is no proof that there is none within the step. */
export function peakSentences({ peak, run: { step_min } }: Pick<Report, 'peak' | 'run'>): readonly string[] {
  const { rows, conflicts, hottest } = peak;
  const looked = `means over ${step_min} min${rows === null ? '' : ` and in rows of ${rows.row_min} min in load files`}`;
  return present([
    hottest &&
      `Heat leaves ${kW(hottest.rating_kW)} of the rating in the hottest step, ${clockTime(hottest.time)}.`,
    rows &&
      `Rows of ${rows.row_min} min in load files bring the loads to ${kW(rows.peak_kW)} at ${clockTime(rows.time)}; ` +
        `run.step_min: ${rows.step_min} ${rows.row_min < rows.step_min ? 'comes closest to playing them' : 'would play them'}.`,
    ...conflictSentences(
      conflicts.map(peakConflictWords),
      `No conflict found in ${looked}; appliances that start together can ask for more.`,
    ),
  ]);
}
