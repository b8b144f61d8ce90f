import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { InputError, issueText } from '../../basis/errors.ts';
import { memo } from '../../basis/memo.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { newYearPreparer } from '../../year.ts';
import { inYear, type PossibleYear } from '../years/possible-years.ts';
import type { Axis } from './axes.ts';
import { type Harder, NOT_HARDER } from './harder.ts';
import { DESIGN_FIGURES, type Figures, newPlayer } from './play.ts';
import { layOut, type StudyText } from './study.ts';

/** All that a thread or a machine needs to play its share of a study. Plain data: it can be sent. */
export interface StudyTask {
  readonly source: StudyText;
  /** Text of every series file that the scenario names. */
  readonly texts: FileTexts;
  readonly axes: readonly Axis[];
  /** Years to play each design in; empty plays it once, as the scenario says. */
  readonly years: readonly PossibleYear[];
}

/** A run of designs, all made harder alike. */
export interface Chunk {
  readonly indices: readonly number[];
  readonly harder: Harder;
  /** Which of the task's years to play them in; left out, all. */
  readonly years?: readonly PossibleYear[];
}

/** A chunk's figures: design by design, year by year, in the order of DESIGN_FIGURES; NaN stands for null. */
export interface PlayedChunk {
  readonly figures: Float64Array;
  /** Why a design was not played, or null; one a design. */
  readonly contradictions: readonly (string | null)[];
}

const WIDTH = DESIGN_FIGURES.length;

/**
 * Plays chunks of one task; what designs share is prepared once and kept in the function returned.
 *
 * @returns a function from a chunk to what was played of it; values that clash come back in `contradictions`
 * @param task of a study that `openStudy` took: its axes are not checked again
 * @throws InputError if the scenario of the task can't be parsed
 */
export function newChunkPlayer(task: StudyTask): (chunk: Chunk) => PlayedChunk {
  expectArgument('newChunkPlayer', 'task', task, 'object');
  const { source, axes, texts } = task;
  expectArguments('newChunkPlayer', { source, axes });
  expectArgument('newChunkPlayer', 'texts', texts, 'map');
  const study = layOut(task.source, task.axes);
  const players = memo<(scenario: Scenario, own: Scenario) => Figures>(4);
  // Years made harder are made of the same skies.
  const yearOf = newYearPreparer(task.source.file, task.texts);
  return ({ indices, harder, years: asked = task.years }) => {
    const years = Math.max(1, asked.length);
    const play = players(JSON.stringify(harder ?? NOT_HARDER), () => newPlayer(yearOf, harder));
    const figures = new Float64Array(indices.length * years * WIDTH).fill(Number.NaN);
    const designs = indices.map((index) => study.design(index));
    const contradictions = designs.map((design) => design.contradiction);
    // Year by year and not design by design: a sky is drawn once a chunk, however many years there are.
    for (let y = 0; y < years; y++) {
      designs.forEach(({ scenario }, k) => {
        if (scenario === null || contradictions[k] !== null) return;
        try {
          const played = play(inYear(scenario, asked[y]), scenario);
          DESIGN_FIGURES.forEach(({ name }, f) => {
            figures[(k * years + y) * WIDTH + f] = played[name] ?? Number.NaN;
          });
        } catch (error) {
          // Values that only clash with a series: a year that its rows don't cover, say.
          if (!(error instanceof InputError)) throw error;
          figures.fill(Number.NaN, k * years * WIDTH, (k + 1) * years * WIDTH);
          contradictions[k] = firstOf(error);
        }
      });
    }
    return { figures, contradictions };
  };
}

/** The first of what may be thousands of bad rows. */
function firstOf({ issues }: InputError): string {
  const { fix: _, ...first } = issues[0]!;
  return issues.length === 1 ? issueText(first) : `${issueText(first)} (and ${issues.length - 1} more)`;
}

/**
 * Figures of one design of a chunk, one set a year; null if it was not played.
 *
 * @param k its place in the chunk, from 0
 * @param count how many years each design was played in; 0 for the scenario's own
 */
export function figuresOf(played: PlayedChunk, k: number, count: number): readonly Figures[] | null {
  if (played.contradictions[k] !== null) return null;
  const years = Math.max(1, count);
  return Array.from(
    { length: years },
    (_, y) =>
      Object.fromEntries(
        DESIGN_FIGURES.map(({ name }, f) => {
          const value = played.figures[(k * years + y) * WIDTH + f]!;
          return [name, Number.isNaN(value) ? null : value];
        }),
      ) as Figures,
  );
}
