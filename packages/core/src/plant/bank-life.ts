import type { BankSpec } from '../scenario/schema/schema.ts';

/** A point of the cycle life: so many cycles of this depth until the bank is worn. */
export interface CycleLifePoint {
  readonly depth_share: number;
  readonly cycles: number;
}

/** How long a bank lasts, as its maker states it; what use does to it is in wear/. */
export interface BankLife {
  /** Ascending depth, falling cycles; null where none is stated. */
  readonly cycle_life: readonly CycleLifePoint[] | null;
  /** Equivalent full cycles; null where none are stated, or `cycle_life` stands in their place. */
  readonly life_cycles: number | null;
  /** On the shelf or in use; null where none is stated. */
  readonly life_years: number | null;
  /** Share of the capacity left when the life is used up. */
  readonly end_of_life_share: number;
  /** Resistance then over that as new; 1 for a bank without resistance. */
  readonly end_of_life_resistance_factor: number;
}

/** The bank's life; null where the scenario states neither cycles nor years. */
export const buildBankLife = (spec: BankSpec): BankLife | null => {
  const { cycle_life, life_cycles, life_years, end_of_life_share, model } = spec;
  return cycle_life === undefined && life_cycles === undefined && life_years === undefined
    ? null
    : {
        cycle_life: cycle_life ?? null,
        life_cycles: cycle_life === undefined ? (life_cycles ?? null) : null,
        life_years: life_years ?? null,
        end_of_life_share,
        end_of_life_resistance_factor: model?.kind === 'resistive' ? model.end_of_life_resistance_factor : 1,
      };
};
