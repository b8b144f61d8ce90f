import { acFromDc_kW, dcForAc_kW } from '../plant/inverter.ts';
import type { StepParts } from './parts.ts';
import {
  AC_SPARE,
  AC_TO_LOAD,
  AC_TO_SURPLUS,
  COULD,
  INVERTER_IN,
  INVERTER_OUT,
  type Memory,
  MORE,
  MUST,
  RATING,
  SPOKEN_FOR,
  type StepGivens,
  SURPLUS,
  TAKEN,
  UNUSED,
  WITHHELD,
} from './step.ts';

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

/**
 * Loads that may wait take the sun that is left in a step, `scratch[COULD]` at most, past the inverter or through it.
 * `scratch[UNUSED]`: what the DC side has left; `scratch[TAKEN]`: what they got; `scratch[MORE]`: what of the DC side it took.
 */
export function sunToWaiting(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { inverter } = parts;
  const { scratch } = memory;
  const could = scratch[COULD]!;
  const left = scratch[UNUSED]!;
  const inverterIn = scratch[INVERTER_IN]!;
  const inverterOut = scratch[INVERTER_OUT]!;
  const past = Math.max(0, Math.min(could, scratch[AC_SPARE]! - scratch[SPOKEN_FOR]!));
  let through = Math.min(could - past, scratch[RATING]! - inverterOut);
  let more = 0;
  if (through > 0 && left > 0) {
    more = dcForAc_kW(inverter, inverterOut + through) - inverterIn;
    if (more > left) {
      more = left;
      through = Math.max(0, acFromDc_kW(inverter, inverterIn + more) - inverterOut);
    }
  } else {
    through = 0;
  }
  scratch[AC_SPARE] = scratch[AC_SPARE]! - past;
  scratch[AC_TO_LOAD] = scratch[AC_TO_LOAD]! + past;
  scratch[INVERTER_IN] = inverterIn + more;
  scratch[INVERTER_OUT] = inverterOut + through;
  scratch[MORE] = more;
  scratch[TAKEN] = past + through;
  feedWaiting(given, i, memory);
}

/**
 * Loads that take surplus get what nothing else takes: sun on the AC side first, then what is unused on the DC side.
 * `scratch[SURPLUS]`: what they got; `scratch[AC_TO_SURPLUS]`: what of it came past the inverter.
 */
export function unusedToSurplus(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { inverter } = parts;
  const { scratch } = memory;
  const acSpare = scratch[AC_SPARE]!;
  const unused = scratch[UNUSED]!;
  const inverterIn = scratch[INVERTER_IN]!;
  const inverterOut = scratch[INVERTER_OUT]!;
  const most = acFromDc_kW(inverter, inverterIn + unused) - inverterOut;
  scratch[COULD] = acSpare + Math.max(0, Math.min(most, scratch[RATING]! - inverterOut));
  feedSurplus(given, i, memory);
  let surplusLoad = scratch[TAKEN]!;
  const acToSurplus = Math.min(acSpare, surplusLoad);
  scratch[AC_SPARE] = acSpare - acToSurplus;
  // Rounding of sums alone must not wake the inverter.
  if (unused === 0) surplusLoad = acToSurplus;
  const through = surplusLoad - acToSurplus;
  if (through > 0) {
    const asked = dcForAc_kW(inverter, inverterOut + through) - inverterIn;
    const more = Math.max(0, Math.min(unused, asked));
    scratch[INVERTER_OUT] = inverterOut + through;
    scratch[INVERTER_IN] = inverterIn + more;
    scratch[UNUSED] = unused - more;
  }
  scratch[SURPLUS] = surplusLoad;
  scratch[AC_TO_SURPLUS] = acToSurplus;
}

/** Hands `scratch[TAKEN]` out to the loads that may wait, in the order of the scenario. */
function feedWaiting(given: StepGivens, i: number, memory: Memory): void {
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
function feedSurplus(given: StepGivens, i: number, memory: Memory): void {
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
