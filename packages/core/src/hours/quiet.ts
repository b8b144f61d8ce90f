import type { Columns } from '../ledger/columns.ts';
import { charged_kWh } from '../plant/bank-taper.ts';
import type { AskedColumns } from './asked.ts';
import type { StepParts } from './parts.ts';
import { type Memory, type StepGivens, WROTE_CURTAILED, WROTE_DC_LOAD } from './step.ts';

/**
 * Quiet steps: sun and bank carry all that is asked, and nothing else has a say. Most steps of most years are, so what
 * they take from the DC side is worked out for the whole year at once, and they are played without asking twenty
 * times what is not there. `settle` plays any step and gives the same; tests/properties holds the two together.
 *
 * @param asked what loads and inverter alone ask for
 * @param room for a column that is not that of `asked`
 * @returns the same need, infinite in steps that are not quiet whatever the bank does; null for a plant that has no
 *   quiet steps to speak of
 */
export function quietNeed(
  parts: StepParts,
  given: StepGivens,
  { need_kWh }: AskedColumns,
  room: Float64Array,
): Float64Array | null {
  if (parts.bank_model !== null) return null;
  if (given.leg_tier_kW !== null && parts.legs > 1) return null;
  if (given.shore_there !== null && parts.shore_at_kWh !== Number.POSITIVE_INFINITY) return null;
  const { day } = given;
  const fills = parts.generator !== null && parts.generator.tank_L !== null;
  // All of them are 0 in a quiet step.
  const others = [given.shore_there, given.engine_share, given.heat_kWh, given.ac_sun_kWh, given.asleep];
  for (const load of given.flexible) others.push(load.most_kWh, load.asked_kWh);
  if (!fills && others.every((column) => column === null)) return need_kWh;
  room.set(need_kWh);
  for (const column of others) if (column !== null) barWhere(column, room);
  for (let i = 0; fills && i < room.length; i++)
    if (i === 0 || day[i] !== day[i - 1]) room[i] = Number.POSITIVE_INFINITY;
  return room;
}

function barWhere(column: Uint8Array | Float64Array, need_kWh: Float64Array): void {
  for (let i = 0; i < need_kWh.length; i++) if (column[i]! > 0) need_kWh[i] = Number.POSITIVE_INFINITY;
}

/**
 * Plays quiet steps from step `i` on, until one is not or `to` is reached.
 *
 * @returns the first step that is not played
 */
export function playQuiet(
  parts: StepParts,
  columns: Columns,
  given: StepGivens,
  need_kWh: Float64Array,
  i: number,
  to: number,
  memory: Memory,
): number {
  const { available_kWh, tracked_kWh, trackable_kWh, inverted_kWh, dc_load_kW } = given;
  const { drawable_floor_kWh, charge_amps_share, bank_temperature_C, night } = given;
  const { charging, floor_kWh, inverter_floor_kWh, capacity_kWh, per_capacity, self_discharge } = parts;
  const { charge_efficiency, discharge_efficiency, per_discharge_efficiency } = parts;
  const { charge_current_kWh, device_charge_kWh, discharge_current_kWh, min_charge_temperature_C, step_h } =
    parts;
  const hasSurplusLoads = given.surplus.length > 0;
  let least = parts.generator === null ? -1 : parts.generator.start_kWh;
  least = Math.max(least, parts.cut_off_kWh);
  for (const rule of parts.shedding) least = Math.max(least, rule.shed_kWh);
  let current = Math.min(charge_current_kWh, device_charge_kWh);
  let held = memory.stock_kWh;
  let wrote = 0;
  for (; i < to; i++) {
    if (held <= least || (night !== null && held <= night.start_kWh[i]!)) break;
    const selfDischarge = (held - floor_kWh) * self_discharge;
    const stock = held - selfDischarge;
    const need = need_kWh[i]!;
    const tracked = tracked_kWh[i]!;
    const trackable = trackable_kWh[i]!;
    const available = available_kWh[i]!;
    let charged = 0;
    let discharged = 0;
    let unused = 0;
    let used = trackable;
    if (need > tracked) {
      discharged = need - tracked;
      if (discharged > discharge_current_kWh) break;
      let lowest = inverter_floor_kWh;
      if (drawable_floor_kWh !== null && drawable_floor_kWh[i]! > lowest) lowest = drawable_floor_kWh[i]!;
      const above = stock - lowest;
      if (discharged > above * discharge_efficiency) break;
    } else {
      const surplus = tracked - need;
      if (charge_amps_share !== null)
        current = Math.min(charge_current_kWh * charge_amps_share[i]!, device_charge_kWh);
      const cold = bank_temperature_C[i]! < min_charge_temperature_C;
      if (!cold) charged = charged_kWh(charging, stock, Math.min(surplus, current));
      unused = surplus - charged;
      if (unused > 0) {
        if (hasSurplusLoads) break;
        const atArray = trackable / tracked;
        used = trackable - unused * atArray;
        if (cold) {
          columns.curtailed_bank_cold_kWh[i] = unused * atArray;
        } else {
          const full = Math.min(unused, Math.max(0, Math.min(surplus, current) - charged)) * atArray;
          columns.curtailed_bank_full_kWh[i] = full;
          columns.curtailed_charge_current_kWh[i] = unused * atArray - full;
        }
        wrote |= WROTE_CURTAILED;
      }
    }
    let end = stock + charged * charge_efficiency - discharged * per_discharge_efficiency;
    // Rounding alone can carry the stock past either end by some 1e-15 of the capacity.
    if (end > capacity_kWh) end = capacity_kWh;
    if (end < floor_kWh) end = floor_kWh;
    held = end;
    columns.curtailed_kWh[i] = available - used;
    columns.bank_discharge_kWh[i] = discharged;
    columns.bank_soc[i] = Math.min(1, end * per_capacity);
    if (!given.whole) continue;
    const trackerLoss = used - (tracked - unused);
    const bankLoss =
      selfDischarge + charged * (1 - charge_efficiency) + discharged * (per_discharge_efficiency - 1);
    const inverted = inverted_kWh[i]!;
    const dc = dc_load_kW === null ? 0 : dc_load_kW[i]! * step_h;
    const inverterLoss = need - dc - inverted;
    if (dc > 0) {
      wrote |= WROTE_DC_LOAD;
      columns.dc_load_served_kWh[i] = dc;
    }
    columns.load_served_kWh[i] = inverted + dc;
    columns.array_used_kWh[i] = used;
    columns.tracker_loss_kWh[i] = trackerLoss;
    columns.bank_charge_kWh[i] = charged;
    columns.bank_loss_kWh[i] = bankLoss;
    columns.bank_stock_kWh[i] = end;
    columns.inverter_out_kWh[i] = inverted;
    columns.inverter_loss_kWh[i] = inverterLoss;
    columns.losses_kWh[i] = trackerLoss + bankLoss + inverterLoss;
  }
  memory.stock_kWh = held;
  memory.wrote |= wrote;
  return i;
}
