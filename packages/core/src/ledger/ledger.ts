import type { Columns } from './columns.ts';
import type { Begun, PlantState } from './state.ts';

/** A played year. `columns` has one entry per step; `start_stock_kWh` is what the bank held before the first. */
export interface Ledger {
  readonly steps: number;
  readonly step_h: number;
  readonly start_stock_kWh: number;
  readonly begun: Begun;
  /** After the last step. */
  readonly end: PlantState;
  readonly columns: Columns;
}
