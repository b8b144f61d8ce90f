import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, test } from 'vitest';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const short = join(DEMO, 'short-of-bank.yaml');

describe('longnight improve', () => {
  const ran = longnight(['improve', short, '--out', 'out'], folder);
  const json = JSON.parse(readFileSync(join(folder, 'out/improve.json'), 'utf8'));

  test('says what makes the plant hold, within 80 columns', () => {
    expect(ran).toMatchObject({ status: 0, stderr: '' });
    for (const line of ran.stdout.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
    expect(ran.stdout).toContain('No single change but a generator does.');
    expect(ran.stdout).toContain(`bank.modules_parallel: ${json.holds_with.values[0].value}`);
    expect(ran.stdout).not.toMatch(/NaN|undefined|null/);
    expect(Object.keys(contents(join(folder, 'out')))).toEqual([
      'improve.csv',
      'improve.html',
      'improve.json',
      'improve.md',
      'improve.sha256',
    ]);
  });

  test('what it says makes the plant hold does, typed into the file', () => {
    const { value } = json.holds_with.values[0];
    const text = readFileSync(short, 'utf8').replace(/modules_parallel: 4/, `modules_parallel: ${value}`);
    const mended = join(folder, 'mended.yaml');
    writeFileSync(mended, text);
    const report = JSON.parse(longnight(['run', mended, '--json']).stdout);
    expect(report.unmet.hours).toBe(0);
    expect(longnight(['improve', mended]).stdout).toContain('Nothing to improve');
  });

  test('its files say the same, and the same each time', () => {
    const rows: Record<string, string>[] = parse(readFileSync(join(folder, 'out/improve.csv'), 'utf8'), {
      columns: true,
    });
    const helping = rows.filter((row) => row.group === 'helping');
    expect(helping.map((row) => Number(row.unmet_after_kWh))).toEqual(
      json.helping.map((tried: { after: { unmet_kWh: number } }) => tried.after.unmet_kWh),
    );
    const markdown = readFileSync(join(folder, 'out/improve.md'), 'utf8');
    for (const row of rows) expect(markdown).toContain(row.change!.split(':')[0]);
    const again = longnight(['improve', short, '--json'], folder);
    expect(again.stdout).toBe(readFileSync(join(folder, 'out/improve.json'), 'utf8'));
  });

  test('refuses a file that is not there, and a folder it may not write to, with exit code 2', () => {
    expect(longnight(['improve', 'nowhere.yaml'], folder)).toMatchObject({ status: 2, stdout: '' });
    writeFileSync(join(folder, 'file'), '');
    const refused = longnight(['improve', short, '--out', 'file'], folder);
    expect(refused).toMatchObject({ status: 2, stdout: '' });
    expect(refused.stderr).toContain('folder');
    expect(longnight(['improve'], folder).status).toBe(2);
  });
});
