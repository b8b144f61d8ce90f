import type { Columns } from '../ledger/columns.ts';
import { serveAlone } from './alone.ts';
import { askLoads } from './asks.ts';
import { closeBooks } from './books.ts';
import { boundByState } from './bounds.ts';
import { shareBus } from './bus.ts';
import { bookCurtailed } from './curtailed.ts';
import { sunToFlexible, unusedToSurplus } from './flexible.ts';
import { NO_SOURCE } from './flows.ts';
import type { StepParts } from './parts.ts';
import { carryLoads, chooseSource, shareAcSun } from './source.ts';
import type { Memory, StepGivens } from './step.ts';
import { bookUnmet } from './unmet.ts';

/**
 * Settles one step: who serves the load, what the bank gives or takes, what goes unmet and what is curtailed, and which
 * limit did it. Reads the wanted load and the array columns at `i`, writes every other ledger column at `i` that is not
 * zero in `RARE`, and moves `memory` on.
 *
 * @param given columns, not numbers: a number handed to a function that is not inlined is boxed on the heap
 */
export function settle(
  parts: StepParts,
  columns: Columns,
  given: StepGivens,
  i: number,
  memory: Memory,
): void {
  const { flows } = memory;
  boundByState(parts, given, i, memory);
  askLoads(parts, columns, given, i, memory);
  serveAlone(parts, given, i, memory);
  chooseSource(parts, given, i, memory);
  if (flows.source === NO_SOURCE) shareAcSun(parts, given, i, memory);
  else carryLoads(parts, given, i, memory);
  // What is missing is judged before loads take sun because they may.
  flows.missing_kWh = Math.max(0, flows.ac_rest_kWh - flows.carried_kWh - flows.inverter_out_kWh);
  flows.missing_dc_kWh = flows.dc_asked_kWh - flows.dc_served_kWh;
  flows.dc_need_kWh = flows.inverter_in_kWh + flows.heat_kWh + flows.dc_served_kWh;
  if (flows.could_kWh > 0 && flows.source === NO_SOURCE && flows.is_up)
    sunToFlexible(parts, given, i, memory);
  flows.served_kWh = flows.ac_to_load_kWh + flows.carried_kWh + flows.inverter_out_kWh + flows.dc_served_kWh;
  shareBus(parts, flows);
  unusedToSurplus(parts, given, i, memory);
  if (flows.missing_kWh > 0 || flows.missing_dc_kWh > 0 || flows.shed_kWh > 0)
    bookUnmet(parts, columns, i, memory);
  bookCurtailed(columns, given, i, memory);
  closeBooks(parts, columns, given, i, memory);
}
