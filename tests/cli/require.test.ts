import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { figuresOfReport } from '@longnight/core/findings';
import { holds } from '@longnight/core/study';
import { afterAll, describe, expect, test } from 'vitest';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const engine = join(DEMO, 'parts-with-generator.yaml');
const sun = join(DEMO, 'parts-sun-alone.yaml');
const run = (file: string, ...bounds: string[]) =>
  longnight(['run', file, ...bounds.flatMap((bound) => ['--require', bound])]);
const reportOf = (file: string): Report => JSON.parse(longnight(['run', file, '--json']).stdout);

test('bounds that are kept are printed below the usual summary and exit 0', () => {
  const ended = run(engine, 'unmet.share<=0.001', 'generator.run_hours < 100');
  expect(ended).toMatchObject({ status: 0, stderr: '' });
  const [before, after] = ended.stdout.split('Required         ');
  expect(longnight(['run', engine]).stdout.startsWith(before!)).toBe(true);
  const { run_hours } = reportOf(engine).generator!;
  expect(run_hours).toBeLessThan(100);
  expect(after).toMatch(
    new RegExp(`^unmet\\.share<=0\\.001: kept, 0\\n {17}generator\\.run_hours < 100: kept, ${run_hours}\\n`),
  );
});

test('a missed one exits 3, is named on stderr, and everything is written all the same', () => {
  const out = join(folder, 'missed');
  const ended = longnight([
    'run',
    engine,
    '--require',
    'generator.run_hours<=60',
    '--require',
    'unmet.hours<=0',
    '--out',
    out,
  ]);
  expect(ended.status).toBe(3);
  expect(ended.stderr).toBe('missed: generator.run_hours is 99, required is <= 60\n');
  expect(ended.stdout).toContain('generator.run_hours<=60: missed, 99');
  const plain = join(folder, 'plain');
  longnight(['run', engine, '--out', plain]);
  expect(contents(out)).toEqual(contents(plain));
});

test('with --json standard output is report.json alone', () => {
  const ended = longnight(['run', engine, '--json', '--require', 'bank.lowest_soc>=0.5']);
  expect(ended.status).toBe(3);
  expect(ended.stdout).toBe(longnight(['run', engine, '--json']).stdout);
  expect(ended.stderr).toMatch(/^missed: bank\.lowest_soc is 0\.2\d+, required is >= 0\.5\n$/);
});

test('any number of report.json can be bound, to the last digit', () => {
  const figures = figuresOfReport(reportOf(engine));
  expect(figures.size).toBeGreaterThan(60);
  const bounds = [...figures].flatMap(([name, value]) =>
    value === null ? [] : [`${name}<=${value}`, `${name}>=${value}`],
  );
  expect(run(engine, ...bounds)).toMatchObject({ status: 0, stderr: '' });
  const [name, value] = [...figures].find(([key]) => key === 'array.used_kWh')! as [string, number];
  const ended = run(engine, `${name}<${value}`);
  expect(ended.status).toBe(3);
  // Not rounded to a figure that would be within the bound.
  const told = Number(/is ([\d.]+), required/.exec(ended.stderr)![1]);
  expect(told).toBeGreaterThanOrEqual(value);
});

describe('figures that a plant does not have', () => {
  test('are known by the same names as those of a plant that has them', () => {
    const names = (file: string) => [...figuresOfReport(reportOf(file)).keys()].sort();
    expect(names(sun)).toEqual(names(engine));
    expect(names(join(DEMO, 'holds.yaml'))).toEqual(names(engine));
    const rich = readFileSync(join(DEMO, 'holds-with-generator.yaml'), 'utf8').replace(
      '\ngenerator:',
      "\nshore: { max_A: 16, voltage_V: 230 }\nalternator: { max_charge_A: 30, windows: ['08:00-09:00'] }\n\ngenerator:",
    );
    writeFileSync(join(folder, 'rich.yaml'), rich);
    const { shore, alternator } = reportOf(join(folder, 'rich.yaml'));
    expect([shore, alternator]).not.toContain(null);
    expect(names(join(folder, 'rich.yaml'))).toEqual(names(engine));
  });

  test('count as 0: no generator keeps every cap on its hours and misses every floor', () => {
    const ended = run(sun, 'generator.run_hours<=60', 'generator.fuel_L>=1');
    expect(ended.status).toBe(3);
    expect(ended.stdout).toMatch(/generator\.run_hours<=60: kept, n\/a \(the plant has none/);
    expect(ended.stderr).toBe(
      'missed: generator.fuel_L is n/a (the plant has none: counts as 0), required is >= 1\n',
    );
  });

  test('but a price that nobody told keeps no bound', () => {
    const ended = run(join(DEMO, 'holds.yaml'), 'money.total<=1000000000');
    expect(ended.status).toBe(3);
    expect(ended.stderr).toBe(
      'missed: money.total is n/a (not known: a price is missing), required is <= 1000000000\n',
    );
    const hold = { text: '', name: 'money.capital', relation: '>=', bound: 0 } as const;
    expect(holds(hold, null)).toBe(false);
    expect(holds(hold, 0)).toBe(true);
  });

  test('nor does a life that nobody stated: its wear is not known, and not nothing', () => {
    const ended = run(join(DEMO, 'holds.yaml'), 'bank.wear.cycle_life_used_share<=0.1');
    expect(ended.status).toBe(3);
    expect(ended.stderr).toBe(
      'missed: bank.wear.cycle_life_used_share is n/a (not known: nothing stated or played tells it), required is <= 0.1\n',
    );
  });
});

describe('what is no bound is refused and nothing is written', () => {
  test.each([
    [
      'unmet.shar<=0.1',
      /--require unmet\.shar<=0\.1: there is no figure "unmet\.shar" here/,
      /did you mean "unmet\.share"\?/,
    ],
    ['run_hours<=0.1', /there is no figure "run_hours"/, /did you mean "generator\.run_hours"\?/],
    [
      'unmet.share',
      /--require unmet\.share: is not a requirement; expected NAME<=NUMBER/,
      /quote it for the shell/,
    ],
    ['unmet.share=0', /is not a requirement/, /quote it/],
    ['unmet.share<=lots', /is not a requirement/, /quote it/],
    ['quetzal<=1', /expected one of load\.wanted_kWh, /, /take a name from this list/],
    ['site.name<=1', /there is no figure "site\.name"/, /fix: /],
  ])('%s', (bound, what, fix) => {
    const out = join(folder, 'refused');
    const ended = longnight(['run', engine, '--require', bound, '--out', out]);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(what);
    expect(ended.stderr).toMatch(fix);
    expect(Object.keys(contents(folder))).not.toContain('refused');
  });
});

test('report.md and report.json carry the same money', () => {
  const out = join(folder, 'money');
  longnight(['run', engine, '--out', out]);
  const report: Report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8'));
  const markdown = readFileSync(join(out, 'report.md'), 'utf8');
  expect(markdown).toContain('## Money');
  for (const { item, count } of report.money!.bill)
    expect(markdown).toMatch(new RegExp(`^\\| ${item} +\\| +${count} \\|`, 'm'));
  const capital = report.money!.capital!.toLocaleString('en-US');
  expect(markdown).toMatch(new RegExp(`^\\| all +\\|.*\\| +${capital} \\|`, 'm'));
});
