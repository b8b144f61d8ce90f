import { spawnSync } from 'node:child_process';
import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { LEDGER_COLUMNS } from '@longnight/core';
import { scenarioSchema } from '@longnight/core/scenario';
import { DESIGN_FIGURES } from '@longnight/core/study';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import * as z from 'zod';
import { STARTER } from '../../packages/cli/src/commands/init/starter/starter.ts';
import { longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

const README = join(ROOT, 'README.md');
const readme = readFileSync(README, 'utf8');

/** Text between two markers of the README. UPDATE_README=1 puts in what it should be, for the author to read over. */
function expectBetween(name: string, expected: string): void {
  const [start, end] = [`<!-- ${name}:start -->\n`, `\n<!-- ${name}:end -->`];
  const from = readme.indexOf(start) + start.length;
  const to = readme.indexOf(end);
  if (process.env.UPDATE_README === '1') {
    const now = readFileSync(README, 'utf8');
    const [at, until] = [now.indexOf(start) + start.length, now.indexOf(end)];
    writeFileSync(README, now.slice(0, at) + expected + now.slice(until));
  } else expect(unpadded(readme.slice(from, to))).toBe(unpadded(expected));
}

/** The formatter pads the tables of the README. */
const unpadded = (text: string): string =>
  text.replace(/^\|.*/gm, (row) => row.replace(/ +/g, ' ').replace(/-{3,}/g, '---'));

/** Every key of the scenario's JSON Schema with the numbers that are its defaults, wherever it stands. */
function schemaKeys(): Map<string, number[]> {
  const keys = new Map<string, number[]>();
  const walk = (node: unknown): void => {
    if (typeof node !== 'object' || node === null) return;
    const { properties } = node as { properties?: Record<string, { default?: unknown }> };
    for (const [key, value] of Object.entries(properties ?? {})) {
      const defaults = keys.get(key) ?? [];
      if (typeof value.default === 'number') defaults.push(value.default);
      keys.set(key, defaults);
    }
    Object.values(node).forEach(walk);
  };
  walk(z.toJSONSchema(scenarioSchema, { io: 'input' }));
  return keys;
}

/** The commands whose output the README shows, by the name of its markers. */
const TOUR = {
  'tour-short': 'run data/demo/short-of-bank.yaml',
  'tour-check': 'check data/demo/short-of-bank.yaml',
  'tour-weather': 'weather data/demo/short-of-bank.yaml',
  'tour-demo': 'run data/demo/holds-with-generator.yaml --out demo-out',
  'tour-spell': 'spell data/demo/short-of-bank.yaml',
  'tour-compare': 'compare data/demo/parts-with-generator.yaml data/demo/parts-sun-alone.yaml',
  'tour-size':
    "size data/demo/parts-with-generator.yaml --vary 'arrays[0].panels=8:28:2' --vary 'bank.modules_parallel=2:12:1' " +
    "--hold 'unmet.share<=0.001' --hold 'generator.run_hours<=60'",
  'tour-sweep':
    "sweep data/demo/parts-with-generator.yaml --vary 'arrays[0].panels=8:28:2' --vary 'bank.modules_parallel=2:12:1' " +
    '--out demo-out/sweep',
};

/** A command as a shell takes it apart: quotes keep brackets and `<` from it. */
const argumentsOf = (command: string): string[] =>
  command.match(/'[^']*'|\S+/g)!.map((word) => word.replaceAll("'", ''));

describe('README', () => {
  test('leaves the keys of the scenario to the page that is made from them', () => {
    expect(readme).toContain('](packages/core/docs/scenario.md)');
    expect(readme).not.toMatch(/^\| key +\| unit/m);
  });

  test('has recipes that run', () => {
    const [, recipes] = readme.match(/\n## Three recipes\n([\s\S]*?)\n## /)!;
    const commands = [...recipes!.matchAll(/^npx -y pnpm@\S+ longnight (.*)$/gm)].map(([, words]) => words!);
    expect(commands.length).toBeGreaterThanOrEqual(6);
    const folder = temporaryFolder();
    try {
      cpSync(join(ROOT, 'data'), join(folder, 'data'), { recursive: true });
      for (const command of commands) {
        const { status, stderr } = longnight(argumentsOf(command), folder);
        expect({ command, status, stderr: status === 0 ? '' : stderr }).toEqual({
          command,
          status: 0,
          stderr: '',
        });
      }
    } finally {
      removeFolder(folder);
    }
  });

  test('lists every command', () => {
    const commands = [...longnight(['--help'], ROOT).stdout.matchAll(/^ {2}([a-z]+) .*[<[]/gm)].map(
      ([, name]) => name!,
    );
    expect(commands).toContain('gather');
    const [, table] = readme.match(/\n## Commands\n([\s\S]*?)\n## /)!;
    const listed = [...table!.matchAll(/^\| `(\w+)`/gm)].map(([, name]) => name!);
    expect(listed.toSorted()).toEqual(commands.filter((name) => name !== 'help').toSorted());
  });

  test('lists the ledger as it is', () => {
    const table = LEDGER_COLUMNS.map((c) => `| \`${c.name}\` | ${c.kind} | ${c.meaning} |`);
    expectBetween('columns', ['| column | kind | meaning |', '| --- | --- | --- |', ...table].join('\n'));
  });

  test('lists the figures of a design as they are', () => {
    const table = DESIGN_FIGURES.map(
      (figure) => `| \`${figure.name}\` | ${figure.unit} | ${figure.meaning} |`,
    );
    expectBetween('figures', ['| figure | unit | meaning |', '| --- | --- | --- |', ...table].join('\n'));
  });

  test('shows what the demo prints today', () => {
    // Elsewhere, so that the outputs of somebody's own demo stay as they are.
    const folder = temporaryFolder();
    try {
      cpSync(join(ROOT, 'data'), join(folder, 'data'), { recursive: true });
      for (const [name, command] of Object.entries(TOUR)) {
        const ended = longnight(argumentsOf(command), folder, { LC_ALL: 'C.UTF-8' });
        expect(ended.status).toBe(0);
        expectBetween(name, `\`\`\`text\n$ longnight ${command}\n${ended.stdout}\`\`\``);
      }
    } finally {
      removeFolder(folder);
    }
  });

  /** Runs an example beside the sources, so that it finds the package as a reader's file would. */
  function printedBy(code: string): string {
    const file = join(ROOT, `packages/cli/readme-example.${process.pid}.ts`);
    writeFileSync(file, code);
    try {
      const ran = spawnSync(process.execPath, ['--import', 'tsx', '--conditions=@longnight/source', file], {
        cwd: ROOT,
        encoding: 'utf8',
      });
      expect(ran.stderr).toBe('');
      return ran.stdout;
    } finally {
      rmSync(file, { force: true });
    }
  }

  test('has a library example that runs', () => {
    const [, code] = readme.match(/```ts\n([\s\S]*?)```/)!;
    const hours = [...printedBy(code!).matchAll(/usable: (\d+) h unserved/g)].map(([, h]) => Number(h));
    expect(hours.length).toBe(3);
    expect(hours[0]).toBeGreaterThan(hours[2]!);
  });

  test('has an example of studies that prints what is shown', () => {
    const [, code] = readme.match(/<!-- studies:code -->\n```ts\n([\s\S]*?)```/)!;
    expectBetween('studies', `\`\`\`text\n${printedBy(code!)}\`\`\``);
  });
});

describe('the starter scenario', () => {
  test('is a valid scenario that names every key, in comments where it is not in use', () => {
    expect(scenarioSchema.safeParse(parse(STARTER)).error).toBeUndefined();
    for (const key of schemaKeys().keys()) expect(STARTER, key).toMatch(new RegExp(`\\b${key}:`));
  });

  test('says the defaults that the schema has', () => {
    const defaults = schemaKeys();
    const shown = [...STARTER.matchAll(/^ *# (\w+): (-?[\d.]+)(?: |$)/gm)];
    expect(shown.length).toBeGreaterThan(10);
    const wrong = shown.filter(([, key, value]) => {
      const is = defaults.get(key!);
      return is !== undefined && is.length > 0 && !is.includes(Number(value));
    });
    expect(wrong).toEqual([]);
  });
});
