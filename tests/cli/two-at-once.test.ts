/** Two processes that write the same outputs: one does, the other is told who has them. */
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { takeLock } from '../../packages/cli/src/files/lock.ts';
import { bundle, contents, type Ended, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { GENERATOR, interrupted, SMALL_STUDY } from './support/sweep.ts';
import { noProc } from './support/system.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** Pairs of processes; PAIRS=60 for a long look. */
const PAIRS = Number(process.env.PAIRS ?? 1);

/** Two processes with one command, started together. */
const pairOf = (args: readonly string[]): Promise<readonly Ended[]> =>
  Promise.all(
    [0, 1].map(
      () =>
        new Promise<Ended>((resolve) => {
          const child = spawn(process.execPath, [bundle(), ...args], { stdio: ['ignore', 'ignore', 'pipe'] });
          let stderr = '';
          child.stderr.on('data', (data) => {
            stderr += data;
          });
          child.on('exit', (status) => resolve({ status, stdout: '', stderr }));
        }),
    ),
  );

/** Exactly one is done. Only who comes when the other has ended finds the folder free, and does the same again. */
function expectOne(ended: readonly Ended[]): number {
  const refused = ended.filter(({ status }) => status !== 0);
  expect(refused.length).toBeLessThan(2);
  for (const { status, stderr } of refused) {
    expect(status).toBe(2);
    expect(stderr).toMatch(
      /: another run writes here: process \d+, since [\d-]+ [\d:]+ UTC; expected [\s\S]*fix: wait/,
    );
  }
  return refused.length;
}

describe('two sweeps in one folder', () => {
  const long = [GENERATOR, '--vary', 'arrays[0].size_kWp=1:12:0.02', '--vary', 'bank.modules_parallel=2,6'];
  const args = ['sweep', ...long, '--threads', '1', '--out'];
  const alone = join(folder, 'alone');
  const begun = join(folder, 'begun');
  beforeAll(async () => {
    expect(longnight([...args, alone]).status).toBe(0);
    // Killed on its way: rows to go on with, and the lock of a process that is gone.
    const partial = join(begun, 'sweep.csv.partial.sums');
    await interrupted(
      [...args, begun],
      'SIGKILL',
      () => existsSync(partial) && readFileSync(partial).length > 300,
    );
    expect(readdirSync(begun)).toContain('.sweep.lock');
  });

  test.each(['from the start', 'gone on with'])('%s: one plays, the other is refused', async (which) => {
    let refused = 0;
    for (let pair = 0; pair < PAIRS; pair++) {
      const out = join(folder, `${which}-${pair}`);
      if (which === 'gone on with') cpSync(begun, out, { recursive: true });
      const resume = which === 'gone on with' ? ['--resume'] : [];
      refused += expectOne(await pairOf([...args, out, ...resume]));
      expect(contents(out)).toEqual(contents(alone));
    }
    expect(refused).toBeGreaterThan(0);
  });
});

test.each<[name: string, args: readonly string[]]>([
  [
    'size',
    [
      'size',
      ...SMALL_STUDY,
      '--require',
      'unmet.share<=0.01',
      '--least',
      'bank.usable_kWh',
      '--threads',
      '1',
    ],
  ],
  ['run', ['run', GENERATOR]],
  ['gather', ['gather', join(folder, 'parts')]],
])('two of %s in one folder leave what one leaves', async (name, args) => {
  if (name === 'gather')
    for (const part of ['1/2', '2/2'])
      longnight(['sweep', ...SMALL_STUDY, '--part', part, '--out', join(folder, 'parts')]);
  const alone = join(folder, `${name}-alone`);
  expect(longnight([...args, '--out', alone]).status).toBe(0);
  for (let pair = 0; pair < PAIRS; pair++) {
    const out = join(folder, `${name}-${pair}`);
    expectOne(await pairOf([...args, '--out', out]));
    expect(contents(out)).toEqual(contents(alone));
  }
});

test('two parts of one sweep may be played in one folder at once', async () => {
  const out = join(folder, 'both');
  const ended = await Promise.all(
    ['1/2', '2/2'].map((part) =>
      interrupted(['sweep', ...SMALL_STUDY, '--part', part, '--out', out], 'SIGINT', () => false),
    ),
  );
  expect(ended.map(({ status }) => status)).toEqual([0, 0]);
});

describe('a lock', () => {
  const lock = join(folder, '.x.lock');
  /** What a holder writes, changed. */
  function left(change: Readonly<Record<string, unknown>>): void {
    removeFolder(lock);
    const release = takeLock(folder, 'out', 'x');
    const [file] = readdirSync(lock);
    const holder = JSON.parse(readFileSync(join(lock, file!), 'utf8'));
    release();
    expect(existsSync(lock)).toBe(false);
    mkdirSync(lock);
    writeFileSync(join(lock, 'holder'), JSON.stringify({ ...holder, ...change }));
  }
  const take = (): void => takeLock(folder, 'out', 'x')();
  const gone = spawnSync(process.execPath, ['-e', '']).pid;

  const LEFT: [what: string, change: Record<string, unknown>, refusal: RegExp | null][] = [
    ['of a process that runs', {}, /^out: another run writes here: process \d+, since /],
    ['of a process that is gone', { pid: gone }, null],
    ['of a process whose number another one has now', { born: 'another-boot 1' }, null],
    ['from before the machine was started', { born: '', since: '2001-01-01T00:00:00.000Z' }, null],
    ['without a word when the process began', { born: '' }, /another run writes here: process/],
    [
      'of another machine',
      { host: 'mill', pid: gone },
      /was stopped: process \d+ on mill, since .*remove out\/\.x\.lock if it has/s,
    ],
    [
      "of another container of this machine's name",
      { host: `${hostname()} pid:[1]`, pid: gone },
      /in another container.*remove out\/\.x\.lock if it has/s,
    ],
    ['that does not say whose it is', { pid: null }, /does not say who writes here.*remove out\/\.x\.lock/s],
  ];
  // Only Linux tells when a process began, and of containers.
  test.each(LEFT.filter(([what]) => !(noProc && /number|container/.test(what))))(
    '%s',
    (_, change, refusal) => {
      left(change);
      if (refusal === null) take();
      else expect(take).toThrow(refusal);
      expect(existsSync(lock)).toBe(refusal !== null);
      removeFolder(lock);
      expect(readdirSync(folder).filter((name) => name.startsWith('.x'))).toEqual([]);
    },
  );

  test('that was never filled, and what was left on the way to one, are cleared away', () => {
    mkdirSync(lock);
    left({ pid: gone });
    cpSync(lock, join(folder, '.x.lock.killed'), { recursive: true });
    take();
    mkdirSync(lock);
    take();
    expect(readdirSync(folder).filter((name) => name.startsWith('.x'))).toEqual([]);
  });
});
