import type { StepParts } from './parts.ts';
import { HELD, type Memory, SHED, SHED_DC, type StepGivens } from './step.ts';

/**
 * Energy of the tiers that are shed in this step, the dead band kept in memory: `scratch[SHED]`, and what of it is on the
 * DC side, `scratch[SHED_DC]`. Judged by `scratch[HELD]`.
 */
export function shedTiers(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { scratch } = memory;
  const held = scratch[HELD]!;
  let energy = 0;
  let ofDc = 0;
  for (let k = 0; k < parts.shedding.length; k++) {
    const rule = parts.shedding[k]!;
    const bit = 1 << rule.tier;
    if ((memory.shed & bit) === 0) {
      if (held <= rule.shed_kWh) memory.shed |= bit;
    } else if (held >= rule.restore_kWh) {
      memory.shed &= ~bit;
    }
    if ((memory.shed & bit) !== 0) {
      energy += given.tier_kW[rule.tier]![i]! * parts.step_h;
      if (given.dc_tier_kW !== null) ofDc += given.dc_tier_kW[rule.tier]![i]! * parts.step_h;
    }
  }
  scratch[SHED] = energy;
  scratch[SHED_DC] = ofDc;
}
