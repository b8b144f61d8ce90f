import { acFromDc_kW, dcForAc_kW } from '../plant/inverter.ts';
import { NOTHING_kWh } from './generator.ts';
import { weighLegs } from './legs.ts';
import type { StepParts } from './parts.ts';
import {
  AC_ASKED,
  AC_REST,
  AC_SPARE,
  AC_SUN,
  AC_TO_LOAD,
  BEYOND,
  CARRIED,
  CHARGER_MOST,
  DC_ALL,
  DC_ASKED,
  DC_SERVED,
  ENGINE_MOST,
  HEATED_DISCHARGE,
  INVERTER_ASKED,
  INVERTER_FIRST,
  INVERTER_IN,
  INVERTER_OUT,
  LEGS_MOST,
  type Memory,
  RATING,
  SHORE,
  SOURCE_MOST,
  type StepGivens,
  SUN_SPARE,
  TRACKED,
  UNMET_LEG,
} from './step.ts';

/**
 * What the inverter makes of `scratch[INVERTER_IN]`: `scratch[INVERTER_OUT]`. A number that a call returns in a branch
 * that is rarely taken has no known kind; joined with one that has, it would box that in every step.
 */
export function invertAll({ inverter }: StepParts, { scratch }: Memory): void {
  scratch[INVERTER_OUT] = acFromDc_kW(inverter, scratch[INVERTER_IN]!);
}

/** Whether a socket that is there gets the loads: by its rule, or because they would go unmet without it. */
export function isShoreWanted(parts: StepParts, memory: Memory): boolean {
  const { asked_kWh, alone_kWh, dc_short_kWh } = memory;
  // Behind a plain transfer switch it would take the loads down with it if it can't carry what the inverter can.
  const gives = parts.shore_parallel ? asked_kWh : Math.min(asked_kWh, parts.shore_kWh);
  if (gives < alone_kWh - NOTHING_kWh) return false;
  return (
    memory.shore_on ||
    gives > alone_kWh + NOTHING_kWh ||
    (dc_short_kWh > NOTHING_kWh && parts.shore_charger_kWh > 0)
  );
}

/**
 * Whether the socket leaves load unmet; what it and the inverter serve then stands in `memory.inverted_kWh`, what loads on
 * the DC side lack in `memory.dc_short_kWh`.
 */
export function isShoreShort(parts: StepParts, memory: Memory): boolean {
  const { asked_kWh, alone_kWh } = memory;
  const carried = Math.min(asked_kWh, parts.shore_kWh);
  memory.inverted_kWh = parts.shore_parallel ? Math.min(asked_kWh, carried + alone_kWh) : carried;
  const spare = Math.min(parts.shore_charger_kWh, (parts.shore_kWh - carried) * parts.charger_efficiency);
  memory.dc_short_kWh = Math.max(0, memory.dc_short_kWh - spare);
  return asked_kWh - memory.inverted_kWh > NOTHING_kWh || memory.dc_short_kWh > NOTHING_kWh;
}

/** Whether what a source can spare beside the loads covers what the heaters lack; for a bank that the DC side can't warm. */
export function isHeatedBy(
  parts: StepParts,
  given: StepGivens,
  i: number,
  { scratch, warming, most_kWh }: Memory,
  source: number,
): boolean {
  const ready = source === SHORE ? 1 : 1 - warming;
  const sourceMost = source === SHORE ? parts.shore_kWh : most_kWh;
  const cap = source === SHORE ? parts.shore_charger_kWh : parts.generator_charger_kWh;
  const past = Math.min(scratch[AC_ASKED]!, scratch[AC_SUN]!);
  const beside = sourceMost - Math.min(scratch[AC_ASKED]! - past, sourceMost);
  const spare = ready * Math.min(cap, (beside + scratch[AC_SUN]! - past) * parts.charger_efficiency);
  return (
    scratch[TRACKED]! + scratch[ENGINE_MOST]! + scratch[HEATED_DISCHARGE]! + spare >= given.heat_kWh![i]!
  );
}

/**
 * What shore power or the generator carries of the loads in a step in which it stands behind them, what it leaves the
 * inverter, and what the charger can make of the rest. Numbers go in and out through `scratch`.
 *
 * @param isUp true if the inverter is up without the source
 * @param asleep true if all that may be on would not wake the inverter
 * @param parallel true if inverter and source can carry loads at once
 */
export function carryLoads(
  parts: StepParts,
  given: StepGivens,
  i: number,
  memory: Memory,
  source: number,
  isUp: boolean,
  asleep: boolean,
  parallel: boolean,
): void {
  const { inverter } = parts;
  const { scratch, warming } = memory;
  const ready = 1 - warming;
  const acAsked = scratch[AC_ASKED]!;
  const acSun = scratch[AC_SUN]!;
  const sourceMost = scratch[SOURCE_MOST]!;
  const dcAsked = scratch[DC_ASKED]!;
  const dcAll = scratch[DC_ALL]!;
  const inverterFirst = scratch[INVERTER_FIRST]!;
  const rating = scratch[RATING]!;
  let unmetLeg = scratch[UNMET_LEG]!;
  // A source behind the AC side is as good for them to follow.
  const followed = isUp ? 1 : ready;
  const past = Math.min(acAsked, acSun);
  const acToLoad = followed * past;
  const asked = acAsked - acToLoad;
  const acSpare = followed * (acSun - past);
  // Sun that nothing else takes carries loads before the source does.
  let bySun = 0;
  if (scratch[SUN_SPARE]! > 0 && !asleep) {
    scratch[INVERTER_IN] = scratch[SUN_SPARE]!;
    invertAll(parts, memory);
    bySun = Math.min(acAsked - past, rating, scratch[INVERTER_OUT]!);
  }
  const most = Math.min(acAsked - past - bySun, sourceMost);
  const carried = ready * most;
  const beyond = ready * (acAsked - past - bySun - most);
  const chargerCap = source === SHORE ? parts.shore_charger_kWh : parts.generator_charger_kWh;
  const spare = ready * Math.min(chargerCap, (sourceMost - most) * parts.charger_efficiency);
  let chargerMost = Math.min(chargerCap, spare + acSpare * parts.charger_efficiency);
  const dcServed = Math.min(dcAsked, dcAll + chargerMost);
  const dcMost = Math.max(0, dcAll - dcServed);
  chargerMost -= Math.max(0, dcServed - dcAll);
  let inverterAsked =
    warming * inverterFirst + (parallel ? ready * Math.min(acAsked - past - most, rating) : 0);
  if (unmetLeg > 0) {
    // Carried loads leave each leg alike.
    scratch[AC_REST] = asked - carried;
    weighLegs(parts, given, i, memory);
    unmetLeg = Math.max(0, inverterAsked - scratch[LEGS_MOST]!);
    inverterAsked -= unmetLeg;
  }
  let inverterOut = inverterAsked;
  let dcNeed = parts.search_kWh;
  if (!asleep || inverterAsked > 0) {
    scratch[INVERTER_IN] = dcForAc_kW(inverter, inverterAsked);
    dcNeed = scratch[INVERTER_IN]!;
  }
  if (inverterAsked > 0 && dcNeed > dcMost) {
    dcNeed = dcMost;
    scratch[INVERTER_IN] = dcMost;
    invertAll(parts, memory);
    inverterOut = scratch[INVERTER_OUT]!;
  } else if (dcNeed > dcMost + chargerMost) {
    dcNeed = dcMost + chargerMost;
  }
  chargerMost += Math.max(0, dcServed - dcAll);

  scratch[AC_REST] = asked;
  scratch[AC_TO_LOAD] = acToLoad;
  scratch[AC_SPARE] = acSpare;
  scratch[CARRIED] = carried;
  scratch[BEYOND] = beyond;
  scratch[DC_SERVED] = dcServed;
  scratch[INVERTER_ASKED] = inverterAsked;
  scratch[INVERTER_IN] = dcNeed;
  scratch[INVERTER_OUT] = inverterOut;
  scratch[CHARGER_MOST] = chargerMost;
  scratch[UNMET_LEG] = unmetLeg;
}
