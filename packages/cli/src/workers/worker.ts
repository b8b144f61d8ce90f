import { parentPort, workerData } from 'node:worker_threads';
import { type Chunk, newChunkPlayer, type StudyTask } from '@longnight/core/study';

/** A thread's whole life: make the task's player once, then play each chunk that comes and send it back. */
const play = newChunkPlayer(workerData as StudyTask);
parentPort!.on('message', (chunk: Chunk) => {
  const played = play(chunk);
  parentPort!.postMessage(played, [played.figures.buffer as ArrayBuffer]);
});
