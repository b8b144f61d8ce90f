import type { ColumnName, Columns } from './columns.ts';
import type { Begun, PlantState } from './state.ts';

/** A played year. `columns` has one entry per step; `start_stock_kWh` is what the bank held before the first. */
export interface Ledger<N extends ColumnName = ColumnName> {
  readonly steps: number;
  readonly step_h: number;
  readonly start_stock_kWh: number;
  readonly begun: Begun;
  /** After the last step. */
  readonly end: PlantState;
  readonly columns: Pick<Columns, N>;
}

/** What a study reads a design's row from. */
export type RowColumn =
  | 'load_wanted_kWh'
  | 'unmet_kWh'
  | 'array_available_kWh'
  | 'curtailed_kWh'
  | 'bank_discharge_kWh'
  | 'bank_soc'
  | 'generator_run_h'
  | 'fuel_L'
  | 'shore_kWh';
