/** Outputs are replaced as a whole: by a disk that refuses, by SIGKILL, and beside files of an earlier run. */
import { spawn, spawnSync } from 'node:child_process';
import {
  appendFileSync,
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  symlinkSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  bundle,
  contents,
  DEMO,
  type Ended,
  longnight,
  removeFolder,
  temporaryFolder,
} from './support/process.ts';
import { GENERATOR, SMALL_STUDY } from './support/sweep.ts';
import { noFullDisk, noPosix, noProc, noSha256sum } from './support/system.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** Each kills at as many moments; KILLS=60 for a long look. */
const KILLS = Number(process.env.KILLS ?? 1);
const PRELOAD = join(import.meta.dirname, 'support/at-call.js');

/** The program with something to happen at a call that changes `out`: see at-call.js. */
function atCall(args: readonly string[], out: string, what: Readonly<Record<string, string>>): Ended {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ['--import', PRELOAD, bundle(), ...args, '--out', out],
    { encoding: 'utf8', env: { ...process.env, AT_UNDER: out, ...what } },
  );
  return { status, stdout, stderr };
}

const holds = ['run', join(DEMO, 'holds.yaml')];
const short = ['run', join(DEMO, 'short-of-bank.yaml')];
const one = ['--threads', '1'];
const size = ['size', ...SMALL_STUDY, '--least', 'bank.usable_kWh', ...one];
/** A command, and the same with another answer. What size writes goes the way of what run does: for a long look only. */
const COMMANDS: readonly [name: string, before: readonly string[], now: readonly string[], stem: string][] = [
  ['run', [...holds, '--xlsx'], [...short, '--every', 'day'], 'report'],
  [
    'sweep',
    ['sweep', GENERATOR, '--vary', 'bank.modules_parallel=2,3', ...one],
    ['sweep', ...SMALL_STUDY, ...one],
    'sweep',
  ],
  ['size', [...size, '--require', 'unmet.share<=0.02'], [...size, '--require', 'unmet.share<=0.01'], 'size'],
];

describe.skipIf(noPosix).each(COMMANDS.slice(0, KILLS > 1 ? 3 : 2))('%s', (name, before, now, stem) => {
  const [old, fresh, out] = ['old', 'new', 'out'].map((which) => join(folder, `${name}-${which}`)) as [
    string,
    string,
    string,
  ];
  let calls = 0;
  let took_ms = 0;

  beforeAll(() => {
    longnight([...before, '--out', old]);
    longnight([...now, '--out', fresh]);
    again();
    const counted = join(folder, `${name}-calls`);
    const from = performance.now();
    atCall(now, out, { AT_COUNT: counted });
    took_ms = performance.now() - from;
    calls = Number(readFileSync(counted, 'utf8'));
  });

  function again(): void {
    removeFolder(out);
    cpSync(old, out, { recursive: true });
  }

  /** All of the old outputs, all of the new ones, or the new ones whole on the disk and on their way. */
  function expectWhole(): void {
    const there = contents(out);
    const shown = Object.fromEntries(
      Object.entries(there).filter(([file]) => !file.startsWith('.') && !file.includes('.partial')),
    );
    const onTheWay = there[`.${stem}.new/sha256`];
    if (onTheWay === undefined) {
      expect([contents(old), contents(fresh)]).toContainEqual(shown);
      return;
    }
    for (const [file, text] of Object.entries(contents(fresh))) {
      if (file === `${stem}.sha256`) continue;
      expect([there[`.${stem}.new/new/${file}`], there[`${file}.partial`], there[file]], file).toContain(
        text,
      );
    }
  }

  function expectCleared(): void {
    const resume = existsSync(join(out, 'sweep.csv.partial')) ? ['--resume'] : [];
    expect(longnight([...now, ...resume, '--out', out]).status).toBe(0);
    expect(contents(out)).toEqual(contents(fresh));
  }

  test('SIGKILL at a call that changes the folder leaves old or new, and the next run clears up', () => {
    expect(calls).toBeGreaterThan(20);
    // The last calls are those of the swap: one as it begins, one in its middle and the very last.
    const from = KILLS < calls ? calls - 16 : 1;
    for (let k = from; k <= calls; k += Math.max(1, Math.floor((calls - from) / (KILLS + 1)))) {
      again();
      expect(atCall(now, out, { AT_KILL: String(k) }).status, `call ${k}`).toBe(null);
      expectWhole();
      expectCleared();
    }
  });

  test('so does SIGKILL at any moment', async () => {
    for (let k = 0; k < KILLS; k++) {
      again();
      const child = spawn(process.execPath, [bundle(), ...now, '--out', out], { stdio: 'ignore' });
      const timer = setTimeout(() => child.kill('SIGKILL'), (took_ms * (k + 0.5)) / KILLS);
      await new Promise((resolve) => child.on('exit', resolve));
      clearTimeout(timer);
      expectWhole();
      expectCleared();
    }
  });

  test('a file that can not be replaced keeps all of them as they were', () => {
    // The last is the list, which is put in place when all the others are.
    for (const file of Object.keys(contents(fresh)).slice(-KILLS)) {
      again();
      const ended = atCall(now, out, { AT_REFUSE: join(out, file) });
      expect(ended).toMatchObject({ status: 2, stdout: '' });
      expect(ended.stderr, file).toMatch(
        /can't be written \(.*EBUSY\), and nothing was\s+changed[\s\S]*fix: /,
      );
      const {
        'sweep.csv.partial': _,
        'sweep.csv.partial.json': __,
        'sweep.csv.partial.sums': ___,
        ...there
      } = contents(out);
      expect(there).toEqual(contents(old));
      expectCleared();
    }
  });

  test.skipIf(noSha256sum)('its list is what sha256sum checks', () => {
    const checked = spawnSync('sha256sum', ['--check', '--strict', `${stem}.sha256`], {
      cwd: fresh,
      encoding: 'utf8',
    });
    expect(checked.status).toBe(0);
    expect(checked.stdout.split('\n').length).toBe(Object.keys(contents(fresh)).length);
  });
});

describe('files of an earlier run', () => {
  const written = (name: string): string => {
    const out = join(folder, name);
    expect(longnight([...holds, '--xlsx', '--out', out]).status).toBe(0);
    return out;
  };

  test('that this one does not write are taken away, and said', () => {
    const out = written('fewer');
    const ended = longnight([...holds, '--every', 'month', '--out', out]);
    expect(ended.stderr).toMatch(/^note: the hours\.csv of an earlier run was removed from /m);
    expect(ended.stderr).toMatch(/^note: the plant\.xlsx of an earlier run was removed from /m);
    expect(Object.keys(contents(out)).filter((name) => !name.startsWith('report'))).toEqual([
      'columns.csv',
      'months.csv',
    ]);
  });

  test("stay if they were changed since, if they are somebody's own, and if this run reads them", () => {
    const out = written('theirs');
    appendFileSync(join(out, 'plant.xlsx'), 'x');
    writeFileSync(join(out, 'seeds.csv'), 'mine');
    writeFileSync(join(out, 'notes.txt'), 'mine');
    // A list that somebody made leads nowhere else.
    appendFileSync(join(out, 'report.sha256'), `${'0'.repeat(64)}  ../${'out'}\n`);
    const scenario = join(folder, 'reads-hours.yaml');
    writeFileSync(
      scenario,
      readFileSync(join(DEMO, 'holds.yaml'), 'utf8').replace(
        /\nloads:\n/,
        '\nloads:\n  - kind: series\n    name: metered\n    file: theirs/hours.csv\n    time: { column: time_utc, zone: UTC, label: start }\n    power: { column: load_wanted_kWh, unit: kW }\n',
      ),
    );
    const ended = longnight(['run', scenario, '--every', 'day', '--out', out]);
    expect(ended.stderr).toMatch(/plant\.xlsx in .* is not of this run and was left as it is/);
    expect(ended.stderr).toMatch(/seeds\.csv in .* is not of this run and was left as it is/);
    expect(ended.stderr).not.toMatch(/hours\.csv/);
    expect(ended.status).toBe(0);
    const there = contents(out);
    expect(there['seeds.csv']).toBe('mine');
    expect(there['notes.txt']).toBe('mine');
    expect(there['plant.xlsx']!.endsWith('x')).toBe(true);
    expect(Object.keys(there)).toContain('hours.csv');
    expect(Object.keys(there)).toContain('days.csv');
  });
});

test.skipIf(noProc).each(['/proc/1/fd/99/out', '/proc/self/fd/99', 'dangling', 'dangling/in'])(
  '%s is refused, and not tried for ever',
  (out) => {
    const link = join(folder, 'dangling');
    symlinkSync('/nowhere/at/all', link);
    const ended = longnight([...holds, '--out', out], folder);
    unlinkSync(link);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/fix: name another folder/);
    expect(ended.stderr).not.toMatch(/\n\s+at /);
  },
);

test.skipIf(noPosix)(
  'a pipe that nobody writes to is not waited for; what is given as standard input is read',
  () => {
    mkdirSync(join(folder, 'pipes'));
    const pipe = join(folder, 'pipes/fifo');
    expect(spawnSync('mkfifo', [pipe]).status).toBe(0);
    const ended = longnight(['check', pipe]);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/this is a pipe or a device[\s\S]*fix: .*\/dev\/stdin/);
    const given = spawnSync(process.execPath, [bundle(), 'check', '/dev/stdin'], {
      encoding: 'utf8',
      input: readFileSync(join(DEMO, 'holds.yaml')),
    });
    expect(given.status).toBe(0);
  },
);

test.skipIf(noFullDisk)('standard output on a full disk is exit 2 and a plain sentence', () => {
  const ended = spawnSync(
    'sh',
    ['-c', `"${process.execPath}" "${bundle()}" ${holds.join(' ')} --json > /dev/full`],
    {
      encoding: 'utf8',
    },
  );
  expect(ended.status).toBe(2);
  expect(ended.stderr).toMatch(/^standard output: the disk is full \(ENOSPC\)\n {4}fix: /);
});

test.skipIf(noPosix)('how to make it again is a line that a shell takes apart as it was given', () => {
  const name = "it's a $(plant).yaml";
  cpSync(join(DEMO, 'holds.yaml'), join(folder, name));
  longnight(['run', name, '--out', 'quoted'], folder);
  const line = readFileSync(join(folder, 'quoted/report.md'), 'utf8').match(/^ *longnight (run .*)$/m)![1]!;
  const words = spawnSync('sh', ['-c', `printf '%s\\n' ${line}`], { encoding: 'utf8' }).stdout;
  expect(words).toBe(`run\n${name}\n--out\nDIR\n`);
});
