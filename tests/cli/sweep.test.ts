/** Sweeps: the same bytes whatever plays them, and rows that are those of `run`. */
import { spawnSync } from 'node:child_process';
import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { DESIGN_FIGURES } from '@longnight/core/study';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { sweepRows } from '../../packages/cli/src/sweep/rows.ts';
import {
  contents,
  DEMO,
  longnight,
  longnightProcess,
  ROOT,
  removeFolder,
  temporaryFolder,
} from './support/process.ts';
import { GENERATOR, rowsOf, STUDY } from './support/sweep.ts';
import { weatherCsv, weatherRows } from './support/weather.ts';

const folder = temporaryFolder();
const whole = join(folder, 'whole');
let printed = '';

beforeAll(() => {
  const ended = longnight(['sweep', ...STUDY, '--out', whole, '--threads', '1']);
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  printed = ended.stdout;
});
afterAll(() => removeFolder(folder));

const withoutFiles = (text: string): string => text.replace(/^Files: .*$/m, '');

describe('the same bytes', () => {
  test.each([2, 4])('on %i threads', (threads) => {
    const out = join(folder, `threads-${threads}`);
    const ended = longnight(['sweep', ...STUDY, '--out', out, '--threads', String(threads)]);
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    expect(contents(out)).toEqual(contents(whole));
    expect(withoutFiles(ended.stdout)).toBe(withoutFiles(printed));
  });

  test('from TypeScript sources, with worker threads', () => {
    const out = join(folder, 'source');
    const main = join(ROOT, 'packages/cli/src/main.ts');
    const args = ['--import', 'tsx', '--conditions=@longnight/source', main, 'sweep', ...STUDY];
    const ended = spawnSync(process.execPath, [...args, '--out', out, '--threads', '2'], {
      cwd: ROOT,
      encoding: 'utf8',
    });
    expect(ended.stderr).toBe('');
    expect(contents(out)).toEqual(contents(whole));
  });

  test('from another folder, in another zone and language', () => {
    const out = join(folder, 'elsewhere');
    longnightProcess(['sweep', ...STUDY, '--out', out], folder, {
      TZ: 'Pacific/Auckland',
      LANG: 'de_DE.UTF-8',
    });
    expect(contents(out)).toEqual(contents(whole));
  });
});

test('nothing of progress gets into a pipe, and nothing is left in the folder', () => {
  expect(Object.keys(contents(whole))).toEqual(['sweep.csv', 'sweep.html', 'sweep.sha256', 'sweep.svg']);
  expect(['\r', '\u001b'].filter((control) => printed.includes(control))).toEqual([]);
});

describe('rows', () => {
  test('are RFC 4180 with plain decimals, numbered in the order of the keys, the last varying fastest', () => {
    const csv = readFileSync(join(whole, 'sweep.csv'), 'utf8');
    const lines = csv.split('\r\n');
    expect(lines.pop()).toBe('');
    expect(csv.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(lines[0]).toBe(
      [
        'design',
        'arrays[0].size_kWp',
        'bank.modules_parallel',
        ...DESIGN_FIGURES.map(({ name }) => name),
        'contradiction',
      ].join(','),
    );
    expect(lines.length).toBe(61);
    lines.slice(1).forEach((line, k) => {
      const cells = line.split(',');
      expect(cells.slice(0, 3).map(Number)).toEqual([k + 1, Math.floor(k / 5) + 1, [2, 3, 4, 6, 8][k % 5]]);
      expect(cells.slice(3).filter((cell) => !/^(-?\d+(\.\d+)?)?$/.test(cell))).toEqual([]);
    });
  });

  test('say what run says of a file with these values', () => {
    const text = readFileSync(GENERATOR, 'utf8');
    for (const design of [1, 28, 60]) {
      const row = rowsOf(whole)[design - 1]!;
      const typed = join(folder, `typed-${design}.yaml`);
      writeFileSync(
        typed,
        text
          .replace('size_kWp: 6', `size_kWp: ${row['arrays[0].size_kWp']}`)
          .replace('modules_parallel: 4', `modules_parallel: ${row['bank.modules_parallel']}`),
      );
      const report: Report = JSON.parse(longnight(['run', typed, '--json']).stdout);
      for (const { name } of DESIGN_FIGURES.filter((figure) => !figure.name.startsWith('money.'))) {
        const value = name
          .split('.')
          .reduce<unknown>((at, key) => (at as Record<string, unknown>)[key], report);
        expect(Number(row[name]), `${name} of design ${design}`).toBeCloseTo(value as number, 9);
      }
    }
  });

  test('give a reason instead of figures where values contradict each other', () => {
    const out = join(folder, 'contradiction');
    const vary = ['--vary', 'generator.start_soc=0.3,0.5', '--vary', 'generator.stop_soc=0.4,0.8'];
    const ended = longnight(['sweep', GENERATOR, ...vary, '--out', out]);
    expect(ended.status).toBe(0);
    const rows = rowsOf(out);
    expect(rows.map((row) => row.contradiction !== '')).toEqual([false, false, true, false]);
    expect(rows[2]!.contradiction).toMatch(/start_soc.*0\.5.*stop_soc.*0\.4/);
    expect(DESIGN_FIGURES.map(({ name }) => rows[2]![name]).join('')).toBe('');
    expect(ended.stdout).toMatch(/1 design was not played[\s\S]*design\s+3/);
  });

  test('leave a cell empty where the plant has no such figure, and --json says null', () => {
    const args = ['sweep', join(DEMO, 'holds.yaml'), '--vary', 'bank.modules_parallel=3,12'];
    const out = join(folder, 'no-generator');
    longnight([...args, '--out', out]);
    const ended = longnight([...args, '--json']);
    expect(ended.stderr).toBe('');
    const document = JSON.parse(ended.stdout);
    expect(document.designs.length).toBe(2);
    rowsOf(out).forEach((row, k) => {
      expect(row['generator.run_hours']).toBe('');
      expect(document.designs[k]['generator.run_hours']).toBeNull();
      for (const [key, cell] of Object.entries(row))
        expect(document.designs[k][key], key).toBe(cell === '' ? null : Number(cell));
    });
  });

  test('can not be taken for formulas, whatever a part is called', () => {
    cpSync(join(ROOT, 'data/parts'), join(folder, 'parts'), { recursive: true });
    const modules = join(folder, 'parts/modules.yaml');
    writeFileSync(modules, readFileSync(modules, 'utf8').replace('name: module-10kWh', 'name: "=1+1"'));
    const text = readFileSync(join(DEMO, 'parts-with-generator.yaml'), 'utf8').replaceAll(
      '../parts/',
      'parts/',
    );
    writeFileSync(join(folder, 'formula.yaml'), text);
    const out = join(folder, 'formula');
    const ended = longnight(
      ['sweep', 'formula.yaml', '--vary', 'bank.part=module-5kWh,=1+1', '--out', out],
      folder,
    );
    expect(ended.status).toBe(0);
    expect(rowsOf(out).map((row) => row['bank.part'])).toEqual(['module-5kWh', "'=1+1"]);
    const rows = sweepRows([{ path: 'a', values: ['=1, "x"', '@a', '-b', 'two\nlines', -3, 1e-7, 2e21] }]);
    expect([0, 1, 2, 3, 4, 5, 6].map((k) => rows.start(k))).toEqual(
      [`1,"'=1, ""x""",`, "2,'@a,", "3,'-b,", '4,two lines,', '5,-3,', '6,0.0000001,'].concat(
        `7,2${'0'.repeat(21)},`,
      ),
    );
  });
});

describe('keys of every kind', () => {
  test('parts by name, with their prices; the table shows what no other beats for its price', () => {
    const scenario = join(DEMO, 'parts-with-generator.yaml');
    const out = join(folder, 'parts-names');
    const vary = ['--vary', 'bank.part=module-5kWh,module-10kWh', '--vary', 'arrays[0].panels=4:40:3'];
    const ended = longnight(['sweep', scenario, ...vary, '--out', out]);
    expect(ended.status).toBe(0);
    expect(ended.stderr).toMatch(/^note: no chart: the values of battery module are names/);
    const rows = rowsOf(out);
    expect(new Set(rows.map((row) => row['bank.part']))).toEqual(new Set(['module-5kWh', 'module-10kWh']));
    const of = (row: Record<string, string>) =>
      [row['money.capital'], row['unmet.energy_kWh'], row['generator.run_hours']].map(Number);
    const unbeaten = rows.filter((row) => {
      const [capital, unmet, hours] = of(row) as [number, number, number];
      return !rows.some((other) => {
        const [c, u, h] = of(other) as [number, number, number];
        const asGood = u < unmet || (u === unmet && h <= hours);
        return other !== row && asGood && (c < capital || (c === capital && (u < unmet || h < hours)));
      });
    });
    expect(unbeaten.length).toBeGreaterThan(3);
    expect(unbeaten.length).toBeLessThanOrEqual(20);
    expect(ended.stdout).toContain(`${unbeaten.length} of 26 designs are beaten by no other`);
    const shown = [...ended.stdout.matchAll(/^ +(\d+) +module/gm)].map(([, design]) => design);
    expect(shown.sort()).toEqual(unbeaten.map((row) => row.design).sort());
  });

  test('seeds: each its own year', () => {
    const out = join(folder, 'seeds');
    longnight(['sweep', join(DEMO, 'short-of-bank.yaml'), '--vary', 'weather.seed=90:94:1', '--out', out]);
    const unmet = rowsOf(out).map((row) => Number(row['unmet.energy_kWh']));
    expect(new Set(unmet).size).toBe(5);
    const { stdout } = longnight(['run', join(DEMO, 'short-of-bank.yaml'), '--json']);
    expect(unmet[2]).toBeCloseTo(JSON.parse(stdout).unmet.energy_kWh, 9);
  });

  test('series files: each is read; a year that one does not cover is said, not played', () => {
    cpSync(join(import.meta.dirname, 'bad/good-series.yaml'), join(folder, 'series.yaml'));
    const rows = weatherRows();
    writeFileSync(join(folder, 'year.csv'), weatherCsv(rows));
    const dull = rows.map((row) => row.replace(/,(\d+),/, (_, ghi) => `,${Math.round(Number(ghi) / 2)},`));
    writeFileSync(join(folder, 'dull.csv'), weatherCsv(dull));
    const vary = ['--vary', 'weather.file=year.csv,dull.csv', '--vary', 'run.year=2025,2031'];
    const ended = longnight(['sweep', 'series.yaml', ...vary, '--out', 'series'], folder);
    expect(ended.status).toBe(0);
    const [bright, later, dim, laterDim] = rowsOf(join(folder, 'series')) as Record<string, string>[];
    expect(Number(dim!['array.curtailed_share'])).toBeLessThan(Number(bright!['array.curtailed_share']));
    expect([bright, later, dim, laterDim].map((row) => row!.contradiction === '')).toEqual([
      true,
      false,
      true,
      false,
    ]);
    expect(later!.contradiction).toMatch(/year\.csv/);
    expect(laterDim!.contradiction).toMatch(/dull\.csv/);
  });

  test('a sample is distinct designs of the grid, and a longer one begins with it', () => {
    const [ten, twenty] = [10, 20].map((n) => {
      const out = join(folder, `sample-${n}`);
      const ended = longnight(['sweep', ...STUDY, '--sample', String(n), '--out', out]);
      expect(ended.stderr).toMatch(/no chart: a sample/);
      return readFileSync(join(out, 'sweep.csv'), 'utf8').split('\r\n').slice(1, -1);
    }) as [string[], string[]];
    expect(new Set(twenty).size).toBe(20);
    expect(twenty.slice(0, 10)).toEqual(ten);
    const grid = readFileSync(join(whole, 'sweep.csv'), 'utf8').split('\r\n');
    expect(twenty.filter((row) => !grid.includes(row))).toEqual([]);
  });
});

describe('the table', () => {
  test('is at most 80 columns wide and 20 rows long, and says which rows these are', () => {
    expect(printed.split('\n').filter((line) => line.length > 80)).toEqual([]);
    expect(printed).toMatch(/Shown: 20 of 60 designs, spread evenly over the values\./);
    const shown = [...printed.matchAll(/^ +(\d+) +\d+ +\d+ /gm)].map(([, design]) => Number(design));
    expect(shown.length).toBe(20);
    expect([shown[0], shown.at(-1)]).toEqual([1, 60]);
    expect(printed).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('drops columns that tell nothing, and says what they hold', () => {
    expect(printed).toMatch(/The same in all: unmet energy 0 kWh; unmet hours 0 h/);
    expect(printed.split('\n').filter((line) => /unmet (energy|hours)/.test(line)).length).toBe(1);
    const { stdout } = longnight([
      'sweep',
      join(DEMO, 'holds.yaml'),
      '--vary',
      'bank.modules_parallel=2,3,4',
    ]);
    expect(stdout).toMatch(/unmet/);
    expect(stdout).not.toMatch(/generator|capital|Shown|Files/);
  });

  test('names the smallest that leave nothing unmet', () => {
    const vary = ['--vary', 'arrays[0].size_kWp=2:22:4', '--vary', 'bank.modules_parallel=4:14:1'];
    const out = join(folder, 'smallest');
    const { stdout } = longnight(['sweep', join(DEMO, 'short-of-bank.yaml'), ...vary, '--out', out]);
    const holding = rowsOf(out).filter((row) => Number(row['unmet.energy_kWh']) === 0);
    expect(stdout).toContain(`${holding.length} of 66 designs leave nothing unmet`);
    const least = (key: string, then: string): string =>
      [...holding].sort((a, b) => Number(a[key]) - Number(b[key]) || Number(a[then]) - Number(b[then]))[0]!
        .design!;
    const said = stdout.replace(/\s+/g, ' ');
    expect(said).toContain(
      `smallest array among them: design ${least('array.size_kWp', 'bank.usable_kWh')},`,
    );
    expect(said).toContain(`smallest bank: design ${least('bank.usable_kWh', 'array.size_kWp')},`);
  });
});
