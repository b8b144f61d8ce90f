/**
 * The search for the cheapest design against playing every design, and the claims it rests on: along which axes a
 * larger value never breaks a bound. Plants, years, loads and prices are invented.
 */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import {
  type HeadlineName,
  headline,
  newDesk,
  type Plant,
  type PreparedYear,
  playYear,
  withModules,
} from '@longnight/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { digitsOf, readAxis } from '../../packages/core/src/study/axes.ts';
import { holds, readHold } from '../../packages/core/src/study/hold.ts';
import { DESIGN_FIGURES, newPlayer } from '../../packages/core/src/study/play.ts';
import {
  type Cheapest,
  cheapestHolding,
  type Grid,
  provenMonotone,
  searchCheapest,
} from '../../packages/core/src/study/search.ts';
import { openStudy, type Study } from '../../packages/core/src/study/study.ts';
import { openTracker, type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const axesOf = (lengths: readonly number[]) =>
  lengths.map((length, k) => ({ path: `axis${k}`, values: Array.from({ length }, (_, v) => v) }));
const count = (grid: Grid): number => grid.lengths.reduce((product, length) => product * length, 1);

/** The designs that may be played, by ascending cost, ties by index. */
const byCost = (grid: Grid): readonly number[] =>
  Array.from({ length: count(grid) }, (_, index) => index)
    .filter((index) => grid.cost(index) !== null)
    .sort((a, b) => grid.cost(a)! - grid.cost(b)! || a - b);

const bruteForce = (grid: Grid, keeps: (index: number) => boolean): number | null =>
  byCost(grid).find(keeps) ?? null;

/** Holds a search to what it promises and gives it back. */
function checked(grid: Grid, keeps: (index: number) => boolean, width = 1): Cheapest {
  const search = searchCheapest(grid, width);
  let step = search.next();
  while (!step.done) {
    expect(step.value.length).toBeLessThanOrEqual(width);
    step = search.next(step.value.map(keeps));
  }
  const { best, played } = step.value;
  expect(best).toBe(bruteForce(grid, keeps));
  expect(new Set(played).size).toBe(played.length);
  expect(played.length).toBeLessThanOrEqual(byCost(grid).length);
  expect(played.filter((index) => grid.cost(index) === null)).toEqual([]);
  return step.value;
}

const isAtMost = (axes: readonly { values: readonly number[] }[], grid: Grid, a: number, b: number) => {
  const [one, other] = [a, b].map((index) => digitsOf(axesOf(axes.map((x) => x.values.length)), index));
  return grid.monotone.every((is, k) => (is ? one![k]! <= other![k]! : one![k] === other![k]));
};

describe('the search on invented grids', () => {
  const drawn = fc
    .record({
      lengths: fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 4 }),
      flags: fc.array(fc.boolean(), { minLength: 4, maxLength: 4 }),
      // Few distinct costs, so that ties are common; they rise with size, or follow no rule at all.
      rising: fc.boolean(),
      seed: fc.integer({ min: 1, max: 1e9 }),
      minimal: fc.integer({ min: 0, max: 12 }),
      contradictory: fc.constantFrom(0, 0.1, 0.5),
    })
    .map(({ lengths, flags, rising, seed, minimal, contradictory }) => {
      const axes = axesOf(lengths);
      const draw = stream(seed);
      const designs = lengths.reduce((product, length) => product * length, 1);
      const prices = lengths.map(() => Math.floor(draw() * 4));
      const costs = Array.from({ length: designs }, (_, index) => {
        const sum = digitsOf(axes, index).reduce((total, digit, k) => total + digit * prices[k]!, 0);
        const cost = rising ? sum : Math.floor(draw() * 20);
        return draw() < contradictory ? null : cost;
      });
      const grid: Grid = {
        lengths,
        cost: (index) => costs[index]!,
        monotone: lengths.map((_, k) => flags[k]!),
      };
      // What holds is everything at or above some drawn designs: every monotone predicate is of this form.
      const least = Array.from({ length: minimal }, () => Math.floor(draw() * designs));
      const keeps = (index: number): boolean => least.some((from) => isAtMost(axes, grid, from, index));
      return { axes, grid, keeps };
    });

  it('finds what playing every design finds, one at a time or several at once', () => {
    let played = 0;
    let all = 0;
    fc.assert(
      fc.property(drawn, fc.integer({ min: 1, max: 7 }), ({ grid, keeps }, width) => {
        played += checked(grid, keeps).played.length;
        all += byCost(grid).length;
        checked(grid, keeps, width);
      }),
      { numRuns: 500 },
    );
    console.log(`invented grids: ${played} plays where there are ${all} designs`);
    expect(played).toBeLessThan(all);
  });

  it('leaves nothing unproven: a played design that fails stands over every cheaper one', () => {
    fc.assert(
      fc.property(drawn, ({ axes, grid, keeps }) => {
        const { best, played } = checked(grid, keeps);
        const failed = played.filter((index) => !keeps(index));
        const order = byCost(grid);
        for (const index of best === null ? order : order.slice(0, order.indexOf(best))) {
          expect(failed.some((over) => isAtMost(axes, grid, index, over))).toBe(true);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('without a proven axis plays by ascending cost until the first holds', () => {
    fc.assert(
      fc.property(drawn, ({ grid, keeps }) => {
        const unproven = { ...grid, monotone: grid.lengths.map(() => false) };
        const order = byCost(grid);
        const first = order.findIndex(keeps);
        expect(cheapestHolding(unproven, keeps).played).toEqual(
          first < 0 ? order : order.slice(0, first + 1),
        );
      }),
      { numRuns: 150 },
    );
  });

  it('says that nothing holds from one play where the largest design fails, and takes one line by halves', () => {
    const cost = (index: number): number => index;
    expect(cheapestHolding({ lengths: [40, 50], cost, monotone: [true, true] }, () => false)).toEqual({
      best: null,
      played: [1999],
    });
    const line = cheapestHolding({ lengths: [1000], cost, monotone: [true] }, (index) => index >= 617);
    expect(line.best).toBe(617);
    expect(line.played.length).toBeLessThanOrEqual(11);
    expect(cheapestHolding({ lengths: [0, 3], cost, monotone: [true, true] }, () => true).best).toBeNull();
  });

  it('refuses flags that fit no axes, and a cost that is no number', () => {
    expect(() => cheapestHolding({ lengths: [2, 2], cost: () => 1, monotone: [true] }, () => true)).toThrow(
      RangeError,
    );
    expect(() =>
      cheapestHolding({ lengths: [2], cost: () => Number.NaN, monotone: [true] }, () => true),
    ).toThrow(RangeError);
  });
});

const STEPS = 20 * 24;
const scaled = (low: number, high: number, per: number) =>
  fc.integer({ min: low, max: high }).map((n) => n / per);
const drawnParts: fc.Arbitrary<Parts> = fc.record({
  capacity_Ah: scaled(20, 400, 1),
  max_charge_A: scaled(10, 150, 1),
  max_discharge_A: scaled(10, 150, 1),
  round_trip: scaled(60, 100, 100),
  floor_soc: scaled(0, 60, 100),
  taper_start_soc: scaled(50, 100, 100),
  taper_end_share: scaled(1, 100, 100),
  self_discharge_share_per_month: scaled(0, 20, 100),
  min_charge_temperature_C: fc.integer({ min: -30, max: 5 }),
  rating_kW: scaled(5, 80, 10),
  standing_W: scaled(0, 200, 1),
  loss_linear: scaled(0, 15, 100),
  loss_quadratic: scaled(0, 15, 100),
  initial_soc: scaled(0, 100, 100),
});
const winter = (seed: number): PreparedYear => yearOf(randomYear(stream(seed), STEPS, 2));

describe('the search on played years', () => {
  const desk = newDesk(STEPS);
  const shareUnmet = (year: PreparedYear, plant: Plant): number => {
    const { unmet_kWh, load_wanted_kWh } = playYear(year, plant, desk).columns;
    const sum = (column: Float64Array): number => column.reduce((total, x) => total + x, 0);
    return sum(unmet_kWh) / sum(load_wanted_kWh);
  };

  const QUESTIONS = 40;
  it('finds what playing every design finds, for plants with linear losses', () => {
    let played = 0;
    let all = 0;
    let found = 0;
    fc.assert(
      fc.property(
        drawnParts,
        fc.integer({ min: 1, max: 1e6 }),
        fc.tuple(scaled(1, 60, 1), scaled(0, 30, 1), scaled(1, 200, 1)),
        scaled(0, 30, 100),
        (parts, seed, [perKwp, perTracker_kW, perModule], most) => {
          const year = winter(seed);
          const one = plantWith({ ...parts, loss_quadratic: 0, rating_kW: 5 });
          const [sizes, limits, modules] = [
            [0, 2, 4, 8, 16, 32, 64],
            [1, 4, 16, 64],
            [1, 2, 4, 8, 16],
          ] as const;
          const lengths = [sizes.length, limits.length, modules.length];
          const valuesOf = (index: number) => {
            const [s, t, m] = digitsOf(axesOf(lengths), index);
            return { size_kWp: sizes[s!]!, max_input_kW: limits[t!]!, modules: modules[m!]! };
          };
          const grid: Grid = {
            lengths,
            monotone: [true, true, true],
            cost: (index) => {
              const design = valuesOf(index);
              return (
                design.size_kWp * perKwp + design.max_input_kW * perTracker_kW + design.modules * perModule
              );
            },
          };
          const keeps = (index: number): boolean => {
            const { size_kWp, max_input_kW, modules: n } = valuesOf(index);
            const tracked = { ...openTracker(size_kWp, 0.97), max_input_kW };
            return (
              shareUnmet(year, {
                ...one,
                bank: withModules(one.bank, n),
                arrays: [tracked, openTracker(0.5)],
              }) <= most
            );
          };
          const answer = checked(grid, keeps);
          played += answer.played.length;
          all += count(grid);
          if (answer.best !== null) found++;
        },
      ),
      { numRuns: QUESTIONS },
    );
    console.log(
      `played years: ${played} plays where there are ${all} designs; ${found} of ${QUESTIONS} questions held`,
    );
    expect(found).toBeGreaterThan(10);
    expect(found).toBeLessThan(QUESTIONS);
  });
});

describe('the proven axes', () => {
  const NAMES: readonly HeadlineName[] = [
    'unmet.energy_kWh',
    'unmet.share',
    'unmet.hours',
    'unmet.longest_hours',
    'load.served_kWh',
    'bank.lowest_soc',
  ];
  const figuresOf = (year: PreparedYear, plant: Plant) => headline(year, plant, playYear(year, plant), 0);
  /** Names of the figures that a change made worse. */
  const worsened = (year: PreparedYear, before: Plant, after: Plant): readonly HeadlineName[] => {
    const [a, b] = [figuresOf(year, before), figuresOf(year, after)];
    return NAMES.filter((name) =>
      name.startsWith('unmet') ? b[name]! > a[name]! + 1e-9 : b[name]! < a[name]! - 1e-9,
    );
  };
  const RUNS = { numRuns: 100 } as const;
  const arrays = (size_kWp: number, max_input_kW: number, max_output_kW: number) => [
    { ...openTracker(size_kWp, 0.96), max_input_kW, max_output_kW },
    openTracker(0.7),
  ];
  const anyArray = fc.tuple(scaled(0, 100, 10), scaled(1, 100, 10), scaled(1, 100, 10));

  it('more array or larger trackers make no figure worse, whatever the losses', () => {
    fc.assert(
      fc.property(
        drawnParts,
        fc.integer({ min: 1, max: 1e6 }),
        anyArray,
        fc.constantFrom(0, 1, 2),
        (parts, seed, sizes, which) => {
          const grown = sizes.map((x, k) => (k === which ? 1.4 * x + 0.1 : x)) as typeof sizes;
          const before = plantWith({ ...parts, arrays: arrays(...sizes) });
          const after = plantWith({ ...parts, arrays: arrays(...grown) });
          expect(worsened(winter(seed), before, after)).toEqual([]);
        },
      ),
      RUNS,
    );
  });

  it('more modules whose amps cover the load make no figure of the load worse, whatever the losses', () => {
    fc.assert(
      fc.property(
        drawnParts,
        fc.integer({ min: 1, max: 1e6 }),
        anyArray,
        fc.integer({ min: 1, max: 5 }),
        (parts, seed, sizes, n) => {
          const covered = { ...parts, max_discharge_A: 1e4, arrays: arrays(...sizes) };
          const before = plantWith({ ...covered, modules_parallel: n });
          const after = plantWith({ ...covered, modules_parallel: n + 1 });
          const worse = worsened(winter(seed), before, after);
          expect(worse.filter((name) => name !== 'bank.lowest_soc')).toEqual([]);
        },
      ),
      RUNS,
    );
  });

  it('more modules behind linear losses never leave more energy unmet, if their amps cover the standing loss', () => {
    fc.assert(
      fc.property(
        drawnParts,
        fc.integer({ min: 1, max: 1e6 }),
        anyArray,
        fc.integer({ min: 1, max: 5 }),
        (parts, seed, sizes, n) => {
          const linear = { ...parts, loss_quadratic: 0, arrays: arrays(...sizes) };
          const before = plantWith({ ...linear, modules_parallel: n });
          const after = plantWith({ ...linear, modules_parallel: n + 1 });
          const worse = worsened(winter(seed), before, after);
          expect(worse.filter((name) => name.startsWith('unmet.energy') || name === 'unmet.share')).toEqual(
            [],
          );
        },
      ),
      RUNS,
    );
  });

  /** A day of given hours, in the dark but for what `sun_kW` gives. */
  const day = (load_kW: readonly number[], sun_kW: readonly number[] = []): PreparedYear =>
    yearOf({
      load_kW: Float64Array.from({ length: 24 }, (_, i) => load_kW[i] ?? 0),
      dc_kW_per_kWp: [Float64Array.from({ length: 24 }, (_, i) => sun_kW[i] ?? 0)],
    });
  const SUN = [2, 2];
  const PEAK = [0, 0, 2, 0.75, 0.75, 0.75, 0.75];
  const grownFrom = (parts: Parts) =>
    [plantWith(parts), plantWith({ ...parts, modules_parallel: 2 })] as const;

  it('hours are no such figure where amps bind: a peak served now can darken three hours later', () => {
    // Modules of 5 kWh and 1 kW, lossless. Both banks start empty and take 4 kWh of sun; then loads of 2 kW for an hour
    // and 0.75 kW for four. One module serves half of the peak and everything after it. Two serve the peak and are
    // empty in the third hour after it: the same energy in two hours instead of one.
    const year = day(PEAK, SUN);
    const [one, two] = grownFrom({ size_kWp: 1, max_discharge_A: 20, initial_soc: 0 });
    const [a, b] = [figuresOf(year, one), figuresOf(year, two)];
    expect(a['unmet.energy_kWh']).toBeCloseTo(1, 12);
    expect(b['unmet.energy_kWh']).toBeCloseTo(1, 12);
    expect([a['unmet.hours'], b['unmet.hours']]).toEqual([1, 2]);
    expect([a['unmet.longest_hours'], b['unmet.longest_hours']]).toEqual([1, 2]);
  });

  it('energy is no such figure where amps bind and losses bend', () => {
    // The same, with a loss that grows with the square: a kWh of the peak costs more than one of the hours behind it.
    const year = day(PEAK, SUN);
    const [one, two] = grownFrom({
      size_kWp: 1,
      max_discharge_A: 20,
      initial_soc: 0,
      rating_kW: 2,
      loss_quadratic: 0.2,
    });
    const [a, b] = [figuresOf(year, one), figuresOf(year, two)];
    expect(b['unmet.energy_kWh']!).toBeGreaterThan(a['unmet.energy_kWh']! + 0.01);
  });

  it('energy is no such figure where one module can not even carry the standing loss', () => {
    // 100 W a module, 150 W of standing loss, 100 W of load. Both banks take 1.5 kWh of sun. In ten dark hours one module
    // spends 1 kWh on nothing; two serve half of the load and are empty. Then comes just the sun that stands the loss:
    // one module serves five hours with what it has left, two serve none.
    const dark = Array.from({ length: 24 }, () => 0.1);
    const sun = Array.from({ length: 24 }, (_, i) => (i >= 12 ? 0.15 : i < 2 ? 1 : 0));
    const [one, two] = grownFrom({
      size_kWp: 1,
      max_discharge_A: 2,
      initial_soc: 0,
      standing_W: 150,
    });
    const [a, b] = [one, two].map((plant) => figuresOf(day(dark, sun), plant));
    expect(b!['unmet.energy_kWh']!).toBeGreaterThan(a!['unmet.energy_kWh']! + 0.01);
  });

  it('nothing is, where heaters come before the loads: more sun feeds them instead', () => {
    // A bank at -10 °C and empty, its heaters ask for 150 W or nothing. 140 W of sun serve the load of 140 W; 154 W heat.
    const year = yearOf({
      load_kW: new Float64Array(24).fill(0.14),
      dc_kW_per_kWp: [new Float64Array(24).fill(0.14)],
      bank_temperature_C: new Float64Array(24).fill(-10),
    });
    const heater = { keep_C: 5, loss_kW_per_K: 0.01 };
    const parts = { initial_soc: 0, min_charge_temperature_C: 10, heater };
    const [a, b] = [1, 1.1].map((size_kWp) => figuresOf(year, plantWith({ ...parts, size_kWp })));
    expect(a!['unmet.energy_kWh']).toBe(0);
    expect(b!['unmet.energy_kWh']).toBeCloseTo(24 * (0.14 - 0.004), 9);
  });

  it('modules are not, where the cold keeps back a share of what they hold', () => {
    // 4 kWh of sun into banks of 5 and 10 kWh that begin empty; the cold keeps back 2.5 and 5 kWh of them.
    const capacity_at_temperature = [{ temperature_C: 0, share: 0.5 }];
    const year = day([0, 0, 1, 1], SUN);
    const [one, two] = grownFrom({ size_kWp: 1, initial_soc: 0, capacity_at_temperature });
    expect(figuresOf(year, one)['unmet.energy_kWh']).toBeCloseTo(0.5, 12);
    expect(figuresOf(year, two)['unmet.energy_kWh']).toBeCloseTo(2, 12);
  });

  it('the lowest state of charge is no such figure for modules', () => {
    // Both take the same sun, which is a smaller share of the larger bank.
    const [one, two] = grownFrom({ size_kWp: 1, initial_soc: 0 });
    expect(worsened(day([], SUN), one, two)).toEqual(['bank.lowest_soc']);
  });
});

const FILE = 'data/demo/holds.yaml';
const TEXT = readFileSync(resolve(import.meta.dirname, '../..', FILE), 'utf8');
const KNOWN = DESIGN_FIGURES.map(({ name }) => name);

describe('the proof read off a study', () => {
  const studyOf = (axes: readonly string[], text = TEXT): Study =>
    openStudy({ text, file: FILE, partsTexts: new Map() }, axes.map(readAxis));
  const flags = (axes: readonly string[], bounds: readonly string[], text = TEXT, peak_kW?: number) =>
    provenMonotone(
      studyOf(axes, text),
      bounds.map((bound) => readHold(bound, KNOWN)),
      peak_kW === undefined ? undefined : () => peak_kW,
    );
  const ARRAYS = [
    'arrays[0].size_kWp=2,4',
    'arrays[1].tracker.max_power_kW=2,4',
    'arrays[1].tracker.max_charge_A=50,90',
  ];
  const MODULES = 'bank.modules_parallel=1,2';

  it('claims nothing for a bank whose losses rise with current, or whose charge is bound', () => {
    const share = / {2}round_trip_efficiency_share:.*\n/;
    expect(TEXT).toMatch(share);
    const AH = Number(TEXT.match(/capacity_Ah: (\d+)/)![1]);
    const level = '[{ soc: 0, voltage_V: 48 }, { soc: 1, voltage_V: 52 }]';
    const of = (model: string): string => {
      const [line] = TEXT.match(share)!;
      return TEXT.replace(
        share,
        model.startsWith('{ kind: r') ? `  model: ${model}\n` : `${line}  model: ${model}\n`,
      );
    };
    const claims = (text: string) => flags([ARRAYS[0]!, MODULES], ['unmet.energy_kWh<=1'], text, 0.1);
    expect(claims(of('{ kind: fixed_efficiency }'))).toEqual(claims(TEXT));
    expect(claims(TEXT)).toContain(true);
    expect(claims(of(`{ kind: resistive, resistance_mOhm: 5, open_circuit: ${level} }`))).toEqual([
      false,
      false,
    ]);
    expect(
      claims(
        of(
          `{ kind: kinetic, capacity_20h_Ah: ${AH}, capacity_10h_Ah: ${0.9 * AH}, capacity_5h_Ah: ${0.78 * AH} }`,
        ),
      ),
    ).toEqual([false, false]);
  });

  it('claims nothing with heaters, and nothing of modules whose charge the cold keeps back', () => {
    const outdoors = TEXT.replace(/ {2}temperature:.*\n( {4}.*\n)*/, '  temperature: { kind: outdoors }\n');
    expect(outdoors).not.toBe(TEXT);
    const claims = (more: string) =>
      flags(
        [ARRAYS[0]!, MODULES],
        ['unmet.energy_kWh<=1'],
        outdoors.replace('bank:\n', `bank:\n${more}`),
        0.1,
      );
    expect(claims('')).toEqual([true, true]);
    expect(claims('  heater: { keep_C: 5, loss_W_per_K: 2 }\n')).toEqual([false, false]);
    const cold = '[{ temperature_C: -20, share: 0.5 }, { temperature_C: 20, share: 1 }]';
    expect(claims(`  capacity_at_temperature: ${cold}\n`)).toEqual([true, false]);
  });

  it('takes arrays and trackers for every figure of the load, and whatever the axes beside them', () => {
    const axes = [...ARRAYS, 'arrays[0].tilt_deg=60,70', 'inverter.rating_kW=3,4', 'weather.seed=1,2'];
    for (const bound of [
      'unmet.share<=0.01',
      'unmet.hours<5',
      'unmet.longest_hours<=3',
      'bank.lowest_soc>=0.2',
      'load.served_kWh>=100',
      'generator.run_hours<=60',
    ]) {
      expect(flags(axes, [bound])).toEqual([true, true, true, false, false, false]);
    }
    for (const bound of ['unmet.share>=0.01', 'bank.lowest_soc<=0.2', 'array.curtailed_share<=0.5'])
      expect(flags(axes, ['unmet.share<=0.01', bound])).toEqual(axes.map(() => false));
  });

  it('takes no axis whose values do not ascend', () => {
    expect(flags(['arrays[0].size_kWp=4,2,6', 'arrays[1].size_kWp=6:2:-2'], ['unmet.share<=0'])).toEqual([
      false,
      false,
    ]);
  });

  it('takes nothing with a generator', () => {
    const text = readFileSync(
      resolve(import.meta.dirname, '../../data/demo/holds-with-generator.yaml'),
      'utf8',
    );
    expect(flags(['arrays[0].size_kWp=2,4', MODULES], ['unmet.share<=0'], text)).toEqual([false, false]);
  });

  it('takes modules where the smallest bank covers the load, or losses are linear', () => {
    const energy = ['unmet.energy_kWh<=10'];
    const hours = ['unmet.hours<=10'];
    // 100 A at 51.2 V a module: 5.12 kW do not cover the 5.43 kW that 5 kW of AC want, but those of a 3 kW peak.
    expect(flags([MODULES], energy)).toEqual([false]);
    expect(flags([MODULES], energy, TEXT, 3)).toEqual([true]);
    expect(flags([MODULES], hours, TEXT, 3)).toEqual([true]);
    expect(flags(['bank.modules_parallel=2,3'], hours)).toEqual([true]);
    expect(flags([MODULES], ['bank.lowest_soc>=0.2'], TEXT, 3)).toEqual([false]);
    // An axis beside it that weakens the modules, or widens the inverter, counts.
    expect(flags([MODULES, 'bank.module.max_discharge_A=20,100'], energy, TEXT, 3)).toEqual([false, false]);
    expect(flags(['bank.modules_parallel=2,3', 'inverter.rating_kW=5,10'], energy)).toEqual([false, false]);
    const linear = TEXT.replace(
      /efficiency:\n(\s+- .*\n|\s+points:\n)+/,
      'efficiency: { loss_linear: 0.05, loss_quadratic: 0 }\n',
    );
    expect(linear).not.toBe(TEXT);
    expect(flags([MODULES], energy, linear)).toEqual([true]);
    expect(flags([MODULES], hours, linear)).toEqual([false]);
    expect(flags([MODULES], energy, linear.replace('loss_quadratic: 0', 'loss_quadratic: 0.01'))).toEqual([
      false,
    ]);
    // 0.5 A at 51.2 V are less than the standing loss of 30 W.
    expect(flags([MODULES, 'bank.module.max_discharge_A=0.5'], energy, linear)).toEqual([false, false]);
  });

  it('finds on whole years what playing every design finds', () => {
    const axes = ['arrays[0].size_kWp=6:14:2', 'bank.modules_parallel=6:14:1', 'arrays[0].tilt_deg=60,75'];
    const study = studyOf(axes);
    const bounds = ['unmet.share<=0.002', 'generator.run_hours<=0'].map((text) => readHold(text, KNOWN));
    const play = newPlayer(FILE, new Map());
    const figures = Array.from({ length: study.designs }, (_, index) => play(study.design(index).scenario!));
    const monotone = provenMonotone(study, bounds);
    expect(monotone).toEqual([true, true, false]);
    const grid: Grid = {
      lengths: study.axes.map((axis) => axis.values.length),
      monotone,
      cost: (index) => {
        const [size_kWp, modules, tilt_deg] = study.valuesOf(index) as number[];
        return 900 * size_kWp! + 1400 * modules! + 2 * tilt_deg!;
      },
    };
    const { best, played } = checked(grid, (index) =>
      bounds.every((bound) => holds(bound, figures[index]![bound.name as HeadlineName])),
    );
    expect(best).not.toBeNull();
    console.log(
      `demo: ${played.length} plays of ${study.designs} designs; ${study.valuesOf(best!).join(', ')}`,
    );
    expect(played.length).toBeLessThan(study.designs / 3);
  });
});
