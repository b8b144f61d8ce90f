/** What there is to choose from: `parts`, and the schemas that editors check files by. */
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { scenarioJsonSchema } from '@longnight/core';
import { partsJsonSchema } from '@longnight/core/scenario';
import { afterAll, expect, test } from 'vitest';
import { bundle, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

test('lists the parts that a scenario may name, by kind, with their values', () => {
  const { stdout, stderr, status } = longnight(['parts', 'data/demo/parts-sun-alone.yaml']);
  expect({ stderr, status }).toEqual({ stderr: '', status: 0 });
  const headings = ['Panels', 'Modules', 'Inverters', 'Chargers', 'Trackers', 'Generators'];
  const at = headings.map((heading) => stdout.search(new RegExp(`^${heading}`, 'm')));
  expect(at.every((place, k) => place >= 0 && (k === 0 || place > at[k - 1]!))).toBe(true);
  expect(stdout).toMatch(/^module-5kWh, price 1150\n[\s\S]*?module\.capacity_Ah 100;/m);
  expect(stdout).toMatch(/brings 2 trackers: max_power_kW 6; max_charge_A 110/);
  expect(stdout).toMatch(/\(load_share,\s+efficiency_share\)\s+0\.05\s0\.82,\s+0\.2\s0\.92/);
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
});

test('--json gives every value, and a file that two scenarios name counts once', () => {
  const both = ['data/demo/parts-sun-alone.yaml', 'data/demo/parts-with-generator.yaml'];
  const { parts } = JSON.parse(longnight(['parts', ...both, '--json']).stdout);
  expect(parts).toEqual(JSON.parse(longnight(['parts', both[0]!, '--json']).stdout).parts);
  expect(parts.find((part: { name: string }) => part.name === 'module-5kWh')).toMatchObject({
    kind: 'module',
    values: { module: { capacity_Ah: 100 }, price: 1150 },
    brings: null,
  });
  expect(parts.find((part: { name: string }) => part.name === 'all-in-one-5kW').brings.trackers).toBe(2);
});

test('says what is wrong with a file that holds no parts', () => {
  writeFileSync(join(folder, 'odd.yaml'), 'parts:\n  - name: p\n    kind: turbine\n    values: {}\n');
  const cases: [file: string, said: RegExp][] = [
    ['data/demo/holds.yaml', /^data\/demo\/holds\.yaml: parts_files: this scenario names no parts_files/],
    ['no-such.yaml', /^no-such\.yaml: no such file/],
    [join(folder, 'odd.yaml'), /odd\.yaml:3:11: parts\[0\]\.kind: found the text "turbine"/],
    ['data/appliances.yaml', /^data\/appliances\.yaml:\d+:\d+: [\s\S]*parts/],
  ];
  for (const [file, said] of cases) {
    const ended = longnight(['parts', file]);
    expect(ended.stderr).toMatch(said);
    expect(ended.stderr).toMatch(/fix: /);
    expect({ status: ended.status, stdout: ended.stdout }).toEqual({ status: 2, stdout: '' });
  }
  expect(longnight(['parts']).status).toBe(2);
});

test('schema prints what the bundle ships', () => {
  const shipped = (name: string) => readFileSync(join(dirname(bundle()), name), 'utf8');
  expect(longnight(['schema']).stdout).toBe(shipped('scenario.schema.json'));
  expect(longnight(['schema', 'parts']).stdout).toBe(shipped('parts.schema.json'));
  expect(JSON.parse(shipped('scenario.schema.json'))).toEqual(
    JSON.parse(JSON.stringify(scenarioJsonSchema())),
  );
  expect(JSON.parse(shipped('parts.schema.json'))).toEqual(JSON.parse(JSON.stringify(partsJsonSchema())));
  expect(longnight(['schema', 'year'])).toMatchObject({ status: 2, stdout: '' });
});
