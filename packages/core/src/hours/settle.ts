import type { Columns } from '../ledger/columns.ts';
import { chargeRoom_kWh } from '../plant/bank-taper.ts';
import { dcForAc_kW } from '../plant/inverter.ts';
import { boundCharge, boundDischarge, moveBank } from './bank-step.ts';
import { askWaiting, sunToWaiting, unusedToSurplus } from './flexible.ts';
import { burnFuel, decide, FREE, NOTHING_kWh } from './generator.ts';
import { weighLegs } from './legs.ts';
import type { StepParts } from './parts.ts';
import { shedTiers } from './shed.ts';
import { carryLoads, invertAll } from './source.ts';
import {
  AC_ASKED,
  AC_REST,
  AC_SPARE,
  AC_SUN,
  AC_TO_LOAD,
  AC_TO_SURPLUS,
  CARRIED,
  CHARGER_MOST,
  COULD,
  DC_ALL,
  DC_ASKED,
  DC_SERVED,
  DISCHARGE_CURRENT,
  DISCHARGE_MOST,
  DRAWABLE_FLOOR,
  GENERATOR,
  INVERTER_ASKED,
  INVERTER_FIRST,
  INVERTER_IN,
  INVERTER_OUT,
  LEGS_MOST,
  type Memory,
  MISSING,
  MISSING_DC,
  MORE,
  MUST,
  NO_SOURCE,
  RATING,
  SHED,
  SHED_DC,
  SHORE,
  SOURCE_MOST,
  SPOKEN_FOR,
  STOCK,
  type StepGivens,
  SURPLUS,
  TAKEN,
  UNMET_LEG,
  UNUSED,
  WITHHELD,
  WROTE_AC_SUN,
  WROTE_CHARGER,
  WROTE_CURTAILED,
  WROTE_DC_LOAD,
  WROTE_ENGINE,
  WROTE_GENERATOR,
  WROTE_HEATER,
  WROTE_SHORE,
  WROTE_SURPLUS,
  WROTE_WAITING,
} from './step.ts';
import { bookUnmet } from './unmet.ts';

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
  let chargeCurrent = Math.min(parts.charge_current_kWh * chargeAmps, parts.device_charge_kWh);
  let chargeMost = 0;
  if (bank_model === null) {
    if (!cold) chargeMost = Math.min(chargeRoom_kWh(parts.charging, stock), chargeCurrent);
  } else {
    bank.drawable_floor_kWh = drawableFloor;
    bank.charge_amps_share = chargeAmps;
    boundDischarge(bank_model, bank);
    boundCharge(bank_model, bank);
    dischargeCurrent = bank.full_current_kWh;
    dischargeMost = bank.discharge_most_kWh;
    chargeCurrent = Math.min(bank.charge_current_kWh, parts.device_charge_kWh);
    chargeMost = cold ? 0 : Math.min(bank.charge_most_kWh, parts.device_charge_kWh);
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
  let shed = withheld;
  let dcAsked = given.dc_load_kW === null ? 0 : given.dc_load_kW[i]! * parts.step_h;
  if (parts.shedding.length > 0) {
    scratch[STOCK] = stock;
    shedTiers(parts, given, i, memory);
    shed = scratch[SHED]! + withheld;
    if (given.dc_load_kW !== null) dcAsked -= scratch[SHED_DC]!;
  }
  const acAsked = wanted - shed - dcAsked;
  const asleep = given.asleep !== null && given.asleep[i] === 1 && must === 0;

  // What sun, engine and bank can put on the DC side: its own loads come first.
  const dcAll = tracked_kWh + engineMost + dischargeMost - heat;
  let dcServed = Math.min(dcAsked, dcAll);
  const dcMost = dcAll - dcServed;

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
  let dcNeed = parts.search_kWh;
  if (!asleep) {
    // Through `scratch` for the reason given at `invertAll`.
    scratch[INVERTER_IN] = dcForAc_kW(inverter, inverterAsked);
    dcNeed = scratch[INVERTER_IN]!;
  }
  let inverterOut = inverterAsked;
  if (dcNeed > dcMost) {
    dcNeed = dcMost;
    scratch[INVERTER_IN] = dcMost;
    invertAll(parts, memory);
    inverterOut = scratch[INVERTER_OUT]!;
  }

  // Whether shore power or the generator stands behind the loads.
  let source = NO_SOURCE;
  let sourceMost = 0;
  let parallel = false;
  let hindered = FREE;
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
    }
  }
  let carried = 0;
  let acSpare = 0;
  let spokenFor = 0;
  let chargerCap = parts.charger_kWh;
  let chargerMost = 0;
  if (source !== NO_SOURCE) {
    scratch[AC_ASKED] = acAsked;
    scratch[AC_SUN] = acSun;
    scratch[SOURCE_MOST] = sourceMost;
    scratch[DC_ASKED] = dcAsked;
    scratch[DC_ALL] = dcAll;
    scratch[INVERTER_FIRST] = inverterFirst;
    scratch[RATING] = rating;
    scratch[UNMET_LEG] = unmetLeg;
    carryLoads(parts, given, i, memory, source, isUp, asleep, parallel);
    // A source behind the AC side is as good for arrays there to follow.
    isUp = true;
    asked = scratch[AC_REST]!;
    acToLoad = scratch[AC_TO_LOAD]!;
    acSpare = scratch[AC_SPARE]!;
    carried = scratch[CARRIED]!;
    dcServed = scratch[DC_SERVED]!;
    inverterAsked = scratch[INVERTER_ASKED]!;
    dcNeed = scratch[INVERTER_IN]!;
    inverterOut = scratch[INVERTER_OUT]!;
    chargerCap = source === SHORE ? parts.shore_charger_kWh : parts.generator_charger_kWh;
    chargerMost = scratch[CHARGER_MOST]!;
    unmetLeg = scratch[UNMET_LEG]!;
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
    scratch[COULD] = could;
    scratch[AC_SPARE] = acSpare;
    scratch[SPOKEN_FOR] = spokenFor;
    scratch[AC_TO_LOAD] = acToLoad;
    scratch[RATING] = rating;
    scratch[INVERTER_IN] = inverterIn;
    scratch[INVERTER_OUT] = inverterOut;
    scratch[UNUSED] = tracked_kWh - dcNeed;
    sunToWaiting(parts, given, i, memory);
    acSpare = scratch[AC_SPARE]!;
    acToLoad = scratch[AC_TO_LOAD]!;
    inverterOut = scratch[INVERTER_OUT]!;
    inverterIn = scratch[INVERTER_IN]!;
    dcNeed += scratch[MORE]!;
    wanted += scratch[TAKEN]!;
    must += scratch[TAKEN]!;
    chargerMost = Math.min(chargerCap, acSpare * parts.charger_efficiency);
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
    scratch[AC_SPARE] = acSpare;
    scratch[UNUSED] = unused;
    scratch[RATING] = rating;
    scratch[INVERTER_IN] = inverterIn;
    scratch[INVERTER_OUT] = inverterOut;
    unusedToSurplus(parts, given, i, memory);
    acSpare = scratch[AC_SPARE]!;
    unused = scratch[UNUSED]!;
    inverterIn = scratch[INVERTER_IN]!;
    inverterOut = scratch[INVERTER_OUT]!;
    surplusLoad = scratch[SURPLUS]!;
    acToSurplus = scratch[AC_TO_SURPLUS]!;
  }

  if (missing > 0 || missingDc > 0 || shed > 0) {
    scratch[MISSING] = missing;
    scratch[MISSING_DC] = missingDc;
    scratch[SHED] = shed;
    scratch[AC_REST] = asked;
    scratch[CARRIED] = carried;
    scratch[INVERTER_ASKED] = inverterAsked;
    scratch[INVERTER_IN] = inverterIn;
    scratch[INVERTER_OUT] = inverterOut;
    scratch[UNMET_LEG] = unmetLeg;
    scratch[STOCK] = stock;
    scratch[DRAWABLE_FLOOR] = drawableFloor;
    scratch[DISCHARGE_CURRENT] = dischargeCurrent;
    scratch[DISCHARGE_MOST] = dischargeMost;
    bookUnmet(parts, columns, i, memory, source, parallel, hindered, asleep);
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
  if (source === GENERATOR)
    spilled = Math.max(0, (1 - memory.warming) * generator!.min_load_kWh - fromSource);
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
  let wrote = 0;
  if (arrayUsed < columns.array_available_kWh[i]!) {
    wrote |= WROTE_CURTAILED;
    columns.curtailed_bank_full_kWh[i] = curtailedFull;
    columns.curtailed_charge_current_kWh[i] = curtailedCurrent;
    columns.curtailed_bank_cold_kWh[i] = curtailedCold;
  }
  if (acSun > 0) {
    wrote |= WROTE_AC_SUN;
    columns.array_ac_kWh[i] = acUsed;
    columns.curtailed_charger_kWh[i] = curtailedCharger;
    columns.curtailed_inverter_off_kWh[i] = curtailedOff;
  }
  if (heat > 0) {
    wrote |= WROTE_HEATER;
    columns.heater_kWh[i] = heat;
  }
  if (engine > 0) {
    wrote |= WROTE_ENGINE;
    columns.engine_charging_kWh[i] = engine;
  }
  if (dcServed > 0) {
    wrote |= WROTE_DC_LOAD;
    columns.dc_load_served_kWh[i] = dcServed;
  }
  if (must + withheld > 0) {
    wrote |= WROTE_WAITING;
    columns.waiting_wanted_kWh[i] = must + withheld;
  }
  if (surplusLoad > 0) {
    wrote |= WROTE_SURPLUS;
    columns.surplus_load_kWh[i] = surplusLoad;
  }
  if (chargerOut > 0) {
    wrote |= WROTE_CHARGER;
    columns.charger_in_kWh[i] = chargerIn;
    columns.charger_loss_kWh[i] = chargerLoss;
  }
  if (source === GENERATOR) {
    wrote |= WROTE_GENERATOR;
    columns.generator_kWh[i] = fromSource + spilled;
    columns.generator_spilled_kWh[i] = spilled;
    columns.generator_run_h[i] = parts.step_h;
    burnFuel(generator!, columns, i, memory);
  } else if (source === SHORE) {
    wrote |= WROTE_SHORE;
    columns.shore_kWh[i] = fromSource;
  }
  memory.wrote |= wrote;
}
