import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { afterAll, expect, test } from 'vitest';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** The demo without its wiring, with another in its place. */
function withWiring(wiring: string): string {
  const text = readFileSync(join(DEMO, 'holds-with-generator.yaml'), 'utf8');
  const changed = text.replace(/^wiring: .*$/m, wiring);
  expect(changed).not.toBe(text);
  writeFileSync(join(folder, 'plant.yaml'), changed);
  return 'plant.yaml';
}
/** Lines joined again: the terminal's width is no matter here. */
const flat = (text: string): string => text.replace(/\s+/g, ' ');

test('check shows cable, fuse window and starts, with the caution beside them; report.md and report.json say the same', () => {
  const scenario = join(DEMO, 'holds-with-generator.yaml');
  const { stdout, stderr, status } = longnight(['check', scenario]);
  expect([status, stderr]).toEqual([0, '']);
  const said = flat(stdout);
  // 120 A of tracker and 60 A of charger; 4 modules would take 200 A.
  expect(said).toContain('Cable between bank and inverter: 180 A, 225 A with 125 %');
  expect(said).toContain('The cable of the file is 2 × 4/0 AWG, 460 A at 75 °C.');
  expect(said).toContain('standard ratings in it: 225, 250, 300, 350, 400, 450, 500 A');
  // 2 × 1.5 m × 180 A × 0.0608 / 0.3048 / 2 ohm/km
  expect(said).toContain('Over 1.50 m and back it drops 0.05 V');
  expect(said).toContain('when sample freezer starts');
  expect(said).toContain('Local code and a licensed electrician decide cable, fuse and breaker.');
  expect(said).toMatch(/polarity.*pre-charge/);
  expect(said).toMatch(/carbon monoxide/);
  expect(said).not.toMatch(/\bsafe/i);
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);

  longnight(['run', scenario, '--out', join(folder, 'out')]);
  const markdown = readFileSync(join(folder, 'out', 'report.md'), 'utf8');
  const report: Report = JSON.parse(readFileSync(join(folder, 'out', 'report.json'), 'utf8'));
  expect(markdown).toContain('2 × 4/0 AWG, 460 A at 75 °C.');
  expect(report.limits.bank_conductor.needed_A).toBe(225);
  expect(report.limits.bank_conductor.cable).toMatchObject({ given: true, ampacity_A: 460 });
  expect(report.surge.start).toEqual({ name: 'sample freezer', start_W: 600 });
  expect(report.surge.peak_kW).toBeGreaterThan(report.load.peak_kW);
});

test('a cable that is too small is a conflict, and no error; one that burns before its fuse blows is a danger', () => {
  const { stdout, status } = longnight(['check', withWiring('wiring: { cable_mm2: 95 }')], folder);
  expect(status).toBe(0);
  expect(flat(stdout)).toContain('Conflict: 95 mm² carries 200 A, less than the 225 A needed.');
  expect(flat(stdout)).toContain('No length is given');
  const burns = longnight(['check', withWiring('wiring: { cable_mm2: 70 }')], folder);
  expect(burns.status).toBe(3);
  expect(burns.stderr).toMatch(
    /^danger: wiring\.cable_mm2: .*180\.0 A for hours.*70 mm² may be fused with 175\.0 A/,
  );
  expect(flat(burns.stdout.split('\n').slice(1, 5).join(' '))).toContain('can carry 180.0 A for hours');
});

test('a size that there is not is refused with those that there are', () => {
  const { stderr, status } = longnight(['check', withWiring('wiring: { cable_AWG: 5 }')], folder);
  expect(status).toBe(2);
  expect(stderr).toMatch(/wiring\.cable_AWG: found 5; expected 14, .*4\/0/);
});
