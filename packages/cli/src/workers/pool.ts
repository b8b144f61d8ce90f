import { Worker } from 'node:worker_threads';
import type { Axis, Harder } from '@longnight/core';
import { type Chunk, newChunkPlayer, type PlayedChunk, type StudyTask } from '@longnight/core/study';

/**
 * Designs sent to a thread at a time: sending one costs as much as playing a tenth of one, and a chunk should not keep
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
  /^(site|weather|run|loads)\b|^arrays\[\d+\]\.(tilt|azimuth|horizon|losses|albedo|mounting|cell|sky|incidence|low_light|power_temp)/;

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
 * @param threads 1 plays in this thread
 */
export async function* playDesigns(
  task: StudyTask,
  indices: Iterable<number>,
  harder: Harder,
  threads: number,
): AsyncGenerator<Delivery> {
  const chunks = inChunks(indices, harder, prepares(task.axes) ? CHUNK.skies : CHUNK.sizes);
  if (threads <= 1) {
    const play = newChunkPlayer(task);
    for (const chunk of chunks) {
      yield { indices: chunk.indices, played: play(chunk) };
      // Lets signals and progress through between two chunks.
      await new Promise((resolve) => setImmediate(resolve));
    }
    return;
  }
  const crew = Array.from({ length: threads }, () => newHand(task));
  try {
    // Each thread has one chunk to play and one waiting at its door.
    const underWay: { chunk: Chunk; done: Promise<PlayedChunk> }[] = [];
    while (true) {
      const next = chunks.next();
      if (!next.done) {
        const hand = crew.reduce((least, h) => (h.waiting() < least.waiting() ? h : least));
        const done = hand.play(next.value);
        // If a thread breaks, the first chunk waited for says so; the others must not end the process.
        done.catch(() => {});
        underWay.push({ chunk: next.value, done });
        if (underWay.length < 2 * threads) continue;
      }
      const first = underWay.shift();
      if (first === undefined) return;
      yield { indices: first.chunk.indices, played: await first.done };
    }
  } finally {
    await Promise.all(crew.map((hand) => hand.stop()));
  }
}

function* inChunks(indices: Iterable<number>, harder: Harder, size: number): Generator<Chunk, undefined> {
  let chunk: number[] = [];
  for (const index of indices) {
    chunk.push(index);
    if (chunk.length === size) {
      yield { indices: chunk, harder };
      chunk = [];
    }
  }
  if (chunk.length > 0) yield { indices: chunk, harder };
  return undefined;
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
