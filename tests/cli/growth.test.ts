/** A sweep over the size of an array says what each further kWp saves of the generator, and up to where that pays. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, expect, test } from 'vitest';
import { tableOf, textOf } from './support/page.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));
const engine = join(DEMO, 'parts-with-generator.yaml');
const PANELS = ['--vary', 'arrays[0].panels=14:30:8'];
const sweep = (out: string, ...more: string[]) =>
  longnight(['sweep', engine, ...more, '--out', join(folder, out)]);
const rowsOf = (out: string): Record<string, string>[] =>
  parse(readFileSync(join(folder, out, 'sweep.csv')), { columns: true });
const pageOf = (out: string): string => readFileSync(join(folder, out, 'sweep.html'), 'utf8');

test('the table is the difference of neighbouring rows over the kWp between them, and the knee the cheapest design', () => {
  const { stdout, status } = sweep('priced', ...PANELS);
  expect(status).toBe(0);
  const rows = rowsOf('priced');
  const table = tableOf(pageOf('priced'), 'What each further kWp brings');
  expect(table.rows.length).toBe(2);
  table.rows.forEach(([size, hours, fuel, worth, cost], k) => {
    const [a, b] = [rows[k]!, rows[k + 1]!];
    const of = (name: string): number => Number(a[name]) - Number(b[name]);
    const added = -of('array.size_kWp');
    expect(Number(size)).toBeCloseTo(Number(b['array.size_kWp']), 2);
    expect(Number(hours)).toBeCloseTo(of('generator.run_hours') / added, 1);
    expect(Number(fuel)).toBeCloseTo(of('generator.fuel_L') / added, 1);
    // Annuity of 20 years at 4 %, in closed form: what is left between worth and cost is the cost over the years.
    const even = (1 - 1.04 ** -20) / 0.04;
    expect(Number(worth) - Number(cost)).toBeCloseTo(of('money.total') / even / added, 1);
  });
  const cheapest = rows.reduce((best, row) =>
    Number(row['money.total']) < Number(best['money.total']) ? row : best,
  );
  const at = Number(cheapest['array.size_kWp']);
  expect(stdout.replace(/\s+/g, ' ')).toContain(
    `The array pays up to ${Number(at.toPrecision(4))} kWp (panels, ground row, south: ${cheapest['arrays[0].panels']})`,
  );
});

test('a curve for each rule of starting, and a saved hour worth more pays for a larger array', () => {
  const rule = ['--vary', 'generator.start_soc=0.2,0.4'];
  sweep('plain', ...PANELS, ...rule);
  const { stdout } = sweep('worth', ...PANELS, ...rule, '--hour-worth', '60');
  const html = pageOf('worth');
  expect(textOf(html)).toContain('60 crowns for each hour saved, as stated');
  expect(textOf(html)).toContain('Beside each curve: SoC that starts the generator.');
  expect(html.match(/id="growth-chart-wide"|aria-labelledby="growth-chart-wide-t/g)).toHaveLength(1);
  expect(html).toContain('--hour-worth 60');
  const smallest = (text: string): number =>
    Math.min(...[...text.matchAll(/pays up to ([\d.]+) kWp \(/g)].map(([, size]) => Number(size)));
  expect([...textOf(html).matchAll(/pays up to [\d.]+ kWp \(/g)]).toHaveLength(2);
  expect(smallest(textOf(html))).toBeGreaterThan(smallest(textOf(pageOf('plain'))));
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
});

test('without prices only the steps are told', () => {
  const { stdout } = longnight([
    'sweep',
    join(DEMO, 'holds-with-generator.yaml'),
    ...['--vary', 'arrays[0].size_kWp=4:8:2'],
  ]);
  expect(stdout).toContain('No size is marked');
  expect(stdout).not.toMatch(/pays up to|worth +cost/);
});

test.each([
  [
    ['--vary', 'bank.modules_parallel=3,4', '--hour-worth', '2'],
    /--hour-worth: no array grows alone\n {4}fix: vary/,
  ],
  [[...PANELS, '--hour-worth', 'much'], /expected an amount of money, such as 12\.5/],
])('%j is refused', (args, what) => {
  const ended = longnight(['sweep', engine, ...args]);
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(what);
});

test.each([
  ['short-of-bank', /the plant has no generator/],
  ['holds-with-generator', /no money section/],
])('%s has nothing to hold against a saved hour', (name, what) => {
  const vary = ['--vary', 'arrays[0].size_kWp=4,8'];
  expect(longnight(['sweep', join(DEMO, `${name}.yaml`), ...vary, '--hour-worth', '2']).stderr).toMatch(what);
});

test('all arrays grow by factors as one does by sizes, a curve for each rule that the file leaves at its default', () => {
  const rule = ['--vary', 'generator.starts.kind=at_soc,before_night'];
  const { stdout } = sweep('factors', '--vary', 'arrays[*].panels=x0.5,x1,x1.5', ...rule);
  const panels = Number(/panels: (\d+)/.exec(readFileSync(engine, 'utf8'))![1]);
  sweep('counts', '--vary', `arrays[0].panels=${panels / 2}:${panels * 1.5}:${panels / 2}`, ...rule);
  const table = (out: string) => tableOf(pageOf(out), 'What each further kWp brings').rows;
  expect(table('factors').length).toBe(4);
  expect(table('factors')).toEqual(table('counts'));
  expect(stdout.replace(/\s+/g, ' ')).toContain('(panels, all arrays: x');
});
