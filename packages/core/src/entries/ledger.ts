/** The columns of tables of a year, and the periods that their rows cover. */

export * from '../ledger/columns.ts';
export * from '../ledger/periods.ts';
