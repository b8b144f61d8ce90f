/**
 * What a sweep costs, as ratios taken side by side in one run: a year inside a sweep against the plain loop, two
 * threads against one, a whole process against the plain loop alone, and memory against the number of designs. Prints;
 * asserts no time. On a machine that does other work at once the ratios between processes mean little.
 *
 *   npx -y pnpm@10.34.9 bench:sweep
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { cpus, loadavg, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { plantOf, prepareYear, readScenario } from '@longnight/core';
import { NOT_HARDER, newChunkPlayer, readAxis, type StudyTask } from '@longnight/core/study';
import { plainColumns, plainYear } from './plain-loop.ts';

const ROOT = resolve(import.meta.dirname, '../..');
const BIN = join(ROOT, 'packages/cli/dist/longnight.js');
const PLANTS = ['data/demo/holds.yaml', 'data/demo/holds-with-generator.yaml'];
const ROUNDS = 15;
const CHUNK = 64;

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;
const ms = (act: () => unknown): number => {
  const from = process.hrtime.bigint();
  act();
  return Number(process.hrtime.bigint() - from) / 1e6;
};
/** Processor time: what else the machine does counts less in it than in what a clock shows. */
const cpu_ms = (act: () => unknown): number => {
  const from = process.cpuUsage();
  act();
  const { user, system } = process.cpuUsage(from);
  return (user + system) / 1000;
};
const texts = new Map<string, string>();
const read = (file: string) => {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const scenario = readScenario(text, file);
  return { text, year: prepareYear(scenario, file, texts), plant: plantOf(scenario.scenario) };
};

console.log(
  `Node ${process.version}, ${cpus().length} × ${cpus()[0]!.model}, ${new Date().toISOString().slice(0, 10)}`,
);
console.log(`Load of the machine when this began: ${loadavg()[0]!.toFixed(1)}`);

console.log(
  `\nOne year in process, sizes varied, processor time (median of ${ROUNDS} rounds of ${CHUNK} years, taking turns):\n`,
);
console.log('| plant | plain loop, µs | in a sweep, µs | sweep / plain |');
console.log('|---|---|---|---|');
for (const file of PLANTS) {
  const { text, year, plant } = read(file);
  const plain = plainColumns(year.clock.steps);
  const task: StudyTask = {
    source: { text, file, partsTexts: texts },
    texts,
    axes: [readAxis('arrays[0].size_kWp=1:20:0.05'), readAxis('bank.modules_parallel=1:20:1')],
    years: [],
  };
  const play = newChunkPlayer(task);
  const loops: number[] = [];
  const sweeps: number[] = [];
  for (let round = -3; round < ROUNDS; round++) {
    const indices = Array.from({ length: CHUNK }, (_, k) => (round + 3) * CHUNK + k);
    const loop = cpu_ms(() => {
      for (let k = 0; k < CHUNK; k++) plainYear(year, plant, plain);
    });
    const sweep = cpu_ms(() => play({ indices, harder: NOT_HARDER }));
    if (round < 0) continue;
    loops.push((1000 * loop) / CHUNK);
    sweeps.push((1000 * sweep) / CHUNK);
  }
  const ratio = median(sweeps.map((value, k) => value / loops[k]!));
  console.log(
    `| ${file} | ${median(loops).toFixed(0)} | ${median(sweeps).toFixed(0)} | ${ratio.toFixed(2)} |`,
  );
}

const out = mkdtempSync(join(tmpdir(), 'longnight-bench-'));
/** Says the peak of resident memory and the processor time of all threads on the last line of stderr. */
const TELL = `data:text/javascript,${encodeURIComponent(
  `process.on('exit', () => {
    const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
    process.stderr.write('\\n' + maxRSS + ' ' + (userCPUTime + systemCPUTime));
  });`,
)}`;

interface Run {
  readonly ms: number;
  readonly cpu_ms: number;
  readonly rss_MB: number;
}

/** Runs the bundled CLI over a grid of some designs. */
function sweep(designs: number, threads: number): Run {
  const folder = join(out, `${designs}-${threads}`);
  rmSync(folder, { recursive: true, force: true });
  const vary = [`arrays[0].size_kWp=1:${designs / 20}:1`, 'bank.modules_parallel=1:20:1'];
  const args = ['--import', TELL, BIN, 'sweep', PLANTS[1]!, ...vary.flatMap((axis) => ['--vary', axis])];
  let told: readonly number[] = [];
  const spent = ms(() => {
    const done = spawnSync(process.execPath, [...args, '--threads', String(threads), '--out', folder], {
      cwd: ROOT,
      encoding: 'utf8',
    });
    if (done.status !== 0) throw new Error(`sweep ended with ${done.status}: ${done.stderr}`);
    told = done.stderr.trim().split('\n').at(-1)!.split(' ').map(Number);
  });
  return { ms: spent, rss_MB: told[0]! / 1024, cpu_ms: told[1]! / 1000 };
}

console.log('\nWhole processes, bundled CLI, sizes varied, sweep.csv and sweep.svg written:\n');
console.log('| designs | threads | seconds | of processors | peak RSS, MB |');
console.log('|---|---|---|---|---|');
const runs = new Map<string, Run>();
for (const [designs, threads] of [
  [2000, 1],
  [2000, 2],
  [10_000, 2],
  [20_000, 1],
  [20_000, 2],
] as const) {
  const run = sweep(designs, threads);
  runs.set(`${designs}-${threads}`, run);
  console.log(
    `| ${designs} | ${threads} | ${(run.ms / 1000).toFixed(2)} | ${(run.cpu_ms / 1000).toFixed(2)} | ${run.rss_MB.toFixed(0)} |`,
  );
}
rmSync(out, { recursive: true, force: true });

const { year, plant } = read(PLANTS[1]!);
const columns = plainColumns(year.clock.steps);
const alone = ms(() => {
  for (let k = 0; k < 10_000; k++) plainYear(year, plant, columns);
});
const time = (key: string): number => runs.get(key)!.ms;
console.log(
  `\nTwo threads against one, 20,000 designs: ${(time('20000-1') / time('20000-2')).toFixed(2)} times as fast.`,
);
console.log(
  `10,000 designs, whole process on two threads, against 10,000 years of the plain loop on one (${(alone / 1000).toFixed(2)} s): ` +
    `${(time('10000-2') / alone).toFixed(2)}.`,
);
const rss = (key: string): number => runs.get(key)!.rss_MB;
console.log(
  `Peak RSS, 20,000 designs against 2,000: ${(rss('20000-1') / rss('2000-1')).toFixed(2)} on one thread, ` +
    `${(rss('20000-2') / rss('2000-2')).toFixed(2)} on two.`,
);
