import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads';
import { inject } from 'vitest';

export const ROOT = resolve(import.meta.dirname, '../../..');
export const DEMO = join(ROOT, 'data/demo');

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** The bundled bin, as built for this test run. */
export function bundle(): string {
  const error = inject('bundleError');
  if (error !== '') throw new Error(`the bundle was not built:\n${error}`);
  return inject('bundleFile');
}

/**
 * Runs the bundle as a process: where the process is the point (its pipes, signals, zone, threads beside it), or what
 * a shell makes of it. It costs most of a second before the first hour is played.
 */
export function longnightProcess(
  args: readonly string[],
  cwd = ROOT,
  env: Readonly<Record<string, string>> = {},
): Ended {
  const ended = spawnSync(process.execPath, [bundle(), ...args], {
    cwd,
    encoding: 'utf8',
    env: { ...process.env, ...env },
    maxBuffer: 2 ** 28,
  });
  return { status: ended.status, stdout: ended.stdout, stderr: ended.stderr };
}

interface Thread {
  readonly port: MessagePort;
  readonly signal: Int32Array;
}
let thread: Thread | undefined;

/** Longer than any command of a test takes. */
const PATIENCE_ms = 110_000;

function startThread(): Thread {
  bundle();
  const { port1, port2 } = new MessageChannel();
  const signal = new Int32Array(new SharedArrayBuffer(4));
  const worker = new Worker(new URL('./program.thread.js', import.meta.url), {
    workerData: { programFile: pathToFileURL(inject('programFile')).href, port: port2, signal },
    transferList: [port2],
    execArgv: [],
  });
  // Neither keeps the tests from ending.
  worker.unref();
  port1.unref();
  return { port: port1, signal };
}

/**
 * Runs a command of the program and waits for it: exit code and what was printed are those of the process
 * (process.test.ts holds the two together). All commands of the files that a worker tests share a thread. Signals do not
 * reach it and its zone can't be changed: those tests start processes.
 */
export function longnight(
  args: readonly string[],
  cwd = ROOT,
  env: Readonly<Record<string, string>> = {},
): Ended {
  thread ??= startThread();
  const { port, signal } = thread;
  Atomics.store(signal, 0, 0);
  port.postMessage({ args, cwd, env: { ...process.env, ...env } });
  const waited = Atomics.wait(signal, 0, 0, PATIENCE_ms);
  const answer = receiveMessageOnPort(port);
  if (answer === undefined) {
    thread = undefined;
    throw new Error(`longnight ${args.join(' ')}: no answer from its thread (${waited})`);
  }
  return answer.message;
}

/** A folder for one test file; remove it in `afterAll`. */
export const temporaryFolder = (): string => mkdtempSync(join(tmpdir(), 'longnight-test-'));
export const removeFolder = (folder: string): void => rmSync(folder, { recursive: true, force: true });

/** Every file below a folder with its content, hidden ones too: what "nothing was written" is measured by. */
export function contents(folder: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
    const path = join(folder, name);
    found[name] = statSync(path).isDirectory() ? '(folder)' : readFileSync(path, 'latin1');
  }
  return found;
}
