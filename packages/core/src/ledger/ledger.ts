import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import type { Columns } from './columns.ts';
import type { Begun, PlantState } from './state.ts';

/** Steps that were played, of a year or of some days of one. */
export interface PlayedSteps {
  /** How many. */ readonly steps: number;
  /** Length of each. */ readonly step_h: number;
  /** What the bank held before the first. */ readonly start_stock_kWh: number;
  /** How it began. */ readonly begun: Begun;
  /** After the last step. */ readonly end: PlantState;
  /** One entry a step each. */ readonly columns: Columns;
}

/** A played year, with what was played and what played it: all that is read off it is asked of it alone. */
export interface Ledger extends PlayedSteps {
  /** What was played. */ readonly year: PreparedYear;
  /** What played it. Changed by hand, its prices stay those of the year's scenario: see `newVariantMaker`. */
  readonly plant: Plant;
}
