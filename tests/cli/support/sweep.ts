import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import type { Io } from '../../../packages/cli/src/io.ts';
import type { Write } from '../../../packages/cli/src/sweep/row-file.ts';
import { bundle, DEMO, type Ended, ROOT } from './process.ts';

/** A study of 60 designs with a generator, on a grid: what most tests of sweeps play. */
export const GENERATOR = join(DEMO, 'holds-with-generator.yaml');
export const STUDY = [
  GENERATOR,
  ...['--vary', 'arrays[0].size_kWp=1:12:1', '--vary', 'bank.modules_parallel=2,3,4,6,8'],
];

/** Four designs of it, for tests of what is done with the files alone. */
export const SMALL_STUDY = [
  GENERATOR,
  ...['--vary', 'arrays[0].size_kWp=4,8', '--vary', 'bank.modules_parallel=3,4'],
];

export const rowsOf = (folder: string, name = 'sweep.csv'): Record<string, string>[] =>
  parse(readFileSync(join(folder, name), 'utf8'), { columns: true });

/** An io that remembers, for sweeps in this process. */
export function memoryIo(cwd: string): Io & { printed: string; said: string } {
  const io = {
    printed: '',
    said: '',
    out: (text: string) => {
      io.printed += text;
    },
    err: (text: string) => {
      io.said += text;
    },
    colour: false,
    cwd,
    env: {},
  };
  return io;
}

/** A disk that takes so many bytes and no more, and the last of them only in part, as real ones do. */
export function diskOf(room_bytes: number, really: Write): Write {
  let left = room_bytes;
  return (handle, bytes) => {
    if (left === 0)
      throw Object.assign(new Error('ENOSPC: no space left on device, write'), {
        code: 'ENOSPC',
        syscall: 'write',
      });
    const taken = Math.min(left, bytes.length);
    left -= taken;
    return really(handle, bytes.subarray(0, taken));
  };
}

/** Runs the bundle and interrupts it with a signal as soon as `when` says so. */
export function interrupted(
  args: readonly string[],
  signal: NodeJS.Signals,
  when: () => boolean,
): Promise<Ended> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, [bundle(), ...args], { cwd: ROOT });
    let [stdout, stderr] = ['', ''];
    child.stdout.on('data', (data) => {
      stdout += data;
    });
    child.stderr.on('data', (data) => {
      stderr += data;
    });
    const look = setInterval(() => {
      if (!when()) return;
      clearInterval(look);
      child.kill(signal);
    }, 2);
    child.on('exit', (status) => {
      clearInterval(look);
      resolve({ status, stdout, stderr });
    });
  });
}
