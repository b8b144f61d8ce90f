/** The pages of `spell`, `compare` and `size`: valid, self-contained, and with the figures of their JSON. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { afterAll, expect, test } from 'vitest';
import { fixed, kWh, socPercent } from '../../packages/cli/src/render/figures.ts';
import { columnOf, reachesOut, sectionIds, sentenceOf, tableOf, textOf } from './support/page.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const validator = new HtmlValidate({ extends: ['html-validate:recommended'] });
const demo = (name: string): string => join(DEMO, `${name}.yaml`);

/** Runs a command into a folder of its own and reads page and JSON. */
async function made(
  command: string,
  ...args: string[]
): Promise<{ html: string; json: Record<string, never> }> {
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
  return { html, json: JSON.parse(readFileSync(join(out, `${command}.json`), 'utf8')) };
}

test('spell.html: what is ridden out and what is not, with the figures of spell.json', async () => {
  const fails = await made('spell', demo('short-of-bank'));
  const spell = fails.json.spell as unknown as Record<string, number> & {
    by_day: { unmet_kWh: number; wanted_kWh: number }[];
  };
  expect(sectionIds(fails.html)).toEqual(['answers', 'hours', 'cautions', 'again']);
  expect(sentenceOf(fails.html, 'answers')).toMatch(
    new RegExp(`^No: ${kWh(spell.unmet_kWh!)} of ${kWh(spell.wanted_kWh!)} wanted go unserved`),
  );
  expect(sentenceOf(fails.html, 'hours')).toContain(`comes down to ${socPercent(spell.lowest_soc!)} %`);
  expect(columnOf(tableOf(fails.html, 'Day by day'), 'unserved, kWh')).toEqual(
    spell.by_day.map((day) => Number(day.unmet_kWh.toFixed(2))),
  );
  const hours = tableOf(fails.html, 'Mean powers over 1 h');
  const unserved = columnOf(hours, 'wanted, kW').reduce(
    (sum, kW, k) => sum + kW - columnOf(hours, 'served, kW')[k]!,
    0,
  );
  expect(Math.abs(unserved - spell.unmet_kWh!)).toBeLessThan(168 * 0.01);
  expect(textOf(fails.html)).toContain('longnight spell short-of-bank.yaml --days 7 --soc 1 --out DIR');

  const holds = await made('spell', demo('holds-with-generator'), '--days', '5');
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
    'holds and holds-with-generator hold; load goes unserved in short-of-bank.',
  );
  const rows = json.rows as unknown as { name: string; values: (number | null)[] }[];
  const values = (name: string) => rows.find((row) => row.name === name)!.values;
  const year = tableOf(html, 'The year');
  const cells = (head: string) => year.rows.find(([name]) => name === head)!.slice(1);
  expect(cells('lowest charge, %').map((cell) => cell.replace(' *', ''))).toEqual(
    values('bank.lowest_soc').map((soc) => socPercent(soc!)),
  );
  expect(cells('unserved hours a year')).toEqual([fixed(values('unmet.hours')[0]!, 0), '0 *', '0 *']);
  expect(textOf(html)).toContain('licensed electrician');

  const priced = await made('compare', demo('parts-with-generator'), demo('parts-sun-alone'));
  expect(sentenceOf(priced.html, 'verdict')).toBe('Both plants hold: no load goes unserved in any.');
  expect(sentenceOf(priced.html, 'bills')).toBe('parts-with-generator costs least to buy: 12,522 crowns.');
  expect(sentenceOf(priced.html, 'buys')).toMatch(/^parts-sun-alone costs/);
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
    '--hold',
    'unmet.share<=0.001',
    '--hold',
    'generator.run_hours<=60',
  );
  expect(sectionIds(html)).toEqual(['answer', 'beside', 'front', 'harder', 'bill', 'cautions', 'again']);
  const said = JSON.stringify(json);
  expect(sentenceOf(html, 'answer')).toMatch(
    /^Design 8, arrays\[0\]\.panels 24, bank\.modules_parallel 4: 20,915 crowns over 20 years\.$/,
  );
  expect(said).toContain('20915');
  expect(tableOf(html, 'What it is made of').rows).toEqual([
    ['arrays[0].panels', '24'],
    ['bank.modules_parallel', '4'],
  ]);
  const front = tableOf(html, 'Designs that no other beats');
  expect(front.rows.filter((row) => row.at(-1) === 'yes, the answer').length).toBe(1);
  expect(textOf(html)).toContain('Generator, h a year');
  expect(sentenceOf(html, 'bill')).toMatch(/^Design 8 costs [\d,]+ crowns to buy\.$/);
});
