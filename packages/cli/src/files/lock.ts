import { randomUUID } from 'node:crypto';
import {
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  renameSync,
  rmdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { hostname, uptime } from 'node:os';
import { join } from 'node:path';
import type { InputError } from '@longnight/core';
import { refused } from '@longnight/core/scenario';

/** Who holds a lock. */
interface Holder {
  readonly pid: number;
  /** Name of the machine, and on Linux the container's own numbering of processes: only there does `pid` say who. */
  readonly host: string;
  readonly since: string;
  /** Boot and start of the process, so that another one with its number is not taken for it; empty off Linux. */
  readonly born: string;
}

/** Far more than two processes that start at once ever need. */
const MOST_TRIES = 100;
/** A clock that is set after a boot moves the boot; off Linux it is all there is to tell one by. */
const CLOCK_SET_ms = 600_000;

/**
 * Takes the lock on some outputs of a folder. It is a folder with one file in it, which a rename puts in place whole:
 * that fails if another is there. A dead holder's file has a name that no other has, so that whoever clears it away
 * can't clear away the lock of somebody who was faster.
 *
 * @param folder path of a folder that is there
 * @param shown the folder as messages show it
 * @param stem what the outputs are called
 * @returns what gives the lock back
 * @throws InputError if a process holds it that runs, or may run on another machine
 */
export function takeLock(folder: string, shown: string, stem: string): () => void {
  const name = `.${stem}.lock`;
  const lock = join(folder, name);
  const mine = randomUUID();
  const made = join(folder, `${name}.${mine}`);
  mkdirSync(made);
  try {
    const holder: Holder = {
      pid: process.pid,
      host: here(),
      since: new Date().toISOString(),
      born: bornOf(process.pid),
    };
    writeFileSync(join(made, mine), JSON.stringify(holder));
    for (let tries = 1; !placed(made, lock); tries++) {
      const held = heldIn(lock);
      if (held !== null && !isGone(held.holder)) throw taken(held.holder, shown, name);
      if (tries === MOST_TRIES) throw taken(null, shown, name);
      unlock(lock, held?.file);
    }
  } finally {
    rmSync(made, { recursive: true, force: true });
  }
  // Who was killed on the way to the lock left its own; whoever is on the way now lives.
  for (const left of readdirSync(folder).filter((other) => other.startsWith(`${name}.`))) {
    const held = heldIn(join(folder, left));
    if (held !== null && isGone(held.holder)) rmSync(join(folder, left), { recursive: true, force: true });
  }
  return () => unlock(lock, mine);
}

/** True if the lock is ours now. */
function placed(made: string, lock: string): boolean {
  try {
    renameSync(made, lock);
    return true;
  } catch (error) {
    // What systems say of a folder that is there; a file of that name is no lock of ours.
    if (['ENOTEMPTY', 'EEXIST', 'EPERM', 'EACCES', 'ENOTDIR'].includes(codeOf(error))) return false;
    throw error;
  }
}

/** Takes one holder's file away; the folder only goes if nobody else's is in it. */
function unlock(lock: string, file?: string): void {
  if (file !== undefined) rmSync(join(lock, file), { force: true });
  try {
    rmdirSync(lock);
  } catch {
    // Somebody else took it, or cleared it away.
  }
}

/** Who holds a lock: null if nobody does any more, a null holder if what is there does not say. */
function heldIn(lock: string): { readonly file: string; readonly holder: Holder | null } | null {
  let file = '';
  try {
    file = readdirSync(lock)[0] ?? '';
    if (file === '') return null;
    const holder = JSON.parse(readFileSync(join(lock, file), 'utf8')) as Holder;
    return { file, holder: Number.isInteger(holder?.pid) ? holder : null };
  } catch (error) {
    return codeOf(error) === 'ENOENT' ? null : { file, holder: null };
  }
}

/** True if it is certain that the holder no longer runs. */
function isGone(holder: Holder | null): boolean {
  if (holder === null || holder.host !== here()) return false;
  try {
    process.kill(holder.pid, 0);
  } catch (error) {
    if (codeOf(error) === 'ESRCH') return true;
  }
  const born = bornOf(holder.pid);
  if (born !== '' && holder.born !== '') return born !== holder.born;
  return Date.parse(holder.since) < Date.now() - uptime() * 1000 - CLOCK_SET_ms;
}

function here(): string {
  try {
    return `${hostname()} ${readlinkSync('/proc/self/ns/pid')}`;
  } catch {
    return hostname();
  }
}

function bornOf(pid: number): string {
  try {
    const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
    // proc(5): behind the name, which may hold anything, stand the state and, 19 fields later, the start.
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return `${boot} ${stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19]}`;
  } catch {
    return '';
  }
}

const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? '';

function taken(holder: Holder | null, folder: string, name: string): InputError {
  const refuse = refused('out-in-use', { file: folder });
  const expected = 'a folder that no other run writes into';
  if (holder === null)
    return refuse`${name} is here and does not say who writes here | remove ${folder}/${name} if nobody
      does, or name another folder with --out | ${expected}`;
  const since = `since ${holder.since.slice(0, 16).replace('T', ' ')} UTC`;
  if (holder.host === here())
    return refuse`another run writes here: process ${holder.pid}, ${since} | wait until it has ended, or
      name another folder with --out | ${expected}`;
  return refuse`another run writes here, or was stopped: process ${holder.pid} on
    ${holder.host.split(' ')[0]}, ${since}, on another machine or in another container | wait until it has
    ended, or remove ${folder}/${name} if it has | ${expected}`;
}
