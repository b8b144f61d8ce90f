import { expectArgument, expectArguments } from '../basis/arguments.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { BankLife, CycleLifePoint } from '../plant/bank-life.ts';
import { type Cycles, rainflow } from './rainflow.ts';

/** What a played stretch took of a bank's life, as shares of it; null where that life is not stated. */
export interface LifeUsed {
  readonly cycle_life_used_share: number | null;
  readonly calendar_life_used_share: number | null;
}

/** Cycles within a band of depths. */
export interface DepthBand {
  readonly depth_from_share: number;
  readonly depth_to_share: number;
  readonly cycles: number;
}

/** State of charge over a played stretch: before its first step, then at the end of each. */
export function socHistory(
  { columns, steps, start_stock_kWh }: Ledger<'bank_soc'>,
  capacity_kWh: number,
): Float64Array {
  const history = new Float64Array(steps + 1);
  history[0] = start_stock_kWh / capacity_kWh;
  history.set(columns.bank_soc.subarray(0, steps), 1);
  return history;
}

/**
 * Cycles to the end of life at one depth: straight lines between the stated points on logarithmic scales of both, the
 * nearest slope kept outside of them; a single point stands for the same energy through the bank at any depth. Common
 * practice, no source.
 *
 * @param points ascending depth, falling cycles, at least one
 * @param depth_share above 0
 */
export function cyclesAtDepth(points: readonly CycleLifePoint[], depth_share: number): number {
  const first = points[0]!;
  if (points.length === 1) return (first.cycles * first.depth_share) / depth_share;
  let k = 0;
  while (k < points.length - 2 && points[k + 1]!.depth_share < depth_share) k++;
  const [a, b] = [points[k]!, points[k + 1]!];
  const slope = Math.log(b.cycles / a.cycles) / Math.log(b.depth_share / a.depth_share);
  return a.cycles * (depth_share / a.depth_share) ** slope;
}

/**
 * Share of a cycle life that counted cycles use up: each takes one part in as many as there are at its depth, whatever
 * came before it.
 *
 * Source: linear damage, Miner 1945, Journal of Applied Mechanics 12, A159-A164 (recalled). Left out: mean state of
 * charge, current and temperature of a cycle, and the order of cycles.
 */
export function cycleLifeUsed_share(cycles: Cycles, points: readonly CycleLifePoint[]): number {
  expectArguments('cycleLifeUsed_share', { cycles });
  expectArgument('cycleLifeUsed_share', 'points', points, 'cycle_life');
  let used = 0;
  for (let k = 0; k < cycles.range.length; k++) {
    used += cycles.count[k]! / cyclesAtDepth(points, cycles.range[k]!);
  }
  return used;
}

/**
 * What a played stretch took of the bank's life: of cycles against depth what each takes, of full cycles as many as
 * their energy makes.
 *
 * @param capacity_kWh of the bank as it was played
 * @param years length of the stretch
 */
export const lifeUsed = (
  ledger: Ledger<'bank_soc' | 'bank_discharge_kWh'>,
  life: BankLife,
  capacity_kWh: number,
  years: number,
): LifeUsed => ({
  cycle_life_used_share:
    life.cycle_life !== null
      ? cycleLifeUsed_share(rainflow(socHistory(ledger, capacity_kWh)), life.cycle_life)
      : life.life_cycles !== null
        ? ledger.columns.bank_discharge_kWh.reduce((sum, kWh) => sum + kWh, 0) /
          capacity_kWh /
          life.life_cycles
        : null,
  calendar_life_used_share: life.life_years === null ? null : years / life.life_years,
});

const BANDS = 10;

/** Cycles by depth, in ten equal bands of which only the last holds its upper end; halves count as halves. */
export function cyclesByDepth({ range, count }: Cycles): readonly DepthBand[] {
  const sums = new Array<number>(BANDS).fill(0);
  for (let k = 0; k < range.length; k++) {
    // A cycle as deep as a band's lower end but for rounding is in that band.
    sums[Math.min(BANDS - 1, Math.floor(range[k]! * BANDS + 1e-9))]! += count[k]!;
  }
  return sums.map((cycles, k) => ({
    depth_from_share: k / BANDS,
    depth_to_share: (k + 1) / BANDS,
    cycles,
  }));
}
