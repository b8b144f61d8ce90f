import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { weatherCsv, weatherRows } from './support/weather.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const holds = join(DEMO, 'holds.yaml');
const parts = join(DEMO, 'parts-with-generator.yaml');
const two = ['--vary', 'bank.modules_parallel=2,3'];
const thirteen = Array.from({ length: 13 }, (_, k) => ['--vary', `loads[${k % 12}].k${k}=1,2`]).flat();

const CASES: [name: string, args: string[], what: RegExp][] = [
  ['no axis', [holds], /--vary.*not specified/],
  ['no equals sign', [holds, '--vary', 'bank.modules_parallel'], /no "="/],
  ['an unknown path', [holds, '--vary', 'bank.modules_paralel=1,2'], /did you mean "bank\.modules_parallel"/],
  [
    'a section the file leaves out',
    [holds, '--vary', 'generator.start_soc=0.2,0.3'],
    /can't be 0.2: needs generator.rating_kW, generator.fuel, generator.stop_soc too, which the file leaves out/,
  ],
  ['an item past the list', [holds, '--vary', 'arrays[7].size_kWp=1,2'], /is no key of this scenario/],
  [
    'a list without an item',
    [holds, '--vary', 'arrays.size_kWp=2:4:1'],
    /--vary arrays\.size_kWp: arrays is a list of 2, .*\n {4}fix: did you mean "arrays\[0\]\.size_kWp"\?/,
  ],
  [
    'a list of several without an item',
    [holds, '--vary', 'loads.power_W=1,2'],
    /loads is a list of 12, .*\n {4}fix: did you mean "loads\[0\]\.power_W"\? The items are loads\[0\] to loads\[11\], and loads\[\*\] is all of them\./,
  ],
  ['a key of no item', [holds, '--vary', 'arrays.sise=1,2'], /fix: write arrays\[0\] for the first/],
  ['a key of a plain value', [holds, '--vary', 'bank.modules_parallel.x=1,2'], /is no key of this scenario/],
  ['half a bracket', [holds, '--vary', 'arrays[=1,2'], /is no key of this scenario/],
  ['an item of a mapping', [holds, '--vary', 'bank[0].floor_soc=0.1'], /did you mean "bank\.floor_soc"/],
  [
    'an item of a list that a part brings',
    [parts, '--vary', 'inverter.efficiency.points[0].efficiency_share=0.8,0.9'],
    /list that a part brings[\s\S]*fix: write the list into the scenario/,
  ],
  ['an empty range', [holds, '--vary', 'bank.modules_parallel=5:1:1'], /empty range/],
  ['a step of nothing', [holds, '--vary', 'bank.modules_parallel=1:5:0'], /empty range/],
  ['a comma too many', [holds, '--vary', 'bank.modules_parallel=1,,2'], /empty value/],
  ['a value twice', [holds, '--vary', 'bank.modules_parallel=1,2,1'], /stands twice/],
  ['a key twice', [holds, ...two, ...two], /varies twice/],
  ['a value beyond the key', [holds, '--vary', 'bank.floor_soc=0.1,1.5'], /can't be 1\.5/],
  ['a text for a number', [holds, '--vary', 'bank.modules_parallel=2,many'], /can't be many/],
  [
    'a part that no file has',
    [parts, '--vary', 'bank.part=module-5kWh,modul-10kWh'],
    /did you mean "module-10kWh"/,
  ],
  [
    'parts files',
    [parts, '--vary', 'parts_files[0]=a.yaml,b.yaml'],
    /do not vary[\s\S]*vary the name of the part/,
  ],
  [
    'a billion designs',
    [holds, ...['a', 'b', 'c'].flatMap((key) => ['--vary', `${key}=1:1000:1`])],
    /1000000000 designs[\s\S]*larger step[\s\S]*--sample 10000[\s\S]*--part 1\/200/,
  ],
  [
    'more than can be counted',
    [holds, ...['a', 'b', 'c', 'd'].flatMap((key) => ['--vary', `${key}=1:100000:1`]), '--sample', '10'],
    /can't be counted/,
  ],
  [
    'a sample too large',
    [holds, ...['a', 'b'].flatMap((key) => ['--vary', `${key}=1:10000:1`]), '--sample', '6000000'],
    /smaller sample/,
  ],
  ['too many keys for a sample', [holds, ...thirteen, '--sample', '10'], /13 keys vary; expected at most 12/],
  ['a sample of nothing', [holds, ...two, '--sample', '0'], /--sample.*whole number/],
  ['a part past the last', [holds, ...two, '--part', '5/4', '--out', 'out'], /--part.*K from 1 to N/],
  ['part 0', [holds, ...two, '--part', '0/4', '--out', 'out'], /--part.*K from 1 to N/],
  ['half a part', [holds, ...two, '--part', '1.5/4', '--out', 'out'], /--part.*K from 1 to N/],
  ['no threads', [holds, ...two, '--threads', '0'], /--threads.*whole number/],
  ['a thread too many', [holds, ...two, '--threads', '1000'], /--threads.*whole number/],
  ['no scenario of that name', ['no-such.yaml', ...two], /no-such\.yaml: no such file/],
  ['an unknown option', [holds, ...two, '--thread', '2'], /unknown option '--thread'[\s\S]*--threads/],
  ['an empty folder name', [holds, ...two, '--out', ''], /--out.*expected a name/],
];

test.each(CASES)('%s', (_name, args, what) => {
  const ended = longnight(['sweep', ...args], folder);
  expect(ended.stderr).toMatch(what);
  expect(ended.stderr, 'says what to do or what was expected').toMatch(
    /fix: |expected |did you mean|--help/i,
  );
  expect(ended.stderr, 'no stack trace').not.toMatch(/\n\s+at |node:internal|Error:/);
  expect(ended.stdout).toBe('');
  expect(ended.status).toBe(2);
});

describe('series files of an axis', () => {
  const rows = weatherRows();
  cpSync(join(import.meta.dirname, 'bad/good-series.yaml'), join(folder, 'series.yaml'));
  writeFileSync(join(folder, 'year.csv'), weatherCsv(rows));
  writeFileSync(join(folder, 'gap.csv'), weatherCsv(rows.toSpliced(4000, 1)));
  test('that is not there is refused with its neighbour', () => {
    const ended = longnight(['sweep', 'series.yaml', '--vary', 'weather.file=year.csv,yea.csv'], folder);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/^yea\.csv: no such file[\s\S]*did you mean year\.csv/);
  });
  test('with a gap is refused with its rows before anything is played', () => {
    const ended = longnight(
      ['sweep', 'series.yaml', '--vary', 'weather.file=year.csv,gap.csv', '--out', 'gap'],
      folder,
    );
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/gap\.csv:400\d/);
  });
});

describe('an output that can not be written', () => {
  test('--out names a file', () => {
    writeFileSync(join(folder, 'taken'), 'mine\n');
    const ended = longnight(['sweep', holds, ...two, '--out', 'taken'], folder);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/^taken: this is a file/);
    expect(readFileSync(join(folder, 'taken'), 'utf8')).toBe('mine\n');
  });
  test('sweep.csv is a series that the scenario reads', () => {
    const clash = join(folder, 'clash');
    mkdirSync(clash);
    cpSync(join(folder, 'year.csv'), join(clash, 'sweep.csv'));
    const text = readFileSync(join(folder, 'series.yaml'), 'utf8').replace('year.csv', 'sweep.csv');
    writeFileSync(join(clash, 'plant.yaml'), text);
    const ended = longnight(['sweep', 'plant.yaml', ...two, '--out', '.'], clash);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/sweep\.csv.*reads/);
  });
});
