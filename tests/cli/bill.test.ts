import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { price } from '../../packages/cli/src/render/document/figures.ts';
import { paint } from '../../packages/cli/src/render/document/paint.ts';
import { tableLines } from '../../packages/cli/src/render/document/to-screen.ts';
import { billTable } from '../../packages/cli/src/render/report/bill.ts';
import { longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
beforeAll(() => {
  cpSync(join(ROOT, 'data'), join(folder, 'data'), { recursive: true });
});
afterAll(() => removeFolder(folder));

const TEXT = readFileSync(join(ROOT, 'data/demo/parts-with-generator.yaml'), 'utf8');
/** The demo plant changed, beside the demo, so that its parts files are found. */
function check(from: string | RegExp, to: string) {
  const changed = TEXT.replace(from, to);
  expect(changed).not.toBe(TEXT);
  writeFileSync(join(folder, 'data/demo/changed.yaml'), changed);
  return longnight(['check', 'data/demo/changed.yaml'], folder);
}
const billOf = (stdout: string): string[] =>
  stdout.split('\nBill of materials, ')[1]!.split('\n\n')[0]!.split('\n');

describe('check', () => {
  test('prints the bill with counts, prices and totals that add up', () => {
    const ended = longnight(['check', 'data/demo/parts-with-generator.yaml'], folder);
    expect(ended).toMatchObject({ status: 0, stderr: '' });
    expect(ended.stdout).toContain('parts-with-generator.yaml and 4 files it names: no error found.');
    const [currency, head, ...rows] = billOf(ended.stdout);
    expect(currency).toBe('crowns');
    expect(head).toMatch(/^item +count +each +total +lasts$/);
    const lines = rows
      .slice(0, -2)
      .map((row) => /^(.*?) +([\d,]+) +([\d,]+) +([\d,]+)(?: {2}\S.*)?$/.exec(row)!.slice(1));
    const number = (text: string): number => Number(text.replaceAll(',', ''));
    for (const [item, count, each, total] of lines)
      expect(number(count!) * number(each!), item).toBe(number(total!));
    const sum = lines.reduce((s, [, , , total]) => s + number(total!), 0);
    expect(rows.at(-2)).toMatch(new RegExp(`^all +${sum.toLocaleString('en-US')}$`));
    // Nine tenths of four modules of 5.12 kWh; an inverter of 5 kW.
    expect(rows.at(-1)).toBe(
      `  ${Math.round(sum / (0.9 * 4 * 5.12))} per kWh of usable bank, ${Math.round(sum / 5)} per kW of continuous AC output`,
    );
    expect(ended.stdout.split('\n').filter((row) => row.length > 80)).toEqual([]);
  });

  test('names what has no price and then gives no total', () => {
    const { stdout, status } = check(
      '    losses:',
      '    tracker: { max_power_kW: 6, max_charge_A: 110 }\n    losses:',
    );
    expect(status).toBe(0);
    const rows = billOf(stdout);
    expect(rows.find((row) => row.includes('tracker: ground row'))).toMatch(/ 1 +n\/a +n\/a {2}/);
    expect(rows.some((row) => /^all {2,}/.test(row))).toBe(false);
    expect(rows.join(' ')).toMatch(/No total: this has no price: tracker: ground row, south\./);
  });

  test('does not ask for the price of fuel, which is no part', () => {
    const { stdout } = check(/ {2}fuel_price_per_L.*\n/, '');
    expect(stdout).toMatch(/^all +12,522$/m);
    expect(stdout).not.toContain('No total');
  });

  test('has no bill without a money section', () => {
    const { stdout, stderr, status } = check(/\nmoney:\n(?: {2}.*\n)+/, '\n');
    expect(status).toBe(0);
    expect(stdout).not.toContain('Bill of materials');
    expect(stderr).toBe(
      'note: parts have prices, and no money section says in which currency: there is no bill\n',
    );
  });
});

describe('parts files', () => {
  test('a fault in one is told with its line and column, by run and check alike', () => {
    mkdirSync(join(folder, 'data/bad'));
    const bad = readFileSync(join(folder, 'data/parts/modules.yaml'), 'utf8').replace(
      'capacity_Ah: 100',
      'capacity_Ah: lots',
    );
    writeFileSync(join(folder, 'data/bad/modules.yaml'), bad);
    const line = bad.split('\n').findIndex((row) => row.includes('lots')) + 1;
    const checked = check('../parts/modules.yaml', '../bad/modules.yaml');
    expect(checked).toMatchObject({ status: 2, stdout: '' });
    expect(checked.stderr).toMatch(
      new RegExp(
        `^\\.\\./bad/modules\\.yaml:${line}:22: bank\\.module\\.capacity_Ah: found the text "lots"; expected a number from 0\\.001 to 100000\n {4}fix: `,
      ),
    );
    expect(longnight(['run', 'data/demo/changed.yaml'], folder).stderr).toBe(checked.stderr);
  });

  test('one that is not there is an input error', () => {
    const ended = check('../parts/modules.yaml', '../parts/modulez.yaml');
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/^\.\.\/parts\/modulez\.yaml: no such file/);
  });

  test('a run tells their sums, so that a report can be made again, and writes over none of them', () => {
    const report = join(folder, 'out');
    expect(longnight(['run', 'data/demo/parts-with-generator.yaml', '--out', report], folder).status).toBe(0);
    const markdown = readFileSync(join(report, 'report.md'), 'utf8');
    for (const name of ['panels', 'modules', 'inverters', 'generators'])
      expect(markdown).toMatch(new RegExp(`^\\| ${name}\\.yaml +\\| \`[0-9a-f]{64}\` \\|$`, 'm'));
    const clash = join(folder, 'clash');
    mkdirSync(clash);
    const named = TEXT.replace('../parts/panels.yaml', 'hours.csv').replaceAll('../parts/', '../data/parts/');
    writeFileSync(join(clash, 'plant.yaml'), named);
    cpSync(join(folder, 'data/parts/panels.yaml'), join(clash, 'hours.csv'));
    const ended = longnight(['run', 'plant.yaml', '--out', '.'], clash);
    expect(ended.status).toBe(2);
    expect(ended.stderr).toMatch(/hours\.csv would be written over .*hours\.csv, which this run reads/);
  });
});

test('prices keep their fractions, in all rows or none, and a long name breaks', () => {
  expect([0, 0.056, 0.894, 42, 99.499, 679.36, 12_522].map(price)).toEqual([
    '0',
    '0.056',
    '0.89',
    '42',
    '99.50',
    '679',
    '12,522',
  ]);
  const bill = billTable(
    'Bill',
    'crowns',
    [
      {
        item: 'a very long name of a thing that is bought for a plant in the hills',
        path: null,
        count: 2,
        price_each: 1.5,
        total: 3,
        life: null,
      },
      { item: 'b', path: null, count: 6.02, price_each: 10, total: 60.2, life: null },
    ],
    63.2,
  );
  expect(tableLines(bill, paint(false))).toEqual([
    'item                                   count   each  total  lasts',
    'a very long name of a thing that is        2   1.50   3.00  as long as the plant',
    'bought for a plant in the hills',
    'b                                       6.02  10.00  60.20  as long as the plant',
    'all                                                  63.20',
  ]);
});
