/**
 * Measures what RESULTS.md quotes, as ratios taken side by side in one run: a played year against a
 * plain typed-array loop of the same plant, and whole processes against `node -e 0`. Prints; asserts no time.
 *
 *   npx -y pnpm@10.34.9 bench
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import {
  findings,
  headline,
  newReusedColumns,
  type Plant,
  type PreparedYear,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { plainColumns, plainYear } from './plain-loop.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const BIN = join(ROOT, 'packages/cli/dist/longnight.js');
const PLANTS = ['data/demo/holds.yaml', 'data/demo/holds-with-generator.yaml'];

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** Microseconds a call, one figure a round; the tasks take turns, so that a slow moment hits all of them. */
function inTurn(tasks: readonly (() => unknown)[], rounds: number, calls: number): number[][] {
  const times: number[][] = tasks.map(() => []);
  for (const task of tasks) for (let k = 0; k < calls; k++) task();
  for (let round = 0; round < rounds; round++) {
    tasks.forEach((task, t) => {
      const from = process.hrtime.bigint();
      for (let k = 0; k < calls; k++) task();
      times[t]!.push(Number(process.hrtime.bigint() - from) / 1000 / calls);
    });
  }
  return times;
}

/** Median of the ratios round by round. */
const ratio = (above: readonly number[], below: readonly number[]): string =>
  median(above.map((value, k) => value / below[k]!)).toFixed(2);

/** Both begin full: the plain loop knows no year that closes. */
function agree(year: PreparedYear, closing: Plant): void {
  const plant = { ...closing, initial_soc: 1 };
  const plain = plainColumns(year.clock.steps);
  plainYear(year, plant, plain);
  const { columns } = playYear(year, plant);
  for (let i = 0; i < year.clock.steps; i++) {
    const off =
      Math.abs(plain.unmet[i]! - columns.unmet_kWh[i]!) +
      Math.abs(plain.used[i]! - columns.array_used_kWh[i]!) +
      Math.abs(plain.soc[i]! - columns.bank_soc[i]!) +
      Math.abs(plain.generator[i]! - columns.generator_kWh[i]!);
    if (!(off < 1e-9)) throw new Error(`the plain loop and the hour loop differ by ${off} in step ${i}`);
  }
}

console.log(
  `Node ${process.version}, ${cpus().length} × ${cpus()[0]!.model}, ${new Date().toISOString().slice(0, 10)}`,
);
console.log('\nOne year of 8,760 steps, in process (median of 30 rounds):\n');
console.log(
  '| plant | plain loop, µs | played / plain | played, array resized / plain | played + headline / plain | played + whole report / plain |',
);
console.log('|---|---|---|---|---|---|');
for (const file of PLANTS) {
  const read = readScenario(readFileSync(join(ROOT, file), 'utf8'), file);
  const year = prepareYear(read, file, new Map());
  const plant = plantOf(read.scenario);
  agree(year, plant);
  const plain = plainColumns(year.clock.steps);
  const desk = newReusedColumns(year.clock.steps);
  const sunless_h = 0;
  let size = 0;
  // A study keeps what the array gives while it is the same: another size each time is what a design costs.
  const resized = (): Plant => ({
    ...plant,
    arrays: plant.arrays.map((one) => ({ ...one, size_kWp: one.size_kWp + 1e-6 * size++ })),
  });
  const [a, b, r, c, d] = inTurn(
    [
      () => plainYear(year, plant, plain),
      () => playYear(year, plant, desk),
      () => playYear(year, resized(), desk),
      () => headline(playYear(year, plant, desk), sunless_h),
      () => findings(playYear(year, plant, desk)),
    ],
    30,
    20,
  ) as [number[], number[], number[], number[], number[]];
  console.log(
    `| ${file} | ${median(a).toFixed(0)} | ${ratio(b, a)} | ${ratio(r, a)} | ${ratio(c, a)} | ${ratio(d, a)} |`,
  );
}

console.log('\nReading and preparing (milliseconds, warm, median of 20):\n');
for (const file of PLANTS) {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const [reading, preparing] = inTurn(
    [() => readScenario(text, file), () => prepareYear(readScenario(text, file), file, new Map())],
    20,
    3,
  ) as [number[], number[]];
  console.log(
    `${file}: read ${(median(reading) / 1000).toFixed(1)}, read and prepare ${(median(preparing) / 1000).toFixed(1)}`,
  );
}

const out = mkdtempSync(join(tmpdir(), 'longnight-bench-'));
const process_ms = (args: readonly string[]): number => {
  const from = process.hrtime.bigint();
  const done = spawnSync(process.execPath, args, { cwd: ROOT, stdio: ['ignore', 'ignore', 'pipe'] });
  if (done.status !== 0) throw new Error(`${args.join(' ')} ended with ${done.status}: ${done.stderr}`);
  return Number(process.hrtime.bigint() - from) / 1e6;
};
const commands: readonly (readonly [string, readonly string[]])[] = [
  ['node -e 0', ['-e', '0']],
  ['longnight --help', [BIN, '--help']],
  ['longnight run, summary', [BIN, 'run', PLANTS[1]!]],
  ['longnight run --out', [BIN, 'run', PLANTS[1]!, '--out', out]],
];
const runs: number[][] = commands.map(() => []);
for (let round = 0; round < 16; round++) {
  commands.forEach(([, args], k) => {
    const ms = process_ms(args);
    if (round > 0) runs[k]!.push(ms);
  });
}
console.log('\nWhole processes, bundled CLI (median of 15):\n');
console.log('| command | ms | / node -e 0 |');
console.log('|---|---|---|');
commands.forEach(([name], k) => {
  console.log(`| ${name} | ${median(runs[k]!).toFixed(0)} | ${ratio(runs[k]!, runs[0]!)} |`);
});
rmSync(out, { recursive: true, force: true });
