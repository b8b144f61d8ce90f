/** One word a thing: what people read of demo and plants has none of the words that stand for the same. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { FIGURES, LEDGER_COLUMNS } from '@longnight/core';
import { partsKeys, scenarioKeys } from '@longnight/core/scenario';
import { afterAll, expect, test } from 'vitest';
import { textOf } from './support/page.ts';
import { DEMO, longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** Not these, but the word behind each. */
const NOT: readonly (readonly [RegExp, string])[] = [
  [/\bunserved\b/i, 'unmet'],
  [/(?<!cold |dull |hot )\bspells?\b/i, 'outage; leanest days; week'],
  [/\bunused\b/i, 'curtailed'],
  [/\blowest charge\b/i, 'lowest state of charge'],
  [/\bdarkest\b/i, 'leanest'],
  [/\bmend(s|ed|ing)?\b/i, 'improve'],
  [/\bdark hours\b|\bdark_hours\b|hours in the dark/i, 'sunless hours'],
  [/in the middle of all starts/i, 'median start'],
  [/\bbooks\b/i, 'energy balance'],
  [/\bstanding (loss|draw)|\bstanding_W\b/i, 'idle draw'],
  [/\bloads? that may wait\b|\bwaiting\b/i, 'flexible load'],
  [/\bengine[ _]charging\b/i, 'alternator'],
  [/\bplayed_start_soc\b|\bleast_soc\b|\bleast_in_series\b/, 'initial_soc, min_soc, min_in_series'],
  [/\bnormals\b/i, 'monthly means'],
  [/\(seeds? \d/, 'drawn year'],
  [/--hold\b/, '--require'],
];

function wrong(where: string, text: string): string[] {
  return NOT.flatMap(([word, instead]) => {
    const found = text.match(word);
    if (found === null) return [];
    const at = found.index!;
    return [`${where}: "${text.slice(Math.max(0, at - 30), at + 40)}": ${instead}`];
  });
}

const demo = (name: string): string => join(DEMO, `${name}.yaml`);
const plants = readdirSync(join(ROOT, 'data/plants'))
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => join(ROOT, 'data/plants', name));

const COMMANDS: readonly (readonly string[])[] = [
  ...[demo('short-of-bank'), demo('parts-with-generator'), ...plants].map((file) => ['run', file]),
  ['run', demo('holds-with-generator'), '--years', '2', '--seeds', '2', '--require', 'unmet.hours<=0'],
  ...plants.map((file) => ['check', file]),
  ['week', demo('holds-with-generator')],
  ['weather', demo('holds')],
  ['improve', demo('short-of-bank')],
  ['sway', demo('holds-with-generator')],
  ['compare', demo('short-of-bank'), demo('holds-with-generator')],
  ['size', demo('parts-with-generator'), '--vary', 'arrays[0].panels=20,22', '--require', 'unmet.hours<=9'],
  ['sweep', demo('short-of-bank'), '--vary', 'bank.modules_parallel=4,8'],
];

test.each(COMMANDS.map((args, k) => ({ args, out: join(folder, `${k}`) })))('$args', ({ args, out }) => {
  const ended = longnight([...args, ...(args[0] === 'check' ? [] : ['--out', out])]);
  expect([0, 3]).toContain(ended.status);
  const found = [...wrong('screen', ended.stdout), ...wrong('standard error', ended.stderr)];
  if (args[0] !== 'check')
    for (const name of readdirSync(out)) {
      const text = readFileSync(join(out, name), 'utf8');
      if (name.endsWith('.html'))
        found.push(...wrong(name, textOf(text.replace(/<style>[\s\S]*?<\/style>/, ''))));
      else if (/\.(md|json|svg)$/.test(name)) found.push(...wrong(name, text));
      else if (name.endsWith('.csv')) found.push(...wrong(name, text.slice(0, text.indexOf('\r\n'))));
    }
  expect(found).toEqual([]);
});

test('every key, figure and column', () => {
  const keys = [...scenarioKeys(), ...partsKeys()].flatMap(({ path, meaning }) =>
    wrong(path, `${path}: ${meaning}`),
  );
  const figures = Object.entries(FIGURES).flatMap(([name, { meaning }]) =>
    wrong(name, `${name}: ${meaning}`),
  );
  const columns = LEDGER_COLUMNS.flatMap(({ name, meaning }) => wrong(name, `${name}: ${meaning}`));
  const words = wrong('explain', longnight(['explain']).stdout);
  expect([...keys, ...figures, ...columns, ...words]).toEqual([]);
});

test('every help text and every page of the documents', () => {
  const pages = ['README.md', 'packages/cli/docs', 'packages/core/docs', 'data'].flatMap((place) =>
    place.endsWith('.md')
      ? [place]
      : readdirSync(join(ROOT, place))
          .filter((name) => name.endsWith('.md'))
          .map((name) => join(place, name)),
  );
  const found = pages.flatMap((page) => wrong(page, readFileSync(join(ROOT, page), 'utf8')));
  const help = longnight(['--help']).stdout;
  const commands = [...help.split('Commands:')[1]!.matchAll(/^ {2}([a-z]+)/gm)].map(([, name]) => name!);
  expect(commands.length).toBeGreaterThan(12);
  found.push(...wrong('help', help));
  for (const command of commands) found.push(...wrong(command, longnight([command, '--help']).stdout));
  expect(found).toEqual([]);
});
