import type { FoundIn, OneOf } from '../basis/notices.ts';
import type { Ledger } from '../ledger/ledger.ts';

/** How the state of charge of the bank begins and ends the year. */
interface Between {
  begins_soc: number;
  ends_soc: number;
  gained_kWh: number;
}

/** How the played year began, as the report lists it among what it rests on. */
export interface BeginningAssumption {
  readonly path: 'run.initial_soc';
  readonly value: number | null;
  readonly why: OneOf<{
    year_closes: Between;
    year_begins_as_given: Between;
    /** After so many such years in a row. */
    year_does_not_close: Between & { rounds: number };
  }>;
  readonly kind: 'default' | 'model';
  readonly moves: 'verdict_most';
}

/** The year was meant to close and did not. */
export type BeginningNotice = FoundIn<{ 'year-not-closed': Between & { rounds: number } }>;

const between = ({ plant: { bank }, start_stock_kWh, end }: Ledger): Between => ({
  begins_soc: start_stock_kWh / bank.capacity_kWh,
  ends_soc: end.stock_kWh / bank.capacity_kWh,
  gained_kWh: end.stock_kWh - start_stock_kWh,
});

export function beginningOf(ledger: Ledger): BeginningAssumption {
  const path = 'run.initial_soc';
  const moves = 'verdict_most';
  const socs = between(ledger);
  const { kind, rounds } = ledger.begun;
  switch (kind) {
    case 'closed':
      return { path, value: null, why: { id: 'year_closes', ...socs }, kind: 'default', moves };
    case 'not_closed':
      return {
        path,
        value: null,
        why: { id: 'year_does_not_close', rounds, ...socs },
        kind: 'default',
        moves,
      };
    case 'given':
      return {
        path,
        value: ledger.plant.initial_soc,
        why: { id: 'year_begins_as_given', ...socs },
        kind: 'model',
        moves,
      };
  }
}

export const beginningNotices = (ledger: Ledger): readonly BeginningNotice[] =>
  ledger.begun.kind === 'not_closed'
    ? [{ id: 'year-not-closed', values: { rounds: ledger.begun.rounds, ...between(ledger) } }]
    : [];
