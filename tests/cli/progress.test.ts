/** How far the work has got: a line on a terminal, nothing in a pipe, nothing when quiet. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { WriteStream } from 'node:tty';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { runProgram } from '../../packages/cli/src/program.ts';
import { progressOf, spanWords, watched } from '../../packages/cli/src/workers/progress.ts';
import { epwRows, inventedSky } from '../support/weather-files.ts';
import { memoryIo } from './support/memory-io.ts';
import { DEMO, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** A stream that remembers what was drawn on it. */
function screen(): WriteStream & { drawn: string } {
  const remember = (text: unknown): boolean => {
    stream.drawn += String(text);
    return true;
  };
  const nothing = (): boolean => true;
  const stream = {
    isTTY: true,
    columns: 100,
    drawn: '',
    write: remember,
    cursorTo: nothing,
    moveCursor: nothing,
    clearLine: nothing,
    on: nothing,
    removeListener: nothing,
  };
  return stream as unknown as WriteStream & { drawn: string };
}

test('progress shows share, count, rate and time left on a terminal, and nothing without one', () => {
  const terminal = screen();
  const progress = progressOf({ ...memoryIo(), progress: terminal }, 'designs', 2000, 500);
  progress.at(1000);
  progress.end();
  expect(terminal.drawn).toMatch(/25 % {2}500 of 2,000 designs/);
  expect(terminal.drawn).toMatch(/50 % {2}1,000 of 2,000 designs, [\d,.]+ a second, \d+ s left/);
  const unknown = screen();
  const work = () =>
    watched({ ...memoryIo(), progress: unknown }, 'years', null, (at) => {
      at(3);
      expect(unknown.drawn).toMatch(/\d years, [\d,.]+ a second/);
      expect(unknown.drawn).not.toMatch(/%|left|∞|Infinity|NaN/);
      at(4, 8);
      throw new Error('it broke');
    });
  // A line that went on being drawn would keep the process from ending.
  expect(work).toThrow('it broke');
  expect(unknown.drawn).toMatch(/50 % {2}4 of 8 years/);
  const idle = screen();
  expect(watched({ ...memoryIo(), progress: idle }, 'years', null, () => 7)).toBe(7);
  expect(idle.drawn).toBe('');
  const io = memoryIo();
  const none = progressOf(io, 'designs', 2000);
  none.at(1000);
  none.end();
  expect([io.printed, io.said]).toEqual(['', '']);
  expect([4.2, 99, 101, 3600 * 3.5].map(spanWords)).toEqual(['5 s', '99 s', '2 min', '3 h 30 min']);
});

/** Two invented years in one file. */
const YEARS = join(folder, 'years.yaml');
beforeAll(() => {
  const site = { name: 'x', latitude_deg: 50, longitude_deg: 10, elevation_m: 200, time_zone: 'Etc/GMT-1' };
  const [one, two] = [2023, 2024].map((year) => epwRows(inventedSky(site, 1, year, 0.6), () => year));
  writeFileSync(join(folder, 'years.epw'), [...one!, ...two!.slice(8)].join('\n'));
  const text = readFileSync(join(import.meta.dirname, 'bad/good-series.yaml'), 'utf8');
  const weather = 'weather:\n  kind: epw\n  file: years.epw\n  years: own\narrays:';
  const own = text.replace(/weather:\n[\s\S]*\narrays:/, weather).replace('Europe/Berlin', 'Etc/GMT-1');
  writeFileSync(YEARS, own.replace('year: 2025', 'year: 2023'));
});

const holds = join(DEMO, 'holds.yaml');
test.each<[what: RegExp, args: string[]]>([
  [/of 2 years/, ['run', YEARS]],
  [/of 2 years/, ['run', holds, '--seeds', '2']],
  [/of 2 years/, ['run', holds, '--years', '2']],
  [/of 2 years/, ['week', YEARS, '--every-year']],
  [/\d years, [\d,.]+ a second/, ['improve', join(DEMO, 'short-of-bank.yaml')]],
  [/\d years, [\d,.]+ a second/, ['sway', holds]],
  [/of 2 plants/, ['compare', holds, join(DEMO, 'short-of-bank.yaml')]],
  [/of 2 designs/, ['sweep', holds, '--vary', 'inverter.rating_kW=5,6']],
  [
    /of 6 designs/,
    [
      'size',
      join(DEMO, 'parts-sun-alone.yaml'),
      '--vary',
      'bank.modules_parallel=8,9',
      '--require',
      'unmet.hours<=90',
    ],
  ],
])('%s is drawn by %j, on a terminal alone', async (what, args) => {
  const terminal = screen();
  const io = memoryIo({ progress: terminal });
  expect(await runProgram(args, io)).toBe(0);
  expect(terminal.drawn).toMatch(what);
  expect(terminal.drawn).not.toMatch(/NaN|Infinity|∞/);
  // One will do: they share the one place that draws.
  if (args[0] !== 'sweep') return;
  const [quiet, piped] = [screen(), memoryIo()];
  expect(await runProgram([...args, '--quiet'], memoryIo({ progress: quiet }))).toBe(0);
  expect(quiet.drawn).toBe('');
  expect(await runProgram(args, piped)).toBe(0);
  expect([piped.printed, piped.said]).toEqual([io.printed, io.said]);
});
