import type { Columns } from '../ledger/columns.ts';
import { acFromDc_kW } from '../plant/inverter.ts';
import { FREE, NO_FUEL } from './generator.ts';
import type { StepParts } from './parts.ts';
import {
  AC_REST,
  BEYOND,
  CARRIED,
  DISCHARGE_CURRENT,
  DISCHARGE_MOST,
  DRAWABLE_FLOOR,
  INVERTER_ASKED,
  INVERTER_IN,
  INVERTER_OUT,
  type Memory,
  MISSING,
  MISSING_DC,
  NO_SOURCE,
  SHED,
  SHORE,
  STOCK,
  UNMET_LEG,
  WROTE_UNMET,
} from './step.ts';

/**
 * Books what goes unserved in a step under the limits that did it. Of two that bind at once the one gets it whose
 * relaxing alone would serve the most: lifting the limit of the inverter serves nothing while the DC side is short.
 *
 * Reads from `scratch` what is missing and what bank, inverter and source did.
 *
 * @param source what stands behind the loads besides the inverter, and whether both can carry them at once
 * @param hindered what keeps the generator from running
 */
export function bookUnmet(
  parts: StepParts,
  columns: Columns,
  i: number,
  memory: Memory,
  source: number,
  parallel: boolean,
  hindered: number,
  asleep: boolean,
): void {
  const { inverter, generator, bank_model } = parts;
  const { bank, scratch, warming } = memory;
  const missing = scratch[MISSING]!;
  const missingDc = scratch[MISSING_DC]!;
  const shed = scratch[SHED]!;
  const asked = scratch[AC_REST]!;
  const carried = scratch[CARRIED]!;
  const beyond = scratch[BEYOND]!;
  const inverterAsked = scratch[INVERTER_ASKED]!;
  const inverterIn = scratch[INVERTER_IN]!;
  const inverterOut = scratch[INVERTER_OUT]!;
  const stock = scratch[STOCK]!;
  const drawableFloor = scratch[DRAWABLE_FLOOR]!;
  const dischargeCurrent = scratch[DISCHARGE_CURRENT]!;
  const dischargeMost = scratch[DISCHARGE_MOST]!;
  let unmetFloor = 0;
  let unmetCold = 0;
  let unmetCurrent = 0;
  let unmetInverter = 0;
  let unmetAsleep = 0;
  let unmetSource = 0;
  let unmetHindered = 0;
  let unmetLeg = 0;
  if (missing > 0 || missingDc > 0) {
    unmetLeg = scratch[UNMET_LEG]!;
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
  }

  memory.wrote |= WROTE_UNMET;
  columns.unmet_kWh[i] = missing + missingDc + shed;
  columns.unmet_bank_floor_kWh[i] = unmetFloor;
  columns.unmet_bank_cold_kWh[i] = unmetCold;
  columns.unmet_bank_current_kWh[i] = unmetCurrent;
  columns.unmet_inverter_rating_kWh[i] = unmetInverter;
  columns.unmet_leg_kWh[i] = unmetLeg;
  columns.unmet_inverter_asleep_kWh[i] = unmetAsleep;
  columns.unmet_shed_kWh[i] = shed;
  if (source === SHORE) columns.unmet_shore_rating_kWh[i] = unmetSource;
  else columns.unmet_generator_rating_kWh[i] = unmetSource;
  if (hindered === NO_FUEL) columns.unmet_fuel_kWh[i] = unmetHindered;
  else columns.unmet_generator_barred_kWh[i] = unmetHindered;
}
