/// <reference lib="dom" />
/** Core in a page and in a module worker: it loads there, and plays the year that Node plays. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { LEDGER_COLUMNS } from '@longnight/core';
import type { Browser, Page } from 'playwright-core';
import { rolldown } from 'rolldown';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { launchBrowser, noBrowser } from '../cli/support/browser.ts';
import { numbersOf, type Played, played } from '../support/played.ts';

const ROOT = join(import.meta.dirname, '../..');
const demo = readFileSync(join(ROOT, 'data/demo/holds-with-generator.yaml'), 'utf8');

/** The demo with a measured load beside its own, from a table with quotes: rows are read there as well. */
const measured = demo.replace(
  /^loads:\n/m,
  'loads:\n  - { kind: series, name: pump, tier: 2, file: pump.csv, power: { column: "draw, mean", unit: kW }, time: { column: time, zone: UTC, label: start } }\n',
);
const hour_ms = 3_600_000;
const PUMP = `time,"draw, mean"\n${Array.from({ length: 8784 }, (_, h) => {
  const stamp = new Date(Date.UTC(2026, 0, 1) + (h - 12) * hour_ms).toISOString().slice(0, 16);
  return `"${stamp}",${(0.1 * (1 + Math.sin(h / 9))).toFixed(4)}`;
}).join('\n')}\n`;

/** The bundle of an entry for browsers: one file, which imports nothing. */
async function bundled(code: string): Promise<string> {
  const made = await rolldown({
    input: 'entry',
    platform: 'browser',
    resolve: { conditionNames: ['@longnight/source', 'browser', 'import', 'default'] },
    plugins: [
      {
        name: 'entry',
        resolveId: (id) => (id === 'entry' ? join(ROOT, 'tests/support/entry.ts') : null),
        load: (id) => (id.endsWith('entry.ts') ? code : null),
      },
    ],
  });
  const { output } = await made.generate({ format: 'esm' });
  await made.close();
  expect(output.length).toBe(1);
  expect([...output[0].imports, ...output[0].dynamicImports]).toEqual([]);
  return output[0].code;
}

/** Served to the page in place of a network. */
const files: Record<string, string> = { '/': '<!doctype html><title>core</title>' };
const ORIGIN = 'http://longnight.test';
let browser: Browser;
let page: Page;
const trouble: string[] = [];

beforeAll(async () => {
  files['/core.js'] = await bundled("export * from './played.ts';");
  files['/worker.js'] = await bundled(
    "import { played } from './played.ts'; onmessage = ({ data }) => postMessage(played(...data));",
  );
  if (noBrowser) return;
  browser = await launchBrowser();
  page = await browser.newPage();
  page.on('pageerror', (error) => trouble.push(error.message));
  page.on('console', (message) => trouble.push(message.text()));
  await page.route(`${ORIGIN}/**`, (route) => {
    const path = new URL(route.request().url()).pathname;
    const contentType = path.endsWith('.js') ? 'text/javascript' : 'text/html';
    return route.fulfill({
      status: files[path] === undefined ? 404 : 200,
      contentType,
      body: files[path] ?? '',
    });
  });
  await page.goto(`${ORIGIN}/`);
});
afterAll(() => browser?.close());

/** Every column as Node has it, to what engines may differ by in the last digits of exp, pow and sin. */
function expectSame(there: Played, here: Played): void {
  expect(there.steps).toBe(here.steps);
  for (const { name } of LEDGER_COLUMNS) {
    const [theirs, ours] = [numbersOf(there.columns[name]!), numbersOf(here.columns[name]!)];
    expect(theirs.length, name).toBe(here.steps);
    const off = theirs.findIndex((value, i) => !(Math.abs(value - ours[i]!) <= 1e-10));
    expect(off, `${name} in step ${off}: ${theirs[off]} for ${ours[off]}`).toBe(-1);
  }
  // What is written is rounded to less than engines differ by.
  expect(there.report).toBe(here.report);
}

type Asked = readonly [text: string, series: readonly (readonly [string, string])[]];
const CASES: readonly (readonly [what: string, ...asked: Asked])[] = [
  ['the demo year', demo, []],
  ['a measured load', measured, [['pump.csv', PUMP]]],
];

test('core is bundled for a browser without anything of Node', () => {
  const code = files['/core.js']!;
  expect(code.length).toBeGreaterThan(100_000);
  expect(code.match(/\bBuffer\b(?=[.(])|\bprocess\.|\brequire\(/g) ?? []).toEqual([]);
});

describe.skipIf(noBrowser)('in Chromium', () => {
  test.each(CASES)('a page plays %s', async (_, ...asked) => {
    // As text: the runner of the tests rewrites an import that it sees.
    const there: Played = await page.evaluate(
      `import('/core.js').then(({ played }) => played(...${JSON.stringify(asked)}))`,
    );
    expectSame(there, played(...asked));
    expect(trouble).toEqual([]);
  });

  test.each(CASES)('a module worker plays %s', async (_, ...asked) => {
    const there = await page.evaluate(
      (asked) =>
        new Promise<Played>((resolve, reject) => {
          const worker = new Worker('/worker.js', { type: 'module' });
          worker.onmessage = ({ data }) => resolve(data);
          worker.onerror = (error) => reject(new Error(error.message));
          worker.postMessage(asked);
        }),
      asked,
    );
    expectSame(there, played(...asked));
    expect(trouble).toEqual([]);
  });
});
