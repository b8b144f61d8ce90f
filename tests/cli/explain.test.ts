/** Every figure of report.json is explained, and what is said of how it is made is true of it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  FIGURES,
  findings,
  LEDGER_COLUMNS,
  type Ledger,
  newYearPreparer,
  partsFilesNamed,
  plantOf,
  playEnsemble,
  playYear,
  playYears,
  prepareYear,
  type Report,
  readScenario,
} from '@longnight/core';
import { figureNamed, figuresOfReport } from '@longnight/core/findings';
import { BESIDE_COLUMNS } from '@longnight/core/ledger';
import { hoursByYear, possibleYears } from '@longnight/core/study';
import { expect, test } from 'vitest';
import { TERMS, titleOf } from '../../packages/cli/src/render/help/explain.ts';
import { countsAs } from '../../packages/core/src/findings/figures/figures.ts';
import { longnight, ROOT } from './support/process.ts';

const files = ['data/demo', 'data/plants'].flatMap((folder) =>
  readdirSync(join(ROOT, folder))
    .filter((name) => name.endsWith('.yaml') && !name.startsWith('parts.'))
    .map((name) => join(ROOT, folder, name)),
);

/** Every plant of data/, played for a year and on for another. */
const played: { report: Report; ledger: Ledger }[] = files.map((file) => {
  const text = readFileSync(file, 'utf8');
  const parts = new Map(
    partsFilesNamed(text, file).map((name) => [name, readFileSync(join(file, '..', name), 'utf8')]),
  );
  const read = readScenario(text, file, parts);
  const year = prepareYear(read, file, new Map());
  const plant = plantOf(read.scenario);
  const ledger = playYear(year, plant);
  const years = playYears({
    years: 2,
    plant,
    yearOf: hoursByYear(year, newYearPreparer(file, new Map())),
    array_ageing_share_per_year: read.scenario.arrays.map((array) => array.ageing_share_per_year),
  });
  const { weather } = read.scenario;
  const ensemble =
    weather.kind === 'monthly_means'
      ? playEnsemble({
          scenario: read.scenario,
          plant,
          years: possibleYears(read, file, new Map(), { seeds: 2 }).years,
          prepare: newYearPreparer(file, new Map()),
        })
      : null;
  return { report: { ...findings(ledger), years, ensemble }, ledger };
});

/** Dotted names of all that stands in a report, lists without places; what is null or an empty list apart. */
function namesIn(report: Report): { full: Set<string>; empty: Set<string> } {
  const [full, empty] = [new Set<string>(), new Set<string>()];
  const walk = (value: unknown, name: string): void => {
    if (reasons.has(name)) full.add(name);
    else if (value === null || (Array.isArray(value) && value.length === 0)) empty.add(name);
    else if (Array.isArray(value)) for (const item of value) walk(item, name);
    else if (typeof value === 'object')
      for (const [key, inside] of Object.entries(value)) walk(inside, name === '' ? key : `${name}.${key}`);
    else full.add(name);
  };
  walk(report, '');
  return { full, empty };
}

const explained = new Set<string>(FIGURES.map(({ name }) => name));
/** Ids with values, whose units stand in their names. */
const reasons = new Set<string>(FIGURES.filter(({ unit }) => unit === 'reason').map(({ name }) => name));

test('every figure of report.json has its meaning', () => {
  expect(files.length).toBeGreaterThan(6);
  for (const { report } of played) {
    const { full, empty } = namesIn(report);
    expect(full.size).toBeGreaterThan(120);
    expect([...full].filter((name) => !explained.has(name))).toEqual([]);
    // A section that this plant lacks is explained by its figures.
    const unknown = [...empty].filter(
      (name) => !explained.has(name) && ![...explained].some((known) => known.startsWith(`${name}.`)),
    );
    expect(unknown).toEqual([]);
  }
});

test('nothing is explained twice, or that no report has', () => {
  expect(explained.size).toBe(FIGURES.length);
  const seen = new Set(
    played.flatMap(({ report }) => {
      const { full, empty } = namesIn(report);
      return [...full, ...empty];
    }),
  );
  // No plant of data/ has weather of several years or with gaps, load files, a danger, heat that takes from a rating, prices beside cycles against their depth, or a part that is worn in three years.
  // Drawn years have the shape of measured ones, and none of them is left out or lacks rows.
  const rare =
    /^(every_year|ensemble\.(left_out|repeated)|notices|dangers)\.|^peak\.(rows|hottest)\.|^money\.bill\.life\.by_depth$|^years\.by_year\.replaced\./;
  expect([...explained].filter((name) => !seen.has(name) && !rare.test(name))).toEqual([]);
});

/** Single numbers of a report by name, found without the table. */
function numbersIn(report: Report): Map<string, number> {
  const found = new Map([['dangers', report.dangers.length]]);
  const walk = (value: unknown, name: string): void => {
    if (typeof value === 'number') found.set(name, value);
    else if (typeof value === 'object' && value !== null && !Array.isArray(value))
      for (const [key, inside] of Object.entries(value)) walk(inside, name === '' ? key : `${name}.${key}`);
  };
  walk(report, '');
  return found;
}

test('the table says how each single number is read, and what a null stands for', () => {
  const names = played.map(({ report: { years, ensemble, every_year, ...report } }) =>
    [...figuresOfReport({ ...report, years: null, ensemble: null, every_year: null }).keys()].join(),
  );
  // One set of names, whatever a plant lacks.
  expect(new Set(names).size).toBe(1);
  let lacking = 0;
  for (const { report } of played) {
    const figures = figuresOfReport(report);
    expect(Object.fromEntries([...figures].filter(([, value]) => value !== null))).toEqual(
      Object.fromEntries(numbersIn(report)),
    );
    for (const [name, value] of figures) {
      const { lack } = figureNamed(name)!;
      if (value !== null) continue;
      expect(lack, name).not.toBe(null);
      expect(countsAs(name, null), name).toBe(lack === 'none' ? 0 : null);
      lacking++;
    }
  }
  expect(lacking).toBeGreaterThan(100);
});

test('"sum of a column" and "this / that" are how the figure is made', () => {
  const columns = new Set<string>([...LEDGER_COLUMNS, ...BESIDE_COLUMNS].map(({ name }) => name));
  let sums = 0;
  let quotients = 0;
  for (const { report, ledger } of played) {
    const figures = figuresOfReport(report);
    for (const { name, formula } of FIGURES) {
      // These are of other years than the ledger's.
      if (name.startsWith('ensemble.')) continue;
      const figure = figures.get(name);
      const column = formula?.match(/^sum of (\w+)$/)?.[1];
      if (column?.includes('_')) {
        expect(columns.has(column), `${name} = ${formula}`).toBe(true);
        // A stretch's figures are the same sums over its own days.
        if (typeof figure !== 'number' || /^(leanest_days|every_year)/.test(name)) continue;
        const values: Float64Array = ledger.columns[column as keyof Ledger['columns']];
        const total = values.reduce((all, value) => all + value, 0);
        expect(total, name).toBeCloseTo(figure, 6);
        sums++;
      }
      const [, over, under] = formula?.match(/^([a-z]\w*\.\w[\w.]*) \/ ([a-z]\w*\.\w[\w.]*)$/) ?? [];
      if (over === undefined || under === undefined || typeof figure !== 'number') continue;
      expect(figures.get(over)! / figures.get(under)!, `${name} = ${formula}`).toBeCloseTo(figure, 9);
      quotients++;
    }
  }
  expect(sums).toBeGreaterThan(100);
  expect(quotients).toBeGreaterThan(30);
});

test('explain says meaning, formula and source of a figure', () => {
  const { stdout, status } = longnight(['explain', 'autonomy.nominal_days']);
  expect(status).toBe(0);
  expect(stdout).toMatch(
    /^autonomy\.nominal_days \(d\), report\.json\n {2}days that [^=]*\n {2}= bank\.usable_kWh \/ load\.mean_kWh_day\n {2}Source: IEEE Std 1013-2000/,
  );
});

test.each([
  ['a column', 'bank_soc', /^bank_soc, hours\.csv\n/],
  ['a tier', 'load_tier_3_wanted_kWh', /tier 3 ask for/],
  ['a place in a list', 'unmet.outages[4].hours', /^unmet\.outages\.hours \(h\)/],
  ['a last word', 'performance_ratio', /^array\.performance_ratio, report/],
  ['a section', 'generator', /^generator, word[\s\S]*\ngenerator\.run_hours[\s\S]*\ngenerator\.fuel_L/],
])('explain takes %s', (_, term, words) => {
  expect(longnight(['explain', term])).toMatchObject({ status: 0, stderr: '' });
  expect(longnight(['explain', term]).stdout).toMatch(words);
});

test('a mistyped name gets the nearest one', () => {
  const ended = longnight(['explain', 'unmet.shaer']);
  expect(ended).toMatchObject({ status: 2, stdout: '' });
  expect(ended.stderr).toMatch(
    /there is no word, figure, column or key "unmet\.shaer"[\s\S]*fix: did you mean "unmet\.share"\?/,
  );
});

test('a word of the vocabulary has one sentence, and the names that it is met under', () => {
  const words = TERMS.filter(({ where }) => where === 'word');
  const names = new Set(TERMS.filter(({ where }) => where !== 'word').map(({ name }) => name));
  const sections = [...names].map((name) => `${name}.`.replace(/[^.]+\.$/, ''));
  for (const { name, meaning, see } of words) {
    expect(meaning, name).toMatch(/^[A-Z](?!.*\. ).*[^.]$/);
    for (const met of see!)
      expect(names.has(met) || sections.includes(`${met}.`), `${name}: ${met}`).toBe(true);
    expect(longnight(['explain', ...name.split(' ')]).stdout.startsWith(`${name}, word\n`), name).toBe(true);
  }
});

test.each([
  [['outages'], /^outage, word\n {2}Steps on end with unmet load\n {2}See unmet\.outages/],
  [['SoC'], /^state of charge, word\n/],
  [['Idle draw'], /^idle draw, word\n/],
  [['holds'], /^holds, word\n[\s\S]*\nverdict\.holds, report\.json\n/],
  [['unmet'], /^unmet, word\n[\s\S]*\nunmet\.energy_kWh \(kWh\), report\.json\n/],
])('explain takes %j', (words, told) => {
  expect(longnight(['explain', ...words])).toMatchObject({ status: 0, stderr: '' });
  expect(longnight(['explain', ...words]).stdout).toMatch(told);
});

/** Words that the vocabulary of the project fixes, and those that the screens can't do without. */
test('every word that the reports are told in is there', () => {
  const known = TERMS.filter(({ where }) => where === 'word').map(({ name }) => name);
  for (const word of [
    ...['plant', 'array', 'bank', 'leg', 'tier', 'step', 'ledger', 'unmet', 'outage', 'curtailed'],
    ...['state of charge', 'leanest week', 'requirement', 'holds', 'sunless hours', 'median start'],
    ...['energy balance', 'idle draw', 'flexible load', 'alternator', 'shore', 'monthly means'],
    ...['drawn year', 'floor', 'danger'],
  ])
    expect(known).toContain(word);
});

test('without a name all are listed, in 80 columns; --json gives the same as data', () => {
  const { stdout } = longnight(['explain']);
  const lines = stdout.split('\n');
  const said = stdout.replace(/\s+/g, ' ');
  for (const term of TERMS) expect(said).toContain(`- ${titleOf(term)}: `);
  expect(lines.filter((line) => line.length > 80)).toEqual([]);
  expect(JSON.parse(longnight(['explain', '--json']).stdout)).toEqual(TERMS);
});
