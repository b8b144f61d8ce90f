/** report.html without a browser: valid, self-contained, complete, and with the figures of report.json. */

import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Report } from '@longnight/core';
import { HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import {
  amount,
  fixed,
  hours,
  kWh,
  percent,
  socPercent,
} from '../../packages/cli/src/render/document/figures.ts';
import { stringSentences, stringsTitle } from '../../packages/cli/src/render/report/strings.ts';
import { verdictSentence } from '../../packages/cli/src/render/report/verdict-words.ts';
import {
  columnOf,
  reachesOut,
  sectionIds,
  sectionOf,
  sentenceOf,
  tableOf,
  termsOf,
  textOf,
} from './support/page.ts';
import { DEMO, longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** In the order in which they are read. */
const SECTIONS = [
  'verdict',
  'plant',
  'loads',
  'stated',
  'year',
  'months',
  'leanest',
  'autonomy',
  'gives-out',
  'seasons',
  'generator',
  'array',
  'bank',
  'wear',
  'cautions',
  'limits',
  'notices',
  'assumptions',
  'again',
];
/** Only where the plant or its file has something of the kind. */
const OTHERS = ['shore', 'alternator', 'ac-side', 'flexible', 'surplus', 'money'];
const MOST_bytes = 600_000;

interface Played {
  readonly html: string;
  readonly report: Report;
}

function played(file: string, ...options: string[]): Played {
  const out = join(folder, `out-${file.replace(/\W/g, '-')}${options.length}`);
  const ended = longnight(['run', file, '--out', out, ...options]);
  expect(ended.stderr).toBe('');
  expect(ended.status).toBe(0);
  return {
    html: readFileSync(join(out, 'report.html'), 'utf8'),
    report: JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')),
  };
}

const demo = (name: string): string => join(DEMO, `${name}.yaml`);
const PLANTS: readonly string[] = [
  demo('short-of-bank'),
  demo('holds'),
  demo('holds-with-generator'),
  demo('parts-with-generator'),
  join(ROOT, 'data/plants/mobile.yaml'),
  join(ROOT, 'data/plants/heat-pump-and-car.yaml'),
];
const pages = new Map<string, Played>();
beforeAll(() => {
  for (const file of PLANTS) pages.set(file, played(file));
});

const validator = new HtmlValidate({ extends: ['html-validate:recommended'] });

describe.each(PLANTS)('the page of %s', (file) => {
  const page = (): Played => pages.get(file)!;

  test('is valid HTML', async () => {
    const { results } = await validator.validateString(page().html);
    expect(
      results.flatMap(({ messages }) => messages.map((m) => `${m.line}: ${m.ruleId} ${m.message}`)),
    ).toEqual([]);
  });

  test('has every section, in order, and a way to each', () => {
    const { html } = page();
    const ids = sectionIds(html);
    expect(ids.filter((id) => !OTHERS.includes(id))).toEqual(SECTIONS);
    expect([...html.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id)).toEqual(ids);
    // Notices are a list where there are any.
    for (const id of ids.filter((one) => one !== 'notices'))
      expect(sentenceOf(html, id).length, id).toBeGreaterThan(10);
  });

  test('asks for nothing from anywhere, runs nothing, and stays below 600 kB', () => {
    const { html } = page();
    expect(html).toContain(
      `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:">`,
    );
    expect(reachesOut(html)).toEqual([]);
    expect(Buffer.byteLength(html)).toBeLessThan(MOST_bytes);
  });

  test('has no figure that is none, no folder of this machine, and no id twice', () => {
    const { html } = page();
    expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/);
    expect(html).not.toContain(folder);
    expect(html).not.toContain(ROOT);
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id!);
    expect(ids.filter((id, k) => ids.indexOf(id) !== k)).toEqual([]);
    // What a chart is called and described by is there.
    const named = [...html.matchAll(/aria-labelledby="([^"]+)"/g)].flatMap(([, list]) => list!.split(' '));
    expect(named.filter((id) => !ids.includes(id))).toEqual([]);
  });

  test('every drawing has a title and a description, and a table stands beside it', () => {
    const { html } = page();
    const drawings = [...html.matchAll(/<svg [^>]*role="img"[\s\S]*?<\/svg>/g)].map(([svg]) => svg);
    expect(drawings.length).toBeGreaterThan(12);
    for (const svg of drawings) {
      expect(textOf(svg.match(/<title[^>]*>([\s\S]*?)<\/title>/)![1]!)).not.toBe('');
      expect(textOf(svg.match(/<desc[^>]*>([\s\S]*?)<\/desc>/)![1]!).length).toBeGreaterThan(10);
    }
    for (const part of html.split('<section id=').slice(1)) {
      if (part.includes('role="img"')) expect(part.slice(0, 30) + part.includes('<table>')).toContain('true');
    }
  });

  test('its first figures are those of report.json', () => {
    const { html, report } = page();
    const { load, unmet, bank, array, generator } = report;
    expect(sentenceOf(html, 'verdict')).toBe(verdictSentence(report));
    expect(termsOf(html)).toMatchObject({
      wanted: kWh(load.wanted_kWh),
      unmet: kWh(unmet.energy_kWh),
      'hours with unmet load': hours(unmet.hours),
      'loss-of-load probability': percent(unmet.loss_of_load_probability),
      'longest outage': hours(unmet.longest_hours),
      'lowest state of charge': `${socPercent(bank.lowest_soc)} %`,
      'usable bank': kWh(bank.usable_kWh),
      arrays: `${amount(array.size_kWp)} kWp`,
      'sun curtailed': percent(array.curtailed_share),
    });
    expect(termsOf(html).generator).toMatch(generator === null ? /^none$/ : hours(generator.run_hours));
  });

  test('the table of months sums to report.json, and so do its rows', () => {
    const { html, report } = page();
    const table = tableOf(html, 'kWh by month');
    const year = (head: string): string => table.sums[table.heads.indexOf(head)]!;
    expect(year('wanted')).toBe(fixed(report.load.wanted_kWh, 1));
    expect(year('served')).toBe(fixed(report.load.served_kWh, 1));
    expect(year('unmet')).toBe(fixed(report.unmet.energy_kWh, 2));
    expect(year('sun used')).toBe(fixed(report.array.used_kWh, 1));
    expect(year('curtailed')).toBe(fixed(report.array.curtailed_kWh, 0));
    expect(year('losses')).toBe(fixed(report.losses.total_kWh, 1));
    if (report.generator !== null) expect(year('generator')).toBe(fixed(report.generator.energy_kWh, 1));
    if (report.shore !== null) expect(year('socket')).toBe(fixed(report.shore.energy_kWh, 1));
    if (report.alternator !== null) expect(year('alternator')).toBe(fixed(report.alternator.energy_kWh, 1));
    for (const head of table.heads.slice(1)) {
      const sum = columnOf(table, head).reduce((total, value) => total + value, 0);
      expect(Math.abs(sum - Number(year(head).replaceAll(',', ''))), head).toBeLessThan(
        head === 'curtailed' ? 7 : 0.7,
      );
    }
    expect(columnOf(table, 'unmet')).toEqual(
      report.unmet.by_month_kWh.map((value) => Number(value.toFixed(2))),
    );
  });

  test('the table of days has the year in it', () => {
    const { html, report } = page();
    const table = tableOf(html, 'The 365 days as figures');
    expect(table.rows.length).toBe(365);
    const sum = (head: string): number => columnOf(table, head).reduce((total, value) => total + value, 0);
    expect(Math.abs(sum('wanted, kWh') - report.load.wanted_kWh)).toBeLessThan(365 * 0.005);
    expect(Math.abs(sum('sun offered, kWh') - report.array.available_kWh)).toBeLessThan(365 * 0.005);
    expect(Math.abs(sum('unmet, kWh') - report.unmet.energy_kWh)).toBeLessThan(365 * 0.005);
    const lowest = columnOf(table, 'lowest SoC, %');
    expect(Math.min(...lowest)).toBe(Number(socPercent(report.bank.lowest_soc)));
    const day = table.rows[lowest.indexOf(Math.min(...lowest))]![0]!;
    expect(day <= report.bank.lowest_soc_time.slice(0, 10)).toBe(true);
  });

  test('the hours of the leanest days sum to its days', () => {
    const { html, report } = page();
    const lean = report.leanest_days;
    const table = tableOf(html, 'Mean powers over 1 h');
    expect(table.rows.length).toBe(24 * lean.days);
    const wanted = columnOf(table, 'wanted, kW');
    const served = columnOf(table, 'served, kW');
    const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
    const within = 24 * lean.days * 0.005;
    expect(Math.abs(sum(wanted) - lean.by_day.reduce((t, day) => t + day.wanted_kWh, 0))).toBeLessThan(
      within,
    );
    expect(Math.abs(sum(wanted) - sum(served) - lean.unmet_kWh)).toBeLessThan(2 * within);
    expect(Math.min(...columnOf(table, 'SoC, %'))).toBe(Number(socPercent(lean.lowest_soc)));
    const days = tableOf(html, `Day by day from ${lean.start}`);
    expect(columnOf(days, 'unmet, kWh')).toEqual(lean.by_day.map((day) => Number(day.unmet_kWh.toFixed(2))));
  });

  test('survival, causes and limits are those of report.json', () => {
    const { html, report } = page();
    const curve = tableOf(html, 'Share of all starts');
    expect(columnOf(curve, 'hours')).toEqual(
      report.autonomy.sunless_hours.survival.map((point) => point.hours),
    );
    expect(columnOf(curve, '% of starts')).toEqual(
      report.autonomy.sunless_hours.survival.map((point) => Number((100 * point.starts_share).toFixed(1))),
    );
    const sorted = (split: object): number[] =>
      Object.values(split)
        .filter((value) => value > 0)
        .sort((a, b) => b - a)
        .map((value) => Number(value.toFixed(2)));
    if (report.unmet.energy_kWh > 0)
      expect(columnOf(tableOf(html, 'Why load goes unmet'), 'kWh')).toEqual(
        sorted(report.unmet.by_cause_kWh),
      );
    expect(columnOf(tableOf(html, 'Why sun is curtailed'), 'kWh')).toEqual(
      sorted(report.array.curtailed_by_cause_kWh),
    );
    expect(columnOf(tableOf(html, 'How close the plant came'), '% used')).toEqual(
      report.gives_out_first.closest.map((near) => Number((100 * near.used_share).toFixed(1))),
    );
  });

  test('loads are listed with their shares, the largest first, and sum to what is wanted', () => {
    const { html, report } = page();
    const table = tableOf(html, 'Loads, the largest first');
    expect(table.rows.length).toBe(report.load.by_load.length);
    const days = table.rows.map(([, , day]) => Number(day === 'n/a' ? 0 : day));
    expect(days).toEqual([...days].sort((a, b) => b - a));
    const sum = days.reduce((whole, day) => whole + day, 0);
    expect(Math.abs(sum - report.load.mean_kWh_day)).toBeLessThan(0.005 * days.length);
    expect(table.sums[2]).toBe(fixed(report.load.mean_kWh_day, 2));
    for (const { name, kind } of report.load.by_load)
      expect(textOf(sectionOf(html, 'loads'))).toContain(
        kind === 'flexible'
          ? `${name} (flexible)`
          : kind === 'surplus'
            ? `${name} (takes what is left over)`
            : name,
      );
  });

  test('the plant as built and every stated input are on it', () => {
    const { html } = page();
    const plant = textOf(sectionOf(html, 'plant'));
    const { arrays, bank, generator } = parse(readFileSync(file, 'utf8'));
    for (const array of arrays) {
      expect(plant).toContain(`array: ${array.name}`);
      expect(plant).toContain(`azimuth ${array.azimuth_deg}°`);
    }
    expect(plant).toContain(`${bank.modules_parallel} module`);
    expect(/generator/.test(plant)).toBe(generator !== undefined);
    const { rows } = tableOf(html, 'Every stated input');
    const stated = rows.map(([, said]) => said!.split('; ').length).reduce((sum, count) => sum + count, 0);
    expect(stated).toBeGreaterThan(20);
    for (const key of Object.keys(bank).filter((key) => typeof bank[key] !== 'object'))
      expect(rows.find(([of]) => of === 'bank')![1]).toContain(`${key} ${bank[key]}`);
  });

  test('every assumption and caution is on it, and how to make it again', () => {
    const { html, report } = page();
    const said = textOf(html);
    for (const caution of report.cautions) expect(said).toContain(caution);
    for (const check of report.strings)
      for (const words of [stringsTitle(check), ...stringSentences(check)]) expect(said).toContain(words);
    const anyItem = (path: string): string => path.replace(/\[\d+\]/, '[]');
    const named = [
      ...sectionOf(html, 'assumptions').matchAll(/<t[hd][^>]* class="code">([\s\S]*?)<\/t[hd]>/g),
    ].map(([, path]) => textOf(path!));
    expect([...new Set(named.map(anyItem))].sort()).toEqual(
      [...new Set(report.assumptions.map(({ path }) => anyItem(path)))].sort(),
    );
    // Counted once, however many loads it is for, and not where it says no more than "one of it".
    const meant = [
      ...new Set(
        report.assumptions.map(({ path, value, why, moves }) =>
          moves === 'nothing' ? '' : JSON.stringify([anyItem(path), value, why]),
        ),
      ),
    ].filter((key) => key !== '');
    expect(sentenceOf(html, 'assumptions')).toContain(`rest on ${meant.length} assumptions`);
    const crucial = tableOf(html, 'Could change the verdict by much').rows.map(([path]) => path!);
    expect(crucial.slice(0, 3)).toEqual([
      expect.stringMatching(/losses\.snow_share$|model\.sky\.air_temperature/),
      expect.any(String),
      expect.any(String),
    ]);
    expect(crucial).toContain('run.initial_soc');
    expect(tableOf(html, 'What was read').rows[0]![1]).toBe(
      createHash('sha256').update(readFileSync(file)).digest('hex'),
    );
    expect(said).toContain(`drawn year ${report.run.seed}`);
    expect(said).toContain(`longnight run ${file.split('/').at(-1)} --out DIR`);
  });
});

describe('sentences say what is seen', () => {
  const sentences = (name: string): Record<string, string> => {
    const { html } = pages.get(name)!;
    return Object.fromEntries(
      sectionIds(html)
        .filter((id) => id !== 'notices')
        .map((id) => [id, sentenceOf(html, id)]),
    );
  };

  test('a failing plant and a holding one read otherwise wherever they differ', () => {
    const [fails, holds] = [sentences(demo('short-of-bank')), sentences(demo('holds'))];
    for (const id of ['verdict', 'year', 'months', 'leanest', 'autonomy', 'gives-out', 'limits'])
      expect(fails[id], id).not.toBe(holds[id]);
    const { unmet, leanest_days } = pages.get(demo('short-of-bank'))!.report;
    expect(fails.year).toContain(`outages, ${unmet.hours} h in all, in Nov and Dec;`);
    expect(holds.year).toMatch(/^No hour of the year goes unmet; the bank is lowest with \d+ %/);
    expect(fails.months).toMatch(/most goes unmet in Dec \(\d\d\.\d kWh\)/);
    expect(holds.months).toContain('nothing goes unmet');
    expect(fails.leanest).toContain(`${amount(leanest_days.unmet_kWh)} kWh go unmet`);
    expect(holds.leanest).toContain('nothing goes unmet');
    expect(holds.seasons).toContain('in none of the four does load go unmet');
  });

  test('what a plant lacks is said, what it has is shown', () => {
    const bare = sentences(demo('short-of-bank'));
    expect(bare.money).toBeUndefined();
    expect(bare.wear).toMatch(/^The scenario states no life of the bank/);
    expect(bare.months).not.toContain('generator');
    expect(bare.limits).toContain('there is no AC charging');
    const { html, report } = pages.get(demo('parts-with-generator'))!;
    const full = sentences(demo('parts-with-generator'));
    expect(full.money).toMatch(/^12,522 crowns to buy/);
    expect(full.wear).toContain(`Worn after ${amount(report.bank.wear!.years_to_end_of_life)} such years`);
    expect(full.months).toMatch(/the generator gives most in Dec \(1\d\d kWh\)/);
    expect(tableOf(html, 'Bill of materials').sums.at(-2)).toBe(fixed(report.money!.capital, 0));
    expect(columnOf(tableOf(html, 'Cycles in the year'), 'cycles')).toEqual(
      report.bank.wear!.cycles_by_depth.map((band) => Number(band.cycles.toFixed(1))),
    );
    // A generator's panel and column stand where there is a generator, and nowhere else.
    expect(html).toContain('Generator, kW');
    expect(pages.get(demo('holds'))!.html).not.toContain('Generator, kW');
  });
});

test('text from a scenario stays text', () => {
  const file = join(folder, 'odd.yaml');
  const name = `<script>alert("1")</script> & 'so' <b>on</b>`;
  const text = readFileSync(demo('holds'), 'utf8').replace(
    /name: Tolvmyr.*/,
    `name: ${JSON.stringify(name)}`,
  );
  writeFileSync(file, text);
  const { html } = played(file);
  expect(reachesOut(html)).toEqual([]);
  expect(textOf(html.match(/<h1>([\s\S]*?)<\/h1>/)![1]!)).toBe(`${name}: the year 2026`);
});

test('a long lean, a sub-hourly step and several years have their page too', async () => {
  const file = join(folder, 'quarters.yaml');
  writeFileSync(
    file,
    readFileSync(demo('short-of-bank'), 'utf8').replace(/^run:\n/m, 'run:\n  step_min: 15\n'),
  );
  const { html, report } = played(file, '--lean-days', '30', '--years', '2', '--seeds', '2');
  expect(report.run.step_min).toBe(15);
  expect((await validator.validateString(html)).valid).toBe(true);
  expect(textOf(html)).toContain('--out DIR --years 2 --seeds 2 --lean-days 30');
  expect(tableOf(html, 'Each year as played').rows.length).toBe(2);
  const over = report.ensemble!.over_years;
  const half = tableOf(html, 'Over the drawn years').rows.map(([, , half]) => half);
  expect([half[0], half.at(-1)]).toEqual([
    over[0]!.percentiles[1]!.value.toFixed(2),
    socPercent(over.at(-1)!.percentiles[1]!.value),
  ]);
  const [more] = tableOf(html, 'Unmet in a year, kWh: in how many of 2 years more than that').rows;
  expect(more![1]).toBe(`${report.ensemble!.by_year.filter((row) => row.unmet_kWh > 0).length}`);
  expect(tableOf(html, `Day by day from ${report.leanest_days.start}`).rows.length).toBe(30);
  // Intervals of three hours: 240 of them in thirty days.
  expect(textOf(html)).toContain('Powers are means over 3 h');
  expect(Buffer.byteLength(html)).toBeLessThan(MOST_bytes);
});

describe('a scenario that says whose it is', () => {
  const plain = readFileSync(demo('holds-with-generator'), 'utf8');
  const of = (name: string, project: string): string => {
    const file = join(folder, name);
    writeFileSync(file, `${plain}\nproject: ${project}\n`);
    return file;
  };

  test('has it at head and foot of page and Markdown, and in report.json; nothing else changes', () => {
    const file = of('named.yaml', '{ title: Tarn hut, client: A. N. Owner, reference: "17", revision: B }');
    const { html, report } = played(file);
    const other = pages.get(demo('holds-with-generator'))!.report;
    expect(report.project).toEqual({
      title: 'Tarn hut',
      client: 'A. N. Owner',
      author: null,
      reference: '17',
      revision: 'B',
    });
    expect(other.project.title).toBeNull();
    expect({ ...report, project: null }).toEqual({ ...other, project: null });
    const words = 'For A. N. Owner, reference 17, revision B.';
    expect(textOf(html.match(/<h1>(.*?)<\/h1>/)![1]!)).toBe('Tarn hut: the year 2026');
    expect(textOf(html.match(/<header>[\s\S]*?<nav/)![0])).toContain(words);
    expect(textOf(html.match(/<footer>[\s\S]*?<\/footer>/)![0])).toContain(words);
    const markdown = readFileSync(join(folder, `out-${file.replace(/\W/g, '-')}0`, 'report.md'), 'utf8');
    expect(markdown).toMatch(/^# Tarn hut: the year 2026\n\nFor A. N. Owner/);
    expect(markdown.trimEnd().split('\n').at(-1)).toMatch(/^For A. N. Owner, .*Made by Longnight/);
  });

  test('can say only so much, and only what is asked', () => {
    for (const [project, place] of [
      [`{ client: ${'x'.repeat(201)} }`, /project\.client/],
      ['{ client: "" }', /project\.client/],
      ['{ customer: A }', /project/],
    ] as const) {
      const ended = longnight(['run', of('bad.yaml', project)]);
      expect(ended.status).toBe(2);
      expect(ended.stderr).toMatch(place);
      expect(ended.stderr).toMatch(/bad\.yaml:\d+:\d+/);
    }
  });
});
