/** A danger is said first, in every output, and ends the command with 3. The plant is invented. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { afterAll, describe, expect, it } from 'vitest';
import { longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** `panels` of 40 V in strings of `series`, 43.5 V each in the record cold, on an input of 145 V and 30 A. */
const plant = (panels: number, series: number): string => `site:
  name: ridge hut (invented)
  latitude_deg: 47
  longitude_deg: 9
  elevation_m: 900
  time_zone: Europe/Zurich
  record_low_C: -10
weather: { kind: clear-sky, turbidity_linke: 4, air_temperature_C: 5, daily_swing_K: 8 }
arrays:
  - name: roof
    panels: ${panels}
    panel_kWp: 0.38
    panel: { voc_V: 40, vmp_V: 33, isc_A: 12, imp_A: 11.5, voc_temperature_coefficient_per_K: -0.0025 }
    panels_in_series: ${series}
    price: 90
    tilt_deg: 40
    azimuth_deg: 180
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
    tracker: { max_power_kW: 20, max_charge_A: 100, max_input_V: 145, min_input_V: 50, max_input_A: 30, price: 300 }
bank:
  chemistry: lfp
  modules_parallel: 3
  module: { nominal_voltage_V: 51.2, capacity_Ah: 100, max_charge_A: 100, max_discharge_A: 100 }
  round_trip_efficiency_share: 0.94
  floor_soc: 0.1
  temperature: { kind: indoors, temperature_C: 15 }
  price: 1200
inverter: { rating_kW: 5, surge_kW: 10, idle_W: 30, price: 900, efficiency: { loss_linear: 0.03, loss_quadratic: 0.02 } }
loads: [{ kind: daily, name: house, energy_kWh_day: 8, shape: flat }]
money: { currency: crowns, years: 20, discount_share_per_year: 0.03 }
run: { year: 2025 }
`;
writeFileSync(join(folder, 'long.yaml'), plant(4, 4));
writeFileSync(join(folder, 'short.yaml'), plant(3, 3));

const written = (out: string, name: string): string => readFileSync(join(folder, out, name), 'utf8');
const flat = (text: string): string => text.replace(/\s+/g, ' ');
const CAUTION = 'Local code and a licensed electrician decide what is wired.';

describe('174 V on an input of 145 V', () => {
  it('check says it in its first lines and exits 3', () => {
    const { stdout, stderr, status } = longnight(['check', 'long.yaml'], folder);
    expect(status).toBe(3);
    expect(flat(stdout.split('\n\n')[1]!)).toMatch(
      /^Danger roof: 4 panels in series can give 174 V .* stands 145 V\. That can destroy it, and start a fire\./,
    );
    expect(stdout).not.toContain('no error found');
    expect(stderr).toMatch(/^danger: arrays\[0\]\.tracker\.max_input_V: roof: 4 panels in series/);
    expect(longnight(['check', 'short.yaml'], folder).status).toBe(0);
  });

  it('run says it before all else, in report.json, report.md and on the page, and exits 3', () => {
    const { stdout, stderr, status } = longnight(['run', 'long.yaml', '--out', 'out'], folder);
    expect(status).toBe(3);
    expect(stderr).toContain('danger: arrays[0].tracker.max_input_V');
    expect(stdout.split('\n')[2]).toMatch(/^Danger {11}roof: 4 panels in series can give 174 V/);
    const report: Report = JSON.parse(written('out', 'report.json'));
    expect(report.dangers.map(({ id, limit }) => [id, limit])).toEqual([['string_voltage', 145]]);
    const markdown = written('out', 'report.md');
    expect(markdown.indexOf('## Danger')).toBeGreaterThan(0);
    expect(markdown.indexOf('## Danger')).toBeLessThan(markdown.indexOf('## Does it hold?'));
    const page = written('out', 'report.html');
    const first = page.slice(page.indexOf('<section id="dangers"'), page.indexOf('<section id="verdict"'));
    expect(first).toMatch(/<p class="verdict fails">roof: 4 panels in series/);
    const json = longnight(['run', 'long.yaml', '--json'], folder);
    expect([json.status, JSON.parse(json.stdout).dangers.length]).toEqual([3, 1]);
    const both = longnight(['run', 'long.yaml', '--require', 'unmet.hours<=0'], folder);
    expect(both.status).toBe(3);
    expect(both.stderr).toMatch(/^danger: .*\nmissed: unmet\.hours/);
    const kept = longnight(['run', 'short.yaml', '--require', 'dangers<=0'], folder);
    expect([kept.status, kept.stderr]).toEqual([0, '']);
    expect(kept.stdout).not.toMatch(/^Danger/m);
  });
});

describe('what recommends parts', () => {
  const VARY = ['--vary', 'arrays[0].panels=3:18:3', '--vary', 'bank.modules_parallel=2,3'];

  it('size drops what is a danger, says how many, and carries the cautions', () => {
    // 12 panels would hold: four strings of 12 A, 60 A with 1.25 on an input of 30 A.
    const ask = ['size', 'short.yaml', ...VARY, '--require', 'unmet.share<=0.2', '--out', 'size'];
    const { stdout, status } = longnight(ask, folder);
    expect(status).toBe(0);
    const size = JSON.parse(written('size', 'size.json'));
    expect(size.dangerous).toBe(8);
    expect(size.best.values['arrays[0].panels']).toBe(6);
    for (const design of size.front) expect(design.dangers).toBe(0);
    expect(size.beside.find((one: { value: number }) => one.value === 9)).toMatchObject({
      dangers: 1,
      holds: false,
    });
    expect(flat(stdout)).toContain('8 designs are dangers and were dropped');
    expect(flat(stdout)).toContain(CAUTION);
    expect(size.cautions.length).toBeGreaterThan(4);
    expect(written('size', 'size.md')).toMatch(/## Cautions/);
    const none = longnight([...ask.slice(0, 6), '--require', 'unmet.share<=0'], folder);
    expect(none.status).toBe(3);
    const all = longnight(
      ['size', 'long.yaml', '--vary', 'bank.modules_parallel=2,3', '--require', 'unmet.share<=1'],
      folder,
    );
    expect([all.status, all.stderr]).toEqual([
      3,
      expect.stringContaining('all that could be played are dangers'),
    ]);
  });

  it('sweep marks them in a column, counts them and recommends none', () => {
    const { stdout, status } = longnight(['sweep', 'short.yaml', ...VARY, '--out', 'sweep'], folder);
    expect(status).toBe(0);
    const [head, ...rows] = written('sweep', 'sweep.csv')
      .trimEnd()
      .split('\r\n')
      .map((row) => row.split(','));
    const at = head!.indexOf('dangers');
    expect(rows.map((row) => row[at])).toEqual([...Array(4).fill('0'), ...Array(8).fill('1')]);
    expect(flat(stdout)).toContain('8 of 12 designs played are dangers');
    expect(flat(stdout)).toContain('Every design in which no danger was found leaves something unmet');
    expect(flat(stdout)).not.toContain('the cheapest of them to buy');
    expect(written('sweep', 'sweep.html')).toContain('8 of 12 designs played are dangers');
  });

  it('compare marks the plant', () => {
    const { stdout, status } = longnight(['compare', 'short.yaml', 'long.yaml', '--out', 'compare'], folder);
    expect(status).toBe(0);
    expect(flat(stdout)).toMatch(/Danger in long: roof: 4 panels in series can give 174 V/);
    expect(stdout).toMatch(/dangers +0 \* +1/);
    expect(flat(stdout)).toContain(CAUTION);
    const compared = JSON.parse(written('compare', 'compare.json'));
    expect(compared.plants.map((one: { dangers: unknown[] }) => one.dangers.length)).toEqual([0, 1]);
    expect(compared.cautions.length).toBeGreaterThan(4);
    for (const name of ['compare.md', 'compare.html']) {
      expect(written('compare', name), name).toContain('Danger in long');
      expect(written('compare', name), name).toContain('Cautions');
    }
  });

  it('mend drops them, says how many, and carries the cautions', () => {
    writeFileSync(join(folder, 'full.yaml'), plant(6, 3));
    const { stdout, status } = longnight(['improve', 'full.yaml', '--out', 'improve'], folder);
    expect(status).toBe(0);
    expect(flat(stdout)).toMatch(/Not played one more string of 3: it would be a danger/);
    expect(flat(stdout)).toMatch(/Dropped \d+ changes?, alone or with others, (was|were) dropped/);
    expect(flat(stdout)).toContain(CAUTION);
    const mended = JSON.parse(written('improve', 'improve.json'));
    expect(mended.dropped_dangerous).toBeGreaterThan(0);
    expect(mended.cautions.length).toBeGreaterThan(4);
    expect(written('improve', 'improve.md')).toMatch(/## Cautions/);
    const of = longnight(['improve', 'long.yaml'], folder);
    expect(of.stdout.split('\n\n')[1]).toMatch(/^Danger {11}roof: 4 panels in series/);
  });
});

it('a stretch of days that names modules says dangers before its answers and ends with the caution of parts', () => {
  const { stdout } = longnight(['week', 'long.yaml'], folder);
  expect(stdout.indexOf('174 V')).toBeGreaterThan(0);
  expect(stdout.indexOf('174 V')).toBeLessThan(stdout.indexOf('Ridden out?'));
  expect(flat(stdout)).toContain(CAUTION);
  expect(longnight(['week', 'short.yaml'], folder).stdout).not.toMatch(/danger[s:]|174 V/);
});
