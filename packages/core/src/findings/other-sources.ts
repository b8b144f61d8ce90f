import type { Ledger } from '../ledger/ledger.ts';
import { shareOf, total } from './totals.ts';

/** What other sources offered and gave, all together. */
export interface OtherFindings {
  /** Energy they offer to their controllers. */ readonly available_kWh: number;
  /** Energy taken from them. */ readonly used_kWh: number;
  /** Offered and not used: what a diversion load or a brake has to take. */ readonly curtailed_kWh: number;
  /** Their share of all energy taken from sun and sources; null if there is none. */ readonly supply_share:
    | number
    | null;
}

/** Null without other sources. */
export function otherFindings({ plant, columns }: Ledger): OtherFindings | null {
  if (plant.others.length === 0) return null;
  const used = total(columns.other_used_kWh);
  const all =
    used +
    total(columns.array_used_kWh) +
    total(columns.generator_kWh) +
    total(columns.shore_kWh) +
    total(columns.alternator_kWh);
  return {
    available_kWh: total(columns.other_available_kWh),
    used_kWh: used,
    curtailed_kWh: total(columns.other_curtailed_kWh),
    supply_share: shareOf(used, all),
  };
}
