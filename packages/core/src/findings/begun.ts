import type { Ledger } from '../ledger/ledger.ts';
import type { Plant } from '../plant/plant.ts';

/** How the state of charge of the bank begins and ends the year. */
interface Between {
  readonly begins_soc: number;
  readonly ends_soc: number;
  readonly gained_kWh: number;
}

/** How the played year began, as the report lists it among what it rests on. */
export interface BeginningAssumption {
  readonly path: 'run.initial_soc';
  readonly value: number | null;
  readonly why: Between &
    (
      | { readonly id: 'year_closes' | 'year_begins_as_given' }
      /** After so many such years in a row. */
      | { readonly id: 'year_does_not_close'; readonly rounds: number }
    );
  readonly kind: 'default' | 'model';
}

/** Said beside the report where the year was meant to close and did not. */
export interface BeginningNotice {
  readonly id: 'year-not-closed';
  readonly values: Between & { readonly rounds: number };
}

const between = ({ bank }: Plant, { start_stock_kWh, end }: Ledger): Between => ({
  begins_soc: start_stock_kWh / bank.capacity_kWh,
  ends_soc: end.stock_kWh / bank.capacity_kWh,
  gained_kWh: end.stock_kWh - start_stock_kWh,
});

export function beginningOf(plant: Plant, ledger: Ledger): BeginningAssumption {
  const path = 'run.initial_soc';
  const socs = between(plant, ledger);
  const { kind, rounds } = ledger.begun;
  switch (kind) {
    case 'closed':
      return { path, value: null, why: { id: 'year_closes', ...socs }, kind: 'default' };
    case 'not_closed':
      return { path, value: null, why: { id: 'year_does_not_close', rounds, ...socs }, kind: 'default' };
    case 'given':
      return { path, value: plant.initial_soc, why: { id: 'year_begins_as_given', ...socs }, kind: 'model' };
  }
}

export const beginningNotices = (plant: Plant, ledger: Ledger): readonly BeginningNotice[] =>
  ledger.begun.kind === 'not_closed'
    ? [{ id: 'year-not-closed', values: { rounds: ledger.begun.rounds, ...between(plant, ledger) } }]
    : [];
