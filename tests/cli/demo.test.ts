import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
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
