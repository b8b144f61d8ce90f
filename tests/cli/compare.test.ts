import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { labelsOf, plantNames } from '../../packages/cli/src/files/labels.ts';
import {
  contents,
  DEMO,
  longnight,
  longnightProcess,
  ROOT,
  removeFolder,
  temporaryFolder,
} from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));
beforeAll(() => cpSync(join(ROOT, 'data'), join(folder, 'data'), { recursive: true }));

const engine = 'data/demo/parts-with-generator.yaml';
const sun = 'data/demo/parts-sun-alone.yaml';
const demo = (...names: string[]): string[] => names.map((name) => join(DEMO, `${name}.yaml`));

test('two plants side by side: tables, what sets the limits, the sentence, the bills', () => {
  const { stdout, stderr, status } = longnight(['compare', engine, sun], folder);
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  const headings = [
    'Before an hour is played',
    'The year',
    'Money in crowns, over 20 years at 4.0 % a year',
    'What sets it',
    'What the dearer one buys',
    'Bills of materials, crowns',
    'parts with generator',
    'parts sun alone',
  ];
  const at = headings.map((heading) => stdout.indexOf(`\n${heading}\n`));
  expect(at.every((place) => place > 0)).toBe(true);
  expect(at).toEqual([...at].sort((a, b) => a - b));
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
  expect(stdout).not.toMatch(/NaN|undefined|\bsafe/i);
});

test('the best of a row carries a sign, on the terminal and in the files', () => {
  const out = join(folder, 'out');
  const { stdout } = longnight(['compare', engine, sun, '--out', out], folder);
  expect(stdout).toMatch(/^capital +12,522 \* +27,048$/m);
  expect(stdout).toMatch(/^usable bank, kWh +18\.4 +55\.3 \*$/m);
  expect(stdout).toMatch(/^unmet energy, kWh +0 +0$/m);
  expect(Object.keys(contents(out))).toEqual([
    'compare.csv',
    'compare.html',
    'compare.json',
    'compare.md',
    'compare.sha256',
  ]);
  expect(readFileSync(join(out, 'compare.md'), 'utf8')).toMatch(
    /^\| capital +\| +12,522 \\\* \| +27,048 \|$/m,
  );

  const told = JSON.parse(readFileSync(join(out, 'compare.json'), 'utf8'));
  const rows: Record<string, string>[] = parse(readFileSync(join(out, 'compare.csv')), { columns: true });
  const figures = [...told.rows, ...told.asked.rows];
  expect(rows.map((row) => row.figure)).toEqual(figures.map((row: { name: string }) => row.name));
  for (const [k, row] of rows.entries()) {
    const { values, winners, per, unit = `money/${per}` } = figures[k];
    ['parts with generator', 'parts sun alone'].forEach((label, p) => {
      if (values[p] === null) expect(row[label]).toBe('');
      else expect(Number(row[label]), row.figure).toBeCloseTo(values[p], 9);
    });
    expect(row.best).toBe(winners.join(', '));
    expect(row.unit).toBe(unit.replace('money', 'crowns'));
  }
  expect(longnight(['compare', engine, sun, '--json'], folder).stdout).toBe(
    readFileSync(join(out, 'compare.json'), 'utf8'),
  );
  longnightProcess(['compare', engine, sun, '--out', join(folder, 'again')], folder, {
    TZ: 'Pacific/Auckland',
  });
  expect(contents(join(folder, 'again'))).toEqual(contents(out));
});

test('three plants fit 80 columns, and more than four stand below each other', () => {
  const three = longnight(['compare', ...demo('short-of-bank', 'holds', 'holds-with-generator')]).stdout;
  expect(three.split('\n').filter((line) => line.length > 80)).toEqual([]);
  expect(three).toMatch(/^unmet hours, h +157 +0 \* +0 \*$/m);
  const five = longnight([
    'compare',
    ...demo('short-of-bank', 'holds', 'holds-with-generator', 'parts-sun-alone', 'parts-with-generator'),
  ]).stdout;
  expect(five.split('\n').filter((line) => line.length > 100)).toEqual([]);
  expect(five.match(/^unmet hours, h /gm)).toHaveLength(2);
});

test('other hours of a plant are not used, and that is said loudly', () => {
  const other = readFileSync(join(folder, sun), 'utf8')
    .replace('seed: 92', 'seed: 99')
    .replace('years: 20', 'years: 5');
  writeFileSync(join(folder, 'data/demo/other.yaml'), other);
  const { stdout, stderr, status } = longnight(['compare', engine, 'data/demo/other.yaml'], folder);
  expect(status).toBe(0);
  const notice = 'other: its own weather not used; all plants are played with those of parts with generator';
  expect(stderr).toContain(`note: ${notice}\n`);
  expect(stderr).toContain(
    'note: other: its own years of costs not used; costs are added up as parts with generator says\n',
  );
  expect(stdout.replaceAll('\n', ' ')).toContain(`! ${notice}`);
  const same = longnight(['compare', engine, sun, '--json'], folder).stdout;
  const told = longnight(['compare', engine, 'data/demo/other.yaml', '--json'], folder).stdout;
  const {
    rows: [...rows],
  } = JSON.parse(told.replaceAll('"other"', '"parts sun alone"'));
  expect(rows).toEqual(JSON.parse(same).rows);
});

test('plants have the names of their sites where these tell them apart, else their files give them one', () => {
  expect(plantNames(['a.yaml', 'b.yaml'], ['Hut', 'Mill'])).toEqual(['Hut', 'Mill']);
  expect(plantNames(['x/small-bank.yaml', 'x/large_bank.yaml'], ['Hut', 'Hut'])).toEqual([
    'small bank',
    'large bank',
  ]);
  expect(plantNames(['a-b.yaml', 'a_b.yaml'], ['Hut', 'Hut'])).toEqual(['a-b', 'a_b']);
});

test('names are as short as tells plants apart', () => {
  expect(labelsOf(['a/plant.yaml', 'b/other.v2.yml'])).toEqual(['plant', 'other.v2']);
  expect(labelsOf(['x/a/plant.yaml', 'x/b/plant.json', 'c.yaml'])).toEqual(['a/plant', 'b/plant', 'c']);
  expect(labelsOf(['plant.yaml', 'a/plant.yaml'])).toEqual(['plant', 'a/plant']);
});

test.each([
  [[engine], /nothing to compare with\n {4}fix: name two/],
  [[], /missing required argument 'files'/],
  [[engine, engine], /"data\/demo\/parts with generator" stands twice/],
  [[engine, 'data/demo/no.yaml'], /^data\/demo\/no\.yaml: no such file/],
  [[engine, 'data/demo/shells.yaml'], /prices are in crowns and in shells/],
])('%j is refused and nothing is written', (files, what) => {
  const shells = readFileSync(join(folder, sun), 'utf8').replace('currency: crowns', 'currency: shells');
  writeFileSync(join(folder, 'data/demo/shells.yaml'), shells);
  const ended = longnight(['compare', ...files, '--out', 'never'], folder);
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(what);
  expect(Object.keys(contents(folder))).not.toContain('never');
});

test("hours that the first can't have are refused at their line of the file", () => {
  const text = readFileSync(join(folder, engine), 'utf8').replace(
    /latitude_deg: [\d.]+/,
    'latitude_deg: -60',
  );
  writeFileSync(join(folder, 'data/demo/south.yaml'), text);
  const { stdout, stderr, status } = longnight(['compare', 'data/demo/south.yaml', sun], folder);
  expect({ stdout, status }).toEqual({ stdout: '', status: 2 });
  const line = text.split('\n').findIndex((one) => one.includes('ghi_kWh_m2_day')) + 1;
  expect(stderr).toMatch(
    new RegExp(`^data/demo/south\\.yaml:${line}:\\d+: weather\\.ghi_kWh_m2_day\\[\\d+\\]: `),
  );
});
