/** What a shell sees: examples of each help, completion, quiet, and the bars of the summary. */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { blocksWanted } from '../../packages/cli/src/io.ts';
import { BLOCKS, bar, DIGITS } from '../../packages/cli/src/render/report/strip.ts';
import { bundle, contents, DEMO, longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';
import { noPosix } from './support/system.ts';

const folder = temporaryFolder();
const home = join(folder, 'home');
const path = `${join(folder, 'bin')}:${process.env.PATH}`;
afterAll(() => removeFolder(folder));
beforeAll(() => {
  mkdirSync(home);
  mkdirSync(join(folder, 'bin'));
  cpSync(join(ROOT, 'data'), join(home, 'data'), { recursive: true });
  if (!noPosix) symlinkSync(bundle(), join(folder, 'bin/longnight'));
});

/** Names of the commands, as the help lists them. */
const commands = (): string[] =>
  [
    ...longnight(['--help'])
      .stdout.split('Commands:')[1]!
      .matchAll(/^ {2}([a-z]+)/gm),
  ]
    .map(([, name]) => name!)
    .filter((name) => name !== 'help');

/** What a shell makes of the commands of a text: its words, quotes and continued lines gone. */
function inBash(text: string): string[][] {
  const script = `longnight() { printf '%s\\0' "$@"; printf '\\0'; }\n${text}`;
  const { status, stdout, stderr } = spawnSync('bash', ['-ec', script], { cwd: home, encoding: 'utf8' });
  expect({ status, stderr }, text).toEqual({ status: 0, stderr: '' });
  return stdout
    .slice(0, -2)
    .split('\0\0')
    .map((words) => words.split('\0'));
}

test('every command has an example under its help, and each of them works as a shell reads it', () => {
  const names = commands();
  expect(names).toContain('run');
  for (const name of names) {
    const example = longnight([name, '--help']).stdout.split('Example:\n')[1];
    expect(example, name).toBeDefined();
    const typed = inBash(example!.trim());
    expect(typed.at(-1)![0], example).toBe(name);
    for (const words of typed) {
      const ran = longnight(words, home);
      expect(ran.status, `${example}${ran.stderr}`).toBe(0);
      expect(ran.stdout.length, example).toBeGreaterThan(5);
    }
  }
});

test.skipIf(noPosix)('one of them typed into a shell that finds the program by its name', () => {
  const example = longnight(['sweep', '--help']).stdout.split('Example:\n')[1]!;
  const ran = spawnSync('bash', ['-ec', example.trim()], {
    cwd: home,
    encoding: 'utf8',
    env: { ...process.env, PATH: path },
  });
  expect({ status: ran.status, stderr: ran.stderr }).toEqual({ status: 0, stderr: '' });
  expect(ran.stdout).toBe(longnight(inBash(example.trim())[0]!, home).stdout);
  expect(ran.stdout.length).toBeGreaterThan(100);
});

test('no help is wider than 80 columns', () => {
  for (const name of commands())
    expect(
      longnight([name, '--help'])
        .stdout.split('\n')
        .filter((line) => line.length > 80),
    ).toEqual([]);
});

test.each([
  [
    ['rnu'],
    "longnight: unknown command 'rnu'\n    fix: did you mean run? longnight --help lists the commands\n",
  ],
  [
    ['run'],
    "longnight run: missing required argument 'file'\n    fix: longnight run --help shows what it takes\n",
  ],
  [
    ['run', 'a', '--lean-days', '0'],
    "longnight run --lean-days '0': this value can't be taken; expected a whole number of days from 1 to 365\n" +
      '    fix: longnight run --help shows what it takes\n',
  ],
  [
    ['run', 'a', '--every', 'week'],
    "longnight run --every 'week': this value can't be taken; expected one of step, hour, day, month\n" +
      '    fix: longnight run --help shows what it takes\n',
  ],
  [
    ['run', 'a', '--ot', 'x'],
    "longnight run: unknown option '--ot'\n    fix: did you mean --out? longnight run --help shows what it takes\n",
  ],
  [
    ['check', 'a', 'b'],
    "longnight check: too many arguments for 'check'; expected 1 argument but got 2\n" +
      '    fix: longnight check --help shows what it takes\n',
  ],
])('%j is told what is wrong, what was expected and what to do', (args, told) => {
  expect(longnight(args)).toEqual({ status: 2, stdout: '', stderr: told });
});

describe('--quiet', () => {
  test('prints nothing, writes what was asked for', () => {
    const ended = longnight(['run', join(DEMO, 'holds.yaml'), '--quiet', '--out', join(folder, 'quiet')]);
    expect(ended).toEqual({ status: 0, stdout: '', stderr: '' });
    expect(Object.keys(contents(join(folder, 'quiet')))).toContain('report.json');
  });

  test('still prints errors, and bounds that are missed', () => {
    expect(longnight(['-q', 'run', 'nowhere.yaml']).stderr).toMatch(/^nowhere\.yaml: /);
    const missed = longnight(['run', join(DEMO, 'short-of-bank.yaml'), '-q', '--require', 'unmet.hours<=1']);
    expect(missed).toMatchObject({ status: 3, stdout: '' });
    expect(missed.stderr).toMatch(/unmet\.hours/);
  });

  test('says the danger, and leaves the notes out', () => {
    const text = readFileSync(join(home, 'data/plants/portable.yaml'), 'utf8');
    const file = 'data/plants/too-many-in-series.yaml';
    writeFileSync(join(home, file), text.replaceAll(/^(.*panels(?:_in_series)?): 2$/gm, '$1: 3'));
    for (const command of ['check', 'run']) {
      const loud = longnight([command, file], home);
      const quiet = longnight([command, file, '--quiet', '--json'], home);
      expect(quiet.status).toBe(3);
      expect(quiet.stderr).toMatch(/^DANGER/i);
      expect(loud.stderr.endsWith(quiet.stderr)).toBe(true);
      expect(JSON.parse(quiet.stdout).dangers.length).toBeGreaterThan(0);
    }
  });
});

/** What each command is like as data: its example, the last line of it. */
const lastExample = (name: string): string[] => {
  const typed = inBash(longnight([name, '--help']).stdout.split('Example:\n')[1]!.trim());
  for (const words of typed.slice(0, -1)) longnight(words, home);
  return typed.at(-1)!;
};
/** Print a text of their own, for an editor or a shell. */
const TEXTS = ['schema', 'completion'];
const SHOWING = [
  ...['init', 'check', 'run', 'weather', 'week', 'compare', 'size', 'sweep', 'gather', 'improve', 'sway'],
  ...['parts', 'explain'],
];

describe('--json', () => {
  test.each(SHOWING)('is one document of %s, quiet or not, and its notes are beside it', (name) => {
    const words = lastExample(name).concat(name === 'init' ? '--force' : []);
    const loud = longnight([...words, '--json'], home);
    expect(loud.status).toBe(0);
    expect(Object.keys(JSON.parse(loud.stdout)).length).toBeGreaterThan(0);
    expect(loud.stdout.endsWith('\n')).toBe(true);
    const quiet = { status: 0, stdout: loud.stdout, stderr: '' };
    expect(longnight(['-q', ...words, '--json'], home)).toEqual(quiet);
    expect(longnight([...words, '--quiet'], home)).toEqual({ status: 0, stdout: '', stderr: '' });
  });

  test('is looked at for every command but those that print a text', () => {
    expect([...SHOWING, ...TEXTS].sort()).toEqual(commands().sort());
  });

  test('is not there for what prints a text, which is the same when quiet', () => {
    for (const name of TEXTS) {
      const words = lastExample(name);
      expect(longnight([...words, '--json'], home), name).toMatchObject({ status: 2, stdout: '' });
      expect(longnight([...words, '-q'], home), name).toEqual(longnight(words, home));
    }
  });

  test('of run is report.json; of gather and of the whole sweep the same rows', () => {
    const holds = join(DEMO, 'holds.yaml');
    const out = join(folder, 'as-json');
    const ran = longnight(['run', holds, '--json', '--out', out]);
    expect(ran.stdout).toBe(readFileSync(join(out, 'report.json'), 'utf8'));
    const vary = ['sweep', 'data/demo/holds.yaml', '--vary', 'inverter.rating_kW=4,5,6', '--json'];
    const whole = longnight(vary, home);
    expect(JSON.parse(whole.stdout).designs).toHaveLength(3);
    for (const part of ['1/2', '2/2']) longnight([...vary, '--part', part, '--out', 'json-parts'], home);
    const joined = longnight(['gather', 'json-parts', '--out', 'json-whole', '--json'], home);
    expect(joined.stdout).toBe(whole.stdout);
  });

  test('of init says the file and every value that nobody told', () => {
    const told = ['--modules', '5', '--array-tilt', '50', '--json'];
    const made = JSON.parse(longnight(['init', 'told.yaml', ...told], home).stdout);
    expect(made).toMatchObject({ file: 'told.yaml', schema: 'scenario.schema.json' });
    const invented = made.invented.map(({ path }: { path: string }) => path);
    expect(invented).toContain('site.latitude_deg');
    expect(invented).toContain('weather.ghi_kWh_m2_day');
    expect(invented).toContain('arrays[0].azimuth_deg');
    expect(invented).not.toContain('arrays[0].tilt_deg');
    expect(invented).not.toContain('bank.modules_parallel');
    expect(made.assumptions.length).toBeGreaterThan(5);
    expect(
      JSON.parse(longnight(['check', 'told.yaml', '--json'], home).stdout).limits.usable_kWh,
    ).toBeGreaterThan(1);
  });
});

/** What the program says may stand at the end of a line. */
const candidates = (...words: string[]): string[] =>
  longnight(['complete', '--', ...words])
    .stdout.split('\n')
    .filter((line) => line !== '')
    .map((line) => line.split('\t')[0]!);

describe('completion', () => {
  test('knows commands, options, their values and the names that explain takes', () => {
    expect(candidates('')).toEqual([...commands(), 'help']);
    expect(candidates('s')).toEqual(['size', 'sweep', 'sway', 'schema']);
    expect(candidates('run', '--csv')).toEqual(['--csv-decimal', '--csv-delimiter']);
    expect(candidates('run', 'a.yaml', '--csv-decimal', '')).toEqual(['point', 'comma']);
    expect(candidates('run', '--qu')).toEqual(['--quiet']);
    expect(candidates('completion', 'f')).toEqual(['fish']);
    expect(candidates('explain', 'unmet.by_m')).toEqual(['unmet.by_month_kWh']);
    // A file may stand here: the shell knows those.
    expect(candidates('run', 'da')).toEqual([]);
    expect(candidates('run', '--out', '')).toEqual([]);
    expect(candidates('nonsense', '')).toEqual([]);
  });

  const has = (shell: string): boolean => spawnSync(shell, ['-c', 'true']).status === 0;

  test.each(['bash', 'zsh', 'fish'])('the script for %s has no mistake that the shell finds', (shell) => {
    const { stdout, stderr } = longnight(['completion', shell]);
    expect(stderr).toBe('');
    expect(stdout).toContain('longnight complete');
    if (!has(shell)) return void console.warn(`no ${shell} on this machine: its script was not read`);
    const file = join(folder, `script.${shell}`);
    writeFileSync(file, stdout);
    expect(spawnSync(shell, ['-n', file], { encoding: 'utf8' })).toMatchObject({ status: 0, stderr: '' });
  });

  test('the script for PowerShell registers itself', () => {
    expect(longnight(['completion', 'powershell']).stdout).toMatch(/Register-ArgumentCompleter -Native/);
  });

  test.skipIf(noPosix || !has('fish'))('completes in fish', () => {
    const asked =
      'longnight completion fish | source; complete -C "longnight swe"; complete -C "longnight run da"';
    const ran = spawnSync('fish', ['-c', asked], {
      cwd: home,
      encoding: 'utf8',
      env: { ...process.env, PATH: path },
    });
    expect(ran.stdout).toMatch(/^sweep\tplay many[^\n]*\ndata\//);
  });

  test.skipIf(noPosix)('completes in bash, and carries out nothing of what stands on the line', () => {
    const lines = [['swe'], ['run', 'x.yaml', '--every', 'm'], ['run', '$(touch here)', '--xl']];
    // Presses the key at the end of each, in one bash that read the script.
    const presses = lines.map((words) => {
      const line = words.map((word) => `'${word}'`).join(' ');
      return `COMP_WORDS=(longnight ${line}); COMP_CWORD=${words.length}; _longnight; echo "\${COMPREPLY[@]}"`;
    });
    const script = ['source <(longnight completion bash)', ...presses, 'complete -p longnight >&2'];
    const ran = spawnSync('bash', ['-c', script.join('\n')], {
      cwd: home,
      encoding: 'utf8',
      env: { ...process.env, PATH: path },
    });
    expect(ran.stderr).toMatch(/-o default.*_longnight longnight/);
    expect(ran.stdout).toBe('sweep\nmonth\n--xlsx\n');
    expect(existsSync(join(home, 'here'))).toBe(false);
  });
});

describe('the bars of the summary', () => {
  const short = join(DEMO, 'short-of-bank.yaml');
  const printed = (locale: string): string => longnight(['run', short], ROOT, { LC_ALL: locale }).stdout;

  test('are blocks where the locale is UTF-8, and digits where it is not', () => {
    const [blocks, digits] = [printed('C.UTF-8'), printed('C')];
    expect(blocks).toMatch(/unmet .*· {2}▂ {2}█/);
    expect(digits).toMatch(/unmet .*\. {2}2 {2}8/);
    expect(digits).not.toMatch(/[▁-█·]/);
    const asDigits = [...blocks]
      .map((sign) =>
        '▁▂▃▄▅▆▇█'.includes(sign) ? String('▁▂▃▄▅▆▇█'.indexOf(sign) + 1) : sign === '·' ? '.' : sign,
      )
      .join('');
    expect(asDigits).toBe(digits);
    expect(blocks.split('\n').filter((line) => line.length > 80)).toEqual([]);
  });

  test('say which month has most, and draw the leanest week in 56 bars', () => {
    const text = printed('C.UTF-8');
    // The sums by month are those of hours.csv: outputs.test.ts.
    const { by_month } = JSON.parse(longnight(['run', short, '--json']).stdout) as Report;
    const most = (key: 'served_kWh' | 'unmet_kWh'): number => Math.max(...by_month.map((row) => row[key]));
    expect([by_month[0]!.served_kWh, by_month[11]!.unmet_kWh]).toEqual([
      most('served_kWh'),
      most('unmet_kWh'),
    ]);
    expect(text).toMatch(new RegExp(`served .* Jan ${most('served_kWh').toFixed(0)} kWh\n`));
    expect(text).toMatch(new RegExp(`unmet .*█ {3}Dec ${most('unmet_kWh').toFixed(1)} kWh\n`));
    // The bank is at its floor of 10 % for two days of it: the lowest bar.
    expect(text).toMatch(/\n {17}[▁-█]{56}\n/);
    expect(text).toMatch(/▂▁{16,}/);
  });

  test('a bar is an eighth of the tallest; nothing at all has a sign of its own', () => {
    expect([0, 1e-9, 0.12, 0.13, 0.5, 0.99, 1].map((share) => bar(share, BLOCKS)).join('')).toBe('·▁▁▂▅██');
    expect(bar(0, DIGITS) + bar(1, DIGITS)).toBe('.8');
  });

  test('the locale is read as POSIX says: LC_ALL, then LC_CTYPE, then LANG', () => {
    expect(blocksWanted({})).toBe(true);
    expect(blocksWanted({ LANG: 'de_DE.UTF-8' })).toBe(true);
    expect(blocksWanted({ LANG: 'de_DE.ISO-8859-1' })).toBe(false);
    expect(blocksWanted({ LANG: 'C', LC_ALL: 'en_US.utf8' })).toBe(true);
    expect(blocksWanted({ LANG: 'en_US.UTF-8', LC_ALL: 'C' })).toBe(false);
  });
});
