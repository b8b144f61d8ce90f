import { spawn } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  billOfScenario,
  findings,
  plantOf,
  playYear,
  prepareYear,
  type Report,
  readScenario,
  type StudyText,
  sizePlant,
  varyPlant,
} from '@longnight/core';
import { NOT_HARDER, newChunkPlayer, openStudy, readAxis, readRequirement } from '@longnight/core/study';
import { afterAll, describe, expect, test } from 'vitest';
import {
  bySomePrice,
  cheapestUpwards,
  playAll,
  type SizeWork,
} from '../../packages/cli/src/workers/sizer.ts';
import { chooseDesign } from '../../packages/core/src/study/size/size.ts';
import {
  bundle,
  contents,
  DEMO,
  longnight,
  longnightProcess,
  ROOT,
  removeFolder,
  temporaryFolder,
} from './support/process.ts';
import { noPosix } from './support/system.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const engine = join(DEMO, 'parts-with-generator.yaml');
const sun = join(DEMO, 'parts-sun-alone.yaml');
const partsTexts = new Map(
  ['panels', 'modules', 'inverters', 'generators'].map((name) => [
    `../parts/${name}.yaml`,
    readFileSync(join(ROOT, `data/parts/${name}.yaml`), 'utf8'),
  ]),
);
const sourceOf = (file: string): StudyText => ({ text: readFileSync(file, 'utf8'), file, partsTexts });
const size = (...args: string[]) => longnight(['size', ...args]);
const json = (...args: string[]) => JSON.parse(size(...args, '--json').stdout);

/** The report of a plant typed anew, with no study in between. */
function reportOf(file: string, panels: number, modules: number, seed = 92): Report {
  const text = readFileSync(file, 'utf8')
    .replace(/panels: \d+/, `panels: ${panels}`)
    .replace(/modules_parallel: \d+/, `modules_parallel: ${modules}`)
    .replace(/seed: \d+/, `seed: ${seed}`);
  const read = readScenario(text, file, partsTexts);
  const year = prepareYear(read, file, new Map());
  const plant = plantOf(read.scenario);
  return findings(playYear(year, plant));
}

const PANELS = [12, 16, 20, 24, 28];
const MODULES = [2, 3, 4, 5, 6];
const GRID = ['--vary', `arrays[0].panels=${PANELS}`, '--vary', `bank.modules_parallel=${MODULES}`];

describe('the answer is that of trying every design by hand', () => {
  const reports = PANELS.flatMap((panels) =>
    MODULES.map((modules) => ({ panels, modules, report: reportOf(engine, panels, modules) })),
  );
  type Tried = (typeof reports)[number];
  const cheapest = (keeps: (report: Report) => boolean, cost: (report: Report) => number): Tried | null =>
    reports
      .filter(({ report }) => keeps(report))
      .reduce<Tried | null>(
        (best, one) => (best === null || cost(one.report) < cost(best.report) ? one : best),
        null,
      );

  test.each([
    ['cost', (report: Report) => report.money!.total!, 60],
    ['money.capital', (report: Report) => report.money!.capital!, 60],
    ['money.capital', (report: Report) => report.money!.capital!, 90],
    ['generator.fuel_L', (report: Report) => report.generator!.fuel_L, 200],
    ['bank.usable_kWh', (report: Report) => report.bank.usable_kWh, 75],
  ])('the least %s within bounds', (least, cost, hours) => {
    const expected = cheapest(
      (report) => report.unmet.share! <= 0.001 && report.generator!.run_hours <= hours,
      cost,
    )!;
    const told = json(
      engine,
      ...GRID,
      '--require',
      'unmet.share<=0.001',
      '--require',
      `generator.run_hours<=${hours}`,
      '--least',
      least,
    );
    expect(told.best.values).toEqual({
      'arrays[0].panels': expected.panels,
      'bank.modules_parallel': expected.modules,
    });
    expect(told.best.least).toBeCloseTo(cost(expected.report), 6);
    expect(told.holding).toBe(
      reports.filter(({ report }) => report.unmet.share! <= 0.001 && report.generator!.run_hours <= hours)
        .length,
    );
    expect(told).toMatchObject({ designs: 25, played: 25, contradictory: 0 });
  });

  const told = json(engine, ...GRID, '--require', 'generator.run_hours<=90', '--least', 'money.capital');

  test('and so are those beside it, the front, and the bill', () => {
    const of = (values: Record<string, number>): Report =>
      reports.find(
        (r) => r.panels === values['arrays[0].panels'] && r.modules === values['bank.modules_parallel'],
      )!.report;
    const { panels, modules } = {
      panels: told.best.values['arrays[0].panels'],
      modules: told.best.values['bank.modules_parallel'],
    };
    const [p, m] = [PANELS.indexOf(panels), MODULES.indexOf(modules)];
    const beside = [
      [PANELS[p - 1], modules],
      [PANELS[p + 1], modules],
      [panels, MODULES[m - 1]],
      [panels, MODULES[m + 1]],
    ].filter((pair) => !pair.includes(undefined));
    expect(told.beside.map(({ values }: { values: object }) => Object.values(values))).toEqual(beside);
    for (const step of [...told.beside, ...told.front]) {
      const report = of(step.values);
      expect(step.least).toBe(report.money!.capital);
      expect(step['generator.run_hours']).toBe(report.generator!.run_hours);
      expect(step.holds).toBe(report.generator!.run_hours <= 90);
    }
    // Every design of the front costs more than the one before and runs less; none outside beats one inside.
    const front = told.front.map((design: { values: Record<string, number> }) => of(design.values));
    for (const { report } of reports) {
      const beaten = front.some(
        (f: Report) =>
          f.money!.capital! <= report.money!.capital! &&
          f.generator!.run_hours <= report.generator!.run_hours,
      );
      expect(beaten).toBe(true);
    }
    expect(told.best.bill).toEqual(of(told.best.values).money!.bill);
    expect(told.best.years[0].figures['money.total']).toBeCloseTo(of(told.best.values).money!.total!, 6);
  });

  test('what can be chosen stands the least cost first, each with where it gives out or comes closest', () => {
    const kept = reports.filter(({ report }) => report.generator!.run_hours <= 90);
    const prices = kept.map(({ report }) => report.money!.capital!).sort((a, b) => a - b);
    expect(told.choice.map(({ least }: { least: number }) => least)).toEqual(prices.slice(0, 24));
    for (const { values, weakest } of told.choice) {
      const { gives_out_first, unmet } = kept.find(
        (r) => r.panels === values['arrays[0].panels'] && r.modules === values['bank.modules_parallel'],
      )!.report;
      const { used_share, ...closest } = gives_out_first.closest[0]!;
      expect(weakest).toMatchObject({ cause: gives_out_first.main_cause, closest });
      // A file rounds to 12 digits.
      expect(weakest.closest.used_share).toBeCloseTo(used_share, 9);
      expect(weakest.unmet_kWh).toBeCloseTo(unmet.energy_kWh, 9);
    }
  });

  test('when none holds the nearest is the one whose worst bound is missed by least, and it exits 3', () => {
    const bounds = ['--require', 'generator.run_hours<=20', '--require', 'money.capital<=10000'];
    const miss = ({ report }: Tried): number =>
      Math.max((report.generator!.run_hours - 20) / 20, (report.money!.capital! - 10_000) / 10_000, 0);
    const nearest = reports.reduce((best, one) => (miss(one) < miss(best) ? one : best));
    const out = join(folder, 'none');
    const ended = size(engine, ...GRID, ...bounds, '--out', out);
    expect(ended.status).toBe(3);
    expect(ended.stderr).toMatch(
      new RegExp(
        `^missed: no design of 25 keeps every requirement; nearest is design \\d+ \\(panels, ground row, south: ${nearest.panels}; ` +
          `battery modules: ${nearest.modules}\\): generator run time at most 20 h: missed, ${nearest.report.generator!.run_hours}; ` +
          'capital at most 10000: missed, ',
      ),
    );
    expect(ended.stdout).toMatch(/^Answer +No design of 25 keeps every requirement; nearest is design \d+/m);
    expect(Object.keys(contents(out))).toEqual([
      'size.csv',
      'size.html',
      'size.json',
      'size.md',
      'size.sha256',
    ]);
    const told = JSON.parse(readFileSync(join(out, 'size.json'), 'utf8'));
    expect(told).toMatchObject({ best: null, holding: 0, harder: [], beside: [] });
    expect(Object.values(told.nearest.values)).toEqual([nearest.panels, nearest.modules]);
  });
});

test('in an ensemble a design must hold in so many of the seeded years', () => {
  const seeds = [92, 93, 94, 95];
  const modules = [6, 8, 10, 12, 14];
  const capital = (report: Report): number => report.money!.capital!;
  const held = modules.map((count) => {
    const years = seeds.map((seed) => reportOf(sun, 23, count, seed));
    return { count, held: years.filter((r) => r.unmet.share! <= 0.002).length, capital: capital(years[0]!) };
  });
  for (const wanted of [2, 3, 4]) {
    const expected = held.filter((one) => one.held >= wanted).sort((a, b) => a.capital - b.capital)[0];
    const told = json(
      sun,
      '--vary',
      `bank.modules_parallel=${modules}`,
      '--require',
      'unmet.share<=0.002',
      '--least',
      'money.capital',
      '--seeds',
      '4',
      '--in',
      `${wanted}`,
    );
    expect(told.best?.values['bank.modules_parallel'], `${wanted} of 4`).toBe(expected?.count);
    expect(told.asked).toMatchObject({
      years: seeds.map((seed) => ({ seed, calendar_year: null })),
      years_to_hold: wanted,
    });
    if (expected !== undefined) expect(told.best).toMatchObject({ years_held: expected.held, holds: true });
  }
  // Somebody must fall between the counts asked for, or the test asks nothing.
  expect(new Set(held.map((one) => one.held)).size).toBeGreaterThan(2);
});

test('the answer in a harder year is that of sizing in that year', async () => {
  const axes = [readAxis(`bank.modules_parallel=${MODULES}`), readAxis('arrays[0].panels=16:28:4')];
  const ask = {
    holds: [readRequirement('generator.run_hours<=75', ['generator.run_hours'])],
    least: 'money.total' as const,
    years_to_hold: 1,
  };
  const told = json(
    engine,
    '--vary',
    `bank.modules_parallel=${MODULES}`,
    '--vary',
    'arrays[0].panels=16:28:4',
    '--require',
    'generator.run_hours<=75',
  );
  expect(told.harder.map((one: { name: string }) => one.name)).toEqual(['dark_season', 'load']);
  for (const { load, dark_season, cheapest, same } of told.harder) {
    const answer = sizePlant(sourceOf(engine), axes, ask, { harder: { ...NOT_HARDER, load, dark_season } });
    expect(answer.best).toBe(cheapest === null ? null : cheapest.design - 1);
    expect(answer.tried(told.best.design - 1)!.least).toBeCloseTo(same.least, 6);
    expect(same.least).toBeGreaterThan(told.best.least);
  }
  const drawn = sizePlant(sourceOf(engine), axes, ask);
  expect(drawn.best).toBe(told.best.design - 1);
  expect(drawn.front.map((index) => index + 1)).toEqual(
    told.front.map((design: { design: number }) => design.design),
  );
});

test('at an age the answer is that of sizing plants of that age, in drawn years too, on any number of threads', () => {
  const grid = ['--vary', 'bank.modules_parallel=2:4:1', '--vary', 'arrays[0].panels=14:22:4'];
  const args = [
    engine,
    ...grid,
    '--require',
    'generator.run_hours<=115',
    '--seeds',
    '3',
    '--in',
    '2',
    '--at-age',
    '14',
  ];
  const [aged, on2] = [join(folder, 'aged'), join(folder, 'aged-on-2')];
  const { stdout } = size(...args, '--threads', '1', '--out', aged);
  size(...args, '--threads', '2', '--out', on2);
  expect(contents(on2)).toEqual(contents(aged));
  const told = JSON.parse(readFileSync(join(aged, 'size.json'), 'utf8'));
  expect(told.asked).toMatchObject({
    age_years: 14,
    years: [{ seed: 92 }, { seed: 93 }, { seed: 94 }],
    years_to_hold: 2,
  });
  const axes = [readAxis('bank.modules_parallel=2:4:1'), readAxis('arrays[0].panels=14:22:4')];
  const ask = {
    holds: [readRequirement('generator.run_hours<=115', ['generator.run_hours'])],
    least: 'money.total' as const,
    years_to_hold: 2,
  };
  const sized = (age_years: number) =>
    sizePlant(sourceOf(engine), axes, ask, {
      years: [92, 93, 94].map((seed) => ({ kind: 'drawn', seed }) as const),
      harder: { ...NOT_HARDER, age_years },
    });
  expect(told.best.design - 1).toBe(sized(14).best);
  expect(sized(0).best).not.toBe(sized(14).best);
  expect(told.harder.map((one: { age_years: number }) => one.age_years)).toEqual([14, 14]);
  expect(stdout.replace(/\s+/g, ' ')).toContain(
    'Played is each plant 14 years on, with loads grown to then.',
  );
  expect(readFileSync(join(aged, 'size.md'), 'utf8')).toContain('--seeds 3 --in 2 --at-age 14');
  expect(size(engine, ...grid, '--require', 'unmet.share<=0', '--at-age', '0').status).toBe(2);
});

describe('ways to play fewer designs give the answer of playing all', () => {
  const axes = [
    readAxis('arrays[0].panels=8:40:8'),
    readAxis('bank.modules_parallel=3:15:1'),
    readAxis('bank.part=module-5kWh,lead-string-29kWh'),
  ];
  const source = sourceOf(sun);
  const study = openStudy(source, axes);
  const workOf = (bound: string, threads = 1): SizeWork => ({
    study,
    axes,
    task: { source, texts: new Map(), axes, years: [] },
    ask: { holds: [readRequirement(bound, ['unmet.share'])], least: 'money.capital', years_to_hold: 1 },
    money: undefined,
    threads,
  });
  const priceOf = (index: number) => billOfScenario(study.design(index).scenario!).capital;
  const ignore = (): void => {};

  test('not where what is left of the parts is taken off a cost: it may then be less than the price', () => {
    const work = workOf('unmet.share<=0');
    const { money } = readScenario(source.text, sun, partsTexts).scenario;
    const left = { ...money!, residual_share: 0.5 };
    const total = { ...work.ask, least: 'money.total' as const };
    expect(bySomePrice({ ...work, money: left })).toBe(true);
    expect(bySomePrice({ ...work, ask: total, money })).toBe(true);
    expect(bySomePrice({ ...work, ask: total, money: left })).toBe(false);
    const axis = readAxis('money.residual_share=0,1');
    expect(bySomePrice({ ...work, ask: total, money, axes: [...axes, axis] })).toBe(false);
  });

  test.each(['unmet.share<=0.05', 'unmet.share<=0.002', 'unmet.share<=0'])('%s', async (bound) => {
    for (const harder of [NOT_HARDER, { ...NOT_HARDER, load: 1.1 }]) {
      const all = await playAll(workOf(bound), harder, ignore);
      let played = 0;
      const count = (indices: readonly number[]): void => {
        played += indices.length;
      };
      expect(await cheapestUpwards(workOf(bound), harder, priceOf, count)).toEqual(all.tried(all.best!));
      expect(played).toBeLessThan(study.designs);
      // Over the years too: no design costs less than its price.
      const { ask, ...rest } = workOf(bound);
      const byTotal: SizeWork = { ...rest, ask: { ...ask, least: 'money.total' } };
      const best = await playAll(byTotal, harder, ignore);
      expect(await cheapestUpwards(byTotal, harder, priceOf, ignore)).toEqual(best.tried(best.best!));
    }
  });

  test('as the library has it, design by design', () => {
    const { ask } = workOf('unmet.share<=0.002');
    const rows = [...varyPlant(source, axes)];
    expect(rows.map((row) => row.index)).toEqual([...Array(study.designs).keys()]);
    expect(chooseDesign(rows, ask).best).toBe(sizePlant(source, axes, ask).best);
    const play = newChunkPlayer({ source, texts: new Map(), axes, years: [] });
    const chunk = play({ indices: [3, 77], harder: NOT_HARDER });
    expect(rows[77]!.figures![0]!['unmet.energy_kWh']).toBe(chunk.figures[chunk.figures.length / 2]);
  });
});

describe('the same bytes', () => {
  // 68 designs: more than one thread is given at a time.
  const asked = [
    '--vary',
    'bank.modules_parallel=5:8:1',
    '--vary',
    'arrays[0].panels=12:28:1',
    '--require',
    'generator.run_hours<=70',
  ];

  test('on two threads, from another folder and zone, in drawn years', () => {
    const out = (name: string): string => join(folder, `bytes-${name}`);
    const question = ['size', engine, ...asked, '--seeds', '2', '--in', '1'];
    const one = longnight([...question, '--threads', '1', '--out', out('one')]);
    const two = longnightProcess([...question, '--threads', '2', '--out', out('two')], folder, {
      TZ: 'Pacific/Auckland',
    });
    expect(one.status).toBe(0);
    expect(two.stdout.replace(out('two'), '')).toBe(one.stdout.replace(out('one'), ''));
    expect(contents(out('two'))).toEqual(contents(out('one')));
    expect(Object.keys(contents(out('one')))).toEqual([
      'size.csv',
      'size.html',
      'size.json',
      'size.md',
      'size.sha256',
    ]);
  });

  test('size.csv is the sweep of the same keys, with the drawn years as the last one', () => {
    const [a, b] = [join(folder, 'as-size'), join(folder, 'as-sweep')];
    size(
      engine,
      '--vary',
      'bank.modules_parallel=3,4',
      '--require',
      'unmet.share<=1',
      '--seeds',
      '3',
      '--out',
      a,
    );
    longnight([
      'sweep',
      engine,
      '--vary',
      'bank.modules_parallel=3,4',
      '--vary',
      'weather.seed=92:94:1',
      '--out',
      b,
    ]);
    const named = readFileSync(join(a, 'size.csv'), 'utf8')
      .replace(',year,', ',weather.seed,')
      .replaceAll(',drawn year ', ',');
    expect(named).toBe(readFileSync(join(b, 'sweep.csv'), 'utf8'));
  });
});

test('the terminal: what was asked, what was looked at, the answer and its surroundings, in 80 columns', () => {
  const { stdout, stderr, status } = size(
    engine,
    ...GRID,
    '--require',
    'unmet.share<=0.001',
    '--require',
    'generator.run_hours<=90',
  );
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  expect(stdout).toMatch(
    /^Asked: the least cost of the plant over 20 years, with unmet share at most 0\.001$/m,
  );
  expect(stdout).toMatch(/^25 designs: /m);
  expect(stdout).toMatch(
    /^Answer +Design \d+ \(panels, [\s\S]*?\):\s+[\d,]+\s+crowns\s+over\s+20\s+years,\s+[\d,]+\s+crowns\s+to\s+buy\.$/m,
  );
  for (const heading of ['Beside it, one step along one key', 'If it is harder than that'])
    expect(stdout).toContain(`\n${heading}\n`);
  expect(stdout).toMatch(/yes, the answer$/m);
  expect(stdout).toMatch(
    /^ {2}- a winter 10 % darker \(\d+ of 100 drawn years\s+have one as dark\):\s+Design\s+\d+\s/m,
  );
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
  expect(stdout).not.toMatch(/NaN|undefined|\bsafe/i);
});

test('an answer at the edge of what was asked says so, one within does not', () => {
  const edge = (panels: string): string =>
    size(engine, '--vary', `arrays[0].panels=${panels}`, '--require', 'generator.run_hours<=100').stdout;
  expect(edge('28:40:4')).toMatch(
    /At the edge of what was played: panels, ground row,\s+south: 28\s+is the least/,
  );
  expect(edge('8:40:2')).not.toContain('At the edge');
});

test('a design without a price is left out of the choice, and that is said', () => {
  const unpriced = readFileSync(join(ROOT, 'data/parts/modules.yaml'), 'utf8').replace(
    / {6}price: 2060.*\n/,
    '',
  );
  writeFileSync(join(folder, 'modules.yaml'), unpriced);
  const text = readFileSync(engine, 'utf8')
    .replace('../parts/modules.yaml', 'modules.yaml')
    .replaceAll('../parts/', `${ROOT}/data/parts/`);
  writeFileSync(join(folder, 'unpriced.yaml'), text);
  const args = [
    'size',
    'unpriced.yaml',
    '--vary',
    'bank.part=module-10kWh,module-5kWh',
    '--require',
    'unmet.share<=0.1',
  ];
  const { stdout, status } = longnight(args, folder);
  expect(status).toBe(0);
  expect(stdout.replace(/\s+/g, ' ')).toContain(
    "2 keep the requirements. 1 design of them has no price and can't be chosen.",
  );
  expect(JSON.parse(longnight([...args, '--json'], folder).stdout).best.values).toEqual({
    'bank.part': 'module-5kWh',
  });
  const none = longnight(
    args.map((arg) => arg.replace(',module-5kWh', '')),
    folder,
  );
  expect(none).toMatchObject({ status: 2, stdout: '' });
  expect(none.stderr).toMatch(
    /--least: money\.total needs prices, and no design has all of them; without a price: module-10kWh\n {4}fix: /,
  );
});

test.skipIf(noPosix)('Ctrl-C leaves nothing behind', async () => {
  const out = join(folder, 'interrupted/inner');
  const child = spawn(process.execPath, [
    bundle(),
    'size',
    engine,
    '--vary',
    'arrays[0].panels=1:100:1',
    '--vary',
    'bank.modules_parallel=1:150:1',
    '--require',
    'unmet.share<=0',
    '--threads',
    '2',
    '--out',
    out,
  ]);
  let said = '';
  child.stderr.on('data', (text) => {
    said += text;
  });
  const ended = new Promise<number | null>((resolve) => child.on('close', resolve));
  while (!existsSync(out) && child.exitCode === null) await new Promise((resolve) => setTimeout(resolve, 20));
  child.kill('SIGINT');
  expect(await ended).toBe(130);
  expect(said).toBe('Interrupted: nothing was written.\n');
  expect(existsSync(join(folder, 'interrupted'))).toBe(false);
});

describe('what is refused, with nothing written', () => {
  const grid = ['--vary', 'bank.modules_parallel=2:6:1'];
  const hold = ['--require', 'unmet.share<=0.001'];
  const holds = join(DEMO, 'holds.yaml');
  test.each([
    [
      [engine, ...grid, '--require', 'unmet.shar<=0.1'],
      /there is no figure "unmet\.shar" here[\s\S]*did you mean "unmet\.share"\?/,
    ],
    [[engine, ...grid, '--require', 'losses.total_kWh<=1'], /there is no figure "losses\.total_kWh" here/],
    [
      [engine, ...grid, ...hold, '--least', 'money.totl'],
      /--least money\.totl: there is no figure[\s\S]*did you mean "money\.total"\?/,
    ],
    [
      [engine, ...grid, ...hold, '--least', 'price'],
      /--least price: there is no figure[\s\S]*take one of unmet\.energy_kWh/,
    ],
    [[engine, '--vary', 'bank.modules_paralel=2,3', ...hold], /did you mean "bank\.modules_parallel"\?/],
    [[engine, '--vary', 'bank.modules_parallel=5:1:1', ...hold], /is an empty range/],
    [
      [engine, '--vary', 'bank.modules_parallel=1:1000:1', '--vary', 'arrays[0].panels=1:1000:1', ...hold],
      /1000000 designs are too many; expected at most 500000\n {4}fix: /,
    ],
    [[engine, ...hold], /required option '--vary/],
    [[engine, ...grid], /required option '--require/],
    [[engine, ...grid, ...hold, '--in', '3'], /--in: counts years[\s\S]*add --seeds N/],
    [[engine, ...grid, ...hold, '--seeds', '3', '--in', '4'], /--in: 4 years are asked for, and there are 3/],
    [
      [engine, ...grid, '--vary', 'weather.seed=1:3:1', ...hold, '--seeds', '3'],
      /--vary weather\.seed: is the weather, which is not to be chosen/,
    ],
    [
      [engine, '--vary', 'run.year=2010:2019:1', ...hold],
      /--vary run\.year: is which year is played.*not to be chosen.*expected keys of the plant.*\n {4}fix: .*sweep/,
    ],
    [
      [engine, ...grid, '--vary', 'site.latitude_deg=50,60', ...hold],
      /site\.latitude_deg: is where the plant stands/,
    ],
    [[engine, ...grid, '--vary', 'loads[0].power_W=1,2', ...hold], /loads\[0\]\.power_W: is what the loads/],
    [[holds, ...grid, ...hold], /--least: money\.total needs prices, and the scenario has no money section/],
    [
      [sun, ...grid, ...hold, '--least', 'generator.fuel_L'],
      /--least: the plant has no generator, and so no generator\.fuel_L/,
    ],
  ])('%j', (args, what) => {
    const ended = size(...args, '--out', join(folder, 'never'));
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(what);
    expect(existsSync(join(folder, 'never'))).toBe(false);
  });

  test('an ensemble of weather that is not drawn', () => {
    const clear = readFileSync(engine, 'utf8')
      .replace(
        /weather:\n(?: {2}.*\n)+/,
        'weather: { kind: clear-sky, turbidity_linke: 3, air_temperature_C: 5 }\n',
      )
      .replaceAll('../parts/', `${ROOT}/data/parts/`);
    writeFileSync(join(folder, 'clear.yaml'), clear);
    const ended = longnight(['size', 'clear.yaml', ...grid, ...hold, '--seeds', '3'], folder);
    expect(ended).toMatchObject({ status: 2, stdout: '' });
    expect(ended.stderr).toMatch(/--seeds: a clear sky is the same every year\n {4}fix: /);
  });
});
