/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** The pages as a browser shows them, report.html in depth. Without a Chromium on the machine all of it is skipped. */

import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Report } from '@longnight/core';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Block, figureColumns } from '../../packages/cli/src/render/document/document.ts';
import { kWh } from '../../packages/cli/src/render/document/figures.ts';
import { toPage } from '../../packages/cli/src/render/document/to-page.ts';
import { givesOutSentence, verdictSentence } from '../../packages/cli/src/render/report/verdict-words.ts';
import { launchBrowser, noBrowser } from './support/browser.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
let browser: Browser;
/** The one page that all of them are opened in: a new one takes longer than what is looked at in it. */
let page: Page;
/** What came of the opening of a page that should not. */
let trouble: string[] = [];
let report: Report;
let opened = '';
const REPORT = 'out/report.html';
const urlOf = (name: string): string => pathToFileURL(join(folder, name)).href;
const demo = (name: string): string => join(DEMO, `${name}.yaml`);

/** A page of each other kind, and the command that makes it; of sweeps one with a map and one with curves. */
const OTHERS: readonly (readonly [name: string, ...command: string[]])[] = [
  ['lean/week.html', 'week', demo('holds-with-generator'), '--days', '5'],
  ['compare/compare.html', 'compare', demo('parts-with-generator'), demo('parts-sun-alone')],
  [
    'size/size.html',
    'size',
    demo('parts-with-generator'),
    ...['--vary', 'arrays[0].panels=20:24:2', '--vary', 'bank.modules_parallel=3:5:1'],
    ...['--require', 'generator.run_hours<=90'],
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
  if (noBrowser) return;
  // The failing plant has every kind of mark on its page but a generator's.
  longnight(['run', demo('short-of-bank'), '--out', join(folder, 'out')]);
  for (const [name, ...command] of OTHERS) longnight([...command, '--out', join(folder, dirname(name))]);
  report = JSON.parse(readFileSync(join(folder, 'out/report.json'), 'utf8'));
  browser = await launchBrowser();
  page = await browser.newPage();
  page.on('console', (message) => trouble.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => trouble.push(`error: ${error.message}`));
  page.on('request', (request) => {
    if (request.url() !== opened) trouble.push(`request: ${request.url()}`);
  });
});
afterAll(async () => {
  await browser?.close();
  removeFolder(folder);
});

/** What a page is shown on. */
interface Screen {
  readonly width: number;
  readonly scheme: 'light' | 'dark';
}

/** Shows the page on a screen, as turning a phone or switching its colours does: nothing is fetched anew. */
async function show({ width, scheme }: Screen): Promise<void> {
  await page.setViewportSize({ width, height: 800 });
  await page.emulateMedia({ media: 'screen', colorScheme: scheme });
}

/** Opens a page afresh: nothing that a test did to one is seen by the next. */
async function open(screen: Screen, name = REPORT): Promise<void> {
  await show(screen);
  trouble = [];
  opened = urlOf(name);
  await page.goto(opened, { waitUntil: 'load' });
}

/** Opens or closes all that can be, and gives back what was open by itself. */
const unfold = (open: boolean | readonly boolean[]): Promise<readonly boolean[]> =>
  page.evaluate((wanted) => {
    const parts = [...document.querySelectorAll('details')];
    const were = parts.map((part) => part.open);
    parts.forEach((part, k) => {
      part.open = typeof wanted === 'boolean' ? wanted : wanted[k]!;
    });
    return were;
  }, open);

/** What is wider than the screen. */
const sticksOut = (): Promise<string[]> =>
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
const texts = (): Promise<{ cut: string[]; least_px: number }> =>
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
          // A font's box holds room for accents above its capitals, some more of it than others.
          box.top < frame.top - 2 ||
          box.bottom > frame.bottom + 1
        )
          cutOff.push(`${svg.querySelector('title')?.textContent}: ${text.textContent}`);
      }
    }
    return { cut: cutOff, least_px: least };
  });

/** What axe finds: WCAG 2.2 A and AA, and good practice. The debugger puts it in, which the page's policy lets pass. */
async function violations(): Promise<{ violations: string[]; passes: number }> {
  if (await page.evaluate(() => !('axe' in window))) await page.evaluate(axe.source);
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

async function expectNoViolations(at: string): Promise<void> {
  const found = await violations();
  expect(found.violations, at).toEqual([]);
  expect(found.passes, at).toBeGreaterThan(20);
}

async function expectTextsWhole(at: string): Promise<void> {
  const { cut, least_px } = await texts();
  expect(cut, at).toEqual([]);
  expect(least_px, at).toBeGreaterThan(10.5);
}

const PHONE: Screen = { width: 360, scheme: 'light' };
const DESK: Screen = { width: 1280, scheme: 'dark' };

describe.skipIf(noBrowser)('report.html in a browser', () => {
  test('with all of it open nothing complains, is fetched or sticks out on any screen', async () => {
    await open(PHONE);
    await unfold(true);
    for (const screen of [PHONE, { width: 800, scheme: 'dark' }, { width: 1280, scheme: 'light' }] as const) {
      await show(screen);
      expect(await sticksOut(), `${screen.width} px`).toEqual([]);
    }
    expect(trouble).toEqual([]);
  });

  test('no text of a drawing is cut off, none is too small to read; one drawing of each pair is shown', async () => {
    const seen = (of: string): Promise<number> =>
      page.evaluate(
        (name) =>
          [...document.querySelectorAll(`svg.${name}`)].filter((svg) => svg.getBoundingClientRect().width > 0)
            .length,
        of,
      );
    await open(PHONE);
    await expectTextsWhole('phone');
    expect(await seen('narrow')).toBeGreaterThan(5);
    expect(await seen('wide')).toBe(0);
    await show(DESK);
    await expectTextsWhole('desk');
    expect(await seen('wide')).toBeGreaterThan(5);
    expect(await seen('narrow')).toBe(0);
  });

  test('the figures that are read are those of report.json', async () => {
    await open({ width: 800, scheme: 'light' });
    const text = (await page.textContent('main'))!.replace(/\s+/g, ' ');
    expect(text).toContain(verdictSentence(report));
    expect(text).toContain(givesOutSentence(report));
    expect(text).toContain(`most goes unmet in Dec (${kWh(report.unmet.by_month_kWh[11]!)})`);
  });

  test('the keyboard reaches contents and tables', async () => {
    await open({ width: 800, scheme: 'light' });
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('href'))).toBe('#verdict');
    await page.focus('#months summary');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.querySelector('#months details')?.hasAttribute('open'))).toBe(
      true,
    );
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.className)).toBe('scroll');
  });

  test('the policy of the page holds: a script put into it does not run', async () => {
    await open({ width: 800, scheme: 'light' });
    const ran = await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'document.title = "ran"';
      document.body.append(script);
      return document.title;
    });
    expect(ran).toBe(`${report.site.name}: the year 2026`);
    expect(trouble.join()).toMatch(/Content Security Policy/);
  });

  test('axe finds no violation on a phone with all of it open, nor on a desk in the dark (WCAG 2.2 A and AA, and good practice)', async () => {
    await open(PHONE);
    const were = await unfold(true);
    expect(were).toContain(false);
    await expectNoViolations('phone');
    await unfold(were);
    await show(DESK);
    await expectNoViolations('desk');
  });

  test('A4 and Letter: paper carries everything in a few sheets, nothing of the screen for phones', async () => {
    await open(DESK);
    await page.emulateMedia({ media: 'print' });
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
    // What is folded and matters opens on paper; of the rest its name is printed, and that it is folded.
    const printed = await page.evaluate(() =>
      [...document.querySelectorAll('details:not([open])')].map((folded) => ({
        matters: folded.classList.contains('printed'),
        table: folded.querySelector('table')!.getBoundingClientRect().height > 20,
        name: folded.querySelector('summary')!.getBoundingClientRect().height > 5,
      })),
    );
    expect(printed.filter(({ matters }) => matters).length).toBeGreaterThan(2);
    for (const { matters, table, name } of printed) {
      expect(table).toBe(matters);
      expect(name).toBe(!matters);
    }
    // No chart is cut: whatever holds one stays on its sheet.
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll('figure')].map((one) => getComputedStyle(one).breakInside),
    );
    expect(new Set(cut)).toEqual(new Set(['avoid']));
  });

  test('a table wider than an upright sheet is printed across, and no other', async () => {
    const tableOf = (count: number): Block => ({
      kind: 'table',
      caption: `${count} columns`,
      columns: figureColumns(
        ...Array.from({ length: count }, (_, k) => [`figure-number-${10 + k}`] as const),
      ),
      rows: [Array.from({ length: count }, (_, k) => String(k))],
    });
    const sheets = async (...counts: number[]): Promise<string[]> => {
      const section = { id: 'wide', title: 'Wide', blocks: counts.map(tableOf) };
      const name = `wide-${counts.length}.html`;
      writeFileSync(
        join(folder, name),
        toPage({ title: 'Wide', about: [], sections: [section], foot: 'Foot.' }),
      );
      await open(DESK, name);
      await page.emulateMedia({ media: 'print' });
      const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
      return [...pdf.matchAll(/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, width, height]) =>
        Number(width) > Number(height) ? 'across' : 'upright',
      );
    };
    expect(await sheets(5)).toEqual(['upright']);
    expect(await sheets(5, 7)).toEqual(['upright', 'across', 'upright']);
  });

  test('a table says that it scrolls where it does, and nowhere else', async () => {
    const says = async () => {
      // Whether a table scrolls is known to its style a frame later.
      await page.evaluate(
        () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
      );
      return page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>('.scroll')]
          .filter((scroll) => scroll.checkVisibility())
          .map((scroll) => ({
            scrolls: scroll.scrollWidth > scroll.clientWidth,
            says:
              Number.parseFloat(getComputedStyle(scroll.querySelector('caption')!, '::after').fontSize) > 5,
          })),
      );
    };
    await open(PHONE);
    const were = await unfold(true);
    const onPhone = await says();
    expect(onPhone.some(({ scrolls }) => scrolls)).toBe(true);
    for (const one of onPhone) expect(one.says).toBe(one.scrolls);
    await show(DESK);
    for (const one of await says()) expect(one.says).toBe(one.scrolls);
    await unfold(were);
  });
});

describe.skipIf(noBrowser)('the other pages in a browser', () => {
  // On a phone with all of it open, on a desk with what is open by itself: light here, dark there.
  test.each(OTHERS.map(([name]) => name))(
    '%s: nothing complains, is fetched, sticks out or is cut off',
    async (name) => {
      await open(PHONE, name);
      const were = await unfold(true);
      expect(await sticksOut(), 'phone').toEqual([]);
      await expectTextsWhole('phone');
      expect(trouble).toEqual([]);
      await expectNoViolations('phone');
      await unfold(were);
      await show(DESK);
      expect(await sticksOut(), 'desk').toEqual([]);
      await expectTextsWhole('desk');
      await expectNoViolations('desk');
      expect(trouble).toEqual([]);
    },
  );
});
