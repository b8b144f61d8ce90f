import type { Columns } from '../ledger/columns.ts';
import { outputFrom } from '../plant/inverter.ts';
import { FREE, NO_FUEL, NO_SOURCE, SHORE } from './flows.ts';
import type { StepParts } from './parts.ts';
import { type Memory, WROTE_UNMET } from './step.ts';

/**
 * Books what goes unmet in a step under the limits that did it. Of two that bind at once the one gets it whose
 * relaxing alone would serve the most: lifting the limit of the inverter serves nothing while the DC side is short.
 */
export function bookUnmet(parts: StepParts, columns: Columns, i: number, memory: Memory): void {
  const { inverter, generator, bank_model } = parts;
  const { bank, flows } = memory;
  const { source, hindered, warming } = flows;
  const missing = flows.missing_kWh;
  const missingDc = flows.missing_dc_kWh;
  const shed = flows.shed_kWh;
  const asked = flows.ac_rest_kWh;
  const carried = flows.carried_kWh;
  const beyond = flows.beyond_kWh;
  const inverterAsked = flows.inverter_asked_kWh;
  let inverterIn = flows.inverter_in_kWh;
  let inverterOut = flows.inverter_out_kWh;
  const stock = flows.stock_kWh;
  const drawableFloor = flows.drawable_floor_kWh;
  const dischargeCurrent = flows.discharge_current_kWh;
  const dischargeMost = flows.discharge_most_kWh;
  let unmetFloor = 0;
  let unmetCold = 0;
  let unmetCurrent = 0;
  let unmetInverter = 0;
  let unmetAsleep = 0;
  let unmetCutOff = 0;
  let unmetSource = 0;
  let unmetHindered = 0;
  let unmetLeg = 0;
  if (missing > 0 || missingDc > 0) {
    unmetLeg = flows.unmet_leg_kWh;
    // Behind a plain transfer switch the inverter has to do only with what is asked before the source is warm.
    if (source !== NO_SOURCE && !flows.is_parallel) unmetSource = Math.min(missing, beyond);
    const ofInverter = missing - unmetSource;
    let shortOfDc = inverterAsked - inverterOut;
    let ofBank = missingDc + shortOfDc;
    if (memory.inverter_off) {
      unmetCutOff = ofInverter;
      unmetLeg = 0;
    } else if (flows.is_asleep && source === NO_SOURCE) {
      unmetAsleep = ofInverter;
      unmetLeg = 0;
    } else if (shortOfDc > 0) {
      ofBank += ofInverter - shortOfDc;
      unmetLeg = 0;
    } else {
      unmetLeg = Math.min(unmetLeg, ofInverter);
      unmetInverter = ofInverter - unmetLeg;
    }
    if (flows.reserved_kWh > 0 && shortOfDc > 0) {
      // What the inverter would draw on below its cut-off, once the DC side has had its part.
      const more = Math.max(
        0,
        Math.min(flows.reserved_kWh, flows.dc_all_kWh - flows.dc_served_kWh - inverterIn),
      );
      inverterIn += more;
      const served = outputFrom(inverter, inverterIn) - inverterOut;
      unmetCutOff = served < shortOfDc ? Math.max(0, served) : ofBank;
      inverterOut += Math.max(0, served);
      shortOfDc -= unmetCutOff;
      ofBank -= unmetCutOff;
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
          const ifReady = outputFrom(inverter, inverterIn + inStore - gives - toDc) - inverterOut;
          unmetCurrent = Math.min(ofBank, toDc + Math.max(0, Math.min(ifReady, shortOfDc)));
        }
        if (drawableFloor > parts.floor_kWh) {
          // What a warm bank would put on the DC side beyond this, at the loss of the last of it.
          const warm =
            bank_model === null
              ? Math.min(Math.max(0, stock - parts.floor_kWh) * parts.discharge_efficiency, dischargeCurrent)
              : bank.in_store_kWh;
          const toDc = Math.min(missingDc, warm - gives);
          const ifWarm = outputFrom(inverter, inverterIn + warm - gives - toDc) - inverterOut;
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
      unmetCutOff *= rest;
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
  columns.unmet_inverter_cut_off_kWh[i] = unmetCutOff;
  columns.unmet_shed_kWh[i] = shed;
  if (source === SHORE) columns.unmet_shore_rating_kWh[i] = unmetSource;
  else columns.unmet_generator_rating_kWh[i] = unmetSource;
  if (hindered === NO_FUEL) columns.unmet_fuel_kWh[i] = unmetHindered;
  else columns.unmet_generator_barred_kWh[i] = unmetHindered;
}
