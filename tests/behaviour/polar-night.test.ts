/** What a study of the far north and of a generator in long steps must say. */

import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { findings, plantOf, playYear, prepareYear, type Report, readScenario } from '@longnight/core';
import { studyNotices } from '@longnight/core/study';
import { expect, test } from 'vitest';
import { noticesSaid } from '../support/words.ts';

const text = (name: string): string =>
  readFileSync(resolve(import.meta.dirname, `../../data/demo/${name}.yaml`), 'utf8');
const section = (of: string, key: string, body: string): string => {
  const swapped = of.replace(new RegExp(`^${key}:.*\\n(?:(?: .*|#.*)?\\n)*`, 'm'), `${key}: ${body}\n\n`);
  expect(swapped).not.toBe(of);
  return swapped;
};
const played = (yaml: string): Report => {
  const read = readScenario(yaml, 'p.yaml', new Map());
  const year = prepareYear(read, 'p.yaml', new Map());
  const plant = plantOf(read.scenario);
  return findings(playYear(year, plant));
};

test('at 70 degrees north the leanest week is the dark one that leaves the bank lowest', () => {
  let north = text('holds').replace('latitude_deg: 61.3', 'latitude_deg: 70');
  north = section(north, 'weather', '{ kind: clear-sky, turbidity_linke: 3, air_temperature_C: -5 }');
  // 45 W and the inverter's 30 take some 55 kWh of the bank in a month without sun.
  north = section(north, 'loads', '[{ kind: appliance, name: radio, power_W: 45 }]');
  north = north.replace('modules_parallel: 12', 'modules_parallel: 36');
  const { leanest_days: lean, bank } = played(north);
  expect(lean.sun_to_load).toBe(0);
  expect(bank.lowest_soc).toBeGreaterThan(0.2);
  // Every week without sun is as lean as any other; the first of them finds the bank full.
  const end = lean.by_day.at(-1)!.end_soc;
  expect(end).toBeLessThan(lean.initial_soc);
  expect(end).toBeLessThan(bank.lowest_soc + 0.1);
});

test('a warm-up below a step is said where run-hours are read, with the step that plays it', () => {
  const warm = (step_min: number): string =>
    text('holds-with-generator')
      .replace(/^generator:\n/m, 'generator:\n  warm_up_min: 5\n')
      .replace(/^run:\n/m, `run:\n  step_min: ${step_min}\n`);
  const hours = played(warm(60));
  const [notice] = noticesSaid(hours.notices, 'generator-step');
  expect(notice).toContain("the generator's warm-up of 5 min is played in steps of 60 min");
  expect(notice).toContain('Tune them with run.step_min: 5');
  const fine = played(warm(5));
  expect(fine.notices.filter(({ id }) => id === 'generator-step')).toEqual([]);
  // It is not for nothing.
  expect(hours.generator!.run_hours).toBeGreaterThan(fine.generator!.run_hours + 1);
  const { scenario } = readScenario(warm(30), 'p.yaml', new Map());
  expect(studyNotices(scenario).map(({ id }) => id)).toEqual(['generator-step']);
  const plain = readScenario(text('holds-with-generator'), 'p.yaml', new Map()).scenario;
  expect(studyNotices(plain)).toEqual([]);
});
