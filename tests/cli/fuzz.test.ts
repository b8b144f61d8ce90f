/**
 * Whatever it is given, the program answers: it plays it, or says what is wrong, where, and what to do. Cases are made of
 * sound scenarios, tables and options by a seed; FUZZ_CASES says how many, FUZZ_FROM where to begin.
 */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { type Mangled, mangled } from './support/mangle.ts';
import { contents, type Ended, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const CASES = Number(process.env.FUZZ_CASES ?? 200);
const FROM = Number(process.env.FUZZ_FROM ?? 0);

/** What can't be pinned to a line: the file as a whole, or how many more there are. */
const OF_A_FILE =
  /no such file|file is empty|more like these|byte \d+ is zero|needs two rows|does not say where it is from|names no parts_files/;
/** A line of a file, an option, an axis, a word to explain. */
const PLACED =
  /^(?:[^:]+:\d+(?::\d+)?(?: column "[^"]*")?: |(?:longnight \w+ )?(?:--[\w-]+|term)|\S*=\S*: |explain |… and )/;

/** What is wrong with an answer; empty if nothing is. */
function faults({ status, stdout, stderr }: Ended, written: Readonly<Record<string, string>>): string[] {
  const found: string[] = [];
  if (![0, 2, 3].includes(status ?? -1)) found.push(`exit ${status}`);
  for (const [name, text] of Object.entries({ stdout, stderr, ...written })) {
    const bad = /.{0,80}(?:\bNaN\b|Infinity|undefined|\[object ).{0,80}/.exec(text);
    if (bad !== null) found.push(`${name}: ${bad[0]}`);
  }
  if (status !== 2) return found;
  if (stdout !== '') found.push('a refusal on standard output');
  const issues = stderr.trimEnd().split(/\n(?! {4}|\n|$)/);
  for (const issue of issues) {
    if (!PLACED.test(issue) && !OF_A_FILE.test(issue)) found.push(`no place: ${issue}`);
    if (!/\n {4}fix: |expected |error: |more like these|… and /.test(issue)) found.push(`no fix: ${issue}`);
  }
  return found;
}

function answer({ files, args }: Mangled): string[] {
  const here = join(folder, 'case');
  rmSync(here, { recursive: true, force: true });
  mkdirSync(here);
  for (const [name, text] of files) {
    mkdirSync(dirname(join(here, name)), { recursive: true });
    writeFileSync(join(here, name), text);
  }
  const ended = longnight(args, here);
  const written = Object.entries(contents(here)).filter(([name]) => !files.has(name));
  return faults(ended, Object.fromEntries(written));
}

test(`${CASES} mangled inputs are played or refused`, { timeout: CASES * 2000 }, () => {
  const found: string[] = [];
  for (let seed = FROM; seed < FROM + CASES; seed++) {
    const one = mangled(seed);
    for (const fault of answer(one)) found.push(`${seed} ${one.args.join(' ')}: ${fault}`);
    if (found.length >= 60) break;
  }
  expect(found).toEqual([]);
});
