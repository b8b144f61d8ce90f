import {
  closeSync,
  cpSync,
  existsSync,
  mkdirSync,
  openSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { contents, DEMO, type Ended, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { weatherCsv, weatherRows } from './support/weather.ts';

/** bad/ is copied here, and what would be silly to keep in the repository is made beside it. */
const folder = temporaryFolder();

beforeAll(() => {
  cpSync(join(import.meta.dirname, 'bad'), folder, { recursive: true });
  const rows = weatherRows();
  writeFileSync(join(folder, 'year.csv'), weatherCsv(rows));
  writeFileSync(join(folder, 'rows-8759.csv'), weatherCsv(rows.toSpliced(4000, 1)));
  writeFileSync(
    join(folder, 'nan-cell.csv'),
    weatherCsv(rows.with(100, rows[100]!.replace(/,[^,]*,/, ',NaN,'))),
  );
  mkdirSync(join(folder, 'a-folder.yaml'));
  // What no editor or formatter would leave alone is written here.
  const good = readFileSync(join(folder, 'good-series.yaml'), 'utf8');
  writeFileSync(join(folder, 'duplicate-key.yaml'), `${good}site: {}\n`);
  writeFileSync(join(folder, 'broken-syntax.yaml'), 'site:\n  name: [unclosed\nweather:\n');
  writeFileSync(join(folder, 'latin-1.yaml'), 'site:\n  name: H\u00fctte\n', 'latin1');
  writeFileSync(join(folder, 'utf-16.yaml'), '\ufeffsite:\n  name: hut\n', 'utf16le');
  writeFileSync(join(folder, 'binary.yaml'), Buffer.from([0x7f, 0x45, 0x4c, 0x46, 2, 1, 0, 0, 0]));
  const chunk = 'junk,'.repeat(200_000);
  for (const name of ['junk.yaml', 'junk.csv']) {
    const handle = openSync(join(folder, name), 'w');
    for (let k = 0; k < 200; k++) writeSync(handle, chunk);
    closeSync(handle);
  }
});
afterAll(() => removeFolder(folder));

/** The grammar of every refusal, whatever was wrong. */
function expectRefusal(ended: Ended, place: RegExp, what: RegExp): void {
  expect(ended.stderr).toMatch(place);
  expect(ended.stderr).toMatch(what);
  expect(ended.stderr, 'says what to do or what was expected').toMatch(/fix: |expected |did you mean/i);
  expect(ended.stderr, 'no stack trace').not.toMatch(/\n\s+at |node:internal|Error:/);
  expect(ended.stdout).toBe('');
  expect(ended.status).toBe(2);
}

const CASES: [file: string, place: RegExp, what: RegExp][] = [
  ['no-such.yaml', /^no-such\.yaml: /, /no such file/],
  ['wrong-unit-key.yaml', /^wrong-unit-key\.yaml:14:5: arrays\[0\]/m, /size_kW\b[\s\S]*size_kWp/],
  ['negative-size.yaml', /^negative-size\.yaml:14:15: arrays\[0\]\.size_kWp/m, /-2/],
  ['unknown-zone.yaml', /^unknown-zone\.yaml:7:14: site\.time_zone/m, /Europe\/Atlantis|zone/],
  ['not-a-number.yaml', /^not-a-number\.yaml:23:\d+: bank\.module\.capacity_Ah/m, /NaN|number/],
  ['missing-rows.yaml', /rows-8759\.csv:400\d/, /missing|gap/i],
  ['nan-cell.yaml', /nan-cell\.csv:102/, /NaN|number|missing/i],
  ['swapped-columns.yaml', /^year\.csv:\d+ column "ghi": weather\.air_temperature/m, /can't be/],
  ['missing-series.yaml', /no-such\.csv/, /no such file/],
  ['huge-series.yaml', /junk\.csv: /, /too long/],
  ['junk.yaml', /^junk\.yaml: /, /too long/],
  ['duplicate-key.yaml', /^duplicate-key\.yaml:38:1/m, /site|unique|duplicate/i],
  ['broken-syntax.yaml', /^broken-syntax\.yaml:\d+:\d+/m, /./],
  ['empty.yaml', /^empty\.yaml: /, /empty/],
  ['only-comments.yaml', /^only-comments\.yaml/, /./],
  ['a-list.yaml', /^a-list\.yaml:1:1/m, /./],
  ['a-folder.yaml', /^a-folder\.yaml: /, /folder/],
  ['latin-1.yaml', /^latin-1\.yaml:2: /, /not UTF-8/],
  ['utf-16.yaml', /^utf-16\.yaml: /, /UTF-16/],
  ['binary.yaml', /^binary\.yaml: /, /not a text file/],
];

describe.each(CASES)('%s', (file, place, what) => {
  test('run refuses it and writes nothing', () => {
    rmSync(join(folder, 'out'), { recursive: true, force: true });
    mkdirSync(join(folder, 'out'));
    writeFileSync(join(folder, 'out/report.md'), 'an earlier report\n');
    expectRefusal(longnight(['run', file, '--out', 'out', '--json'], folder), place, what);
    expect(contents(join(folder, 'out'))).toEqual({ 'report.md': 'an earlier report\n' });
  });
  test('check refuses it with the same words', () => {
    const checked = longnight(['check', file], folder);
    expectRefusal(checked, place, what);
    expect(checked.stderr).toBe(longnight(['run', file], folder).stderr);
  });
});

test('a missing file is answered with its likeliest neighbour', () => {
  expect(longnight(['run', join(DEMO, 'hold.yaml')]).stderr).toMatch(/did you mean holds\.yaml\?/);
  expect(longnight(['run', 'no-such.yaml'], folder).stderr).toMatch(/check the name and the folder/);
});

test('the year that the broken ones are made from is itself accepted', () => {
  const ended = longnight(['check', 'good-series.yaml'], folder);
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
});

test('a folder that a run would have made is not made when the input is refused', () => {
  longnight(['run', 'negative-size.yaml', '--out', 'new/inner'], folder);
  expect(existsSync(join(folder, 'new'))).toBe(false);
});

describe('an output that can not be written', () => {
  const demo = join(DEMO, 'holds.yaml');
  test('--out names a file', () => {
    writeFileSync(join(folder, 'taken'), 'mine\n');
    expectRefusal(longnight(['run', demo, '--out', 'taken'], folder), /^taken: /, /is a file/);
    expectRefusal(longnight(['run', demo, '--out', 'taken/in/it'], folder), /^taken\/in\/it: /, /is a file/);
    expect(readFileSync(join(folder, 'taken'), 'utf8')).toBe('mine\n');
  });
  test('a folder has the name of an output', () => {
    mkdirSync(join(folder, 'half/hours.csv'), { recursive: true });
    expectRefusal(longnight(['run', demo, '--out', 'half'], folder), /^half\/hours\.csv: /, /folder/);
    expect(contents(join(folder, 'half'))).toEqual({ 'hours.csv': '(folder)' });
  });
  test('an output would be written over a file the run reads', () => {
    const clash = join(folder, 'clash');
    mkdirSync(clash);
    cpSync(join(folder, 'year.csv'), join(clash, 'hours.csv'));
    const scenario = readFileSync(join(folder, 'good-series.yaml'), 'utf8').replace('year.csv', 'hours.csv');
    writeFileSync(join(clash, 'scenario.yaml'), scenario);
    const before = contents(clash);
    expectRefusal(longnight(['run', 'scenario.yaml', '--out', '.'], clash), /^\.: /, /hours\.csv.*reads/);
    expect(contents(clash)).toEqual(before);
    rmSync(clash, { recursive: true });
  });
});

test('a line of commas alone is refused before it is taken apart', () => {
  const text = readFileSync(join(folder, 'good-series.yaml'), 'utf8').replace('year.csv', 'commas.csv');
  writeFileSync(join(folder, 'commas.yaml'), text);
  writeFileSync(join(folder, 'commas.csv'), ','.repeat(2 ** 20 + 1));
  expectRefusal(
    longnight(['check', 'commas.yaml'], folder),
    /^commas\.csv:1: /,
    /over a million characters[\s\S]*rows end with a line break/,
  );
});

describe('usage', () => {
  const usage: [args: string[], what: RegExp][] = [
    [[], /Usage: longnight/],
    [['rum'], /unknown command 'rum'[\s\S]*run/],
    [['run'], /missing required argument 'file'/],
    [['run', 'x.yaml', '--outt', 'y'], /unknown option '--outt'[\s\S]*--out/],
    [['run', 'x.yaml', '--lean-days', 'week'], /lean-days.*whole number of days/],
    [['run', 'x.yaml', '--lean-days', '0'], /lean-days.*whole number of days/],
    [['run', 'x.yaml', '--years', '0'], /years.*whole number of years from 1 to 40/],
    [['run', 'x.yaml', '--years', '41'], /years.*whole number of years from 1 to 40/],
    [['check', 'x.yaml', 'y.yaml'], /too many arguments/],
    [['run', ''], /file.*expected a name/],
    [['run', 'x.yaml', '--out', ''], /--out.*expected a name/],
  ];
  test.each(usage)('%j', (args, what) => {
    const ended = longnight(args, folder);
    expect(ended.stderr).toMatch(what);
    expect(ended.stdout).toBe('');
    expect(ended.status).toBe(2);
  });
});
