/**
 * Would the tests notice? Stryker changes the sources at one place after another and runs the tests that reach it.
 *
 *     pnpm mutation core/hours cli/size --lines 40 --seed 1
 *     SLOW_TESTS=1 pnpm mutation packages/core/src/hours/play.ts:100
 *
 * A sample of the lines of each area (all of them without names), drawn by the seed. What it prints is the share of
 * changes that a test noticed, by area, and each that none did. Run it when nothing else runs: a test that is late
 * counts as one that noticed.
 */
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { stream } from '../support/random.ts';
import { EQUIVALENT } from './equivalent.ts';

const ROOT = join(import.meta.dirname, '../..');
const CORE = 'packages/core/src';
const CLI = 'packages/cli/src';

/**
 * What of the CLI is tested by which files of tests/cli. Its commands are run as they are shipped, in threads and
 * processes, where nobody sees which test reaches which line: all of the files run for each change.
 */
const CLI_AREAS: Readonly<Record<string, { readonly sources: readonly string[]; readonly tests: string }>> = {
  ...area('check', ['commands/check', 'render/check'], 'sentences-static dangers wiring terminal'),
  ...area('compare', ['commands/compare', 'render/compare'], 'sentences-studies compare judged page-studies'),
  ...area(
    'document',
    ['render/document', 'render/drawing', 'render/tables'],
    'page page-studies markdown tables render',
  ),
  ...area('improve', ['commands/improve', 'render/improve'], 'sentences-studies improve judged'),
  ...area('init', ['commands/init'], 'init'),
  ...area('outputs', ['files', 'sweep', 'workers'], 'outputs sweep-resume gather sweep size swapped'),
  ...area(
    'report',
    ['commands/run', 'render/report'],
    'sentences-report sentences-static demo render vocabulary years every-year seeds bill terminal',
  ),
  ...area('size', ['commands/size', 'render/size'], 'sentences-studies size size-years'),
  ...area('sway', ['commands/sway', 'render/sway'], 'sentences-studies sway'),
  ...area(
    'sweep',
    ['commands/sweep', 'commands/gather', 'render/sweep'],
    'sentences-studies sweep sweep-chart sweep-years sweep-bad-input',
  ),
  ...area(
    'week',
    ['commands/week', 'render/week', 'commands/weather', 'render/weather'],
    'sentences-studies week weather',
  ),
  ...area('workbook', ['render/workbook'], 'workbook'),
};

function area(name: string, folders: readonly string[], tests: string) {
  const sources = folders.map((folder) => `${CLI}/${folder}`);
  return { [`cli/${name}`]: { sources, tests: tests.replace(/\S+/g, 'tests/cli/$&.test.ts') } };
}

const CORE_AREAS = readdirSync(join(ROOT, CORE), { withFileTypes: true })
  // Its folder `entries` only says which names are public.
  .filter((one) => one.isDirectory() && one.name !== 'entries')
  .map(({ name }) => `core/${name}`);

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    lines: { type: 'string', default: '40' },
    seed: { type: 'string', default: '1' },
    concurrency: { type: 'string', default: '2' },
  },
});

const sourcesOf = (name: string): readonly string[] =>
  CLI_AREAS[name]?.sources ?? [name.replace('core', CORE)];

const ALL = [...CORE_AREAS, ...Object.keys(CLI_AREAS)];
/** Lines to change in place of a sample: `file:line`. */
const chosen = positionals.filter((one) => /\.ts:\d+$/.test(one));
const isOf = (name: string, file: string): boolean =>
  sourcesOf(name).some((folder) => file.startsWith(`${folder}/`));
const areas =
  positionals.length === 0
    ? ALL
    : ALL.filter((name) => positionals.includes(name) || chosen.some((one) => isOf(name, one)));
if (areas.length === 0) throw new Error(`no such area or file:line; areas are ${ALL.join(', ')}`);

const filesOf = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `${folder}/${name}`)
    .sort();

/** Lines that may hold something to change: neither comments nor what is only said to the compiler. */
const linesOf = (file: string): string[] =>
  readFileSync(join(ROOT, file), 'utf8')
    .split('\n')
    .flatMap((text, k) =>
      /[-+*/<>=?!&|%]/.test(text) &&
      !/^\s*(\/?\*|\/\/|import|readonly|export (type|\*|\{|interface))/.test(text)
        ? [`${file}:${k + 1}-${k + 1}`]
        : [],
    );

function sampled(name: string): string[] {
  if (chosen.length > 0)
    return chosen.filter((one) => isOf(name, one)).map((one) => one.replace(/:(\d+)$/, ':$1-$1'));
  const draw = stream(Number(values.seed));
  const all = sourcesOf(name).flatMap(filesOf).flatMap(linesOf);
  const taken: string[] = [];
  while (taken.length < Number(values.lines) && all.length > 0)
    taken.push(...all.splice(Math.floor(draw() * all.length), 1));
  return taken;
}

interface Mutant {
  readonly replacement: string;
  readonly status: string;
  readonly location: Readonly<Record<'start' | 'end', { readonly line: number; readonly column: number }>>;
}
type Mutated = Record<string, { readonly source: string; readonly mutants: readonly Mutant[] }>;

const TEMPORARY = '.stryker-tmp';

/** Runs Stryker over a sample of some areas, with the tests that are said. */
function mutated(names: readonly string[], tests: object): Mutated {
  const [config, report] = ['config', 'report'].map((one) => join(ROOT, `${TEMPORARY}-${one}.json`));
  const options = {
    ...tests,
    mutate: names.flatMap(sampled),
    // Sentences are held by tests of their own; emptying each word of each would drown the rest.
    mutator: { excludedMutations: ['StringLiteral'] },
    ignorePatterns: ['dist', 'demo-out'],
    concurrency: Number(values.concurrency),
    timeoutMS: 20_000,
    timeoutFactor: 1.5,
    dryRunTimeoutMinutes: 60,
    tempDirName: TEMPORARY,
    reporters: ['progress-append-only', 'json'],
    jsonReporter: { fileName: report },
    allowConsoleColors: false,
  };
  writeFileSync(config!, JSON.stringify(options));
  const stryker = join(ROOT, 'node_modules/@stryker-mutator/core/bin/stryker.js');
  const { status } = spawnSync(process.execPath, [stryker, 'run', config!], { cwd: ROOT, stdio: 'inherit' });
  const { files } = status === 0 ? JSON.parse(readFileSync(report!, 'utf8')) : { files: {} };
  for (const one of [config!, report!]) rmSync(one, { force: true });
  if (status !== 0) process.exit(status ?? 1);
  return files;
}

function tell(name: string, files: Mutated): void {
  let [noticed, all, left] = [0, 0, 0];
  const missed: string[] = [];
  for (const [file, { source, mutants }] of Object.entries(files)) {
    if (!isOf(name, file)) continue;
    const lines = source.split('\n');
    for (const { status, replacement, location } of mutants) {
      const { start, end } = location;
      const was = lines[start.line - 1]!.slice(start.column - 1, end.column - 1);
      if (EQUIVALENT.some((one) => file.endsWith(one.file) && one.was === was && one.made === replacement))
        left++;
      else if (status !== 'Ignored') {
        all++;
        if (status !== 'Survived' && status !== 'NoCoverage') noticed++;
        else missed.push(`${file}:${start.line}:${start.column} ${was} -> ${replacement} (${status})`);
      }
    }
  }
  const share = all === 0 ? '' : ` (${((100 * noticed) / all).toFixed(0)} %)`;
  console.log(`${name}: ${noticed} of ${all} noticed${share}, ${left} left out as equivalent`);
  for (const one of missed.sort()) console.log(`    ${one}`);
}

const ofCore = areas.filter((name) => CORE_AREAS.includes(name));
if (ofCore.length > 0) {
  const files = mutated(ofCore, {
    testRunner: 'vitest',
    plugins: ['@stryker-mutator/vitest-runner'],
    vitest: { configFile: 'tests/mutation/vitest.config.ts', related: false },
    coverageAnalysis: 'perTest',
    // A change in what is made once, as a module is read, would need all tests for itself.
    ignoreStatic: true,
  });
  for (const name of ofCore) tell(name, files);
}
for (const name of areas.filter((one) => one in CLI_AREAS)) {
  const command = `npx vitest run --bail 1 ${CLI_AREAS[name]!.tests}`;
  tell(name, mutated([name], { testRunner: 'command', commandRunner: { command } }));
}
