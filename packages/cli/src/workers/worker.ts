import { parentPort, workerData } from 'node:worker_threads';
import { type Chunk, type Errand, newChunkPlayer } from '@longnight/core';

/** A thread's whole life: make the errand's player once, then play each chunk that comes and send it back. */
const play = newChunkPlayer(workerData as Errand);
parentPort!.on('message', (chunk: Chunk) => {
  const played = play(chunk);
  parentPort!.postMessage(played, [played.figures.buffer as ArrayBuffer]);
});
