import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import type { ColumnName, Columns } from './columns.ts';
import type { Begun, PlantState } from './state.ts';

/** Steps that were played, of a year or of some days of one. */
export interface PlayedSteps<N extends ColumnName = ColumnName> {
  /** How many. */ readonly steps: number;
  /** Length of each. */ readonly step_h: number;
  /** What the bank held before the first. */ readonly start_stock_kWh: number;
  /** How it began. */ readonly begun: Begun;
  /** After the last step. */ readonly end: PlantState;
  /** One entry a step each. */ readonly columns: Pick<Columns, N>;
}

/** A played year, with what was played and what played it: all that is read off it is asked of it alone. */
export interface Ledger<N extends ColumnName = ColumnName> extends PlayedSteps<N> {
  /** What was played. */ readonly year: PreparedYear;
  /** What played it. Changed by hand, its prices stay those of the year's scenario: see `newVariantMaker`. */
  readonly plant: Plant;
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
