/** The pages of `week`, `compare`, `size` and `sweep`: valid, self-contained, and with the figures of their JSON. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DESIGN_FIGURES } from '@longnight/core/study';
import { HtmlValidate } from 'html-validate';
import { afterAll, describe, expect, test } from 'vitest';
import { amount, fixed, kWh, socPercent } from '../../packages/cli/src/render/document/figures.ts';
import { toPage } from '../../packages/cli/src/render/document/to-page.ts';
import { sweepDocument } from '../../packages/cli/src/render/sweep/document.ts';
import { SweepDigest } from '../../packages/cli/src/sweep/digest.ts';
import type { SweepManifest } from '../../packages/cli/src/sweep/manifest.ts';
import { designsOf } from '../../packages/cli/src/workers/designs.ts';
import { columnOf, reachesOut, sectionIds, sentenceOf, tableOf, textOf } from './support/page.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { rowsOf } from './support/sweep.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const validator = new HtmlValidate({ extends: ['html-validate:recommended'] });
const demo = (name: string): string => join(DEMO, `${name}.yaml`);

/** Runs a command into a folder of its own and reads page and JSON. */
async function made(
  command: string,
  ...args: string[]
): Promise<{ html: string; json: Record<string, never> }> {
  const { html, out } = await madePage(command, ...args);
  return { html, json: JSON.parse(readFileSync(join(out, `${command}.json`), 'utf8')) };
}

async function madePage(command: string, ...args: string[]): Promise<{ html: string; out: string }> {
  const out = join(folder, args.join('-').replace(/\W/g, ''));
  const ended = longnight([command, ...args, '--out', out]);
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  expect(ended.stdout).toContain(`${command}.html`);
  const html = readFileSync(join(out, `${command}.html`), 'utf8');
  const { results } = await validator.validateString(html);
  expect(
    results.flatMap(({ messages }) => messages.map((m) => `${m.line}: ${m.ruleId} ${m.message}`)),
  ).toEqual([]);
  expect(reachesOut(html)).toEqual([]);
  expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/);
  expect(html).not.toContain(folder);
  expect([...html.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id)).toEqual(sectionIds(html));
  return { html, out };
}

test('week.html: what is ridden out and what is not, with the figures of week.json', async () => {
  const fails = await made('week', demo('short-of-bank'));
  const lean = fails.json.week as unknown as Record<string, number> & {
    by_day: { unmet_kWh: number; wanted_kWh: number }[];
  };
  expect(sectionIds(fails.html)).toEqual(['answers', 'hours', 'cautions', 'again']);
  expect(sentenceOf(fails.html, 'answers')).toMatch(
    new RegExp(`^No: ${kWh(lean.unmet_kWh!)} of ${kWh(lean.wanted_kWh!)} wanted go unmet`),
  );
  expect(sentenceOf(fails.html, 'hours')).toContain(`comes down to ${socPercent(lean.lowest_soc!)} %`);
  expect(columnOf(tableOf(fails.html, 'Day by day'), 'unmet, kWh')).toEqual(
    lean.by_day.map((day) => Number(day.unmet_kWh.toFixed(2))),
  );
  const hours = tableOf(fails.html, 'Mean powers over 1 h');
  const unmet = columnOf(hours, 'wanted, kW').reduce(
    (sum, kW, k) => sum + kW - columnOf(hours, 'served, kW')[k]!,
    0,
  );
  expect(Math.abs(unmet - lean.unmet_kWh!)).toBeLessThan(168 * 0.01);
  expect(textOf(fails.html)).toContain('longnight week short-of-bank.yaml --days 7 --soc 1 --out DIR');

  const holds = await made('week', demo('holds-with-generator'), '--days', '5');
  expect(sentenceOf(holds.html, 'answers')).toMatch(/^Yes: all/);
  expect(textOf(holds.html)).toContain('Without the generator');
  expect(holds.html).toContain('Generator, kW');
});

test('compare.html: which plant holds, and the rows of compare.json', async () => {
  const { html, json } = await made(
    'compare',
    demo('short-of-bank'),
    demo('holds'),
    demo('holds-with-generator'),
  );
  expect(sentenceOf(html, 'verdict')).toBe(
    'Holds and holds with generator hold; load goes unmet in short of bank.',
  );
  const rows = json.rows as unknown as { name: string; values: (number | null)[] }[];
  const values = (name: string) => rows.find((row) => row.name === name)!.values;
  const year = tableOf(html, 'The year');
  const cells = (head: string) => year.rows.find(([name]) => name === head)!.slice(1);
  expect(cells('lowest SoC, %').map((cell) => cell.replace(' *', ''))).toEqual(
    values('bank.lowest_soc').map((soc) => socPercent(soc!)),
  );
  expect(cells('unmet hours, h')).toEqual([fixed(values('unmet.hours')[0]!, 0), '0 *', '0 *']);
  expect(textOf(html)).toContain('licensed electrician');

  const priced = await made('compare', demo('parts-with-generator'), demo('parts-sun-alone'));
  expect(sentenceOf(priced.html, 'verdict')).toBe('Both plants hold: no load goes unmet in any.');
  expect(sentenceOf(priced.html, 'bills')).toBe(
    'Parts with generator costs least to buy of those that hold: 12,522 crowns.',
  );
  expect(sentenceOf(priced.html, 'buys')).toMatch(/^parts sun alone costs/);
  // Parts files that both name are told of once.
  const read = tableOf(priced.html, 'What was read').rows.map(([name]) => name);
  expect(new Set(read).size).toBe(read.length);
});

test('size.html: the answer and what stands beside it, with the figures of size.json', async () => {
  const vary = ['--vary', 'arrays[0].panels=20:24:2', '--vary', 'bank.modules_parallel=3:5:1'];
  const { html, json } = await made(
    'size',
    demo('parts-with-generator'),
    ...vary,
    '--require',
    'unmet.share<=0.001',
    '--require',
    'generator.run_hours<=60',
  );
  expect(sectionIds(html)).toEqual(['answer', 'beside', 'front', 'harder', 'bill', 'cautions', 'again']);
  // The plant of its values, run on its own.
  const sizes = ['--set', 'arrays[0].panels=24', '--set', 'bank.modules_parallel=5'];
  const { money } = JSON.parse(longnight(['run', demo('parts-with-generator'), ...sizes, '--json']).stdout);
  const crowns = (value: number): string => Math.round(value).toLocaleString('en-US');
  expect(sentenceOf(html, 'answer')).toBe(
    `Design 9 (panels, ground row, south: 24; battery modules: 5): ${crowns(money.total)} crowns over 20 years, ${crowns(money.capital)} crowns to buy.`,
  );
  expect(json.best).toMatchObject({ least: expect.closeTo(money.total, 6) });
  expect(tableOf(html, 'What it is made of').rows).toEqual([
    ['panels, ground row, south', '24', 'arrays[0].panels'],
    ['battery modules', '5', 'bank.modules_parallel'],
  ]);
  const front = tableOf(html, 'Designs that no other beats');
  expect(front.rows.filter((row) => row.at(-1) === 'yes, the answer').length).toBe(1);
  expect(textOf(html)).toContain('Generator, h a year');
  expect(sentenceOf(html, 'bill')).toMatch(/^Design 9 costs [\d,]+ crowns to buy\.$/);
});

describe('sweep.html', () => {
  const vary = ['--vary', 'arrays[0].size_kWp=2:30:7', '--vary', 'bank.modules_parallel=2:14:4'];

  test('two keys: what holds, the best of it, maps and ranges, with the figures of sweep.csv', async () => {
    const { html, out } = await madePage('sweep', demo('short-of-bank'), ...vary);
    const rows = rowsOf(out);
    const holding = rows.filter((row) => Number(row['unmet.hours']) === 0);
    expect(holding.length).toBeGreaterThan(0);
    expect(sectionIds(html)).toEqual(['holds', 'best', 'charts', 'designs', 'ranges', 'cautions', 'again']);
    expect(sentenceOf(html, 'holds')).toMatch(
      new RegExp(`^${holding.length} of ${rows.length} designs leaves? nothing unmet`),
    );
    const smallest = [...holding].sort(
      (a, b) =>
        Number(a['array.size_kWp']) - Number(b['array.size_kWp']) ||
        Number(a['bank.usable_kWh']) - Number(b['bank.usable_kWh']),
    )[0]!;
    expect(sentenceOf(html, 'best')).toBe(
      `Of those that leave nothing unmet design ${smallest.design} (array, lower ground row, south: ${smallest['arrays[0].size_kWp']} kWp; battery modules: ${smallest['bank.modules_parallel']}) has the smallest array.`,
    );
    const unmet = rows.map((row) => Number(row['unmet.energy_kWh']));
    expect(sentenceOf(html, 'charts')).toContain(`to ${amount(Math.max(...unmet))} at `);
    const map = tableOf(html, 'Unmet energy, kWh');
    expect(map.heads).toEqual(['battery modules', '2', '9', '16', '23', '30']);
    expect(map.rows.flatMap(([modules, ...cells]) => cells.map((cell) => [modules, cell]))).toEqual(
      ['2', '6', '10', '14'].flatMap((modules) =>
        rows
          .filter((row) => row['bank.modules_parallel'] === modules)
          .map((row) => [modules, amount(Number(row['unmet.energy_kWh']))]),
      ),
    );
    const range = tableOf(html, 'Every figure').rows.find((row) => row.at(-1) === 'unmet.hours')!;
    expect(range[2]).toBe(amount(Math.max(...rows.map((row) => Number(row['unmet.hours'])))));
    expect(textOf(html)).toContain('licensed electrician');
    expect(textOf(html)).toContain(
      "longnight sweep short-of-bank.yaml --vary 'arrays[0].size_kWp=2:30:7' --vary 'bank.modules_parallel=2:14:4' --out DIR",
    );
    // As text it would read "safe"; no page may.
    expect(textOf(html)).not.toMatch(/\bsafe\b/i);
  });

  test('one key with prices: curves, the front, and what the best costs', async () => {
    const { html, out } = await madePage(
      'sweep',
      demo('parts-with-generator'),
      '--vary',
      'arrays[0].panels=6:24:6',
    );
    const rows = rowsOf(out);
    const curve = tableOf(html, 'Figures over panels, ground row, south');
    expect(columnOf(curve, 'Capital, crowns')).toEqual(
      rows.map((row) => Number(amount(Number(row['money.capital'])).replaceAll(',', ''))),
    );
    expect(columnOf(tableOf(html, 'Designs that no other beats'), 'design')).toEqual([1, 2, 3, 4]);
    expect(sentenceOf(html, 'best')).toMatch(
      /design 1 \(panels, ground row, south: 6\) is the cheapest to buy\.$/,
    );
    expect(textOf(html)).toContain('panels, ground row, south: 6 is the least of its values');
  });

  test('none that holds, and no chart: said as such', async () => {
    const ended = longnight([
      'sweep',
      demo('short-of-bank'),
      '--vary',
      'bank.chemistry=lfp,lead_acid',
      '--out',
      join(folder, 'fails'),
    ]);
    expect(ended.stderr).toMatch(/^note: no chart/);
    const html = readFileSync(join(folder, 'fails/sweep.html'), 'utf8');
    expect(sentenceOf(html, 'holds')).toMatch(/^Every design leaves something unmet/);
    expect(html).toContain('class="verdict fails"');
    expect(sentenceOf(html, 'best')).toMatch(/^Least is unmet in design [12] /);
    expect(sentenceOf(html, 'charts')).toBe(
      'Nothing is drawn: the values of chemistry, bank are names, which have no scale.',
    );
  });

  test('does not grow with the number of designs', () => {
    const sizeOf = (n: number): number => {
      const values = Array.from({ length: n }, (_, k) => k + 1);
      const axes = ['arrays[0].panels', 'bank.modules_parallel'].map((path) => ({
        ...{ path, values, unit: '' },
        ...{ short: path, words: path },
      }));
      const list = designsOf(axes, null, null);
      const digest = new SweepDigest(axes, list);
      // A valley with a ripple, so that contours are long; dearer with size.
      for (let k = 0; k < list.count; k++) {
        const [a, b] = [Math.floor(k / n) / n, (k % n) / n];
        const unmet = Math.max(0, 400 - 300 * a - 250 * b + 30 * Math.sin(25 * a) * Math.cos(20 * b));
        const of: Partial<Record<string, number>> = {
          'unmet.energy_kWh': unmet,
          'unmet.hours': 2 * unmet,
          'generator.run_hours': 500 * (1.1 - a) * (1.2 - b),
          'money.capital': 1e4 * (1 + a + b),
        };
        const figures = DESIGN_FIGURES.map(({ name }) => of[name] ?? 0.5);
        digest.take(k, { figures, columns: figures, holds: unmet === 0, contradiction: null });
      }
      const manifest: SweepManifest = {
        format: 'longnight sweep 4',
        set: [],
        longnight: '0',
        scenario: { name: 'a.yaml', sha256: '' },
        parts_files: [],
        series_files: [],
        axes,
        sample: null,
        part: null,
        designs: list.count,
        site: 'Invented',
        over: 'Nowhere.',
        cautions: ['One.'],
        years: null,
        currency: null,
        terms: null,
        hour_worth: null,
        in_file: [1, 1],
        rows_sha256: null,
      };
      return toPage(sweepDocument(manifest, digest)).length;
    };
    const [some, many] = [sizeOf(120), sizeOf(400)];
    expect(some).toBeLessThan(1.2e6);
    expect(many).toBeLessThan(some * 1.1);
  });
});
