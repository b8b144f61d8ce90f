/**
 * Runs the program for a test that waits for it: one command after another in one thread, so that the bundle is loaded
 * and its loops are compiled once and not once for a command.
 */

import { syncBuiltinESMExports } from 'node:module';
import os from 'node:os';
import { workerData } from 'node:worker_threads';

// A command that is not told how many threads to play on plays on one, here and on a machine of many cores: tests of
// threads say --threads. Their start costs more than most studies of a test, and no byte hangs on their number.
os.availableParallelism = () => 1;
syncBuiltinESMExports();

const { programFile, port, signal } = workerData;
const { runProgram } = await import(programFile);

/** What the command under way has printed; null between two of them. */
let running = null;
/** What went wrong after a command had ended: the next one tells. */
let late = '';

function finish(command, status) {
  if (running !== command) return;
  running = null;
  port.postMessage({ ...command, status });
  Atomics.store(signal, 0, 1);
  Atomics.notify(signal, 0);
}

// What nobody caught ends a process with a stack and exit 1; here it must not leave the test flexible.
for (const event of ['uncaughtException', 'unhandledRejection'])
  process.on(event, (error) => {
    const told = `${error?.stack ?? error}\n`;
    if (running === null) late += told;
    else {
      running.stderr += told;
      finish(running, 1);
    }
  });

port.on('message', async ({ args, cwd, env }) => {
  const command = { stdout: '', stderr: late };
  running = command;
  late = '';
  const status = await runProgram(args, {
    out: (text) => {
      command.stdout += text;
    },
    err: (text) => {
      command.stderr += text;
    },
    colour: false,
    cwd,
    env,
  });
  finish(command, status);
});
