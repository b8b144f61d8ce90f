import { Worker } from 'node:worker_threads';
import type { Axis, Harder } from '@longnight/core';
import { type Chunk, newChunkPlayer, type PlayedChunk, type StudyTask } from '@longnight/core/study';

/**
 * Years sent to a thread at a time: sending one costs as much as playing a tenth of one, and a chunk should not keep
 * Ctrl-C or the others waiting.
 */
const CHUNK = { sizes: 64, skies: 8 } as const;
/** Below this much estimated work a thread costs more to start than it saves. */
const WORTH_THREADS_ms = 300;
/** What one played year is taken to cost when that is estimated. */
const YEAR_ms = 0.4;

/** A chunk that has been played, with the designs it is of. */
interface Delivery {
  readonly indices: readonly number[];
  readonly played: PlayedChunk;
}

/** What it costs to make sky and arrays anew, as a study of weather or roofs does for each design. */
const PREPARED_ms = 8;

/** Keys that change what is prepared before the hours are played. */
const PREPARES =
  /^(site|weather|run|loads)\b|^arrays\[(?:\d+|\*)\]\.(tilt|azimuth|horizon|losses|albedo|mounting|cell|sky|incidence|low_light|power_temp)/;

const prepares = (axes: readonly Axis[]): boolean => axes.some((axis) => PREPARES.test(axis.path));

/** How many threads are worth it for so many played years. */
export const threadsFor = (years: number, available: number, axes: readonly Axis[] = []): number => {
  const each_ms = prepares(axes) ? YEAR_ms + PREPARED_ms : YEAR_ms;
  return years * each_ms < WORTH_THREADS_ms ? 1 : Math.max(1, available);
};

/**
 * Plays designs on some threads and hands them back in order, whatever order they finish in. At most a few chunks a
 * thread are under way or waiting, so memory does not grow with the number of designs.
 *
 * @param threads how many play, this one among them: a thread that only waits would cost the start of one more
 */
export async function* playDesigns(
  task: StudyTask,
  indices: Iterable<number>,
  harder: Harder,
  threads: number,
): AsyncGenerator<Delivery> {
  const runs = inRuns(indices, prepares(task.axes) ? CHUNK.skies : CHUNK.sizes);
  const crew = [ownHand(task), ...Array.from({ length: threads - 1 }, () => newHand(task))];
  try {
    // Each thread has a run to play and one waiting at its door.
    const underWay: { indices: readonly number[]; pieces: Promise<PlayedChunk[]> }[] = [];
    while (true) {
      const { value: run, done } = runs.next();
      if (!done) {
        const pieces = Promise.all(
          seedPieces(run.length, task.seeds, threads).map((seeds) => {
            const hand = crew.reduce((least, h) => (h.waiting() < least.waiting() ? h : least));
            return hand.play({ indices: run, harder, seeds });
          }),
        );
        // If a thread breaks, the first run waited for says so; the others must not end the process.
        pieces.catch(() => {});
        underWay.push({ indices: run, pieces });
        if (underWay.length < 2 * threads) continue;
      }
      const first = underWay.shift();
      if (first === undefined) return;
      yield { indices: first.indices, played: joined(await first.pieces, first.indices.length) };
    }
  } finally {
    await Promise.all(crew.map((hand) => hand.stop()));
  }
}

function* inRuns(indices: Iterable<number>, size: number): Generator<readonly number[], undefined> {
  let run: number[] = [];
  for (const index of indices) {
    run.push(index);
    if (run.length === size) {
      yield run;
      run = [];
    }
  }
  if (run.length > 0) yield run;
  return undefined;
}

/** Shares a run of designs out by its years, so that few designs with many seeds keep every thread busy. */
export function seedPieces(
  designs: number,
  seeds: readonly number[],
  threads: number,
): readonly (readonly number[])[] {
  const size = Math.max(1, Math.min(CHUNK.sizes / designs, seeds.length / (2 * threads)));
  const pieces = Math.max(1, Math.ceil(seeds.length / size));
  const cut = (piece: number): number => Math.round((piece * seeds.length) / pieces);
  return Array.from({ length: pieces }, (_, k) => seeds.slice(cut(k), cut(k + 1)));
}

/** Pieces of the same designs, their seeds one after the other, as if they had been played in one. */
function joined(pieces: readonly PlayedChunk[], designs: number): PlayedChunk {
  if (pieces.length === 1) return pieces[0]!;
  const figures = new Float64Array(pieces.reduce((sum, piece) => sum + piece.figures.length, 0));
  const contradictions: (string | null)[] = [];
  let at = 0;
  for (let k = 0; k < designs; k++) {
    const from = at;
    for (const piece of pieces) {
      const each = piece.figures.length / designs;
      figures.set(piece.figures.subarray(k * each, (k + 1) * each), at);
      at += each;
    }
    const why = pieces.map((piece) => piece.contradictions[k]!).find((text) => text !== null) ?? null;
    if (why !== null) figures.fill(Number.NaN, from, at);
    contradictions.push(why);
  }
  return { figures, contradictions };
}

interface Hand {
  play(chunk: Chunk): Promise<PlayedChunk>;
  /** Chunks given and not yet back. */
  waiting(): number;
  stop(): Promise<unknown>;
}

function newHand(task: StudyTask): Hand {
  const worker = startWorker(task);
  const asked: { resolve: (played: PlayedChunk) => void; reject: (error: unknown) => void }[] = [];
  let broken: unknown = null;
  worker.on('message', (played: PlayedChunk) => asked.shift()?.resolve(played));
  const fail = (error: unknown): void => {
    broken = error;
    for (const { reject } of asked.splice(0)) reject(error);
  };
  worker.on('error', fail);
  worker.on('exit', (code) => fail(new Error(`a worker thread ended with code ${code}`)));
  return {
    play: (chunk) =>
      new Promise((resolve, reject) => {
        if (broken !== null) reject(broken);
        else {
          asked.push({ resolve, reject });
          worker.postMessage(chunk);
        }
      }),
    waiting: () => asked.length,
    stop: () => worker.terminate(),
  };
}

/** This thread, which plays between two rounds of its events: signals, progress and the others' chunks come through. */
function ownHand(task: StudyTask): Hand {
  const play = newChunkPlayer(task);
  let asked = 0;
  return {
    play: (chunk) => {
      asked++;
      return new Promise((resolve, reject) => {
        setImmediate(() => {
          asked--;
          try {
            resolve(play(chunk));
          } catch (error) {
            reject(error);
          }
        });
      });
    },
    waiting: () => asked,
    stop: () => Promise.resolve(),
  };
}

/** The worker beside this file: as bundled, or as TypeScript, which Node 20 only reads through tsx. */
function startWorker(task: StudyTask): Worker {
  if (!import.meta.url.endsWith('.ts')) {
    return new Worker(new URL('./worker.js', import.meta.url), { workerData: task });
  }
  const url = JSON.stringify(new URL('./worker.ts', import.meta.url).href);
  return new Worker(`import('tsx/esm/api').then((tsx) => { tsx.register(); return import(${url}); })`, {
    eval: true,
    workerData: task,
    execArgv: ['--conditions=@longnight/source'],
  });
}
