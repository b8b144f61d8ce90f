/** What tests ask of a system and not every one has. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

/** Whether it is missing; says once that its tests are skipped. */
function without(what: string, isThere: boolean): boolean {
  if (!isThere) console.warn(`no ${what} on this system: tests that need them are skipped`);
  return !isThere;
}

const isWindows = process.platform === 'win32';
/** Windows ends a process without asking it, and has a shell, pipes and links of its own kind. */
export const noPosix = without('signals, shell, named pipes and symbolic links of POSIX', !isWindows);
export const noProc = without('/proc and namespaces of Linux', process.platform === 'linux');
export const noFullDisk = without('/dev/full', existsSync('/dev/full'));
export const noSha256sum = without(
  'GNU sha256sum',
  /GNU/.test(spawnSync('sha256sum', ['--version'], { encoding: 'utf8' }).stdout ?? ''),
);
