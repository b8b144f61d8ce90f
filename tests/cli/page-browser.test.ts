/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** The pages as a browser shows them, report.html in depth. Without a Chromium on the machine all of it is skipped. */

import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Report } from '@longnight/core';
import axe from 'axe-core';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { kWh } from '../../packages/cli/src/render/document/figures.ts';
import { givesOutSentence, verdictSentence } from '../../packages/cli/src/render/report/verdict-words.ts';
import { CHROMIUM } from './support/browser.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
let browser: Browser;
let report: Report;
const REPORT = 'out/report.html';
const urlOf = (name: string): string => pathToFileURL(join(folder, name)).href;
const demo = (name: string): string => join(DEMO, `${name}.yaml`);

/** A page of each other kind, and the command that makes it; of sweeps one with a map and one with curves. */
const OTHERS: readonly (readonly [name: string, ...command: string[]])[] = [
  ['spell/spell.html', 'spell', demo('holds-with-generator'), '--days', '5'],
  ['compare/compare.html', 'compare', demo('parts-with-generator'), demo('parts-sun-alone')],
  [
    'size/size.html',
    'size',
    demo('parts-with-generator'),
    ...['--vary', 'arrays[0].panels=20:24:2', '--vary', 'bank.modules_parallel=3:5:1'],
    ...['--hold', 'generator.run_hours<=90'],
  ],
  [
    'map/sweep.html',
    'sweep',
    demo('short-of-bank'),
    ...['--vary', 'arrays[0].size_kWp=2:30:7', '--vary', 'bank.modules_parallel=2:14:4'],
  ],
  ['curve/sweep.html', 'sweep', demo('parts-with-generator'), '--vary', 'arrays[0].panels=6:24:6'],
];

beforeAll(async () => {
  if (CHROMIUM === undefined) return;
  // The failing plant has every kind of mark on its page but a generator's.
  longnight(['run', demo('short-of-bank'), '--out', join(folder, 'out')]);
  for (const [name, ...command] of OTHERS) longnight([...command, '--out', join(folder, dirname(name))]);
  report = JSON.parse(readFileSync(join(folder, 'out/report.json'), 'utf8'));
  browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox'] });
});
afterAll(async () => {
  await browser?.close();
  removeFolder(folder);
});

/** What a page is opened with. */
interface Screen {
  readonly width: number;
  readonly scheme: 'light' | 'dark';
}

async function open(
  { width, scheme }: Screen,
  policy = true,
  name = REPORT,
): Promise<{ page: Page; trouble: string[] }> {
  const context = await browser.newContext({
    viewport: { width, height: 800 },
    colorScheme: scheme,
    bypassCSP: !policy,
  });
  const page = await context.newPage();
  const trouble: string[] = [];
  page.on('console', (message) => trouble.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => trouble.push(`error: ${error.message}`));
  page.on('request', (request) => {
    if (request.url() !== urlOf(name)) trouble.push(`request: ${request.url()}`);
  });
  await page.goto(urlOf(name), { waitUntil: 'load' });
  return { page, trouble };
}

const openAll = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (const part of document.querySelectorAll('details')) part.open = true;
  });

/** What is wider than the screen. */
const sticksOut = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const wide = document.documentElement.clientWidth;
    const out = document.documentElement.scrollWidth > wide ? ['the page'] : [];
    for (const element of document.querySelectorAll(
      'p, h1, h2, h3, li, dl, figure, svg:not(.patterns), pre, summary, .scroll',
    )) {
      const box = element.getBoundingClientRect();
      if (box.width > 0 && (box.right > wide + 0.5 || box.left < -0.5))
        out.push(element.outerHTML.slice(0, 80));
    }
    return out;
  });

/** Texts of drawings that are cut off, and the size of the smallest as shown. */
const texts = (page: Page): Promise<{ cut: string[]; least_px: number }> =>
  page.evaluate(() => {
    const cutOff: string[] = [];
    let least = Number.POSITIVE_INFINITY;
    for (const svg of document.querySelectorAll('svg[role=img]')) {
      const frame = svg.getBoundingClientRect();
      if (frame.width === 0) continue;
      const scale = frame.width / (svg as SVGSVGElement).viewBox.baseVal.width;
      least = Math.min(least, 12 * scale);
      for (const text of svg.querySelectorAll('text')) {
        const box = text.getBoundingClientRect();
        if (
          box.left < frame.left - 1 ||
          box.right > frame.right + 1 ||
          box.top < frame.top - 1 ||
          box.bottom > frame.bottom + 1
        )
          cutOff.push(`${svg.querySelector('title')?.textContent}: ${text.textContent}`);
      }
    }
    return { cut: cutOff, least_px: least };
  });

/** What axe finds: WCAG 2.2 A and AA, and good practice. */
async function violations(page: Page): Promise<{ violations: string[]; passes: number }> {
  await page.evaluate(axe.source);
  return page.evaluate(async () => {
    const checker = (window as unknown as { axe: typeof axe }).axe;
    const { violations, passes } = await checker.run(document, {
      resultTypes: ['violations'],
    });
    return {
      violations: violations.map(({ id, help, nodes }) => `${id}: ${help} (${nodes[0]?.html.slice(0, 120)})`),
      passes: passes.length,
    };
  });
}

describe.skipIf(CHROMIUM === undefined)('report.html in a browser', () => {
  test.each<Screen>([
    { width: 360, scheme: 'light' },
    { width: 800, scheme: 'dark' },
    { width: 1280, scheme: 'light' },
  ])('at $width px, $scheme: nothing complains, is fetched or sticks out', async (screen) => {
    const { page, trouble } = await open(screen);
    await openAll(page);
    expect(await sticksOut(page)).toEqual([]);
    expect(trouble).toEqual([]);
    await page.context().close();
  });

  test.each<Screen>([
    { width: 360, scheme: 'light' },
    { width: 1280, scheme: 'dark' },
  ])('at $width px no text of a drawing is cut off, and none is too small to read', async (screen) => {
    const { page } = await open(screen);
    const { cut, least_px } = await texts(page);
    expect(cut).toEqual([]);
    expect(least_px).toBeGreaterThan(10.5);
    await page.context().close();
  });

  test('one drawing of each pair is shown, the other for nobody', async () => {
    for (const [width, shown, hidden] of [
      [360, 'narrow', 'wide'],
      [1280, 'wide', 'narrow'],
    ] as const) {
      const { page } = await open({ width, scheme: 'light' });
      const seen = (of: string): Promise<number> =>
        page.evaluate(
          (name) =>
            [...document.querySelectorAll(`svg.${name}`)].filter(
              (svg) => svg.getBoundingClientRect().width > 0,
            ).length,
          of,
        );
      expect(await seen(shown)).toBeGreaterThan(5);
      expect(await seen(hidden)).toBe(0);
      await page.context().close();
    }
  });

  test('the figures that are read are those of report.json', async () => {
    const { page } = await open({ width: 800, scheme: 'light' });
    const text = (await page.textContent('main'))!.replace(/\s+/g, ' ');
    expect(text).toContain(verdictSentence(report));
    expect(text).toContain(givesOutSentence(report));
    expect(text).toContain(`most goes unserved in Dec (${kWh(report.unmet.by_month_kWh[11]!)})`);
    await page.context().close();
  });

  test('the keyboard reaches contents and tables', async () => {
    const { page } = await open({ width: 800, scheme: 'light' });
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('href'))).toBe('#verdict');
    await page.focus('#months summary');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.querySelector('#months details')?.hasAttribute('open'))).toBe(
      true,
    );
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.className)).toBe('scroll');
    await page.context().close();
  });

  test('the policy of the page holds: a script put into it does not run', async () => {
    const { page, trouble } = await open({ width: 800, scheme: 'light' });
    const ran = await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'document.title = "ran"';
      document.body.append(script);
      return document.title;
    });
    expect(ran).toBe(`${report.site.name}: the year 2026`);
    expect(trouble.join()).toMatch(/Content Security Policy/);
    await page.context().close();
  });

  test.each<Screen>([
    { width: 360, scheme: 'light' },
    { width: 1280, scheme: 'dark' },
  ])(
    'at $width px, $scheme: axe finds no violation (WCAG 2.2 A and AA, and good practice)',
    async (screen) => {
      // The checker is itself a script, so this once the policy is set aside.
      const { page } = await open(screen, false);
      if (screen.scheme === 'light') await openAll(page);
      const found = await violations(page);
      expect(found.violations).toEqual([]);
      expect(found.passes).toBeGreaterThan(20);
      await page.context().close();
    },
  );

  test('A4 and Letter: paper carries everything in a few sheets, nothing of the screen for phones', async () => {
    const { page } = await open({ width: 1280, scheme: 'dark' });
    for (const format of ['A4', 'Letter'] as const) {
      const pdf = (await page.pdf({ format, printBackground: true })).toString('latin1');
      const sheets = [...pdf.matchAll(/\/Type \/Page\b/g)].length;
      expect(sheets).toBeGreaterThan(4);
      expect(sheets).toBeLessThan(16);
    }
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    const onPaper = await page.evaluate(() => ({
      paper: getComputedStyle(document.body).backgroundColor,
      narrow: [...document.querySelectorAll('svg.narrow')].filter(
        (svg) => svg.getBoundingClientRect().width > 0,
      ).length,
    }));
    expect(onPaper).toEqual({ paper: 'rgb(255, 255, 255)', narrow: 0 });
    await page.context().close();
  });
});

describe.skipIf(CHROMIUM === undefined)('the other pages in a browser', () => {
  // On a phone with all of it open, on a desk with what is open by itself: light here, dark there.
  test.each(OTHERS.map(([name]) => name))(
    '%s: nothing complains, is fetched, sticks out or is cut off',
    async (name) => {
      for (const screen of [
        { width: 360, scheme: 'light' },
        { width: 1280, scheme: 'dark' },
      ] as const) {
        const { page, trouble } = await open(screen, true, name);
        if (screen.width === 360) await openAll(page);
        expect(await sticksOut(page)).toEqual([]);
        const { cut, least_px } = await texts(page);
        expect(cut).toEqual([]);
        expect(least_px).toBeGreaterThan(10.5);
        expect(trouble).toEqual([]);
        await page.context().close();
        const checked = await open(screen, false, name);
        if (screen.width === 360) await openAll(checked.page);
        const found = await violations(checked.page);
        expect(found.violations).toEqual([]);
        expect(found.passes).toBeGreaterThan(20);
        await checked.page.context().close();
      }
    },
  );
});
