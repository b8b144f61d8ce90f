import { type Inverter, inputFor } from '../plant/inverter.ts';
import { plantOf } from '../plant/plant.ts';
import { parsePath, pathText } from '../scenario/path.ts';
import type { Scenario } from '../scenario/schema.ts';
import { type Axis, digitsOf } from './axes.ts';
import type { Hold } from './hold.ts';
import { radicalInverse } from './sample.ts';
import type { Study } from './study.ts';

/** A grid of designs as far as it is known before any is played. */
export interface Grid {
  /** Number of values on each axis; in an index the last axis varies fastest, as in a study. */
  readonly lengths: readonly number[];
  /** Cost of a design; null if its values contradict each other: such a design is never played. */
  readonly cost: (index: number) => number | null;
  /**
   * One an axis: true if a larger digit, all other digits equal, never turns a design that holds into one that doesn't.
   * It is a claim about the plants, also across designs that are left out as contradictory.
   */
  readonly monotone: readonly boolean[];
}

/** What a search for the cheapest design found. */
export interface Cheapest {
  /**
   * Index of the design that holds at the least cost; ties go to the smaller index. Null if none holds. Where a larger
   * design costs less than a smaller one it may be known to hold without having been played.
   */
  readonly best: number | null;
  /** Designs played, in this order, none twice. */
  readonly played: readonly number[];
}

/**
 * The cheapest design of a grid that holds, exactly the one that playing every design would find, from as few plays as
 * the monotone axes allow.
 *
 * @param keeps plays a design and says whether it holds
 * @throws RangeError as `searchCheapest`
 */
export function cheapestHolding(grid: Grid, keeps: (index: number) => boolean): Cheapest {
  const search = searchCheapest(grid);
  let step = search.next();
  while (step.done !== true) step = search.next(step.value.map(keeps));
  return step.value;
}

/** Designs that differ only on the line axis, from digit 0 up. */
interface Line {
  readonly first: number;
  /** Digits on the other monotone axes. */
  readonly others: readonly number[];
  readonly facts: Facts;
  asked: boolean;
}

/** One played design: its digits on the monotone axes. */
interface Fact {
  readonly others: readonly number[];
  readonly digit: number;
}

/** What has been played among designs that are alike on every axis that is not monotone. */
interface Facts {
  fail: Fact[];
  hold: Fact[];
}

/**
 * The same search as a conversation, for a caller that plays elsewhere: it yields designs to play and is given whether
 * each holds. What it asks depends on grid, answers and `width` alone, not on who plays how fast.
 *
 * Designs lie in lines along the longest monotone axis. The first play on a line is its largest design that is still
 * cheaper than the best so far: if that fails, so do all below it, and the line is done with one play; if it holds, the
 * line is bisected. A play also speaks for every design that is larger (if it holds) or smaller (if it fails) on
 * monotone axes and equal on the others. Without a monotone axis every line is one design and they are played by
 * ascending cost until the first holds.
 *
 * @param width most designs asked at once, each on another line; above 1 some plays may prove needless
 * @throws RangeError if there is not one flag an axis, or a cost is not a number
 */
export function* searchCheapest(
  grid: Grid,
  width = 1,
): Generator<readonly number[], Cheapest, readonly boolean[]> {
  const costs = costsOf(grid);
  const { lines, length, stride } = linesOf(grid, costs);
  const played: number[] = [];
  let best: number | null = null;
  // NaN, the cost of a contradiction, compares false and so is never better.
  const isBetter = (index: number): boolean =>
    best === null
      ? !Number.isNaN(costs[index]!)
      : costs[index]! < costs[best]! || (costs[index] === costs[best] && index < best);

  /** The next design to play on a line, or null if no more of it can beat the best. Once null, null for good. */
  const nextOn = (line: Line): number | null => {
    const { failsUpTo, holdsFrom } = known(line, length);
    for (let digit = holdsFrom; digit < length; digit++) {
      const index = line.first + digit * stride;
      if (isBetter(index)) best = index;
    }
    const open: number[] = [];
    for (let digit = failsUpTo + 1; digit < holdsFrom; digit++) {
      const index = line.first + digit * stride;
      if (isBetter(index)) open.push(index);
    }
    return open[line.asked ? open.length >> 1 : open.length - 1] ?? null;
  };

  let active: { readonly line: Line; readonly index: number }[] = [];
  let coming = 0;
  for (;;) {
    active = active.flatMap(({ line }) => {
      const index = nextOn(line);
      return index === null ? [] : [{ line, index }];
    });
    while (active.length < width && coming < lines.length) {
      const line = lines[coming++]!;
      const index = nextOn(line);
      if (index !== null) active.push({ line, index });
    }
    if (active.length === 0) return { best, played };
    const answers = yield active.map(({ index }) => index);
    active.forEach(({ line, index }, k) => {
      played.push(index);
      line.asked = true;
      const fact = { others: line.others, digit: (index - line.first) / stride };
      if (answers[k]!) {
        line.facts.hold = [...line.facts.hold.filter((old) => !isBelow(fact, old)), fact];
        if (isBetter(index)) best = index;
      } else {
        line.facts.fail = [...line.facts.fail.filter((old) => !isBelow(old, fact)), fact];
      }
    });
  }
}

const isBelow = (a: Fact, b: Fact): boolean =>
  a.digit <= b.digit && a.others.every((digit, k) => digit <= b.others[k]!);

/** Up to which digit the designs of a line are known to fail, and from which on to hold. */
function known({ others, facts }: Line, length: number): { failsUpTo: number; holdsFrom: number } {
  let failsUpTo = -1;
  let holdsFrom = length;
  for (const fact of facts.fail) {
    if (fact.digit > failsUpTo && others.every((digit, k) => digit <= fact.others[k]!))
      failsUpTo = fact.digit;
  }
  for (const fact of facts.hold) {
    if (fact.digit < holdsFrom && others.every((digit, k) => digit >= fact.others[k]!))
      holdsFrom = fact.digit;
  }
  return { failsUpTo, holdsFrom };
}

/** Cost of every design, NaN for a contradiction. */
function costsOf({ lengths, cost, monotone }: Grid): Float64Array {
  if (lengths.length !== monotone.length) {
    throw new RangeError(`searchCheapest: ${lengths.length} axes, ${monotone.length} flags`);
  }
  const costs = new Float64Array(lengths.reduce((count, length) => count * length, 1));
  for (let index = 0; index < costs.length; index++) {
    const value = cost(index);
    if (Number.isNaN(value)) throw new RangeError(`searchCheapest: the cost of design ${index} is NaN`);
    costs[index] = value ?? Number.NaN;
  }
  return costs;
}

/**
 * Lays designs out in lines and puts these in an order that comes early upon a good design, which then rules out most
 * of the other lines at one play each or none: blocks (alike on the axes that are not monotone) by their cheapest
 * design; within a block the line of the largest designs, whose end tells whether the block holds anything at all,
 * then the middle, the quarters, the eighths.
 */
function linesOf(
  { lengths, monotone }: Grid,
  costs: Float64Array,
): { readonly lines: readonly Line[]; readonly length: number; readonly stride: number } {
  const strides = lengths.map((_, k) => lengths.slice(k + 1).reduce((count, length) => count * length, 1));
  let along = -1;
  monotone.forEach((is, k) => {
    if (is && (along < 0 || lengths[k]! >= lengths[along]!)) along = k;
  });
  const length = lengths[along] ?? 1;
  const stride = strides[along] ?? 1;
  const digit = (index: number, k: number): number => Math.floor(index / strides[k]!) % lengths[k]!;

  const blocks = new Map<number, { firsts: number[]; cheapest: number }>();
  for (let index = 0; index < costs.length; index++) {
    const key = monotone.reduce((rest, is, k) => (is ? rest - digit(index, k) * strides[k]! : rest), index);
    const block = blocks.get(key) ?? { firsts: [], cheapest: Number.POSITIVE_INFINITY };
    blocks.set(key, block);
    if (along < 0 || digit(index, along) === 0) block.firsts.push(index);
    if (costs[index]! < block.cheapest) block.cheapest = costs[index]!;
  }
  const lines = [...blocks.values()]
    .sort((a, b) => (a.cheapest === b.cheapest ? a.firsts[0]! - b.firsts[0]! : a.cheapest - b.cheapest))
    .flatMap(({ firsts }) => {
      const facts: Facts = { fail: [], hold: [] };
      return middleFirst(firsts).map((first) => ({
        first,
        others: monotone.flatMap((is, k) => (is && k !== along ? [digit(first, k)] : [])),
        facts,
        asked: false,
      }));
    });
  return { lines, length, stride };
}

/** The last item, then the middle one, those at the quarters, the eighths and so on; each once. */
function middleFirst(items: readonly number[]): number[] {
  const order = new Set([items.length - 1]);
  // The points up to the next power of two are close enough together to fall on every item.
  for (let n = 1; order.size < items.length; n++) order.add(Math.floor(items.length * radicalInverse(n, 2)));
  return [...order].map((k) => items[k]!);
}

const ARRAY_KEY = /^arrays\[\d+\]\.(size_kWp|panels|tracker\.max_power_kW|tracker\.max_charge_A)$/;
const BANK_KEY = 'bank.modules_parallel';

/** Figures that a bound may cap, or demand, without a larger array ever breaking it: plants without a generator. */
const ARRAY_LOWERS = ['unmet.energy_kWh', 'unmet.share', 'unmet.hours', 'unmet.longest_hours'];
const ARRAY_RAISES = ['bank.lowest_soc', 'load.served_kWh'];
/** The same for more modules: whose amps never bind, or whose losses are linear. */
const MODULES_LOWER = { covered: ARRAY_LOWERS, linear: ['unmet.energy_kWh', 'unmet.share'] };
const MODULES_RAISE = ['load.served_kWh'];

/**
 * Tells along which axes of a study larger values are proven never to break a bound that was kept, up to the rounding
 * of sums (some 1e-12 kWh). Every other axis is played without such a claim.
 *
 * With a generator, shore power, shedding, or a plant or bank that is not `isPlain` nothing is proven. Without them:
 * - Array sizes and tracker limits only raise the energy at the trackers in each step. By induction over the steps the
 *   stock is then never lower and no step serves less, whatever the losses: what a step serves, and what it leaves in
 *   the bank, both rise with stock and with sun.
 * - More modules keep the same order, counted in kWh above the floor, if their amps never bind: they take a charge at
 *   least as fast from the same stock, and start with more. Not where the cold keeps back a share of what they hold:
 *   more modules keep back more of the same stock (counter-example in the tests).
 * - Where amps bind, a larger bank may serve a peak that a smaller one missed and have less for later. With linear
 *   losses, d kWh for one more kWh served, it has then served more by at least what it has less: d (U - U') + e min(0,
 *   S' - S) >= 0 for unmet U and stock S, e the discharge efficiency, holds in every step. So energy is proven, hours
 *   are not (counter-example in the tests). Amps must cover the inverter's standing loss: below it they are spent and
 *   serve nothing.
 *
 * @param study its designs; axes with values that don't ascend are not proven
 * @param bounds all that a design must keep
 * @param peak_load_kW highest AC load of all years that the scenario will be played in; the inverter's rating if left out
 * @returns one flag an axis
 */
export function provenMonotone(
  study: Study,
  bounds: readonly Hold[],
  peak_load_kW: (scenario: Scenario) => number = () => Number.POSITIVE_INFINITY,
): readonly boolean[] {
  const { axes } = study;
  const names = axes.map(({ path }) => pathText(parsePath(path)));
  const eases = (lowered: readonly string[], raised: readonly string[]): boolean =>
    bounds.every(({ name, relation }) => {
      // Null in every design of a plant without a generator: no axis moves it.
      if (name.startsWith('generator.')) return true;
      return (relation.startsWith('<') ? lowered : raised).includes(name);
    });
  const isFree = names.map((name) => name === BANK_KEY || ARRAY_KEY.test(name));
  const samples = oneOfEachBlock(study, isFree);
  // A source that takes the loads over, or loads shed by state of charge, can serve less after it has had more.
  const switches = ({ generator, shore, shedding }: Scenario): boolean =>
    generator !== undefined || shore !== undefined || shedding.length > 0;
  // What a resistive or kinetic bank can give depends on more than its stock.
  // Heaters heat all or nothing and come before the loads: a little more sun can feed them instead of a load.
  // Legs, sleep, loads on the DC side and loads that wait or take surplus are not in the proof, nor arrays on the AC side.
  const isPlain = ({ bank, inverter, arrays, loads }: Scenario): boolean =>
    bank.heater === undefined &&
    (bank.model === undefined || bank.model.kind === 'fixed_efficiency') &&
    inverter.legs === 1 &&
    inverter.sleep === undefined &&
    arrays.every(({ coupling }) => coupling !== 'ac') &&
    loads.every((load) => load.kind !== 'waiting' && load.kind !== 'surplus' && load.bus !== 'dc');
  if (samples.some((scenario) => switches(scenario) || !isPlain(scenario))) return axes.map(() => false);
  return axes.map((axis, k) => {
    if (!ascends(axis)) return false;
    if (ARRAY_KEY.test(names[k]!)) return eases(ARRAY_LOWERS, ARRAY_RAISES);
    if (names[k] !== BANK_KEY) return false;
    const modules = axis.values[0] as number;
    const kinds = samples.map((scenario) => bankProof(scenario, modules, peak_load_kW(scenario)));
    return kinds.every((kind) => kind !== null && eases(MODULES_LOWER[kind], MODULES_RAISE));
  });
}

const ascends = ({ values }: Axis): boolean =>
  values.every((value, k) => typeof value === 'number' && (k === 0 || value > (values[k - 1] as number)));

/** A scenario for each combination of the axes that are not free; none for combinations that always contradict. */
function oneOfEachBlock(study: Study, isFree: readonly boolean[]): readonly Scenario[] {
  const found = new Map<string, Scenario>();
  for (let index = 0; index < study.designs; index++) {
    const block = digitsOf(study.axes, index)
      .filter((_, k) => !isFree[k])
      .join();
    if (found.has(block)) continue;
    const { scenario } = study.design(index);
    if (scenario !== null) found.set(block, scenario);
  }
  return [...found.values()];
}

/** What proves that `modules` of this bank, and any more, never leave more unmet; null if nothing does. */
function bankProof(scenario: Scenario, modules: number, peak_load_kW: number): 'covered' | 'linear' | null {
  const { bank, inverter } = plantOf({
    ...scenario,
    bank: { ...scenario.bank, modules_parallel: modules },
  });
  if (bank.capacity_at_temperature.length > 0) return null;
  const most_kW = Math.min(peak_load_kW, inverter.rating_kW);
  if (bank.max_discharge_kW >= inputFor(inverter.curve, most_kW)) return 'covered';
  return isLinear(inverter, most_kW) && bank.max_discharge_kW >= inverter.curve.idle ? 'linear' : null;
}

/** True if the loss curve is one straight line up to an output, standing loss included. */
function isLinear({ curve: { output, input } }: Inverter, most_kW: number): boolean {
  const slope = (k: number): number => (input[k]! - input[k - 1]!) / (output[k]! - output[k - 1]!);
  for (let k = 2; k < output.length && output[k - 1]! < most_kW; k++) {
    if (Math.abs(slope(k) - slope(1)) > 1e-12 * slope(1)) return false;
  }
  return true;
}
