/** Wear of the bank against arithmetic on paper. */

import { findings, playYear } from '@longnight/core';
import { type BankLife, cycleLifeUsed_share, rainflow } from '@longnight/core/bank';
import { type Life, lifetimeCost } from '@longnight/core/money';
import { describe, expect, it } from 'vitest';
import { wornBy } from '../../packages/core/src/money/lifetime.ts';
import { cyclesAtDepth, socHistory } from '../../packages/core/src/wear/life.ts';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

/** Invented: half the depth, four times the cycles, so the slope of the logarithms is -2. */
const SQUARE = [
  { depth_share: 0.2, cycles: 25_000 },
  { depth_share: 0.4, cycles: 6250 },
  { depth_share: 0.8, cycles: 1562.5 },
];

describe('cycles against depth', () => {
  it('hold the points and the power law between and beyond them', () => {
    for (const { depth_share, cycles } of SQUARE) {
      expect(cyclesAtDepth(SQUARE, depth_share)).toBeCloseTo(cycles, 6);
    }
    for (const depth of [0.01, 0.1, 0.3, 0.6, 1]) {
      expect(cyclesAtDepth(SQUARE, depth)).toBeCloseTo(1000 / depth ** 2, 6);
    }
  });

  it('keep the nearest slope outside where the slopes differ', () => {
    const bent = [SQUARE[0]!, SQUARE[1]!, { depth_share: 0.8, cycles: 3125 }];
    expect(cyclesAtDepth(bent, 0.1)).toBeCloseTo(100_000, 6);
    expect(cyclesAtDepth(bent, 1)).toBeCloseTo(2500, 6);
  });

  it('a single point stands for the same energy at any depth', () => {
    const one = [{ depth_share: 0.8, cycles: 4000 }];
    expect(cyclesAtDepth(one, 0.2)).toBeCloseTo(16_000, 9);
    expect(cyclesAtDepth(one, 1)).toBeCloseTo(3200, 9);
  });

  it("add up by Miner's rule", () => {
    // 100 cycles of 0.4 and 50 of 0.8 beside each other: 100/6250 + 50/1562.5.
    const swings = [1, ...Array.from({ length: 100 }, () => [0.6, 1]).flat()];
    swings.push(...Array.from({ length: 50 }, () => [0.2, 1]).flat());
    const used = cycleLifeUsed_share(rainflow(Float64Array.from(swings)), SQUARE);
    expect(used).toBeCloseTo(100 / 6250 + 50 / 1562.5, 9);
  });
});

/** Nights of 8 h at `night_kW`, days that fill a 5 kWh bank again: one cycle a day. */
function dayAndNight(days: number, night_kW: number) {
  const load_kW = Float64Array.from({ length: 24 * days }, (_, i) => (i % 24 < 8 ? night_kW : 0));
  const sun = Float64Array.from({ length: 24 * days }, (_, i) => (i % 24 >= 10 && i % 24 < 16 ? 1 : 0));
  return yearOf({ dc_kW_per_kWp: [sun], load_kW });
}

const life = (given: Partial<BankLife>): BankLife => ({
  cycle_life: null,
  life_cycles: null,
  life_years: null,
  end_of_life_share: 0.8,
  end_of_life_resistance_factor: 1,
  ...given,
});
const worn = (night_kW: number, bank_life: BankLife | null, days = 365) => {
  const year = dayAndNight(days, night_kW);
  const plant = plantWith({ size_kWp: 2, bank_life });
  const ledger = playYear(year, plant);
  return { ledger, report: findings(ledger) };
};

describe('a year of one cycle a day', () => {
  it('of 40 % takes 365 of the 6250 cycles of that depth', () => {
    const { report, ledger } = worn(0.25, life({ cycle_life: SQUARE }));
    const { wear } = report.bank;
    const [before, first, second] = socHistory(ledger, 5);
    expect(before).toBe(1);
    expect([first, second]).toEqual([expect.closeTo(0.95, 12), expect.closeTo(0.9, 12)]);
    expect(wear!.cycle_life_used_share).toBeCloseTo(365 / 6250, 9);
    expect(wear!.calendar_life_used_share).toBeNull();
    expect(wear!.years_to_end_of_life).toBeCloseTo(6250 / 365, 6);
    expect(wear!.worst).toBe('cycles');
    expect(wear!.cycles_by_depth.map((band) => band.cycles)).toEqual([0, 0, 0, 0, 365, 0, 0, 0, 0, 0]);
    expect(wear!.cycles_by_depth[4]).toEqual({ depth_from_share: 0.4, depth_to_share: 0.5, cycles: 365 });
  });

  it('lasts as long as the shorter of cycles and calendar', () => {
    const { wear } = worn(0.25, life({ cycle_life: SQUARE, life_years: 10 })).report.bank;
    expect(wear!.calendar_life_used_share).toBeCloseTo(0.1, 12);
    expect(wear!.years_to_end_of_life).toBeCloseTo(10, 9);
    expect(wear!.worst).toBe('calendar');
  });

  it('is reckoned from a part of a year too', () => {
    const { wear } = worn(0.25, life({ cycle_life: SQUARE, life_years: 100 }), 73).report.bank;
    expect(wear!.cycle_life_used_share).toBeCloseTo(73 / 6250, 9);
    expect(wear!.calendar_life_used_share).toBeCloseTo(0.002, 12);
    expect(wear!.years_to_end_of_life).toBeCloseTo(6250 / 365, 6);
  });

  it('says nothing of a bank whose life is not stated, and that an idle one is not worn', () => {
    expect(worn(0.25, null).report.bank.wear).toBeNull();
    const idle = worn(0, life({ cycle_life: SQUARE })).report.bank.wear;
    expect(idle!.cycle_life_used_share).toBe(0);
    expect(idle!.years_to_end_of_life).toBeNull();
    expect(idle!.worst).toBeNull();
  });
});

describe('money', () => {
  const use = {
    served_kWh: 1000,
    equivalent_full_cycles: 100,
    bank_cycle_life_used_share: 0.25,
    generator_run_h: 0,
    fuel_L: 0,
    shore_kWh: 0,
  };

  it('buys the bank again when its cycle life against depth is used up, or its years', () => {
    const lasts = (life: Life): number => 1 / Math.max(...wornBy(life, use));
    expect(lasts({ years: null, cycles: null, by_depth: true, run_h: null })).toBe(4);
    expect(lasts({ years: 3, cycles: null, by_depth: true, run_h: null })).toBe(3);
    // Equivalent full cycles as ever where no cycles against depth are stated.
    expect(lasts({ years: null, cycles: 700, run_h: null })).toBeCloseTo(7, 12);
  });

  it('and pays for it: 9 years of a bank of 4 are two more', () => {
    const line = { item: 'bank', path: 'bank', count: 1, price_each: 100, total: 100 };
    const bill = {
      lines: [{ ...line, life: { years: null, cycles: null, by_depth: true, run_h: null } as const }],
      capital: 100,
      unpriced: [],
    };
    const terms = {
      years: 9,
      discount_share_per_year: 0,
      fuel_price_per_L: null,
      shore_price_per_kWh: null,
      fuel_price_growth_share_per_year: 0,
      shore_price_growth_share_per_year: 0,
      residual_share: 0,
      service: null,
    };
    expect(lifetimeCost(bill, terms, [use])!.replacements).toBe(200);
  });
});
