/**
 * Runs the program for a test that waits for it: one command after another in one thread, so that the bundle is loaded
 * and its loops are compiled once for a test file and not once for a command.
 */
import { workerData } from 'node:worker_threads';

const { programFile, port, signal } = workerData;
const { runProgram } = await import(programFile);

let ended = { status: null, stdout: '', stderr: '' };
const finish = (status) => {
  port.postMessage({ ...ended, status });
  Atomics.store(signal, 0, 1);
  Atomics.notify(signal, 0);
};
// What nobody caught ends a process with a stack and exit 1; here it must not leave the test waiting.
for (const event of ['uncaughtException', 'unhandledRejection'])
  process.on(event, (error) => {
    ended.stderr += String(error?.stack ?? error);
    finish(1);
  });

port.on('message', async ({ args, cwd, env }) => {
  ended = { status: null, stdout: '', stderr: '' };
  const here = ended;
  finish(
    await runProgram(args, {
      out: (text) => {
        here.stdout += text;
      },
      err: (text) => {
        here.stderr += text;
      },
      colour: false,
      cwd,
      env,
    }),
  );
});
