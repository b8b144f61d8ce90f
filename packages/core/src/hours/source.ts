import { inputFor, outputFrom } from '../plant/inverter.ts';
import { sparingLegs } from './alone.ts';
import { boundBank } from './bounds.ts';
import { type Flows, FREE, GENERATOR, NO_SOURCE, NOTHING_kWh, SHORE } from './flows.ts';
import { decide } from './generator.ts';
import type { StepParts } from './parts.ts';
import type { Memory, StepGivens } from './step.ts';

/** Whether shore power or the generator stands behind the loads. It may then warm a bank that the DC side can't. */
export function chooseSource(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { generator } = parts;
  const { flows } = memory;
  flows.source = NO_SOURCE;
  flows.source_most_kWh = 0;
  flows.is_parallel = false;
  flows.may_charge = true;
  flows.hindered = FREE;
  flows.warming = 0;
  flows.served_alone_kWh = flows.inverter_out_kWh;
  flows.served_else_kWh = flows.inverter_out_kWh;
  flows.dc_short_kWh = flows.dc_asked_kWh - flows.dc_served_kWh;
  let afterSun = false;
  if (given.shore_there !== null) {
    const held = flows.held_kWh;
    if (memory.shore_on ? held >= parts.shore_until_kWh : held <= parts.shore_at_kWh)
      memory.shore_on = !memory.shore_on;
    if (given.shore_there[i] === 1 && isShoreWanted(parts, memory)) {
      flows.source = SHORE;
      flows.source_most_kWh = parts.shore_kWh;
      flows.is_parallel = parts.shore_parallel && !memory.inverter_off;
      flows.may_charge = memory.shore_on;
      afterSun = parts.shore_after_sun;
    }
  }
  if (generator !== null) {
    const isFree = flows.source === NO_SOURCE || isShoreShort(parts, flows);
    flows.generator_most_kWh = generator.rating_kWh;
    // A charge that is wanted starts the heaters first.
    flows.room_kWh =
      flows.is_frozen && isHeatedBy(parts, flows, GENERATOR)
        ? flows.heated_charge_kWh
        : flows.charge_most_kWh;
    decide(generator, given, i, memory, isFree, parts.generator_charger_kWh > 0);
    if (memory.generator_on) {
      flows.source = GENERATOR;
      flows.source_most_kWh = flows.generator_most_kWh;
      flows.is_parallel = generator.parallel && !memory.inverter_off;
      flows.may_charge = true;
      afterSun = generator.parallel;
    }
  }
  if (flows.is_frozen && flows.source !== NO_SOURCE && isHeatedBy(parts, flows, flows.source)) {
    flows.heat_kWh = flows.heat_asked_kWh;
    boundBank(parts, given, i, memory, true);
    flows.dc_all_kWh = flows.tracked_kWh + flows.engine_most_kWh + flows.discharge_most_kWh - flows.heat_kWh;
  }
  flows.sun_spare_kWh = afterSun
    ? flows.tracked_kWh - flows.heat_kWh - flows.dc_asked_kWh - flows.charge_most_kWh
    : 0;
  flows.charger_cap_kWh = chargerCap_kWh(parts, flows.source);
}

const chargerCap_kWh = (parts: StepParts, source: number): number =>
  source === SHORE
    ? parts.shore_charger_kWh
    : source === GENERATOR
      ? parts.generator_charger_kWh
      : parts.charger_kWh;

/** Whether a socket that is there gets the loads: by its rule, or because they would go unmet without it. */
function isShoreWanted(parts: StepParts, { shore_on, flows }: Memory): boolean {
  const asked = flows.ac_rest_kWh;
  const alone = flows.served_alone_kWh;
  // Behind a plain transfer switch it would take the loads down with it if it can't carry what the inverter can.
  const gives = parts.shore_parallel ? asked : Math.min(asked, parts.shore_kWh);
  if (gives < alone - NOTHING_kWh) return false;
  const servesDc = flows.dc_short_kWh > NOTHING_kWh && parts.shore_charger_kWh > 0;
  return shore_on || gives > alone + NOTHING_kWh || servesDc;
}

/** Whether the socket leaves load unmet; what is served with it is then what the generator has to better. */
function isShoreShort(parts: StepParts, flows: Flows): boolean {
  const asked = flows.ac_rest_kWh;
  const carried = Math.min(asked, parts.shore_kWh);
  flows.served_else_kWh = parts.shore_parallel ? Math.min(asked, carried + flows.served_alone_kWh) : carried;
  const spare = Math.min(parts.shore_charger_kWh, (parts.shore_kWh - carried) * parts.charger_efficiency);
  flows.dc_short_kWh = Math.max(0, flows.dc_short_kWh - spare);
  return asked - flows.served_else_kWh > NOTHING_kWh || flows.dc_short_kWh > NOTHING_kWh;
}

/** Whether what a source can spare beside the loads covers what the heaters lack; for a bank that the DC side can't warm. */
function isHeatedBy(parts: StepParts, flows: Flows, source: number): boolean {
  const most = source === SHORE ? parts.shore_kWh : flows.generator_most_kWh;
  const past = Math.min(flows.ac_asked_kWh, flows.ac_sun_kWh);
  const beside = most - Math.min(flows.ac_asked_kWh - past, most) + flows.ac_sun_kWh - past;
  const spare =
    (1 - flows.warming) * Math.min(chargerCap_kWh(parts, source), beside * parts.charger_efficiency);
  return (
    flows.tracked_kWh + flows.engine_most_kWh + flows.heated_discharge_kWh + spare >= flows.heat_asked_kWh
  );
}

/** Sun on the AC side that loads there leave goes through the charger, if nothing else stands behind the loads. */
export function shareAcSun(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { flows } = memory;
  flows.carried_kWh = 0;
  flows.beyond_kWh = 0;
  flows.ac_spare_kWh = 0;
  flows.spoken_for_kWh = 0;
  flows.charger_most_kWh = 0;
  if (!flows.is_up) return;
  flows.ac_spare_kWh = flows.ac_sun_kWh - flows.ac_to_load_kWh;
  flows.charger_most_kWh = Math.min(flows.charger_cap_kWh, flows.ac_spare_kWh * parts.charger_efficiency);
  if (flows.dc_served_kWh < flows.dc_asked_kWh) {
    // It serves loads on the DC side, and is then spoken for.
    const through = Math.min(flows.dc_asked_kWh - flows.dc_served_kWh, flows.charger_most_kWh);
    flows.dc_served_kWh += through;
    flows.spoken_for_kWh = through / parts.charger_efficiency;
  }
  // So it does the heaters of a bank that the DC side can't warm.
  const left = flows.dc_all_kWh - flows.dc_served_kWh - flows.inverter_in_kWh;
  if (flows.is_frozen && left + flows.charger_most_kWh >= flows.heat_asked_kWh) {
    flows.heat_kWh = flows.heat_asked_kWh;
    flows.spoken_for_kWh = Math.max(0, flows.heat_kWh - left) / parts.charger_efficiency;
    boundBank(parts, given, i, memory, true);
  }
}

/**
 * What shore power or the generator carries of the loads in a step in which it stands behind them, what it leaves the
 * inverter, and what the charger can make of the rest.
 */
export function carryLoads(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { inverter } = parts;
  const { flows } = memory;
  const ready = 1 - flows.warming;
  const acAsked = flows.ac_asked_kWh;
  const sourceMost = flows.source_most_kWh;
  // A source behind the AC side is as good for arrays there to follow.
  const followed = flows.is_up ? 1 : ready;
  flows.is_up = true;
  const past = Math.min(acAsked, flows.ac_sun_kWh);
  flows.ac_to_load_kWh = followed * past;
  flows.ac_rest_kWh = acAsked - flows.ac_to_load_kWh;
  flows.ac_spare_kWh = followed * (flows.ac_sun_kWh - past);
  flows.spoken_for_kWh = 0;
  // Sun that nothing else takes carries loads before the source does.
  const bySun =
    flows.sun_spare_kWh > 0 && !flows.is_asleep
      ? Math.min(acAsked - past, flows.rating_kWh, outputFrom(inverter, flows.sun_spare_kWh))
      : 0;
  const most = Math.min(acAsked - past - bySun, sourceMost);
  flows.carried_kWh = ready * most;
  flows.beyond_kWh = ready * (acAsked - past - bySun - most);

  const cap = flows.charger_cap_kWh;
  const spare = ready * Math.min(cap, (sourceMost - most) * parts.charger_efficiency);
  flows.charger_most_kWh = Math.min(cap, spare + flows.ac_spare_kWh * parts.charger_efficiency);
  flows.dc_served_kWh = Math.min(flows.dc_asked_kWh, flows.dc_all_kWh + flows.charger_most_kWh);
  const dcMost = Math.max(0, flows.dc_all_kWh - flows.dc_served_kWh - flows.reserved_kWh);
  const chargerLeft = flows.charger_most_kWh - Math.max(0, flows.dc_served_kWh - flows.dc_all_kWh);

  flows.inverter_asked_kWh =
    flows.warming * flows.inverter_first_kWh +
    (flows.is_parallel ? ready * Math.min(acAsked - past - most, flows.rating_kWh) : 0);
  // Carried loads leave each leg alike.
  if (flows.unmet_leg_kWh > 0) sparingLegs(parts, given, i, memory, flows.ac_rest_kWh - flows.carried_kWh);
  flows.inverter_out_kWh = flows.inverter_asked_kWh;
  flows.inverter_in_kWh = memory.inverter_off
    ? 0
    : flows.is_asleep && flows.inverter_asked_kWh === 0
      ? parts.search_kWh
      : inputFor(inverter, flows.inverter_asked_kWh);
  if (flows.inverter_asked_kWh > 0 && flows.inverter_in_kWh > dcMost) {
    flows.inverter_in_kWh = dcMost;
    flows.inverter_out_kWh = outputFrom(inverter, dcMost);
  } else if (flows.inverter_in_kWh > dcMost + chargerLeft) {
    flows.inverter_in_kWh = dcMost + chargerLeft;
  }
}
