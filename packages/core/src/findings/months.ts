import { byMonth } from '../clock/months.ts';
import type { Ledger } from '../ledger/ledger.ts';

/** A month of the ledger. Sun used, other sources, generator, shore and engine are served, surplus, losses and what the bank gained. */
export interface MonthRow {
  /** 1 to 12. */
  readonly month: number;
  /** Energy the loads ask for in it. */ readonly wanted_kWh: number;
  /** Energy they get. */ readonly served_kWh: number;
  /** Wanted less served. */ readonly unmet_kWh: number;
  /** Energy taken from the arrays. */ readonly sun_used_kWh: number;
  /** Array energy offered and not used. */ readonly curtailed_kWh: number;
  /** Energy taken from other sources. */ readonly other_used_kWh: number;
  /** Energy the generator makes. */ readonly generator_kWh: number;
  /** Energy from the socket. */ readonly shore_kWh: number;
  /** Energy from a running engine. */ readonly alternator_kWh: number;
  /** Into loads that take surplus; neither wanted nor served. */
  readonly surplus_load_kWh: number;
  /** All losses. */ readonly losses_kWh: number;
  /** Stock at the end of the month less that at its start; may be negative. */
  readonly bank_gained_kWh: number;
}

/**
 * What came in and where it went, month by month: sun used, other sources, generator, socket and engine together are what was served,
 * what loads took as surplus, what was lost and what the bank gained.
 *
 * @returns twelve, January first, by the local calendar
 */
export function monthFindings({ year: { clock }, columns, start_stock_kWh }: Ledger): readonly MonthRow[] {
  const gained = columns.bank_stock_kWh.map(
    (stock_kWh, i, all) => stock_kWh - (i === 0 ? start_stock_kWh : all[i - 1]!),
  );
  const sums = {
    wanted_kWh: byMonth(columns.load_wanted_kWh, clock),
    served_kWh: byMonth(columns.load_served_kWh, clock),
    unmet_kWh: byMonth(columns.unmet_kWh, clock),
    sun_used_kWh: byMonth(columns.array_used_kWh, clock),
    curtailed_kWh: byMonth(columns.curtailed_kWh, clock),
    other_used_kWh: byMonth(columns.other_used_kWh, clock),
    generator_kWh: byMonth(columns.generator_kWh, clock),
    shore_kWh: byMonth(columns.shore_kWh, clock),
    alternator_kWh: byMonth(columns.alternator_kWh, clock),
    surplus_load_kWh: byMonth(columns.surplus_load_kWh, clock),
    losses_kWh: byMonth(columns.losses_kWh, clock),
    bank_gained_kWh: byMonth(gained, clock),
  };
  const names = Object.keys(sums) as (keyof typeof sums)[];
  return Array.from(
    { length: 12 },
    (_, m) =>
      Object.fromEntries([['month', m + 1], ...names.map((name) => [name, sums[name][m]!])]) as MonthRow,
  );
}
