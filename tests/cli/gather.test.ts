/** Parts of a sweep, played apart and joined: the same bytes as in one piece, or a refusal that says what is wrong. */
import { cpSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { contents, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { GENERATOR, STUDY } from './support/sweep.ts';

const folder = temporaryFolder();
const whole = join(folder, 'whole');
const parts = join(folder, 'parts');
let printed = '';
const withoutFiles = (text: string): string => text.replace(/^Files: .*$/m, '');

beforeAll(() => {
  printed = longnight(['sweep', ...STUDY, '--out', whole]).stdout;
  for (const part of [1, 2, 3]) {
    const ended = longnight(['sweep', ...STUDY, '--part', `${part}/3`, '--out', parts]);
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    expect(ended.stdout).toContain(`Part ${part} of 3, 20 of 60 designs`);
  }
});
afterAll(() => removeFolder(folder));

/** The parts in a folder of their own, for a test to spoil. */
function copyOf(name: string): string {
  const copy = join(folder, name);
  cpSync(parts, copy, { recursive: true });
  return copy;
}

describe('three parts', () => {
  test('gather to the bytes and the words of the whole sweep', () => {
    const out = join(folder, 'gathered');
    const ended = longnight(['gather', parts, '--out', out]);
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    expect(contents(out)).toEqual(contents(whole));
    expect(withoutFiles(ended.stdout)).toBe(withoutFiles(printed));
  });

  test('as files, in any order, from several folders, into one of them', () => {
    const a = copyOf('a');
    const b = join(folder, 'b');
    mkdirSync(b);
    for (const ending of ['csv', 'json'])
      renameSync(join(a, `sweep.part-2of3.${ending}`), join(b, `sweep.part-2of3.${ending}`));
    const ended = longnight(['gather', join(b, 'sweep.part-2of3.csv'), a, '--out', a]);
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    for (const name of ['sweep.csv', 'sweep.html', 'sweep.svg'])
      expect(readFileSync(join(a, name), 'utf8')).toBe(readFileSync(join(whole, name), 'utf8'));
  });

  test('have names that sort in their order, however many they are', () => {
    const out = join(folder, 'many');
    longnight(['sweep', ...STUDY, '--part', '7/100', '--out', out]);
    expect(readdirSync(out)).toEqual(['sweep.part-007of100.csv', 'sweep.part-007of100.json']);
  });

  test('tell no folder of this machine', () => {
    const text = readdirSync(parts)
      .map((name) => readFileSync(join(parts, name), 'utf8'))
      .join('');
    expect(text).not.toContain(folder);
    expect(text).not.toContain('data/demo');
  });
});

test('more parts than designs: some are empty', () => {
  const study = ['sweep', GENERATOR, '--vary', 'bank.modules_parallel=2,3'];
  const [apart, joined, straight] = ['apart', 'joined', 'straight'].map((name) => join(folder, name)) as [
    string,
    string,
    string,
  ];
  for (const part of [1, 2, 3])
    expect(longnight([...study, '--part', `${part}/3`, '--out', apart]).status).toBe(0);
  expect(longnight(['gather', apart, '--out', joined]).status).toBe(0);
  longnight([...study, '--out', straight]);
  expect(contents(joined)).toEqual(contents(straight));
});

test('a sample in parts is the sample', () => {
  const study = ['sweep', ...STUDY, '--sample', '17'];
  const [apart, joined, straight] = ['s-apart', 's-joined', 's-straight'].map((name) =>
    join(folder, name),
  ) as [string, string, string];
  for (const part of [1, 2]) longnight([...study, '--part', `${part}/2`, '--out', apart]);
  expect(longnight(['gather', apart, '--out', joined]).status).toBe(0);
  longnight([...study, '--out', straight]);
  expect(contents(joined)).toEqual(contents(straight));
});

test('a part that is whole is not played again with --resume', () => {
  const copy = copyOf('again');
  const before = contents(copy);
  const ended = longnight(['sweep', ...STUDY, '--part', '2/3', '--out', copy, '--resume']);
  expect(ended.status).toBe(0);
  expect(ended.stderr).toMatch(/^note: all 20 designs are there already/);
  expect(contents(copy)).toEqual(before);
});

describe('refused, and nothing written', () => {
  const spoilt: [name: string, spoil: (copy: string) => void, what: RegExp][] = [
    [
      'a part is missing',
      (copy) => rmSync(join(copy, 'sweep.part-2of3.csv')),
      /part 2 of 3 is missing[\s\S]*--part 2\/3/,
    ],
    [
      'a part is unfinished',
      (copy) => renameSync(join(copy, 'sweep.part-2of3.csv'), join(copy, 'sweep.part-2of3.csv.partial')),
      /part 2 of 3 is missing[\s\S]*finish .*sweep\.part-2of3\.csv\.partial/,
    ],
    [
      'a part is there twice',
      (copy) => {
        for (const ending of ['csv', 'json'])
          cpSync(join(copy, `sweep.part-2of3.${ending}`), join(copy, `sweep.part-02of3.${ending}`));
      },
      /part 2 is there twice/,
    ],
    [
      'a part does not say what it is of',
      (copy) => rmSync(join(copy, 'sweep.part-3of3.json')),
      /sweep\.part-3of3\.json: no such file/,
    ],
    [
      'a part is of another sweep',
      (copy) => void longnight(['sweep', ...STUDY.slice(0, 3), '--part', '3/3', '--out', copy]),
      /sweep\.part-3of3\.csv: this part belongs to another sweep[\s\S]*asked with --vary/,
    ],
    [
      'a part is of another number of parts',
      (copy) => void longnight(['sweep', ...STUDY, '--part', '3/4', '--out', copy]),
      /it is one of 4 parts|is there twice/,
    ],
    [
      'a spreadsheet has changed the line ends',
      (copy) => {
        const name = join(copy, 'sweep.part-1of3.csv');
        writeFileSync(name, readFileSync(name, 'utf8').replaceAll('\r\n', '\n'));
      },
      /sweep\.part-1of3\.csv:1: this part is not as longnight sweep wrote it.*CRLF/,
    ],
    [
      'a figure was changed',
      (copy) => {
        const name = join(copy, 'sweep.part-1of3.csv');
        writeFileSync(name, readFileSync(name, 'utf8').replace(/^(1,(?:[^,]*,){4})\d/m, '$19'));
      },
      /sweep\.part-1of3\.csv: this part is not as longnight sweep wrote it.*SHA-256/,
    ],
    [
      'what a part is made from says its format and nothing else',
      (copy) => writeFileSync(join(copy, 'sweep.part-1of3.json'), '{"format": "longnight sweep 4"}'),
      /sweep\.part-1of3\.json: this does not say what a sweep was made from/,
    ],
    [
      'rows are in another order',
      (copy) => {
        const name = join(copy, 'sweep.part-1of3.csv');
        const lines = readFileSync(name, 'utf8').split('\r\n');
        writeFileSync(name, [lines[0], lines[2], lines[1], ...lines.slice(3)].join('\r\n'));
      },
      /sweep\.part-1of3\.csv:2: this part.*expected the row of design 1/,
    ],
    [
      'a row is missing at the end',
      (copy) => {
        const name = join(copy, 'sweep.part-3of3.csv');
        writeFileSync(name, `${readFileSync(name, 'utf8').split('\r\n').slice(0, -2).join('\r\n')}\r\n`);
      },
      /sweep\.part-3of3\.csv:21: this part.*20 rows/,
    ],
    [
      'there is a row too many',
      (copy) => {
        const name = join(copy, 'sweep.part-3of3.csv');
        const text = readFileSync(name, 'utf8');
        writeFileSync(name, `${text}${text.split('\r\n').at(-2)}\r\n`);
      },
      /sweep\.part-3of3\.csv:22: this part.*expected the end of the file/,
    ],
  ];
  test.each(spoilt)('%s', (name, spoil, what) => {
    const copy = copyOf(name.replaceAll(' ', '-'));
    spoil(copy);
    const out = join(folder, 'refused');
    const ended = longnight(['gather', copy, '--out', out]);
    expect(ended.stderr).toMatch(what);
    expect(ended.stderr).toMatch(/fix: /);
    expect(ended.stderr).not.toMatch(/\n\s+at |Error:/);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(readdirSync(folder)).not.toContain('refused');
  });

  test('a folder without parts, a file that is none, a folder that is not there', () => {
    for (const [path, what] of [
      [whole, /no part of a sweep is here/],
      [join(whole, 'sweep.csv'), /sweep\.json: no such file/],
      [join(folder, 'nowhere'), /no such file or folder/],
    ] as const) {
      const ended = longnight(['gather', path, '--out', join(folder, 'refused')]);
      expect(ended.stderr).toMatch(what);
      expect(ended).toMatchObject({ status: 2, stdout: '' });
    }
  });
});
