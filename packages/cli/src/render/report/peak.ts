import type { Report } from '@longnight/core';
import { kW } from '../document/figures.ts';

/** Steps are means: a conflict found here is one, none found is no proof that there is none within the step. */
export function peakSentences({
  peak: { rows, conflicts, hottest },
  run: { step_min },
}: Report): readonly string[] {
  const looked = `means over ${step_min} min${rows === null ? '' : ` and in rows of ${rows.row_min} min in load files`}`;
  return [
    ...(hottest === null
      ? []
      : [`Heat leaves ${kW(hottest.rating_kW)} of the rating in the hottest step, ${hottest.time}.`]),
    ...(rows === null
      ? []
      : [
          `Rows of ${rows.row_min} min in load files bring the loads to ${kW(rows.peak_kW)} at ${rows.time}; ` +
            `run.step_min: ${rows.step_min} ${rows.row_min < rows.step_min ? 'comes closest to playing them' : 'would play them'}.`,
        ]),
    ...(conflicts.length > 0
      ? conflicts.map((sentence) => `Conflict: ${sentence}`)
      : [`No conflict found in ${looked}; appliances that start together can ask for more.`]),
  ];
}
