import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { findings, plantOf, playYear, prepareYear, type Report, readScenario } from '@longnight/core';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { DEMO, longnight } from './support/process.ts';

const NAMES = ['short-of-bank', 'holds', 'holds-with-generator'];
const scenario = (name: string) => parse(readFileSync(join(DEMO, `${name}.yaml`), 'utf8'));
const played = (name: string): Report =>
  JSON.parse(longnight(['run', join(DEMO, `${name}.yaml`), '--json']).stdout);

test('the three plants share site, weather, loads and run', () => {
  const [first, ...others] = NAMES.map(scenario);
  for (const other of others)
    for (const part of ['site', 'weather', 'loads', 'run', 'inverter'])
      expect(other[part]).toEqual(first[part]);
});

test('each plant does what its file name says', () => {
  const short = played('short-of-bank');
  expect(short.verdict.holds).toBe(false);
  expect(['bank_floor', 'bank_current']).toContain(short.gives_out_first.main_cause);
  const december_kWh = short.unmet.by_month_kWh[11]!;
  expect(december_kWh).toBeGreaterThan(0);
  expect(december_kWh).toBe(Math.max(...short.unmet.by_month_kWh));

  const holds = played('holds');
  expect(holds.verdict.holds).toBe(true);
  expect(holds.unmet.energy_kWh).toBe(0);
  expect(holds.generator).toBeNull();

  const withGenerator = played('holds-with-generator');
  expect(withGenerator.verdict.holds).toBe(true);
  expect(withGenerator.generator!.run_hours).toBeGreaterThan(0);
  expect(withGenerator.array.size_kWp).toBeLessThan(holds.array.size_kWp);
});

test('the failing plant differs from the holding one in its bank alone', () => {
  const { bank: small, ...restOfShort } = scenario('short-of-bank');
  const { bank: large, ...restOfHolds } = scenario('holds');
  expect(restOfShort).toEqual(restOfHolds);
  expect({ ...small, modules_parallel: large.modules_parallel }).toEqual(large);
  expect(small.modules_parallel).toBeLessThan(large.modules_parallel);
});

test('what the comment of holds.yaml says about other seeds is so', () => {
  const text = readFileSync(join(DEMO, 'holds.yaml'), 'utf8');
  const [, first, last, told] = text.match(/Of the seeds (\d+) to (\d+) it holds in (\d+)/)!.map(Number);
  let holding = 0;
  for (let seed = first!; seed <= last!; seed++) {
    const read = readScenario(text.replace(/seed: \d+/, `seed: ${seed}`), 'holds.yaml');
    const year = prepareYear(read, 'holds.yaml', new Map());
    const plant = plantOf(read.scenario);
    if (findings(playYear(year, plant)).verdict.holds) holding++;
  }
  expect(holding).toBe(told);
});
