/** Axes, samples, bounds, fronts, designs and choices of a study. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  type Candidate,
  type Figures,
  findings,
  InputError,
  newYearPreparer,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
  sizePlant,
} from '@longnight/core';
import {
  combinations,
  DESIGN_FIGURES,
  figuresOf,
  HEADLINE,
  holds,
  NOT_HARDER,
  newChunkPlayer,
  openStudy,
  readAxes,
  readAxis,
  readRequirement,
  readSetting,
  readSource,
  type StudyTask,
  sampleDesigns,
} from '@longnight/core/study';
import { describe, expect, it } from 'vitest';
import { newPlayer } from '../../packages/core/src/study/designs/play.ts';
import { radicalInverse } from '../../packages/core/src/study/designs/sample.ts';
import { front } from '../../packages/core/src/study/size/front.ts';
import { chooseDesign } from '../../packages/core/src/study/size/size.ts';

const FILE = 'data/demo/holds-with-generator.yaml';
const TEXT = readFileSync(resolve(import.meta.dirname, '../..', FILE), 'utf8');
const SOURCE = { text: TEXT, file: FILE, partsTexts: new Map<string, string>() };

const messageOf = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  throw new Error('nothing was refused');
};

describe('axes', () => {
  it('reads lists and ranges, ends included, without the dust of binary fractions', () => {
    expect(readAxis('bank.modules_parallel=1:4:1').values).toEqual([1, 2, 3, 4]);
    expect(readAxis('bank.floor_soc=0.1:0.3:0.1').values).toEqual([0.1, 0.2, 0.3]);
    expect(readAxis('a=3:1:-1').values).toEqual([3, 2, 1]);
    expect(readAxis('bank.part=small,large').values).toEqual(['small', 'large']);
    expect(readAxis('loads[0].windows[0]=17:00-22:00').values).toEqual(['17:00-22:00']);
    expect(readAxis('a=0:1:0.3').values).toEqual([0, 0.3, 0.6, 0.9]);
  });

  it('refuses what is no axis, with a fix', () => {
    for (const text of [
      'bank.modules_parallel',
      '=1,2',
      'a=1:5:0',
      'a=1:5:-1',
      'a=1,,2',
      'a=1,1',
      'a=0:1:1e-9',
    ]) {
      expect(messageOf(() => readAxis(text))).toContain('fix:');
    }
  });

  it('orders designs with the last axis fastest and counts them', () => {
    const axes = [readAxis('bank.modules_parallel=2,3'), readAxis('arrays[0].size_kWp=1:3:1')];
    const study = openStudy(SOURCE, axes);
    expect(study.designs).toBe(6);
    expect([0, 1, 2, 3, 4, 5].map((i) => study.valuesOf(i))).toEqual([
      [2, 1],
      [2, 2],
      [2, 3],
      [3, 1],
      [3, 2],
      [3, 3],
    ]);
  });

  it('counts a billion combinations without making them', () => {
    const wide = readAxis('a=1:1000:1');
    expect(combinations([wide, wide, wide])).toBe(1e9);
  });

  it('refuses more than can be counted before it lays any of them out', () => {
    // That a value stands twice is found where values are laid out, so it must not be what is said of these.
    const texts = ['twice=1,1', ...Array.from({ length: 200 }, (_, k) => `k${k}=1:100000:1`)];
    expect(messageOf(() => readAxes(texts))).toMatch(/combinations can't be counted; expected at most 9007/);
    expect(readAxes(['a=1:3:1', 'b=x,y'])).toEqual([readAxis('a=1:3:1'), readAxis('b=x,y')]);
    expect(messageOf(() => readAxes(['a=1:3:1', 'b=x,x']))).toContain('stands twice');
  });
});

describe('designs', () => {
  it('are the scenario as if its file said so', () => {
    const study = openStudy(SOURCE, [readAxis('bank.modules_parallel=7'), readAxis('arrays[0].tilt_deg=33')]);
    const typed = TEXT.replace(/modules_parallel: \d+/, 'modules_parallel: 7').replace(
      /tilt_deg: [\d.]+/,
      'tilt_deg: 33',
    );
    expect(typed).not.toBe(TEXT);
    expect(study.design(0).scenario).toEqual(readScenario(typed, FILE).scenario);
  });

  it('name the nearest path for an unknown one, and what a key can take', () => {
    expect(messageOf(() => openStudy(SOURCE, [readAxis('bank.modules_paralel=1,2')]))).toContain(
      'did you mean "bank.modules_parallel"',
    );
    expect(messageOf(() => openStudy(SOURCE, [readAxis('arrays[9].size_kWp=1,2')]))).toContain('no key');
    expect(messageOf(() => openStudy(SOURCE, [readAxis('arrays.size_kWp=1,2')]))).toContain(
      'did you mean "arrays[0].size_kWp"?',
    );
    const ask = { holds: [], least: 'unmet.energy_kWh', years_to_hold: 1 } as const;
    expect(messageOf(() => sizePlant(SOURCE, [readAxis('run.year=2010:2011:1')], ask))).toContain(
      'run.year: is which year is played',
    );
    // In a sweep it is a question like any other.
    expect(openStudy(SOURCE, [readAxis('run.year=2010:2011:1')]).designs).toBe(2);
    expect(messageOf(() => openStudy(SOURCE, [readAxis('bank.floor_soc=0.1,1.5')]))).toContain(
      "can't be 1.5",
    );
    expect(messageOf(() => openStudy(SOURCE, [readAxis('bank.modules_parallel=1.5')]))).toContain(
      "can't be 1.5",
    );
    expect(
      messageOf(() => openStudy(SOURCE, [readAxis('bank.floor_soc=0.1'), readAxis('bank.floor_soc=0.2')])),
    ).toContain('varies twice');
  });

  it('say why values contradict each other instead of playing them', () => {
    const study = openStudy(SOURCE, [
      readAxis('generator.start_soc=0.3,0.95'),
      readAxis('generator.stop_soc=0.9'),
    ]);
    expect(study.design(0).contradiction).toBeNull();
    expect(study.design(1).contradiction).toContain('generator.start_soc');
  });
});

describe('keys that the file leaves at their default', () => {
  const varied = (...texts: readonly string[]) => openStudy(SOURCE, texts.map(readAxis));
  const refusalOf = (...texts: readonly string[]): string => messageOf(() => varied(...texts));

  it('vary as those that it writes, sections and kinds too', () => {
    for (const texts of [
      ['generator.starts.kind=at_soc,on_shortfall,before_night'],
      ['generator.starts.kind=before_night', 'generator.starts.margin_share=0.1,0.3'],
      ['arrays[0].losses.snow_share=0,0.1'],
      ['arrays[0].sky_model=perez,hay_davies'],
      ['generator.connection=transfer,parallel'],
      ['generator.service.every_h=100,200'],
      ['wiring.cable_AWG=2,4/0'],
      ['run.step_min=60,15', 'run.load_factor=1,1.2'],
      ['generator.start_failure.seed=1:3:1', 'generator.start_failure.share=0.1'],
      ['inverter.sleep.below_W=10,20', 'inverter.sleep.search_W=3'],
    ]) {
      const study = varied(...texts);
      for (let k = 0; k < study.designs; k++)
        expect([texts, study.design(k).contradiction]).toEqual([texts, null]);
    }
  });

  it('take the keys of the other kinds with them, and nothing else', () => {
    const study = varied('bank.temperature.kind=indoors,outdoors');
    expect(study.design(0).scenario).toEqual(readScenario(TEXT, FILE).scenario);
    const outdoors = TEXT.replace('{ kind: indoors, temperature_C: 9 }', '{ kind: outdoors }');
    expect(study.design(1).scenario).toEqual(readScenario(outdoors, FILE).scenario);
    // Whoever asks for such a key beside it is told.
    const both = varied('bank.temperature.kind=indoors,outdoors', 'bank.temperature.temperature_C=5');
    expect([0, 1].map((k) => both.design(k).contradiction)).toEqual([
      null,
      'bank.temperature.temperature_C: unknown key',
    ]);
  });

  it('name what else a new section needs, and what can come from a file alone', () => {
    expect(refusalOf('inverter.sleep.below_W=10')).toBe(
      "--vary inverter.sleep.below_W: can't be 10: needs inverter.sleep.search_W too, which the file leaves out\n" +
        '    fix: write what is missing into the scenario, or give it beside by --vary PATH=VALUE',
    );
    expect(refusalOf('generator.starts.margin_share=0.1')).toBe(
      '--vary generator.starts.margin_share: is a key of generator.starts only where its kind is before_night\n' +
        '    fix: give generator.starts.kind too, or write the section into the scenario',
    );
    expect(refusalOf('shedding[0].shed_soc=0.2')).toBe(
      '--vary shedding[0].shed_soc: is an item of a list that the file leaves out\n' +
        '    fix: write the list into the scenario to vary its items',
    );
    expect(refusalOf('generator.stars.kind=at_soc')).toContain('did you mean "generator.starts.kind"?');
  });
});

describe('all items of a list', () => {
  const sun = 'data/demo/holds.yaml';
  // Two unequal rows of panels.
  const text = readFileSync(resolve(import.meta.dirname, '../..', sun), 'utf8').replace(
    'size_kWp: 10',
    'size_kWp: 3',
  );
  const source = { text, file: sun, partsTexts: new Map<string, string>() };
  const sizes = (axis: string): unknown => {
    const study = openStudy(source, [readAxis(axis)]);
    return Array.from({ length: study.designs }, (_, k) => {
      const { scenario, contradiction } = study.design(k);
      return scenario?.arrays.map(({ size_kWp }) => size_kWp) ?? contradiction;
    });
  };

  it('take one value, or each so many times its own', () => {
    expect(sizes('arrays[*].size_kWp=4,6')).toEqual([
      [4, 4],
      [6, 6],
    ]);
    expect(sizes('arrays[*].size_kWp=x1,x1.5,x0.1')).toEqual([
      [3, 10],
      [4.5, 15],
      [0.3, 1],
    ]);
    const doubled = openStudy(source, [readAxis('loads[*].scale=x1.1')]).design(0).scenario!;
    expect(doubled.loads.map(({ scale }) => scale)).toEqual(doubled.loads.map(() => 1.1));
  });

  it('contradict where a product is none that the key takes, and are refused where all are', () => {
    const study = openStudy(source, [readAxis('loads[*].count=x1.5,x2')]);
    expect(study.design(0).contradiction).toContain('loads[0].count: found 1.5');
    expect(study.design(1).contradiction).toBeNull();
    const refused = (...texts: readonly string[]): string =>
      messageOf(() => openStudy(source, texts.map(readAxis)));
    expect(refused('loads[*].count=x1.5')).toBe(
      "--vary loads[*].count: can't be x1.5: loads[0].count: found 1.5; expected a whole number from 0 to 100000\n" +
        '    fix: write 2',
    );
    expect(refused('arrays[*].panels=x2')).toContain('arrays[0].panels is no single number here to multiply');
    expect(refused('arrays[*].size_kWp=1', 'arrays[1].size_kWp=2')).toContain(
      'arrays[1].size_kWp: varies twice',
    );
    expect(refused('arrays[*].sise_kWp=1')).toContain('did you mean "arrays[0].size_kWp"?');
    expect(refused('arrays.size_kWp=1')).toContain('and arrays[*] is all of them');
  });
});

describe('settings', () => {
  const withSet = (...texts: readonly string[]) => ({ ...SOURCE, set: texts.map(readSetting) });

  it('are as if the file said so, for whatever is asked of it then', () => {
    const typed = TEXT.replace('start_soc: 0.25', 'start_soc: 0.4').replace(
      'run:\n  year: 2026',
      'run:\n  year: 2026\n  load_factor: 1.2',
    );
    const set = withSet('generator.start_soc=0.4', 'run.load_factor=1.2');
    expect(readSource(set).scenario).toEqual(readScenario(typed, FILE).scenario);
    const axes = [readAxis('bank.modules_parallel=x1,x1.5')];
    const [a, b] = [openStudy(set, axes), openStudy({ ...SOURCE, text: typed }, axes)];
    for (const k of [0, 1]) expect(a.design(k)).toEqual(b.design(k));
    // A share of what is set, not of what the file says.
    const twice = openStudy(withSet('bank.modules_parallel=6'), axes);
    expect(twice.design(1).scenario!.bank.modules_parallel).toBe(9);
  });

  it('are refused as values of axes are', () => {
    const refused = (...texts: readonly string[]): string => messageOf(() => readSource(withSet(...texts)));
    expect(refused('bank.floor_soc=1.5')).toContain("--set bank.floor_soc: can't be 1.5");
    expect(refused('bank.flor_soc=0.2')).toContain('did you mean "bank.floor_soc"?');
    expect(refused('bank.floor_soc=0.2', 'bank.floor_soc=0.3')).toContain(
      '--set bank.floor_soc: is set twice',
    );
    expect(refused('generator.start_soc=0.95')).toContain(`${FILE}: --set: generator.start_soc: `);
    expect(messageOf(() => readSetting('bank.floor_soc'))).toContain('there is no "="');
    expect(messageOf(() => readSetting('bank.floor_soc=0.1,0.2'))).toContain('has 2 values');
    expect(refused('inverter.sleep.below_W=10', 'inverter.sleep.search_W=200')).toContain(
      '--set: inverter.sleep',
    );
  });
});

describe('figures of a study', () => {
  const task: StudyTask = {
    source: SOURCE,
    texts: new Map(),
    axes: [readAxis('arrays[0].size_kWp=2:6:2'), readAxis('bank.modules_parallel=2,5')],
    years: [],
  };

  it('are those of the report, name by name', () => {
    const play = newChunkPlayer(task);
    const played = play({ indices: [0, 1, 2, 3, 4, 5], harder: NOT_HARDER });
    const study = openStudy(SOURCE, task.axes);
    for (let k = 0; k < 6; k++) {
      const { scenario } = study.design(k);
      const read = { ...readScenario(TEXT, FILE), scenario: scenario! };
      const year = prepareYear(read, FILE, new Map());
      const plant = plantOf(scenario!);
      const report = findings(playYear(year, plant)) as unknown as Record<string, unknown>;
      const figures = figuresOf(played, k, 0)![0]!;
      for (const name of HEADLINE) {
        const value = name
          .split('.')
          .reduce<unknown>((at, key) => (at as Record<string, unknown>)[key], report);
        // Dangers are a list there, and their number is the figure.
        const number = Array.isArray(value) ? value.length : value;
        expect(typeof number, name).toBe('number');
        expect(figures[name]!, name).toBeCloseTo(number as number, 9);
      }
    }
  });

  it('buy the bank again by the cycles of the year, as the report does, where their life is stated', () => {
    const read = readScenario(TEXT, FILE);
    const play = newPlayer(newYearPreparer(FILE, new Map()));
    const replaced = (cycle_life: { depth_share: number; cycles: number }[] | undefined) => {
      const { arrays, bank, inverter, charger, generator } = read.scenario;
      const scenario = {
        ...read.scenario,
        money: {
          currency: 'crowns',
          years: 20,
          discount_share_per_year: 0,
          fuel_price_per_L: 0,
          fuel_price_growth_share_per_year: 0,
          shore_price_growth_share_per_year: 0,
          residual_share: 0,
          lines: [],
        },
        arrays: arrays.map((array) => ({ ...array, price: 1, tracker: { ...array.tracker, price: 1 } })),
        bank: { ...bank, price: 1000, life_years: undefined, cycle_life },
        inverter: { ...inverter, price: 1 },
        charger: { ...charger!, price: 1 },
        generator: { ...generator!, price: 1 },
      };
      const year = prepareYear({ ...read, scenario }, FILE, new Map());
      const plant = plantOf(scenario);
      const { money, bank: found } = findings(playYear(year, plant));
      expect(play(scenario)['money.total']).toBeCloseTo(money!.total!, 6);
      return { price: money!.replacements!, used: found.wear?.cycle_life_used_share ?? 0 };
    };
    expect(replaced(undefined)).toEqual({ price: 0, used: 0 });
    const worn = replaced([
      { depth_share: 0.2, cycles: 900 },
      { depth_share: 0.8, cycles: 200 },
    ]);
    const times = Math.ceil(20 * worn.used) - 1;
    expect(times).toBeGreaterThan(0);
    expect(worn.price).toBeCloseTo(times * 1000 * read.scenario.bank.modules_parallel, 6);
  });

  it('are the same bytes in any chunks', () => {
    const whole = newChunkPlayer(task)({ indices: [0, 1, 2, 3, 4, 5], harder: NOT_HARDER }).figures;
    const play = newChunkPlayer(task);
    const pieces = [[5], [2, 3], [0, 1], [4]].map((indices) => ({
      indices,
      figures: play({ indices, harder: NOT_HARDER }).figures,
    }));
    const width = DESIGN_FIGURES.length;
    for (const { indices, figures } of pieces) {
      indices.forEach((index, k) => {
        expect([...figures.slice(k * width, (k + 1) * width)]).toEqual([
          ...whole.slice(index * width, (index + 1) * width),
        ]);
      });
    }
  });

  it('of drawn years are those of scenarios with these seeds', () => {
    const years = [3, 4].map((seed) => ({ kind: 'drawn', seed }) as const);
    const played = newChunkPlayer({ ...task, axes: [readAxis('bank.modules_parallel=3')], years })({
      indices: [0],
      harder: NOT_HARDER,
    });
    const [three, four] = figuresOf(played, 0, 2)!;
    const study = openStudy(SOURCE, [readAxis('bank.modules_parallel=3'), readAxis('weather.seed=3,4')]);
    const play = newPlayer(newYearPreparer(FILE, new Map()));
    expect(three).toEqual(play(study.design(0).scenario!));
    expect(four).toEqual(play(study.design(1).scenario!));
    expect(three).not.toEqual(four);
  });

  it('get worse in a harder year, and only there', () => {
    const player = newChunkPlayer({ ...task, axes: [readAxis('bank.modules_parallel=2')] });
    const at = (load: number, dark_season: number): Figures =>
      figuresOf(player({ indices: [0], harder: { load, dark_season, age_years: 0 } }), 0, 0)![0]!;
    const plain = at(1, 1);
    expect(at(1.1, 1)['load.served_kWh']! + at(1.1, 1)['unmet.energy_kWh']!).toBeCloseTo(
      1.1 * (plain['load.served_kWh']! + plain['unmet.energy_kWh']!),
      6,
    );
    expect(at(1, 0.9)['generator.run_hours']!).toBeGreaterThan(plain['generator.run_hours']!);
    expect(at(1, 1)).toEqual(plain);
  });
});

describe('samples', () => {
  // Halton 1960: the radical inverse in base 2 runs 1/2, 1/4, 3/4, 1/8, 5/8; in base 3: 1/3, 2/3, 1/9, 4/9.
  it('follow the radical inverse', () => {
    expect([1, 2, 3, 4, 5].map((n) => radicalInverse(n, 2))).toEqual([0.5, 0.25, 0.75, 0.125, 0.625]);
    for (const [k, value] of [1 / 3, 2 / 3, 1 / 9, 4 / 9].entries())
      expect(radicalInverse(k + 1, 3)).toBeCloseTo(value, 15);
  });

  it('are distinct, nested and cover a grid evenly', () => {
    const axes = [readAxis('a=1:20:1'), readAxis('b=1:30:1')];
    const hundred = sampleDesigns(axes, 100);
    expect(new Set(hundred).size).toBe(100);
    expect(sampleDesigns(axes, 40)).toEqual(hundred.slice(0, 40));
    expect(sampleDesigns(axes, 600)).toHaveLength(600);
    for (const quarter of [0, 1, 2, 3]) {
      const inside = hundred.filter((i) => (i / 30 < 10 ? 0 : 2) + (i % 30 < 15 ? 0 : 1) === quarter).length;
      expect(inside).toBeGreaterThan(18);
    }
  });
});

describe('bounds', () => {
  it('read and judge', () => {
    const hold = readRequirement(' unmet.share <= 1e-3 ', ['unmet.share']);
    expect(hold).toMatchObject({ name: 'unmet.share', relation: '<=', bound: 0.001 });
    expect([0, 0.001, 0.0011].map((v) => holds(hold, v))).toEqual([true, true, false]);
    expect(holds(readRequirement('generator.run_hours<=60', ['generator.run_hours']), null)).toBe(true);
    expect(holds(readRequirement('generator.run_hours>0', ['generator.run_hours']), null)).toBe(false);
    expect(messageOf(() => readRequirement('unmet.shar<=1', ['unmet.share']))).toContain(
      'did you mean "unmet.share"',
    );
    expect(messageOf(() => readRequirement('unmet.share', ['unmet.share']))).toContain(
      'is not a requirement',
    );
  });
});

describe('choice', () => {
  it('keeps the front that a slow search keeps', () => {
    const cost = [5, 3, 3, 9, 1, null, 7, 5];
    const figure = [2, 4, 5, 0, 9, 0, 0, 1];
    const slow = cost
      .map((_, k) => k)
      .filter((k) => cost[k] !== null)
      .filter(
        (k) =>
          !cost.some(
            (c, j) =>
              c !== null &&
              c <= cost[k]! &&
              figure[j]! <= figure[k]! &&
              (c < cost[k]! || figure[j]! < figure[k]!),
          ),
      )
      .sort((a, b) => cost[a]! - cost[b]!);
    expect(front(cost, figure)).toEqual(slow);
  });

  it('takes the least among those that hold in enough years', () => {
    const figures = (capital: number, ...unmet: number[]): Figures[] =>
      unmet.map(
        (kWh) =>
          ({
            'money.capital': capital,
            'unmet.energy_kWh': kWh,
            'unmet.share': kWh / 100,
          }) as unknown as Figures,
      );
    const candidates: Candidate[] = [
      { index: 0, figures: figures(1, 9, 9, 9) },
      { index: 1, figures: figures(5, 0, 0, 1) },
      { index: 2, figures: figures(4, 0, 1, 1) },
      { index: 3, figures: null },
      { index: 4, figures: figures(9, 0, 0, 0) },
    ];
    const ask = (years_to_hold: number) =>
      chooseDesign(candidates, {
        holds: [readRequirement('unmet.share<=0', ['unmet.share'])],
        least: 'money.capital',
        years_to_hold,
      });
    expect(ask(1)).toMatchObject({ best: 2, holding: 3, played: 4, contradictory: 1 });
    expect(ask(2)).toMatchObject({ best: 1, holding: 2 });
    expect(ask(3)).toMatchObject({ best: 4, holding: 1 });
    expect(ask(2).front).toEqual([0, 2, 1]);
  });
});
