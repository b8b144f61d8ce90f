/** Sweeps that were stopped: by a signal, by a full disk, in the middle of a row. They end with the same bytes. */
import { spawnSync } from 'node:child_process';
import {
  appendFileSync,
  existsSync,
  mkdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type SweepGiven, sweep } from '../../packages/cli/src/commands/sweep/work.ts';
import { contents, longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';
import { diskOf, GENERATOR, interrupted, memoryIo, STUDY } from './support/sweep.ts';
import { noPosix } from './support/system.ts';

const folder = temporaryFolder();
const whole = join(folder, 'whole');
const VARY = STUDY.filter((_, k) => k % 2 === 0 && k > 0);
const OPTIONS: SweepGiven = { vary: VARY, threads: 1 };

beforeAll(async () => {
  await sweep(GENERATOR, { ...OPTIONS, out: whole }, memoryIo(folder));
});
afterAll(() => removeFolder(folder));

/** A sweep of which so many bytes of rows got to the disk. */
async function stopped(name: string, room_bytes: number, over: Partial<SweepGiven> = {}): Promise<string> {
  const out = join(folder, name);
  const options = { ...OPTIONS, ...over, out, write: diskOf(room_bytes, writeSync) };
  await expect(sweep(GENERATOR, options, memoryIo(folder))).rejects.toThrow(/the disk is full \(ENOSPC\)/);
  return out;
}

const resume = ['sweep', ...STUDY, '--resume', '--out'];

describe('a disk that fills up', () => {
  test('is said with how far it got and how to go on', async () => {
    const out = join(folder, 'full');
    const act = sweep(GENERATOR, { ...OPTIONS, out, write: diskOf(7500, writeSync) }, memoryIo(folder));
    await expect(act).rejects.toMatchObject({
      issues: [
        {
          message: expect.stringMatching(/the disk is full \(ENOSPC\); \d+ of 60 designs/),
          fix: expect.stringMatching(/--resume/),
        },
      ],
    });
    expect(Object.keys(contents(out))).toEqual([
      'sweep.csv.partial',
      'sweep.csv.partial.json',
      'sweep.csv.partial.sums',
    ]);
    expect(statSync(join(out, 'sweep.csv.partial')).size).toBe(7500);
  });

  // In the header, after it, within the first row, within a later one: the end of a row is where it may be cut.
  test.each([100, 400, 3000, 7500])('after %i bytes is gone on from', async (room) => {
    const out = await stopped(`room-${room}`, room);
    const ended = longnight([...resume, out]);
    expect(ended.status).toBe(0);
    expect(ended.stderr).toMatch(/^note: (going on after \d+ of 60 designs|nothing to go on with)/);
    expect(contents(out)).toEqual(contents(whole));
  });

  test('that has no room for the first byte leaves nothing', async () => {
    const out = join(folder, 'new/inner');
    const act = sweep(GENERATOR, { ...OPTIONS, out, write: diskOf(0, writeSync) }, memoryIo(folder));
    await expect(act).rejects.toThrow(/the disk is full.*nothing was played/);
    expect(existsSync(join(folder, 'new'))).toBe(false);
  });

  const small = join(folder, 'small-disk');
  const mounted = (() => {
    mkdirSync(small);
    return spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=36k', 'tmpfs', small]).status === 0;
  })();
  afterAll(() => {
    if (mounted) spawnSync('umount', [small]);
  });
  test.runIf(mounted)('as a real one does: exit 2, no stack, and more room lets it go on', () => {
    const args = ['sweep', ...STUDY, '--threads', '2', '--out', small];
    // 60 rows are about 12 kB; the disk is filled up to where they don't fit.
    writeFileSync(join(small, 'other'), Buffer.alloc(12 * 1024));
    const ended = longnight(args);
    expect(ended.status).toBe(2);
    expect(ended.stdout).toBe('');
    expect(ended.stderr).toMatch(/(disk is full|written) \(ENOSPC\)[\s\S]*--resume/);
    expect(ended.stderr).not.toMatch(/\n\s+at |Error:/);
    rmSync(join(small, 'other'));
    spawnSync('mount', ['-o', 'remount,size=256k', small]);
    expect(longnight([...args, '--resume']).status).toBe(0);
    expect(contents(small)).toEqual(contents(whole));
  });
});

describe.skipIf(noPosix)('a signal', () => {
  const long = [GENERATOR, '--vary', 'arrays[0].size_kWp=1:12:0.05', '--vary', 'bank.modules_parallel=2,6'];
  const straight = join(folder, 'straight');
  beforeAll(() => void longnight(['sweep', ...long, '--out', straight]));

  test.each([
    ['SIGINT', 2],
    ['SIGTERM', 1],
  ] as const)(
    '%s stops a sweep on %i threads, which then goes on to the same bytes',
    async (signal, threads) => {
      const out = join(folder, `${signal}-${threads}`);
      const args = ['sweep', ...long, '--threads', String(threads), '--out', out];
      const partial = join(out, 'sweep.csv.partial');
      const ended = await interrupted(
        args,
        signal,
        () => existsSync(partial) && statSync(partial).size > 5000,
      );
      expect(ended.status).toBe(130);
      expect(ended.stdout).toBe('');
      expect(ended.stderr).toMatch(/^Interrupted after \d+ of 442 designs, kept in [^\n]*--resume[^\n]*\n$/);
      const rows = readFileSync(partial, 'utf8');
      expect(rows.endsWith('\r\n')).toBe(true);
      expect(readFileSync(join(straight, 'sweep.csv'), 'utf8').startsWith(rows)).toBe(true);
      expect(longnight([...args, '--resume']).status).toBe(0);
      expect(contents(out)).toEqual(contents(straight));
    },
  );
});

describe('rows that are there', () => {
  test('are not touched without --resume', async () => {
    const out = await stopped('untouched', 5000);
    const before = contents(out);
    const ended = longnight(['sweep', ...STUDY, '--out', out]);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/unfinished rows[\s\S]*--resume[\s\S]*remove sweep\.csv\.partial/);
    expect(contents(out)).toEqual(before);
  });

  test('of another sweep are refused with what differs', async () => {
    const out = await stopped('other', 5000);
    const before = contents(out);
    const changed = join(folder, 'changed.yaml');
    writeFileSync(changed, readFileSync(GENERATOR, 'utf8').replace('elevation_m: 690', 'elevation_m: 691'));
    const cases: [args: string[], what: RegExp][] = [
      [[changed, ...STUDY.slice(1)], /the scenario has changed/],
      [[...STUDY, '--sample', '30'], /--sample was not given and is 30/],
      [
        [...STUDY.slice(0, 3), '--vary', 'bank.modules_parallel=2,3'],
        /asked with --vary .*2,3,4,6,8' and is now with .*=2,3'/,
      ],
    ];
    for (const [args, what] of cases) {
      const ended = longnight(['sweep', ...args, '--resume', '--out', out]);
      expect(ended).toMatchObject({ status: 2, stdout: '' });
      expect(ended.stderr).toMatch(what);
      expect(ended.stderr).toMatch(/fix: /);
      expect(contents(out)).toEqual(before);
    }
  });

  test('may end in a torn row, in rubbish, or have no header yet', async () => {
    const full = statSync(join(whole, 'sweep.csv')).size;
    const spoil: [name: string, act: (partial: string) => void][] = [
      ['torn', (partial) => truncateSync(partial, 4321)],
      ['rubbish', (partial) => appendFileSync(partial, `\0\0\0\r\n61,1,2\r\n`)],
      ['empty', (partial) => truncateSync(partial, 0)],
    ];
    for (const [name, act] of spoil) {
      const out = await stopped(`spoilt-${name}`, 7500);
      act(join(out, 'sweep.csv.partial'));
      await sweep(GENERATOR, { ...OPTIONS, out, resume: true }, memoryIo(folder));
      expect(contents(out), name).toEqual(contents(whole));
    }
    // Everything was played and only the name is missing.
    const out = await stopped('last-byte', full - 1);
    await sweep(GENERATOR, { ...OPTIONS, out, resume: true }, memoryIo(folder));
    expect(contents(out)).toEqual(contents(whole));
  });

  test('that were changed are played anew, and it is said', async () => {
    const out = await stopped('altered', 7500);
    const partial = join(out, 'sweep.csv.partial');
    writeFileSync(partial, readFileSync(partial, 'utf8').replace(/^(1,(?:[^,]*,){4})\d/m, '$19'));
    const ended = longnight([...resume, out]);
    expect(ended.status).toBe(0);
    expect(ended.stderr).toMatch(/note: rows behind them are not as they were written and are played anew/);
    expect(contents(out)).toEqual(contents(whole));
  });

  test('of a whole part that was changed are refused', () => {
    const out = join(folder, 'altered-part');
    const args = ['sweep', ...STUDY, '--part', '1/2', '--out', out];
    longnight(args);
    const name = join(out, 'sweep.part-1of2.csv');
    writeFileSync(name, readFileSync(name, 'utf8').replace(/^(1,(?:[^,]*,){4})\d/m, '$19'));
    const ended = longnight([...args, '--resume']);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/not as it was written[\s\S]*fix: remove it/);
  });

  test('without what they were made from are refused', async () => {
    const out = await stopped('no-manifest', 5000);
    writeFileSync(join(out, 'sweep.csv.partial.json'), '{}');
    const ended = longnight([...resume, out]);
    expect(ended.status).toBe(2);
    expect(ended.stderr).toMatch(/does not say what a sweep was made from[\s\S]*fix: /);
  });

  test('--json and the table show resumed rows as played ones', async () => {
    const [a, b] = [await stopped('json-resumed', 7000), join(folder, 'json-straight')];
    const resumed = longnight([...resume, a, '--json']).stdout;
    expect(resumed).toBe(longnight(['sweep', ...STUDY, '--out', b, '--json']).stdout);
    const text = longnight([...resume, await stopped('text-resumed', 7000)]).stdout;
    expect(text.replace(/^Files: [\s\S]*/m, '')).toBe(
      longnight(['sweep', ...STUDY, '--out', b]).stdout.replace(/^Files: [\s\S]*/m, ''),
    );
  });
});

test('--resume and --part ask for a folder', () => {
  for (const option of [['--resume'], ['--part', '1/2']]) {
    const ended = longnight(['sweep', ...STUDY, ...option], ROOT);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/--out DIR/);
  }
});
