/** Core finds, the CLI says: report.json carries ids and numbers, and every figure in a sentence is rounded in one place. */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  findings,
  improvePlant,
  plantOf,
  playYear,
  prepareYear,
  type Report,
  readScenario,
} from '@longnight/core';
import { afterAll, describe, expect, test } from 'vitest';
import { kWh } from '../../packages/cli/src/render/document/figures.ts';
import { said, type WordsFor } from '../../packages/cli/src/render/document/said.ts';
import { verdictSentence } from '../../packages/cli/src/render/report/verdict-words.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const text = readFileSync(join(DEMO, 'short-of-bank.yaml'), 'utf8');
const reportOf = (scenario: string): Report => {
  const year = prepareYear(readScenario(scenario, 's.yaml'), 's.yaml', new Map());
  const plant = plantOf(year.scenario);
  return findings(playYear(year, plant));
};
const report = reportOf(text);

test('the verdict rounds as the figures under it do', () => {
  const large = {
    ...report,
    load: { ...report.load, wanted_kWh: 37_111.6 },
    unmet: { ...report.unmet, energy_kWh: 26_265.9 },
  };
  expect(verdictSentence(large)).toContain('26,266 kWh of 37,112 kWh wanted');
  expect(verdictSentence(report)).toContain(
    `${kWh(report.unmet.energy_kWh)} of ${kWh(report.load.wanted_kWh)} wanted`,
  );
});

test('what core found has no sentence in it but cautions and what was said in reading', () => {
  const told = new Set(['cautions', 'notices.message', 'load.by_load.name']);
  const sentences: string[] = [];
  const walk = (value: unknown, name: string): void => {
    if (typeof value === 'string') {
      if (!told.has(name) && value.split(' ').length > 4) sentences.push(`${name}: ${value}`);
    } else if (typeof value === 'object' && value !== null)
      for (const [key, inside] of Object.entries(value))
        walk(inside, Array.isArray(value) ? name : name === '' ? key : `${name}.${key}`);
  };
  const odd = text
    .replace(/azimuth_deg: \d+/, 'azimuth_deg: 0')
    .replace(/^run:\n/m, 'run:\n  initial_soc: 0.5\n');
  const found = reportOf(odd);
  expect(found.notices.map(({ id }) => id)).toContain('faces-the-pole');
  const { assumptions, ...rest } = found;
  walk(rest, '');
  // What is said of them was said in reading, but of the beginning of the year.
  const begun = assumptions.find(({ path }) => path === 'run.initial_soc')!;
  expect(begun.why).toMatchObject({ id: 'year_begins_as_given', begins_soc: expect.closeTo(0.5, 9) });
  const improvement = improvePlant({ text, file: 's.yaml', partsTexts: new Map() }, new Map());
  expect(improvement.helping.length).toBeGreaterThan(0);
  walk(improvement.helping, '');
  expect(sentences).toEqual([]);
});

test('an id without words does not compile', () => {
  type Found = { readonly id: 'one' | 'other'; readonly count: number } | { readonly id: 'third' };
  const words: WordsFor<Found> = { one: ({ count }) => `${count}`, other: () => 'o', third: () => 't' };
  expect(said<Found, string>(words, { id: 'one', count: 2 })).toBe('2');
  expect(said<Found, string>(words, { id: 'third' })).toBe('t');
  // @ts-expect-error: third lacks its words
  const lacking: WordsFor<Found> = { one: () => '', other: () => '' };
  expect(Object.keys(lacking)).toHaveLength(2);
});

describe('no key stands in a headline, over a column or on an axis', () => {
  const folder = temporaryFolder();
  afterAll(() => removeFolder(folder));
  const engine = join(DEMO, 'parts-with-generator.yaml');
  const grid = ['--vary', 'arrays[0].panels=14,22', '--vary', 'generator.start_soc=0.2,0.3'];
  const KEY = /\b[a-z]\w*(\[\d+\])?\.[a-z]\w*_?\w*|[a-z]_[a-z]/;

  test.each([
    ['size', [engine, ...grid, '--require', 'generator.run_hours<=90', '--require', 'unmet.share<=0.01']],
    ['size', [engine, ...grid, '--require', 'generator.run_hours<=1', '--least', 'generator.fuel_L']],
    ['sweep', [engine, ...grid]],
    ['sweep', [engine, '--vary', 'arrays[0].tilt_deg=60:80:10']],
    ['sweep', [engine, '--vary', 'bank.part=module-5kWh,module-10kWh']],
    ['compare', [engine, join(DEMO, 'parts-sun-alone.yaml')]],
    ['improve', [join(DEMO, 'short-of-bank.yaml')]],
    ['sway', [engine]],
  ] as const)('%s %j', (command, args) => {
    const out = join(folder, `${command}-${Math.random()}`);
    const { stdout } = longnight([command, ...args, '--out', out]);
    const read = (name: string): string =>
      existsSync(join(out, name)) ? readFileSync(join(out, name), 'utf8') : '';
    const html = read(`${command}.html`);
    const texts = (pattern: RegExp, of: string): string[] =>
      [...of.matchAll(pattern)].map(([, text]) => text!);
    const said = [
      stdout.split('\n')[0]!,
      ...texts(
        /<(?:title|h1|h2|h3|th scope="col"|caption|text|figcaption)\b[^>]*>(.*?)<\//gs,
        html + read('sweep.svg'),
      ),
      ...texts(/<p class="verdict[^>]*>(.*?)<\/p>/gs, html),
      ...texts(/^#+ (.*)$/gm, read(`${command}.md`)),
      ...texts(/^(\|.*)\n\| ?:?-/gm, read(`${command}.md`)),
    ];
    expect(said.length).toBeGreaterThan(8);
    // Files have names with a dot in them.
    const plain = said.map((text) => text.replace(/\b\w+\.(csv|json|yaml|html|md|svg)\b/g, ''));
    expect(plain.filter((text) => KEY.test(text))).toEqual([]);
  });
});
