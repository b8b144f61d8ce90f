import { availableParallelism } from 'node:os';
import { billOfScenario, type Harder, type InputError } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import {
  darkSeasonsBelow,
  figuresOf,
  inYear,
  NOT_HARDER,
  neighboursOf,
  newChunkPlayer,
  newWeakestFinder,
  type Tried,
  triedDesign,
  type WeakestPoint,
} from '@longnight/core/study';
import { Ending, EXIT } from '../../exit-codes.ts';
import { madeFrom } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import type { HarderShown, SizeShown } from '../../render/size/answers.ts';
import { nothingHolds } from '../../render/size/answers.ts';
import { sizeDocument } from '../../render/size/document.ts';
import { sizeJson } from '../../render/size/json.ts';
import { openSizeRows, SIZE_NAMES, type SizeRows } from '../../sweep/size-rows.ts';
import { watchInterruption } from '../../workers/interruption.ts';
import { threadsFor } from '../../workers/pool.ts';
import { type Progress, progressOf } from '../../workers/progress.ts';
import { bySomePrice, cheapestUpwards, type Heard, playAll, type SizeWork } from '../../workers/sizer.ts';
import { tell } from '../tell.ts';
import { readQuestion, type SizeGiven, type SizeQuestion } from './question.ts';

/** What the answer is tried against. */
const HARDER: readonly { readonly name: string; readonly words: string; readonly harder: Partial<Harder> }[] =
  [
    { name: 'dark_season', words: 'a winter 10 % darker', harder: { dark_season: 0.9 } },
    { name: 'load', words: 'a load 10 % larger', harder: { load: 1.1 } },
  ];

/** Designs that are shown with their weakest point, which takes a year played in full for each. */
const CHOICE = 24;

/** Designs kept in memory at most, and years played at most: some hours on one processor. */
const MOST_DESIGNS = 500_000;
const MOST_YEARS = 5_000_000;

/**
 * `longnight size`: the design with the least figure among those that keep every requirement.
 *
 * @throws Ending with exit code 3, after all is written and printed, if none keeps them
 */
export async function size(file: string, given: SizeGiven, io: Io): Promise<void> {
  const question = readQuestion(io.cwd, file, given);
  const { files, axes, ask, possible } = question;
  const { years } = possible;
  const { out } = given;
  checkOutputs(io.cwd, out, SIZE_NAMES, files.paths);
  const { study } = files;
  const played = study.designs * Math.max(1, years.length);
  const work: SizeWork = {
    study,
    axes,
    ask,
    money: files.read.scenario.money,
    task: { source: files.source, texts: files.texts, axes, years },
    threads: given.threads ?? threadsFor(study.designs, availableParallelism(), axes, years.length),
  };
  if (study.designs > MOST_DESIGNS) throw tooMany(study.designs, 1, MOST_DESIGNS);
  if (played > MOST_YEARS) throw tooMany(study.designs, years.length, MOST_YEARS);

  const interruption = watchInterruption();
  const rounds = 1 + HARDER.length;
  const progress: Progress = progressOf(io, 'designs', rounds * study.designs);
  let done = 0;
  const heard: Heard = (indices) => {
    done += indices.length;
    progress.at(done);
    if (interruption.came()) throw new Ending(EXIT.interrupted, 'Interrupted: nothing was written.');
  };
  let rows: SizeRows | null = null;
  try {
    rows = out === undefined ? null : openSizeRows(io.cwd, out, axes, years);
    const shown = await answerOf(question, work, heard, rows);
    progress.end();
    const document = sizeDocument(shown, madeFrom(files));
    await tell(io, given, SIZE_NAMES, { document, json: sizeJson(shown), swap: rows?.swap });
    const none = nothingHolds(shown);
    if (none !== null) throw new Ending(EXIT.missedTarget, none);
  } finally {
    progress.end();
    interruption.end();
    rows?.close();
  }
}

/** Plays every design and puts the answer together. */
async function answerOf(
  question: SizeQuestion,
  work: SizeWork,
  heard: Heard,
  rows: SizeRows | null,
): Promise<SizeShown> {
  const { study, axes, ask, task } = work;
  /** Not harder than what was asked. */
  const asAsked: Harder = { ...NOT_HARDER, age_years: question.age_years };
  const answer = await playAll(work, asAsked, (indices, played) => {
    rows?.append(indices, played);
    heard(indices, played);
  });

  const play = newChunkPlayer(task);
  /** A single design in a year as drawn or made harder; null if its values contradict each other. */
  const playOne = (index: number, harder: Harder) =>
    figuresOf(play({ indices: [index], harder }), 0, task.years.length);
  const tryOne = (index: number, harder: Harder): Tried | null => {
    const figures = playOne(index, harder);
    return figures === null ? null : triedDesign(index, figures, ask);
  };

  const findWeakest = newWeakestFinder(task.source.file, task.texts, asAsked);
  const { best } = answer;
  const harder: HarderShown[] = [];
  for (const { name, words, harder: added } of best === null ? [] : HARDER) {
    const how: Harder = { ...asAsked, ...added };
    const often =
      how.dark_season === 1
        ? null
        : darkSeasonsBelow(question.files.read.scenario, how.dark_season, task.years.length > 0);
    harder.push({
      name,
      words,
      often,
      harder: how,
      same: tryOne(best!, how)!,
      cheapest: await cheapestIn(how),
    });
  }
  const pick = best ?? answer.nearest;
  const scenario = pick === null ? null : study.design(pick).scenario;
  return {
    question,
    designs: study.designs,
    answer,
    choice: answer.candidates.slice(0, CHOICE).map((index) => ({
      tried: answer.tried(index)!,
      weakest: weakestOf(index, answer.tried(index)!.hardest_year),
    })),
    years: pick === null ? [] : playOne(pick, asAsked)!,
    bill: scenario === null || scenario.money === undefined ? null : billOfScenario(scenario),
    beside:
      best === null
        ? []
        : neighboursOf(axes, best).map((beside) => ({
            ...beside,
            tried: answer.tried(beside.index) ?? tryOne(beside.index, asAsked),
          })),
    harder,
  };

  function weakestOf(index: number, year: number): WeakestPoint {
    // Only what was played can be chosen.
    const scenario = study.design(index).scenario!;
    return findWeakest(inYear(scenario, task.years[year]), scenario);
  }

  async function cheapestIn(how: Harder): Promise<Tried | null> {
    if (bySomePrice(work)) return cheapestUpwards(work, how, (index) => answer.tried(index)?.capital, heard);
    const { best, tried: known } = await playAll(work, how, heard);
    return best === null ? null : known(best)!;
  }
}

function tooMany(designs: number, years: number, most: number): InputError {
  const count = years > 1 ? `${designs} designs in ${years} years each` : `${designs} designs`;
  return refused('designs', '--vary')`${count} are too many | take larger steps to find the region, then
    small ones within it; or longnight sweep --sample 10000 for an even cover | at most
    ${most}${years > 1 ? ' years in all' : ''}`;
}
