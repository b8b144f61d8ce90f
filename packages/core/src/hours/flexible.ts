import type { StepParts } from './parts.ts';
import { COULD, type Memory, MUST, type StepGivens, TAKEN, WITHHELD } from './settle.ts';

/**
 * What loads that may wait ask for in a step. `scratch[MUST]`: what can wait no longer, `scratch[COULD]`: what they
 * could take beyond it, `scratch[WITHHELD]`: what could wait no longer but is held back, the bank being too low for it.
 */
export function askWaiting(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { waiting_kWh, scratch } = memory;
  let must = 0;
  let could = 0;
  let withheld = 0;
  for (let k = 0; k < given.waiting.length; k++) {
    const load = given.waiting[k]!;
    if (load.asked_kWh[i]! > 0) waiting_kWh[k] = load.asked_kWh[i]!;
    const most = Math.min(load.most_kWh[i]!, waiting_kWh[k]!);
    if (most <= 0) continue;
    const now = Math.min(most, Math.max(0, waiting_kWh[k]! - load.later_kWh[i]!));
    waiting_kWh[k]! -= now;
    if (memory.stock_kWh < load.least_soc * parts.capacity_kWh) withheld += now;
    else {
      must += now;
      could += most - now;
    }
  }
  scratch[MUST] = must;
  scratch[COULD] = could;
  scratch[WITHHELD] = withheld;
}

/** Hands `scratch[TAKEN]` out to the loads that may wait, in the order of the scenario. */
export function feedWaiting(given: StepGivens, i: number, memory: Memory): void {
  const { waiting_kWh, scratch } = memory;
  let left = scratch[TAKEN]!;
  for (let k = 0; k < given.waiting.length && left > 0; k++) {
    const load = given.waiting[k]!;
    // What could wait no longer has been taken off already.
    const got = Math.min(left, load.most_kWh[i]!, waiting_kWh[k]!);
    waiting_kWh[k]! -= got;
    left -= got;
  }
}

/** Hands surplus, at most `scratch[COULD]`, out in the order of the scenario; `scratch[TAKEN]` is what was taken. */
export function feedSurplus(given: StepGivens, i: number, memory: Memory): void {
  const { surplus_kWh, scratch } = memory;
  if (memory.surplus_day !== given.day[i]!) {
    memory.surplus_day = given.day[i]!;
    for (let k = 0; k < given.surplus.length; k++) surplus_kWh[k] = given.surplus[k]!.max_kWh_day;
  }
  let left = scratch[COULD]!;
  let taken = 0;
  for (let k = 0; k < given.surplus.length && left > 0; k++) {
    const got = Math.min(left, given.surplus[k]!.most_kWh[i]!, surplus_kWh[k]!);
    surplus_kWh[k]! -= got;
    left -= got;
    taken += got;
  }
  scratch[TAKEN] = taken;
}
