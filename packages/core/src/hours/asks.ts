import type { Columns } from '../ledger/columns.ts';
import { askFlexible } from './flexible.ts';
import type { StepParts } from './parts.ts';
import type { Memory, StepGivens } from './step.ts';

/** What is asked of the plant: loads that can't wait any longer join, tiers that are shed on purpose leave. Whether the inverter cuts off. */
export function askLoads(
  parts: StepParts,
  columns: Columns,
  given: StepGivens,
  i: number,
  memory: Memory,
): void {
  const { flows } = memory;
  flows.must_kWh = 0;
  flows.could_kWh = 0;
  flows.withheld_kWh = 0;
  flows.shed_kWh = 0;
  flows.shed_dc_kWh = 0;
  if (given.flexible.length > 0) askFlexible(parts, given, i, memory);
  if (parts.shedding.length > 0) shedTiers(parts, given, i, memory);
  flows.shed_kWh += flows.withheld_kWh;
  flows.wanted_kWh = columns.load_wanted_kWh[i]! + flows.must_kWh + flows.withheld_kWh;
  flows.dc_asked_kWh =
    given.dc_load_kW === null ? 0 : given.dc_load_kW[i]! * parts.step_h - flows.shed_dc_kWh;
  flows.ac_asked_kWh = flows.wanted_kWh - flows.shed_kWh - flows.dc_asked_kWh;
  if (parts.cut_off_kWh >= 0) {
    const held = flows.held_kWh;
    if (memory.inverter_off ? held >= parts.reconnect_kWh : held <= parts.cut_off_kWh)
      memory.inverter_off = !memory.inverter_off;
  }
  flows.is_asleep =
    memory.inverter_off || (given.asleep !== null && given.asleep[i] === 1 && flows.must_kWh === 0);
}

/** Energy of the tiers that are shed in this step, on both sides and on the DC side; the dead band is kept in memory. */
function shedTiers(parts: StepParts, given: StepGivens, i: number, memory: Memory): void {
  const { flows } = memory;
  const held = flows.held_kWh;
  let energy = 0;
  let ofDc = 0;
  for (let k = 0; k < parts.shedding.length; k++) {
    const rule = parts.shedding[k]!;
    const bit = 1 << rule.tier;
    if ((memory.shed & bit) === 0) {
      if (held <= rule.shed_kWh) memory.shed |= bit;
    } else if (held >= rule.restore_kWh) {
      memory.shed &= ~bit;
    }
    if ((memory.shed & bit) !== 0) {
      energy += given.tier_kW[rule.tier]![i]! * parts.step_h;
      if (given.dc_tier_kW !== null) ofDc += given.dc_tier_kW[rule.tier]![i]! * parts.step_h;
    }
  }
  flows.shed_kWh = energy;
  flows.shed_dc_kWh = ofDc;
}
