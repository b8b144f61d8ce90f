/** The columns of tables of a year, and the periods that their rows cover. */

export {
  BESIDE_COLUMNS,
  type ColumnName,
  type Columns,
  CURTAILED_CAUSES,
  type CurtailedCause,
  LEDGER_COLUMNS,
  type LedgerColumn,
  TIME_COLUMNS,
  tierColumn,
  UNMET_CAUSES,
  type UnmetCause,
} from '../ledger/columns.ts';
export { PERIODS, type Period } from '../ledger/periods.ts';
