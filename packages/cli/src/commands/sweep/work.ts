import { availableParallelism } from 'node:os';
import type { InputError } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import { NOT_HARDER, readAxes, studyNotices } from '@longnight/core/study';
import { Ending, EXIT } from '../../exit-codes.ts';
import { readStudy, type StudyFiles } from '../../files/study.ts';
import type { Io } from '../../io.ts';
import { paint } from '../../render/document/paint.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { sweepDocument } from '../../render/sweep/document.ts';
import { sweepJson } from '../../render/sweep/json.ts';
import { SweepDigest } from '../../sweep/digest.ts';
import { openSweepFolder, type SweepFolder } from '../../sweep/folder.ts';
import { manifestOf } from '../../sweep/manifest.ts';
import { placeViews } from '../../sweep/outputs.ts';
import type { Write } from '../../sweep/row-file.ts';
import { type SweepRow, sweepRows } from '../../sweep/rows.ts';
import { designList } from '../../workers/designs.ts';
import { watchInterruption } from '../../workers/interruption.ts';
import { playDesigns, threadsFor } from '../../workers/pool.ts';
import { progressOf } from '../../workers/progress.ts';
import type { Given } from '../tell.ts';

export interface SweepGiven extends Given {
  readonly vary: readonly string[];
  readonly sample?: number;
  readonly resume?: true;
  readonly part?: { readonly number: number; readonly of: number };
  /** What is worth it unless said. */
  readonly threads?: number;
  /** What an hour of the generator less is worth, in the scenario's currency. */
  readonly hourWorth?: number;
  /** How rows get to the disk, for a test of one that fills up. */
  readonly write?: Write;
}

/** `longnight sweep`: read, play every design, write row by row, print. */
export async function sweep(file: string, given: SweepGiven, io: Io): Promise<void> {
  const { out } = given;
  for (const option of ['part', 'resume'] as const)
    if (given[option] && out === undefined) throw needsFolder(option);
  const axes = readAxes(given.vary);
  const list = designList(axes, given.sample ?? null, given.part ?? null);
  const files = readStudy(io.cwd, file, axes, given.set);
  const made = manifestOf(files, list, { sample: given.sample ?? null, hour_worth: given.hourWorth ?? null });
  const rows = sweepRows(axes);
  const digest = new SweepDigest(made.axes, list);
  if (given.hourWorth !== undefined) refuseIdleWorth(files, digest);
  const json = given.json ? sweepJson(made, io) : null;
  const take = (index: number, row: SweepRow): void => {
    digest.take(index, row);
    json?.design(index, row);
  };
  const folder =
    out === undefined ? null : openSweepFolder(io.cwd, out, made, rows, list, files.paths, given, take);
  const done = folder?.done ?? 0;
  if (given.resume) io.err(`note: ${resumed(folder?.complete === true, done, list.count)}\n`);

  for (const notice of studyNotices(files.read.scenario)) io.err(`note: ${noticeText(notice)}\n`);

  const interruption = folder === null ? null : watchInterruption();
  const progress = progressOf(io, 'designs', list.count, done);
  const threads = given.threads ?? threadsFor(list.count - done, availableParallelism(), axes);
  const task = { source: files.source, texts: files.texts, axes, seeds: [] };
  try {
    let k = done;
    const left = function* () {
      for (let place = done; place < list.count; place++) yield list.at(place);
    };
    for await (const { indices, played } of playDesigns(task, left(), NOT_HARDER, threads)) {
      const bytes = rows.write(indices, played);
      folder?.append(bytes, indices.length);
      // Read back from the text, so that played rows and resumed rows are the same rows.
      const lines = new TextDecoder().decode(bytes).split('\r\n');
      indices.forEach((index, n) => {
        const row = rows.read(index, lines[n]!);
        if (row === null) throw new Error(`sweep.csv: the row of design ${index + 1} can't be read back`);
        take(index, row);
      });
      k += indices.length;
      progress.at(k);
      if (interruption?.came()) throw interrupted(k, list.count, out ?? '');
    }
    const names = folder === null ? [] : finish(folder);
    progress.end();
    json?.end();
    if (json === null) {
      const written = out === undefined ? null : { folder: out, names };
      io.out(toScreen(sweepDocument(made, digest), written, paint(io.colour)));
    }
  } finally {
    progress.end();
    folder?.leave();
    interruption?.end();
  }

  function finish(open: SweepFolder): readonly string[] {
    const { names, note } = placeViews(io.cwd, out!, made, digest);
    open.finish();
    if (note !== null) io.err(`note: ${note}\n`);
    return names;
  }
}

const resumed = (complete: boolean, done: number, count: number): string => {
  if (complete) return `all ${count} designs are there already: nothing was played`;
  return done === 0
    ? 'nothing to go on with: starting with the first design'
    : `going on after ${done} of ${count} designs`;
};

/** @throws InputError where nothing could be held against what a saved hour is worth */
function refuseIdleWorth({ read: { scenario } }: StudyFiles, { growing }: SweepDigest): void {
  const lacks =
    scenario.generator === undefined
      ? ['the plant has no generator', 'leave it out']
      : scenario.money === undefined
        ? ['the scenario has no money section, so that an array costs nothing', 'add money: and prices']
        : growing.size === null
          ? ['no array grows alone', 'vary arrays[0].panels, or size_kWp, and at most one key beside it']
          : null;
  if (lacks !== null) throw refused('hour-worth', '--hour-worth')`${lacks[0]} | ${lacks[1]}`;
}

const needsFolder = (option: string): InputError =>
  refused('no-folder', `--${option}`)`needs a folder to write to or to go on in | add --out DIR | --out DIR
    beside it`;

const interrupted = (done: number, count: number, out: string): Ending =>
  new Ending(
    EXIT.interrupted,
    `Interrupted after ${done} of ${count} designs, kept in ${out}: the same command with --resume goes on from there.`,
  );
