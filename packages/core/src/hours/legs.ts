import type { StepParts } from './parts.ts';
import type { Memory, StepGivens } from './step.ts';

/**
 * Most that stacked inverters can serve of `rest_kWh` when no leg carries more than its share of the rating:
 * `legs_most_kWh`. What others serve of what is asked leaves each leg alike; loads on no
 * leg of their own are spread evenly.
 */
export function weighLegs(
  parts: StepParts,
  given: StepGivens,
  i: number,
  memory: Memory,
  rest_kWh: number,
): void {
  const { flows } = memory;
  const asked = flows.ac_asked_kWh;
  flows.legs_most_kWh = rest_kWh;
  if (asked <= 0) return;
  const legs = given.leg_tier_kW!;
  let alone = 0;
  for (let leg = 0; leg < legs.length; leg++) alone += onLeg_kWh(parts, legs[leg]!, i, memory);
  const even = Math.max(0, asked - alone) / parts.legs;
  const left = rest_kWh / asked;
  const cap = flows.rating_kWh / parts.legs;
  let most = 0;
  for (let leg = 0; leg < parts.legs; leg++) {
    const own = leg < legs.length ? onLeg_kWh(parts, legs[leg]!, i, memory) : 0;
    most += Math.min(cap, (even + own) * left);
  }
  flows.legs_most_kWh = most;
}

/** What hangs on one leg alone, shed tiers left out. */
function onLeg_kWh(parts: StepParts, tier_kW: readonly Float64Array[], i: number, memory: Memory): number {
  let sum = 0;
  for (let k = 0; k < tier_kW.length; k++) {
    if ((memory.shed & (1 << k)) === 0) sum += tier_kW[k]![i]! * parts.step_h;
  }
  return sum;
}
