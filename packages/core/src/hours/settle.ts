import type { ColumnName, Columns } from '../ledger/columns.ts';
import type { SurplusYear, WaitingYear } from '../loads/types.ts';
import { chargeRoom_kWh } from '../plant/bank-taper.ts';
import { acFromDc_kW, dcForAc_kW } from '../plant/inverter.ts';
import { type BankStep, boundCharge, boundDischarge, moveBank } from './bank-step.ts';
import { askWaiting, feedSurplus, feedWaiting } from './flexible.ts';
import {
  BARRED,
  decide,
  FREE,
  fuelOfStep_L,
  type GeneratorMemory,
  NO_FUEL,
  NOTHING_kWh,
} from './generator.ts';
import { weighLegs } from './legs.ts';
import type { NightYear } from './night.ts';
import type { StepParts } from './parts.ts';

/** What one step hands to the next. The only mutable state of a played year. */
export interface Memory extends GeneratorMemory {
  stock_kWh: number;
  /** What else a bank that is not of fixed efficiency remembers. */
  bank: BankStep;
  /** Bit k is set while the tier in place k is shed. */
  shed: number;
  /** What each load that may wait still asks for in its window. */
  readonly waiting_kWh: Float64Array;
  /** What each load that takes surplus may still get on the local day `surplus_day`. */
  readonly surplus_kWh: Float64Array;
  surplus_day: number;
  /** Handed from one function of a step to another: a number that a large function takes or gives is boxed. */
  readonly scratch: Float64Array;
}

/** Places in `Memory.scratch`. */
export const MUST = 0;
export const COULD = 1;
export const TAKEN = 2;
export const SHED_DC = 3;
export const AC_ASKED = 4;
export const AC_REST = 5;
export const RATING = 6;
export const LEGS_MOST = 7;
export const WITHHELD = 8;
export const SCRATCH = 9;

/** What a step is given from outside, as columns. */
export interface StepGivens {
  /** Array energy at the trackers' DC side. */
  readonly tracked_kWh: Float64Array;
  /** Energy of arrays on the AC side, and the same at their terminals; null without. */
  readonly ac_sun_kWh: Float64Array | null;
  readonly ac_offered_kWh: Float64Array | null;
  readonly bank_temperature_C: Float64Array;
  /** Local day of each step. */
  readonly day: Uint16Array;
  readonly tier_kW: readonly Float64Array[];
  /** Loads on the DC side, all and by tier; null without. */
  readonly dc_load_kW: Float64Array | null;
  readonly dc_tier_kW: readonly Float64Array[] | null;
  readonly leg_tier_kW: readonly (readonly Float64Array[])[] | null;
  readonly waiting: readonly WaitingYear[];
  readonly surplus: readonly SurplusYear[];
  /** The inverter's rating where heat takes from it, energy of the step; null where it doesn't. */
  readonly rating_kWh: Float64Array | null;
  /** 1 for each step in which all that may be on would not wake the inverter; null if it never sleeps. */
  readonly asleep: Uint8Array | null;
  /** Stock that the cold keeps back, floor included; null if it keeps back nothing. */
  readonly drawable_floor_kWh: Float64Array | null;
  /** What the bank's heaters ask for; null without. */
  readonly heat_kWh: Float64Array | null;
  /** Share of the charge amps that the bank takes at its temperature; null if it always takes all. */
  readonly charge_amps_share: Float64Array | null;
  readonly generator_barred: Uint8Array | null;
  readonly start_draw: Float64Array | null;
  readonly shore_there: Uint8Array | null;
  readonly engine_share: Float64Array | null;
  /** Null where the generator does not look ahead to the night. */
  readonly night: NightYear | null;
}

/** Columns that are zero in most steps: `settle` expects zeros in them and writes only what isn't. */
export const RARE = [
  'unmet_kWh',
  'unmet_bank_floor_kWh',
  'unmet_bank_cold_kWh',
  'unmet_bank_current_kWh',
  'unmet_inverter_rating_kWh',
  'unmet_leg_kWh',
  'unmet_inverter_asleep_kWh',
  'unmet_generator_rating_kWh',
  'unmet_generator_barred_kWh',
  'unmet_fuel_kWh',
  'unmet_shore_rating_kWh',
  'unmet_shed_kWh',
  'curtailed_bank_full_kWh',
  'curtailed_charge_current_kWh',
  'curtailed_bank_cold_kWh',
  'curtailed_charger_kWh',
  'curtailed_inverter_off_kWh',
  'array_ac_kWh',
  'dc_load_served_kWh',
  'waiting_wanted_kWh',
  'surplus_load_kWh',
  'charger_in_kWh',
  'charger_loss_kWh',
  'generator_kWh',
  'generator_spilled_kWh',
  'generator_run_h',
  'shore_kWh',
  'heater_kWh',
  'engine_charging_kWh',
  'fuel_L',
] as const satisfies readonly ColumnName[];

/** What stands behind the AC bus in a step besides the inverter. */
const NO_SOURCE = 0;
const GENERATOR = 1;
const SHORE = 2;

/**
 * Settles one step: who serves the load, what the bank gives or takes, what is unserved and unused and which limit
 * did it. Reads the wanted load and the four array columns at `i`, writes every other ledger column at `i` that is not
 * zero in `RARE`, and moves `memory` on. The order is that of the design: what the bank can do, what the sun offers, whether shore power or the
 * generator stands behind the loads, loads, surplus, causes, books.
 *
 * @param given columns, not numbers: a number handed to a function this large is boxed on the heap at each step
 */
export function settle(
  parts: StepParts,
  columns: Columns,
  given: StepGivens,
  i: number,
  memory: Memory,
): void {
  const { inverter, generator, bank_model } = parts;
  const { bank } = memory;
  const tracked_kWh = given.tracked_kWh[i]!;
  const { scratch } = memory;

  // What the bank can do.
  const selfDischarge = (memory.stock_kWh - parts.floor_kWh) * parts.self_discharge;
  const stock = memory.stock_kWh - selfDischarge;
  const engineMost = given.engine_share === null ? 0 : given.engine_share[i]! * parts.engine_charging_kWh;
  let drawableFloor = given.drawable_floor_kWh === null ? parts.floor_kWh : given.drawable_floor_kWh[i]!;
  let cold = given.bank_temperature_C[i]! < parts.min_charge_temperature_C;
  let chargeAmps = given.charge_amps_share === null ? 1 : given.charge_amps_share[i]!;
  if (bank_model !== null) {
    bank.before_kWh = memory.stock_kWh;
    bank.stock_kWh = stock;
  }
  // Heaters come before the loads, and heat all or nothing: from the sun, the engine and what a warm bank can give.
  let heat = 0;
  if (given.heat_kWh !== null && given.heat_kWh[i]! > 0) {
    let warm = Math.min(
      (stock - parts.heated_floor_kWh) * parts.discharge_efficiency,
      parts.discharge_current_kWh,
    );
    if (bank_model !== null) {
      bank.drawable_floor_kWh = parts.heated_floor_kWh;
      boundDischarge(bank_model, bank);
      warm = bank.discharge_most_kWh;
    }
    if (tracked_kWh + engineMost + Math.max(0, warm) >= given.heat_kWh[i]!) {
      heat = given.heat_kWh[i]!;
      drawableFloor = parts.heated_floor_kWh;
      cold = !parts.heated_charges;
      chargeAmps = parts.heated_charge_amps_share;
    }
  }
  let dischargeCurrent = parts.discharge_current_kWh;
  let dischargeMost = Math.min(
    Math.max(0, stock - drawableFloor) * parts.discharge_efficiency,
    dischargeCurrent,
  );
  let chargeCurrent = parts.charge_current_kWh * chargeAmps;
  let chargeMost = cold ? 0 : Math.min(chargeRoom_kWh(parts.charging, stock), chargeCurrent);
  if (bank_model !== null) {
    bank.drawable_floor_kWh = drawableFloor;
    bank.charge_amps_share = chargeAmps;
    boundDischarge(bank_model, bank);
    boundCharge(bank_model, bank);
    dischargeCurrent = bank.full_current_kWh;
    dischargeMost = bank.discharge_most_kWh;
    chargeCurrent = bank.charge_current_kWh;
    chargeMost = cold ? 0 : bank.charge_most_kWh;
  }

  // What is asked of the plant: loads that can't wait any longer join, tiers that are shed on purpose leave.
  let must = 0;
  let could = 0;
  let withheld = 0;
  if (given.waiting.length > 0) {
    askWaiting(parts, given, i, memory);
    must = scratch[MUST]!;
    could = scratch[COULD]!;
    withheld = scratch[WITHHELD]!;
  }
  let wanted = columns.load_wanted_kWh[i]! + must + withheld;
  const shed = (parts.shedding.length === 0 ? 0 : shedEnergy(parts, given, i, stock, memory)) + withheld;
  const dcAsked =
    given.dc_load_kW === null
      ? 0
      : given.dc_load_kW[i]! * parts.step_h - (parts.shedding.length === 0 ? 0 : scratch[SHED_DC]!);
  const acAsked = wanted - shed - dcAsked;
  const asleep = given.asleep !== null && given.asleep[i] === 1 && must === 0;

  // What sun, engine and bank can put on the DC side: its own loads come first.
  const dcAll = tracked_kWh + engineMost + dischargeMost - heat;
  let dcServed = Math.min(dcAsked, dcAll);
  let dcMost = dcAll - dcServed;

  // Arrays on the AC side follow an inverter that is up, and serve loads past it.
  const acSun = given.ac_sun_kWh === null ? 0 : given.ac_sun_kWh[i]!;
  let isUp = !asleep && dcMost >= inverter.standing_kW;
  let acToLoad = isUp ? Math.min(acAsked, acSun) : 0;
  let asked = acAsked - acToLoad;

  // What inverter, sun, engine and bank would serve alone.
  const rating = given.rating_kWh === null ? parts.inverter_rating_kWh : given.rating_kWh[i]!;
  const inverterFirst = asleep ? 0 : Math.min(asked, rating);
  let inverterAsked = inverterFirst;
  let unmetLeg = 0;
  if (given.leg_tier_kW !== null && parts.legs > 1) {
    scratch[AC_ASKED] = acAsked;
    scratch[AC_REST] = asked;
    scratch[RATING] = rating;
    weighLegs(parts, given, i, memory);
    unmetLeg = Math.max(0, inverterAsked - scratch[LEGS_MOST]!);
    inverterAsked -= unmetLeg;
  }
  let dcNeed = asleep ? parts.search_kWh : dcForAc_kW(inverter, inverterAsked);
  let inverterOut = inverterAsked;
  if (dcNeed > dcMost) {
    dcNeed = dcMost;
    inverterOut = acFromDc_kW(inverter, dcMost);
  }

  // Whether shore power or the generator stands behind the loads.
  let source = NO_SOURCE;
  let sourceMost = 0;
  let parallel = false;
  let hindered = FREE;
  // Share of the step in which the generator warms up: the inverter carries the loads until it is over.
  let warming = 0;
  if (given.shore_there !== null && given.shore_there[i] === 1) {
    const most = parts.shore_kWh;
    parallel = parts.shore_parallel;
    // Behind a plain transfer switch it would take the loads down with it if it can't carry what the inverter can.
    if (parallel || Math.min(asked, most) >= inverterOut - NOTHING_kWh) {
      source = SHORE;
      sourceMost = most;
    }
  }
  if (generator !== null) {
    memory.asked_kWh = asked;
    memory.inverted_kWh = inverterOut;
    memory.dc_short_kWh = dcAsked - dcServed;
    memory.room_kWh = chargeMost;
    memory.held_kWh = stock;
    hindered = decide(generator, given, i, memory, source === NO_SOURCE, parts.generator_charger_kWh > 0);
    if (source === NO_SOURCE) parallel = generator.parallel;
    if (memory.generator_on) {
      source = GENERATOR;
      sourceMost = memory.most_kWh;
      warming = memory.warming;
    }
  }
  const ready = 1 - warming;
  let carried = 0;
  // What a warm source is too small for.
  let beyond = 0;
  let acSpare = 0;
  let spokenFor = 0;
  let chargerCap = parts.charger_kWh;
  let chargerMost = 0;
  if (source !== NO_SOURCE) {
    // A source behind the AC side is as good for them to follow.
    const followed = isUp ? 1 : ready;
    isUp = true;
    const past = Math.min(acAsked, acSun);
    acToLoad = followed * past;
    asked = acAsked - acToLoad;
    acSpare = followed * (acSun - past);
    const most = Math.min(acAsked - past, sourceMost);
    carried = ready * most;
    beyond = ready * (acAsked - past - most);
    chargerCap = source === SHORE ? parts.shore_charger_kWh : parts.generator_charger_kWh;
    const spare = ready * Math.min(chargerCap, (sourceMost - most) * parts.charger_efficiency);
    chargerMost = Math.min(chargerCap, spare + acSpare * parts.charger_efficiency);
    dcServed = Math.min(dcAsked, dcAll + chargerMost);
    dcMost = Math.max(0, dcAll - dcServed);
    chargerMost -= Math.max(0, dcServed - dcAll);
    inverterAsked =
      warming * inverterFirst + (parallel ? ready * Math.min(acAsked - past - most, rating) : 0);
    if (unmetLeg > 0) {
      // Carried loads leave each leg alike.
      scratch[AC_REST] = asked - carried;
      weighLegs(parts, given, i, memory);
      unmetLeg = Math.max(0, inverterAsked - scratch[LEGS_MOST]!);
      inverterAsked -= unmetLeg;
    }
    inverterOut = inverterAsked;
    dcNeed = asleep && inverterAsked === 0 ? parts.search_kWh : dcForAc_kW(inverter, inverterAsked);
    if (inverterAsked > 0 && dcNeed > dcMost) {
      dcNeed = dcMost;
      inverterOut = acFromDc_kW(inverter, dcMost);
    } else if (dcNeed > dcMost + chargerMost) {
      dcNeed = dcMost + chargerMost;
    }
    chargerMost += Math.max(0, dcServed - dcAll);
  } else if (isUp) {
    acSpare = acSun - acToLoad;
    chargerMost = Math.min(chargerCap, acSpare * parts.charger_efficiency);
    if (dcServed < dcAsked) {
      // Sun on the AC side serves loads on the DC side through the charger, and is then spoken for.
      const through = Math.min(dcAsked - dcServed, chargerMost);
      dcServed += through;
      spokenFor = through / parts.charger_efficiency;
    }
  }

  let inverterIn = dcNeed;
  // What is missing is judged before loads take sun because they may.
  const missing = Math.max(0, asked - carried - inverterOut);
  const missingDc = dcAsked - dcServed;
  dcNeed += heat + dcServed;

  // Loads that may wait take the sun that is left, past the inverter or through it, before the bank does.
  if (could > 0 && source === NO_SOURCE && isUp) {
    const past = Math.max(0, Math.min(could, acSpare - spokenFor));
    acSpare -= past;
    acToLoad += past;
    let through = Math.min(could - past, rating - inverterOut);
    let more = 0;
    if (through > 0 && tracked_kWh > dcNeed) {
      more = dcForAc_kW(inverter, inverterOut + through) - inverterIn;
      if (more > tracked_kWh - dcNeed) {
        more = tracked_kWh - dcNeed;
        through = Math.max(0, acFromDc_kW(inverter, inverterIn + more) - inverterOut);
      }
    } else {
      through = 0;
    }
    inverterOut += through;
    inverterIn += more;
    dcNeed += more;
    const taken = past + through;
    wanted += taken;
    must += taken;
    chargerMost = Math.min(chargerCap, acSpare * parts.charger_efficiency);
    scratch[TAKEN] = taken;
    feedWaiting(given, i, memory);
  }
  const served = acToLoad + carried + inverterOut + dcServed;

  // The DC bus: sun first, then the engine, then what the charger can spare, then the bank; surplus the same way.
  const shortOfSun = dcNeed > tracked_kWh ? dcNeed - tracked_kWh : 0;
  const engineToBus = Math.min(shortOfSun, engineMost);
  const shortOfEngine = shortOfSun - engineToBus;
  const chargerToBus = Math.min(shortOfEngine, chargerMost);
  const discharged = shortOfEngine - chargerToBus;
  const surplus = tracked_kWh > dcNeed ? tracked_kWh - dcNeed : 0;
  const sunToBank = Math.min(surplus, chargeMost);
  let engineToBank = 0;
  let chargerToBank = 0;
  if (discharged === 0) {
    engineToBank = Math.min(engineMost - engineToBus, chargeMost - sunToBank);
    chargerToBank = Math.min(chargerMost - chargerToBus, chargeMost - sunToBank - engineToBank);
  }
  const engine = engineToBus + engineToBank;
  const charged = sunToBank + engineToBank + chargerToBank;
  const chargerOut = chargerToBus + chargerToBank;
  const chargerIn = chargerOut > 0 ? chargerOut / parts.charger_efficiency : 0;
  const acToCharger = Math.min(acSpare, chargerIn);
  acSpare -= acToCharger;
  let unused = surplus - sunToBank;

  // What is left goes to loads that take surplus.
  let surplusLoad = 0;
  let acToSurplus = 0;
  if (given.surplus.length > 0 && (unused > 0 || acSpare > 0) && (source === NO_SOURCE || parallel)) {
    let most = acFromDc_kW(inverter, inverterIn + unused) - inverterOut;
    most = Math.max(0, Math.min(most, rating - inverterOut));
    scratch[COULD] = acSpare + most;
    feedSurplus(given, i, memory);
    surplusLoad = scratch[TAKEN]!;
    acToSurplus = Math.min(acSpare, surplusLoad);
    acSpare -= acToSurplus;
    // Rounding of sums alone must not wake the inverter.
    if (unused === 0) surplusLoad = acToSurplus;
    const through = surplusLoad - acToSurplus;
    if (through > 0) {
      const asked = dcForAc_kW(inverter, inverterOut + through) - inverterIn;
      const more = Math.max(0, Math.min(unused, asked));
      inverterOut += through;
      inverterIn += more;
      unused -= more;
    }
  }

  // Unserved, charged to limits. Of two that bind at once the one gets it whose relaxing alone would serve the most:
  // lifting the limit of the inverter serves nothing while the DC side is short.
  let unmetFloor = 0;
  let unmetCold = 0;
  let unmetCurrent = 0;
  let unmetInverter = 0;
  let unmetAsleep = 0;
  let unmetSource = 0;
  let unmetHindered = 0;
  if (missing > 0 || missingDc > 0) {
    // Behind a plain transfer switch the inverter has to do only with what is asked before the source is warm.
    if (source !== NO_SOURCE && !parallel) unmetSource = Math.min(missing, beyond);
    const ofInverter = missing - unmetSource;
    const shortOfDc = inverterAsked - inverterOut;
    let ofBank = missingDc + shortOfDc;
    if (asleep && source === NO_SOURCE) {
      unmetAsleep = ofInverter;
      unmetLeg = 0;
    } else if (shortOfDc > 0) {
      ofBank += ofInverter - shortOfDc;
      unmetLeg = 0;
    } else {
      unmetLeg = Math.min(unmetLeg, ofInverter);
      unmetInverter = ofInverter - unmetLeg;
    }
    if (ofBank > 0) {
      const inStore =
        bank_model === null
          ? Math.max(0, stock - drawableFloor) * parts.discharge_efficiency
          : bank.unbound_kWh;
      if (inStore < dischargeCurrent) {
        // A kinetic bank gives no more amps while what it holds is bound; with all of it ready it would be at its floor.
        const gives = bank_model === null ? inStore : dischargeMost;
        if (gives < inStore) {
          const toDc = Math.min(missingDc, inStore - gives);
          const ifReady = acFromDc_kW(inverter, inverterIn + inStore - gives - toDc) - inverterOut;
          unmetCurrent = Math.min(ofBank, toDc + Math.max(0, Math.min(ifReady, shortOfDc)));
        }
        if (drawableFloor > parts.floor_kWh) {
          // What a warm bank would put on the DC side beyond this, at the loss of the last of it.
          const warm =
            bank_model === null
              ? Math.min(Math.max(0, stock - parts.floor_kWh) * parts.discharge_efficiency, dischargeCurrent)
              : bank.in_store_kWh;
          const toDc = Math.min(missingDc, warm - gives);
          const ifWarm = acFromDc_kW(inverter, inverterIn + warm - gives - toDc) - inverterOut;
          const mended = Math.min(ofBank, toDc + Math.max(0, Math.min(ifWarm, shortOfDc)));
          unmetCold = Math.max(0, mended - unmetCurrent);
        }
        unmetFloor = ofBank - unmetCurrent - unmetCold;
      } else {
        unmetCurrent = ofBank;
      }
    }
    if ((hindered !== FREE || warming > 0) && ofInverter > 0) {
      // A generator that may not run, or not yet, gets what it would have carried; the limits share what is left.
      const more =
        (hindered === FREE ? warming : 1) * Math.min(asked, generator!.rating_kWh) -
        (generator!.parallel ? 0 : asked - missing - carried);
      unmetHindered = Math.max(0, Math.min(ofInverter, more));
      const rest = (ofInverter + missingDc - unmetHindered) / (ofInverter + missingDc);
      unmetFloor *= rest;
      unmetCold *= rest;
      unmetCurrent *= rest;
      unmetInverter *= rest;
      unmetLeg *= rest;
      unmetAsleep *= rest;
    }
  } else {
    unmetLeg = 0;
  }

  // Unused sun, back at the arrays' side of the trackers.
  let trackable =
    columns.array_available_kWh[i]! -
    columns.curtailed_tracker_voltage_kWh[i]! -
    columns.curtailed_tracker_power_kWh[i]! -
    columns.curtailed_tracker_current_kWh[i]!;
  let curtailedFull = 0;
  let curtailedCurrent = 0;
  let curtailedCold = 0;
  let curtailedCharger = 0;
  let curtailedOff = 0;
  let acUsed = 0;
  let acTaken = 0;
  if (acSun > 0) {
    const offered = given.ac_offered_kWh![i]!;
    trackable -= offered;
    acUsed = isUp ? acToLoad + acToCharger + acToSurplus : 0;
    const left = acSun - acUsed;
    acTaken = offered;
    if (left > 0) {
      const atArray = left * (offered / acSun);
      acTaken = offered - atArray;
      if (!isUp) curtailedOff = atArray;
      else if (cold) curtailedCold = atArray;
      else if (chargerOut >= chargerCap - NOTHING_kWh) curtailedCharger = atArray;
      else if (charged >= chargeCurrent - NOTHING_kWh) curtailedCurrent = atArray;
      else curtailedFull = atArray;
    }
  }
  let dcTaken = trackable;
  if (unused > 0) {
    const atArray = trackable / tracked_kWh;
    if (cold) {
      curtailedCold += unused * atArray;
    } else {
      const takenAtFullCurrent = Math.min(surplus, chargeCurrent);
      const full = Math.min(unused, Math.max(0, takenAtFullCurrent - sunToBank)) * atArray;
      curtailedFull += full;
      curtailedCurrent += unused * atArray - full;
    }
    dcTaken = trackable - unused * atArray;
  }
  const arrayUsed = dcTaken + acTaken;

  // The books.
  const fromSource = carried + chargerIn - acToCharger;
  let spilled = 0;
  let fuel = 0;
  if (source === GENERATOR) {
    spilled = Math.max(0, ready * generator!.min_load_kWh - fromSource);
    fuel = fuelOfStep_L(generator!, warming, fromSource + spilled);
    memory.fuel_L -= fuel;
  }
  const trackerLoss = dcTaken - (tracked_kWh - unused) + (acTaken - acUsed);
  let bankLoss: number;
  let end: number;
  if (bank_model === null) {
    bankLoss =
      selfDischarge +
      charged * (1 - parts.charge_efficiency) +
      discharged * (parts.per_discharge_efficiency - 1);
    end = stock + charged * parts.charge_efficiency - discharged * parts.per_discharge_efficiency;
    // Rounding alone can carry the stock past either end by some 1e-15 of the capacity.
    if (end > parts.capacity_kWh) end = parts.capacity_kWh;
    if (end < parts.floor_kWh) end = parts.floor_kWh;
  } else {
    bank.charged_kWh = charged;
    bank.discharged_kWh = discharged;
    moveBank(bank_model, bank);
    bankLoss = selfDischarge + bank.loss_kWh;
    end = bank.end_kWh;
  }
  const inverterLoss = inverterIn - inverterOut;
  const chargerLoss = chargerIn - chargerOut;
  memory.stock_kWh = end;

  columns.load_wanted_kWh[i] = wanted;
  columns.load_served_kWh[i] = served;
  columns.array_used_kWh[i] = arrayUsed;
  columns.curtailed_kWh[i] = columns.array_available_kWh[i]! - arrayUsed;
  columns.tracker_loss_kWh[i] = trackerLoss;
  columns.bank_charge_kWh[i] = charged;
  columns.bank_discharge_kWh[i] = discharged;
  columns.bank_loss_kWh[i] = bankLoss;
  columns.bank_stock_kWh[i] = end;
  columns.bank_soc[i] = Math.min(1, end * parts.per_capacity);
  columns.inverter_out_kWh[i] = inverterOut;
  columns.inverter_loss_kWh[i] = inverterLoss;
  columns.losses_kWh[i] = trackerLoss + bankLoss + heat + inverterLoss + chargerLoss + spilled;

  // The columns of RARE are zero already.
  if (missing > 0 || missingDc > 0 || shed > 0) {
    columns.unmet_kWh[i] = missing + missingDc + shed;
    columns.unmet_bank_floor_kWh[i] = unmetFloor;
    columns.unmet_bank_cold_kWh[i] = unmetCold;
    columns.unmet_bank_current_kWh[i] = unmetCurrent;
    columns.unmet_inverter_rating_kWh[i] = unmetInverter;
    columns.unmet_leg_kWh[i] = unmetLeg;
    columns.unmet_inverter_asleep_kWh[i] = unmetAsleep;
    columns.unmet_shed_kWh[i] = shed;
    if (source === GENERATOR) {
      columns.unmet_generator_rating_kWh[i] = unmetSource;
      columns.unmet_generator_barred_kWh[i] = unmetHindered;
    } else if (source === SHORE) columns.unmet_shore_rating_kWh[i] = unmetSource;
    else if (hindered === BARRED) columns.unmet_generator_barred_kWh[i] = unmetHindered;
    else if (hindered === NO_FUEL) columns.unmet_fuel_kWh[i] = unmetHindered;
  }
  if (arrayUsed < columns.array_available_kWh[i]!) {
    columns.curtailed_bank_full_kWh[i] = curtailedFull;
    columns.curtailed_charge_current_kWh[i] = curtailedCurrent;
    columns.curtailed_bank_cold_kWh[i] = curtailedCold;
  }
  if (acSun > 0) {
    columns.array_ac_kWh[i] = acUsed;
    columns.curtailed_charger_kWh[i] = curtailedCharger;
    columns.curtailed_inverter_off_kWh[i] = curtailedOff;
  }
  if (heat > 0) columns.heater_kWh[i] = heat;
  if (engine > 0) columns.engine_charging_kWh[i] = engine;
  if (dcServed > 0) columns.dc_load_served_kWh[i] = dcServed;
  if (must + withheld > 0) columns.waiting_wanted_kWh[i] = must + withheld;
  if (surplusLoad > 0) columns.surplus_load_kWh[i] = surplusLoad;
  if (chargerOut > 0) {
    columns.charger_in_kWh[i] = chargerIn;
    columns.charger_loss_kWh[i] = chargerLoss;
  }
  if (source === GENERATOR) {
    columns.generator_kWh[i] = fromSource + spilled;
    columns.generator_spilled_kWh[i] = spilled;
    columns.generator_run_h[i] = parts.step_h;
    columns.fuel_L[i] = fuel;
  } else if (source === SHORE) {
    columns.shore_kWh[i] = fromSource;
  }
}

/** Energy of the tiers that are shed in this step, the dead band kept in memory. */
function shedEnergy(parts: StepParts, given: StepGivens, i: number, stock: number, memory: Memory): number {
  let energy = 0;
  let ofDc = 0;
  for (let k = 0; k < parts.shedding.length; k++) {
    const rule = parts.shedding[k]!;
    const bit = 1 << rule.tier;
    if ((memory.shed & bit) === 0) {
      if (stock <= rule.shed_kWh) memory.shed |= bit;
    } else if (stock >= rule.restore_kWh) {
      memory.shed &= ~bit;
    }
    if ((memory.shed & bit) !== 0) {
      energy += given.tier_kW[rule.tier]![i]! * parts.step_h;
      if (given.dc_tier_kW !== null) ofDc += given.dc_tier_kW[rule.tier]![i]! * parts.step_h;
    }
  }
  memory.scratch[SHED_DC] = ofDc;
  return energy;
}
