import { acFromDc_kW, dcForAc_kW } from '../plant/inverter.ts';
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
  UNMET_LEG,
} from './step.ts';

/**
 * What the inverter makes of `scratch[INVERTER_IN]`: `scratch[INVERTER_OUT]`. A number that a call returns in a branch
 * that is rarely taken has no known kind; joined with one that has, it would box that in every step.
 */
export function invertAll({ inverter }: StepParts, { scratch }: Memory): void {
  scratch[INVERTER_OUT] = acFromDc_kW(inverter, scratch[INVERTER_IN]!);
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
  const most = Math.min(acAsked - past, sourceMost);
  const carried = ready * most;
  const beyond = ready * (acAsked - past - most);
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
