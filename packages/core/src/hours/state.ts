import type { PlantState } from '../ledger/state.ts';
import type { Plant } from '../plant/plant.ts';
import type { GeneratorParts, StepParts } from './parts.ts';
import type { Memory } from './step.ts';

/**
 * What of the memory crosses a local midnight (`state`), what is counted within a day and begins anew then (`day`), and
 * what a step writes before it reads it (`step`). A field of `Memory` that is not named here does not compile: a year
 * closes only if all of its state comes round.
 */
export const MEMORY_KINDS = {
  stock_kWh: 'state',
  // Of its fields only `available_kWh` outlasts a step.
  bank: 'state',
  generator_on: 'state',
  ran_h: 'state',
  fuel_L: 'state',
  shed: 'state',
  shore_on: 'state',
  inverter_off: 'state',
  flexible_kWh: 'state',
  ran_today_h: 'day',
  day: 'day',
  surplus_kWh: 'day',
  surplus_day: 'day',
  wrote: 'step',
  flows: 'step',
} as const satisfies Record<keyof Memory, 'state' | 'day' | 'step'>;

/** Places of a state in a row of marks; what each flexible load still asks for comes after them. */
const STOCK = 0;
const AVAILABLE = 1;
const RUNS = 2;
const RAN = 3;
const FUEL = 4;
const SHED = 5;
const SHORE_ON = 6;
const INVERTER_OFF = 7;
const WAITING = 8;

type Waiting = { readonly flexible_kWh: ArrayLike<number> };

/** Numbers that a state takes. */
export const stateWidth = ({ flexible_kWh }: Waiting): number => WAITING + flexible_kWh.length;

/** Two ways into the same state differ by the rounding of sums: this share of the capacity, or of a kilowatt-hour. */
const SAME = 1e-13;

/** Longer than this a generator's run decides nothing. */
const mostRan_h = (generator: GeneratorParts | null): number =>
  generator === null ? 0 : Math.max(generator.min_run_h, generator.warm_up_h);

/** Writes the state, as it is at a local midnight, to `marks` from `at` on. */
export function writeState(parts: StepParts, memory: Memory, marks: Float64Array, at: number): void {
  const { generator } = parts;
  marks[at + STOCK] = memory.stock_kWh;
  marks[at + AVAILABLE] = availableOf(parts, memory);
  marks[at + RUNS] = memory.generator_on ? 1 : 0;
  marks[at + RAN] = ranOf(parts, memory);
  marks[at + FUEL] = fuelOf(generator, memory);
  marks[at + SHED] = memory.shed;
  marks[at + SHORE_ON] = memory.shore_on ? 1 : 0;
  marks[at + INVERTER_OFF] = memory.inverter_off ? 1 : 0;
  for (let k = 0; k < memory.flexible_kWh.length; k++) marks[at + WAITING + k] = memory.flexible_kWh[k]!;
}

const availableOf = ({ bank_model }: StepParts, { bank }: Memory): number =>
  bank_model !== null && bank_model.kind === 'kinetic' ? bank.available_kWh : 0;
const ranOf = ({ generator }: StepParts, memory: Memory): number =>
  memory.generator_on ? Math.min(memory.ran_h, mostRan_h(generator)) : 0;
const fuelOf = (generator: GeneratorParts | null, memory: Memory): number =>
  generator !== null && generator.tank_L !== null ? memory.fuel_L : 0;

/** Puts the memory into the state at `at`, at the beginning of a day. */
export function readState(memory: Memory, marks: Float64Array, at: number): void {
  memory.stock_kWh = marks[at + STOCK]!;
  memory.bank.available_kWh = marks[at + AVAILABLE]!;
  memory.generator_on = marks[at + RUNS] === 1;
  memory.ran_h = marks[at + RAN]!;
  memory.fuel_L = marks[at + FUEL]!;
  memory.shed = marks[at + SHED]! | 0;
  memory.shore_on = marks[at + SHORE_ON] === 1;
  memory.inverter_off = marks[at + INVERTER_OFF] === 1;
  for (let k = 0; k < memory.flexible_kWh.length; k++) memory.flexible_kWh[k] = marks[at + WAITING + k]!;
  beginDay(memory);
}

/** What is counted within a day begins anew. */
export function beginDay(memory: Memory): void {
  memory.ran_today_h = 0;
  memory.day = -1;
  memory.surplus_kWh.fill(0);
  memory.surplus_day = -1;
}

/** True if the memory is in the state at `at`, rounding apart: from there on it would play the very same hours. */
export function isInState(parts: StepParts, memory: Memory, marks: Float64Array, at: number): boolean {
  const near_kWh = SAME * parts.capacity_kWh;
  if (!(Math.abs(memory.stock_kWh - marks[at + STOCK]!) <= near_kWh)) return false;
  if (!(Math.abs(availableOf(parts, memory) - marks[at + AVAILABLE]!) <= near_kWh)) return false;
  if ((memory.generator_on ? 1 : 0) !== marks[at + RUNS]) return false;
  if (ranOf(parts, memory) !== marks[at + RAN]) return false;
  if (Math.abs(fuelOf(parts.generator, memory) - marks[at + FUEL]!) > SAME) return false;
  if (memory.shed !== marks[at + SHED]) return false;
  if ((memory.shore_on ? 1 : 0) !== marks[at + SHORE_ON]) return false;
  if ((memory.inverter_off ? 1 : 0) !== marks[at + INVERTER_OFF]) return false;
  for (let k = 0; k < memory.flexible_kWh.length; k++) {
    if (Math.abs(memory.flexible_kWh[k]! - marks[at + WAITING + k]!) > SAME) return false;
  }
  return true;
}

/** The state at `at` as a value. */
export const stateOf = ({ flexible_kWh }: Waiting, marks: Float64Array, at: number): PlantState => ({
  stock_kWh: marks[at + STOCK]!,
  available_kWh: marks[at + AVAILABLE]!,
  generator_on: marks[at + RUNS] === 1,
  ran_h: marks[at + RAN]!,
  fuel_L: marks[at + FUEL]!,
  shed: marks[at + SHED]!,
  shore_on: marks[at + SHORE_ON] === 1,
  inverter_off: marks[at + INVERTER_OFF] === 1,
  flexible_kWh: Array.from(flexible_kWh, (_, k) => marks[at + WAITING + k]!),
});

/** Writes a state that was handed on to `marks` from `at` on. */
export function putState(state: PlantState, marks: Float64Array, at: number): void {
  marks[at + STOCK] = state.stock_kWh;
  marks[at + AVAILABLE] = state.available_kWh;
  marks[at + RUNS] = state.generator_on ? 1 : 0;
  marks[at + RAN] = state.ran_h;
  marks[at + FUEL] = state.fuel_L;
  marks[at + SHED] = state.shed;
  marks[at + SHORE_ON] = state.shore_on ? 1 : 0;
  marks[at + INVERTER_OFF] = state.inverter_off ? 1 : 0;
  state.flexible_kWh.forEach((kWh, k) => {
    marks[at + WAITING + k] = kWh;
  });
}

/**
 * A plant that has rested at a state of charge: wells level, generator off, tank full, nothing shed, inverter on.
 *
 * @param soc 0 to 1; below the floor it stands at the floor
 * @param waiting how many loads may wait
 */
export function restedState({ bank, generator }: Plant, soc: number, flexible: number): PlantState {
  const stock_kWh = Math.max(soc * bank.capacity_kWh, bank.floor_kWh);
  return {
    stock_kWh,
    available_kWh: bank.model.kind === 'kinetic' ? bank.model.available_share * stock_kWh : 0,
    generator_on: false,
    ran_h: 0,
    fuel_L: generator?.tank_L ?? 0,
    shed: 0,
    shore_on: false,
    inverter_off: false,
    flexible_kWh: Array.from({ length: flexible }, () => 0),
  };
}

/** The state at the same state of charge in a bank of another capacity. */
export function stateInBank(state: PlantState, from_kWh: number, to_kWh: number): PlantState {
  if (from_kWh === to_kWh) return state;
  const ratio = to_kWh / from_kWh;
  return { ...state, stock_kWh: state.stock_kWh * ratio, available_kWh: state.available_kWh * ratio };
}
