/**
 * The packages as the registry would get them: packed, unpacked into an empty project and used there. Nothing comes
 * from the network: the tarballs are unpacked into the project's node_modules, and what core depends on is linked
 * there from the repository's own.
 */
import { spawnSync } from 'node:child_process';
import {
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { publint } from 'publint';
import { formatMessage } from 'publint/utils';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { libraryExamples } from './support/pages.ts';
import { bundle, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
const project = join(folder, 'project');
const tarballs: Record<'core' | 'cli', string> = { core: '', cli: '' };
afterAll(() => removeFolder(folder));

function ended(command: string, args: readonly string[], cwd: string): string {
  // npm is a script on Windows, which a shell alone can start.
  const shell = process.platform === 'win32' && command === 'npm';
  const { status, stdout, stderr, error } = spawnSync(command, args, { cwd, encoding: 'utf8', shell });
  if (status !== 0) throw new Error(`${command} ${args.join(' ')}: ${error ?? ''}${stdout}${stderr}`);
  return stdout;
}
const node = (args: readonly string[], cwd: string): string => ended(process.execPath, args, cwd);
const tsc = join(ROOT, 'node_modules/typescript/bin/tsc');

interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly [key: string]: unknown;
}
const manifestIn = (path: string): Manifest => JSON.parse(readFileSync(join(path, 'package.json'), 'utf8'));

/** A copy of a package beside its build, so that two test runs at once don't share a `dist`. */
function staged(name: 'core' | 'cli'): string {
  const stage = join(folder, name);
  const source = join(ROOT, 'packages', name);
  mkdirSync(stage);
  for (const file of ['package.json', 'LICENSE', 'README.md', 'docs'])
    cpSync(join(source, file), join(stage, file), { recursive: true });
  if (name === 'cli') cpSync(dirname(bundle()), join(stage, 'dist'), { recursive: true });
  else {
    cpSync(join(source, 'src'), join(stage, 'src'), { recursive: true });
    node(
      [tsc, '-p', source, '--outDir', join(stage, 'dist'), '--tsBuildInfoFile', join(folder, 'info')],
      ROOT,
    );
  }
  return stage;
}

beforeAll(() => {
  mkdirSync(join(project, 'node_modules/@longnight'), { recursive: true });
  mkdirSync(join(project, 'node_modules/@types'));
  for (const name of ['core', 'cli'] as const) {
    const stage = staged(name);
    const [packed] = JSON.parse(ended('npm', ['pack', '--json', '--offline', '--ignore-scripts'], stage));
    tarballs[name] = join(stage, packed.filename);
    // Relative names: some versions of tar take the colon of a drive for a host.
    ended('tar', ['-xzf', packed.filename], stage);
    const home = join(project, 'node_modules', manifestIn(stage).name);
    cpSync(join(stage, 'package'), home, { recursive: true });
  }
  const link = (name: string, from: string) =>
    symlinkSync(
      realpathSync(join(from, 'node_modules', name)),
      join(project, 'node_modules', name),
      'junction',
    );
  const core = join(ROOT, 'packages/core');
  for (const name of Object.keys(manifestIn(core).dependencies!)) link(name, core);
  link('@types/node', ROOT);
  writeFileSync(join(project, 'package.json'), '{ "name": "empty", "private": true, "type": "module" }\n');
  cpSync(join(ROOT, 'data'), join(project, 'data'), { recursive: true });
}, 300_000);

/** What can be imported from core: the root and its subpaths. */
const subpaths = (): string[] =>
  Object.keys(manifestIn(join(ROOT, 'packages/core')).exports as object).filter(
    (path) => !path.endsWith('.json'),
  );

const examples = libraryExamples().map(({ code }) => code);

describe('in an empty project', () => {
  test('the library example of the README runs on the packed core', () => {
    expect(examples.length).toBeGreaterThan(2);
    const { code, block } = libraryExamples().find(({ page }) => page === 'README.md')!;
    writeFileSync(join(project, 'example.js'), code);
    expect(`\`\`\`text\n${node(['example.js'], project)}\`\`\``).toBe(block);
  });

  test('examples and every subpath are typed by the declarations in the package, and each subpath loads', () => {
    examples.forEach((code, k) => {
      writeFileSync(join(project, `example-${k}.ts`), code);
    });
    const names = subpaths().map((path) => path.replace('.', '@longnight/core'));
    expect(names.length).toBeGreaterThan(10);
    const code = [
      ...names.map((name, k) => `import * as m${k} from '${name}';`),
      `const all: readonly object[] = [${names.map((_, k) => `m${k}`).join(', ')}];`,
      'console.log(all.map((one) => Object.keys(one).length).join());',
    ].join('\n');
    writeFileSync(join(project, 'subpaths.ts'), code);
    // Declarations that said nothing would leave the expected error out, which is one.
    const wrong =
      "import { annuity } from '@longnight/core/money';\n// @ts-expect-error: years are a number\nannuity('a', 1);\n";
    writeFileSync(join(project, 'wrong.ts'), wrong);
    const options = ['--module', 'nodenext', '--target', 'es2023', '--strict', '--types', 'node'];
    const files = [...examples.map((_, k) => `example-${k}.ts`), 'subpaths.ts', 'wrong.ts'];
    expect(node([tsc, '--ignoreConfig', ...options, ...files], project)).toBe('');
    for (const count of node(['subpaths.js'], project).split(',')) expect(Number(count)).toBeGreaterThan(0);
  });

  test('the packed program runs a demo, and starts on its own', () => {
    const bin = 'node_modules/longnight/dist/longnight.js';
    expect(node([bin, 'run', 'data/demo/holds.yaml'], project)).toMatch(/Does it hold\?/);
    expect(node([bin, '--version'], project).trim()).toBe(manifestIn(join(ROOT, 'packages/cli')).version);
    // `sweep` and `size` start threads from a file of its own, which must be in the package.
    const ask = ['sweep', 'data/demo/holds.yaml', '--vary', 'bank.modules_parallel=3,6'];
    expect(node([bin, ...ask, '--threads', '2'], project)).toMatch(/^ +2 +6 /m);
  });
});

describe('the tarballs', () => {
  test('hold a licence, what they export, no test and no build notes', () => {
    for (const name of ['@longnight/core', 'longnight']) {
      const home = join(project, 'node_modules', name);
      const files = readdirSync(home, { recursive: true, encoding: 'utf8' }).map((f) =>
        f.replaceAll('\\', '/'),
      );
      expect(readFileSync(join(home, 'LICENSE'), 'utf8')).toBe(readFileSync(join(ROOT, 'LICENSE'), 'utf8'));
      expect(files).toContain('README.md');
      const docs = name === 'longnight' ? ['tour', 'commands', 'files'] : ['scenario', 'models', 'library'];
      expect(files).toEqual(expect.arrayContaining(docs.map((page) => `docs/${page}.md`)));
      expect(files.filter((file) => /^docs\/.*\.ts$/.test(file))).toEqual([]);
      expect(files.filter((file) => /tsbuildinfo|\.test\.|node_modules/.test(file))).toEqual([]);
      const manifest = manifestIn(home);
      expect(manifest).toMatchObject({
        license: 'MIT',
        type: 'module',
        engines: { node: '>=20' },
        publishConfig: { access: 'public', provenance: true },
      });
      for (const file of JSON.stringify(manifest.exports).match(/\.\/(dist|src)\/[\w./]+/g) ?? [])
        expect(files).toContain(file.slice(2));
    }
    expect(manifestIn(join(project, 'node_modules/longnight')).dependencies).toBeUndefined();
  });

  test.each(['core', 'cli'] as const)('publint has nothing to say of %s', async (name) => {
    const bytes = readFileSync(tarballs[name]);
    const tarball = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length) as ArrayBuffer;
    const { messages, pkg } = await publint({ pack: { tarball }, strict: true });
    expect(messages.map((message) => formatMessage(message, pkg))).toEqual([]);
  });

  test('types of core resolve wherever ESM can be imported', () => {
    const attw = join(ROOT, 'node_modules/@arethetypeswrong/cli/dist/index.js');
    const said = node([attw, tarballs.core, '--profile', 'esm-only', '--format', 'json'], folder);
    const { packageName, entrypoints } = JSON.parse(said).analysis;
    expect(packageName).toBe('@longnight/core');
    expect(Object.keys(entrypoints).sort()).toEqual([...subpaths(), './package.json'].sort());
  });
});

test('a bundle takes from core what it uses and no more', async () => {
  const size = async (code: string): Promise<number> => {
    const entry = join(project, 'entry.js');
    writeFileSync(entry, code);
    const made = await rolldown({ input: entry, platform: 'node' });
    const { output } = await made.generate({ format: 'esm', minify: true });
    await made.close();
    expect(output.length).toBe(1);
    return output[0].code.length;
  };
  const one = await size("import { annuity } from '@longnight/core/money'; console.log(annuity(20, 0.04));");
  const reading = await size("import { readScenario } from '@longnight/core'; console.log(readScenario);");
  const playing = await size("import { playYear } from '@longnight/core'; console.log(playYear);");
  // The loop brings neither what prepares a year nor what is said of it.
  expect(playing).toBeLessThan(54_000);
  // A formula alone brings neither the schema nor the reader of files.
  expect(one).toBeLessThan(1000);
  expect(reading).toBeGreaterThan(50_000);
});
