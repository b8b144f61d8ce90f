/** What the pages of the project say and show, held to what the program does; `support/pages.ts` finds it. */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { pathToFileURL } from 'node:url';
import { scenarioSchema } from '@longnight/core/scenario';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import * as z from 'zod';
import { PICTURE, PICTURE_OF, picture } from '../../packages/cli/docs/picture.ts';
import { STARTER } from '../../packages/cli/src/commands/init/starter/starter.ts';
import {
  argumentsOf,
  commandsCalled,
  libraryExamples,
  outputsShown,
  pages,
  pageText,
  refreshed,
} from './support/pages.ts';
import { longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

// Elsewhere, so that the outputs of somebody's own demo stay as they are.
const folder = temporaryFolder();
beforeAll(() => cpSync(join(ROOT, 'data'), join(folder, 'data'), { recursive: true }));
afterAll(() => removeFolder(folder));

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

describe('examples', () => {
  const shown = outputsShown();

  test('show every command that answers a question about plants', () => {
    const commands = new Set(shown.map(({ command }) => command.split(' ')[0]));
    const asked = ['check', 'run', 'weather', 'week', 'improve', 'sway', 'compare', 'size', 'sweep'];
    expect([...commands].toSorted()).toEqual(asked.toSorted());
  });

  test.each(shown)('$page shows what is printed: $command', ({ page, command, block }) => {
    const { status, stdout } = longnight(argumentsOf(command), folder, { LC_ALL: 'C.UTF-8' });
    expect(status).toBe(0);
    const expected = `\`\`\`text\n$ longnight ${command}\n${stdout}\`\`\``;
    expect(refreshed(page, block, expected)).toBe(expected);
  });

  test('that are told to be called run, in their order', () => {
    const called = commandsCalled();
    expect(called.filter(({ page }) => page === 'README.md').length).toBeGreaterThanOrEqual(10);
    for (const { page, line, args } of called) {
      // A page is read from its start: what another one wrote isn't there.
      if (args[0] === 'init') rmSync(join(folder, args[1]!), { force: true });
      const { status, stderr } = longnight(args, folder);
      // What a shell goes on with behind || is a bound that is missed.
      const wanted = line.includes('||') ? 3 : 0;
      expect({ page, line, status, stderr: status === wanted ? '' : stderr }).toEqual({
        page,
        line,
        status: wanted,
        stderr: '',
      });
    }
  });

  test('of the library run and print what is shown', () => {
    longnight(['init', 'my-plant.yaml', '--example', '--force'], folder);
    const examples = libraryExamples();
    expect(examples.length).toBeGreaterThan(4);
    // Beside the sources, so that they find the package as a reader's file would; one process for all.
    const files = examples.map((_, k) => join(ROOT, `packages/cli/readme-example-${k}.${process.pid}.ts`));
    const main = join(ROOT, `packages/cli/readme-examples.${process.pid}.ts`);
    const END = '-- end of an example --\n';
    try {
      examples.forEach(({ code }, k) => {
        writeFileSync(files[k]!, code);
      });
      const urls = files.map((file) => pathToFileURL(file).href);
      const lines = urls.map(
        (url) => `await import('${url}'); process.stdout.write(${JSON.stringify(END)});`,
      );
      writeFileSync(main, `${lines.join('\n')}\nexport {};\n`);
      const tsx = import.meta.resolve('tsx');
      const ran = spawnSync(process.execPath, ['--import', tsx, '--conditions=@longnight/source', main], {
        cwd: folder,
        encoding: 'utf8',
      });
      expect(ran.stderr).toBe('');
      const printed = ran.stdout.split(END);
      examples.forEach(({ page, block }, k) => {
        if (block === undefined) return;
        const expected = `\`\`\`text\n${printed[k]}\`\`\``;
        expect(refreshed(page, block, expected)).toBe(expected);
      });
    } finally {
      for (const file of [...files, main]) rmSync(file, { force: true });
    }
  });

  test('have the picture that the report of its plant draws', () => {
    const out = join(folder, 'picture');
    expect(longnight(['run', PICTURE_OF, '--out', out], folder).status).toBe(0);
    const expected = picture(readFileSync(join(out, 'report.html'), 'utf8'));
    if (process.env.UPDATE_README === '1') writeFileSync(PICTURE, expected);
    expect(readFileSync(PICTURE, 'utf8').replaceAll('\r\n', '\n')).toBe(expected);
  });
});

describe('pages', () => {
  const commands = [...longnight(['--help'], ROOT).stdout.matchAll(/^ {2}([a-z]+) .*[<[]/gm)]
    .map(([, name]) => name!)
    .filter((name) => name !== 'help');

  test('list every command once', () => {
    expect(commands).toContain('gather');
    const [, table] = pageText('README.md').match(/\n## Commands\n([\s\S]*?)\n## /)!;
    const listed = [...table!.matchAll(/^\| `(\w+)`/gm)].map(([, name]) => name!);
    expect(listed.toSorted()).toEqual(commands.toSorted());
    const headings = [...pageText('packages/cli/docs/commands.md').matchAll(/^## (.*)$/gm)].map(
      ([, h]) => h!,
    );
    const told = headings.slice(1).flatMap((heading) => heading.split(/, | and /));
    expect(told.toSorted()).toEqual(commands.toSorted());
  });

  test('lead only to what is there', () => {
    const links = pages().flatMap((page) =>
      urlsOf(pageText(page))
        .filter((url) => !/^[a-z]+:/.test(url))
        .map((url) => ({ page, url })),
    );
    expect(links.length).toBeGreaterThan(60);
    const anchors = new Map<string, readonly string[]>();
    const astray = links.filter(({ page, url }) => {
      const [path, anchor] = url.split('#') as [string, string?];
      const target = path === '' ? page : normalize(join(dirname(page), path)).replaceAll('\\', '/');
      if (!existsSync(join(ROOT, target))) return true;
      if (anchor === undefined) return false;
      if (!anchors.has(target)) anchors.set(target, anchorsOf(pageText(target)));
      return !anchors.get(target)!.includes(anchor);
    });
    expect(astray).toEqual([]);
  });

  test('for contributors name places that are there', () => {
    const roots = [
      'packages/core/src',
      'packages/core/docs',
      'packages/cli/src',
      'packages/cli/docs',
      'tests',
    ];
    const sources = roots.flatMap((root) =>
      readdirSync(join(ROOT, root), { recursive: true, encoding: 'utf8' }).map(
        (file) => `/${root}/${file.replaceAll('\\', '/')}`,
      ),
    );
    const named = ['DEVELOPERS.md', 'packages/core/docs/models.md'].flatMap((page) =>
      [...pageText(page).matchAll(/`([\w./-]+\.ts)`/g)].map(([, place]) => place!),
    );
    expect(named.length).toBeGreaterThan(100);
    expect(named.filter((place) => !sources.some((file) => file.endsWith(`/${place}`)))).toEqual([]);
  });

  test('lead to every page that a reader should find', () => {
    const found = new Set(['README.md']);
    for (const page of found)
      for (const url of urlsOf(pageText(page)))
        if (/^[^:]*\.md(#|$)/.test(url))
          found.add(normalize(join(dirname(page), url.split('#')[0]!)).replaceAll('\\', '/'));
    const meant = pages().filter((page) => /^(data|packages\/\w+\/docs)\/|^[A-Z]+\.md/.test(page));
    expect(meant.filter((page) => !found.has(page))).toEqual([]);
  });
});

interface Node {
  readonly type: string;
  readonly url?: string;
  readonly value?: string;
  readonly children?: readonly Node[];
}
const all = (node: Node): Node[] => [node, ...(node.children ?? []).flatMap(all)];
const urlsOf = (text: string): string[] =>
  all(fromMarkdown(text)).flatMap(({ type, url }) => (type === 'link' || type === 'image' ? [url!] : []));

/** The names of headings, as GitHub makes them: small letters, no marks, hyphens for blanks. */
const anchorsOf = (text: string): string[] =>
  all(fromMarkdown(text))
    .filter(({ type }) => type === 'heading')
    .map((heading) =>
      all(heading)
        .map(({ value }) => value ?? '')
        .join('')
        .toLowerCase()
        .replace(/[^\p{L}\p{N}\s_-]/gu, '')
        .replaceAll(' ', '-'),
    );

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
