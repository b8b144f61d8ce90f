import { inputFor, outputFrom } from '../plant/inverter.ts';
import { weighLegs } from './legs.ts';
import type { StepParts } from './parts.ts';
import type { Memory, StepGivens } from './step.ts';

/** What sun, engine and bank would serve without another source: loads on the DC side first, then through the inverter. */
export function serveAlone(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { inverter } = parts;
  const { flows } = memory;
  flows.dc_all_kWh = flows.tracked_kWh + flows.engine_most_kWh + flows.discharge_most_kWh - flows.heat_kWh;
  flows.dc_served_kWh = Math.min(flows.dc_asked_kWh, flows.dc_all_kWh);
  const dcMost = Math.max(0, flows.dc_all_kWh - flows.dc_served_kWh - flows.reserved_kWh);

  // Arrays on the AC side follow an inverter that is up, and serve loads past it.
  flows.ac_sun_kWh = given.ac_sun_kWh === null ? 0 : given.ac_sun_kWh[i]!;
  flows.is_up = !flows.is_asleep && dcMost >= inverter.idle;
  flows.ac_to_load_kWh = flows.is_up ? Math.min(flows.ac_asked_kWh, flows.ac_sun_kWh) : 0;
  flows.ac_rest_kWh = flows.ac_asked_kWh - flows.ac_to_load_kWh;

  flows.rating_kWh = given.rating_kWh === null ? parts.inverter_rating_kWh : given.rating_kWh[i]!;
  flows.inverter_first_kWh = flows.is_asleep ? 0 : Math.min(flows.ac_rest_kWh, flows.rating_kWh);
  flows.inverter_asked_kWh = flows.inverter_first_kWh;
  flows.unmet_leg_kWh = 0;
  if (given.leg_tier_kW !== null && parts.legs > 1) sparingLegs(parts, given, i, memory, flows.ac_rest_kWh);
  flows.inverter_out_kWh = flows.inverter_asked_kWh;
  flows.inverter_in_kWh = memory.inverter_off
    ? 0
    : flows.is_asleep
      ? parts.search_kWh
      : inputFor(inverter, flows.inverter_asked_kWh);
  if (flows.inverter_in_kWh > dcMost) {
    flows.inverter_in_kWh = dcMost;
    flows.inverter_out_kWh = outputFrom(inverter, dcMost);
  }
}

/** Takes off what the inverter is asked what a full leg keeps from `rest_kWh`. */
export function sparingLegs(
  parts: StepParts,
  given: StepGivens,
  i: number,
  memory: Memory,
  rest_kWh: number,
): void {
  const { flows } = memory;
  weighLegs(parts, given, i, memory, rest_kWh);
  flows.unmet_leg_kWh = Math.max(0, flows.inverter_asked_kWh - flows.legs_most_kWh);
  flows.inverter_asked_kWh -= flows.unmet_leg_kWh;
}
