/** Months, survival in the dark and the weeks of the seasons, against slow and obvious recomputation. */

import { findings, playYear } from '@longnight/core';
import { sunlessHours } from '@longnight/core/bank';
import { localDate } from '@longnight/core/clock';
import { describe, expect, it } from 'vitest';
import { openTracker, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const steps = 8760;
const year = yearOf(randomYear(stream(23), steps, 1));
const plant = plantWith({
  arrays: [openTracker(3, 0.97)],
  modules_parallel: 2,
  max_charge_A: 50,
  max_discharge_A: 60,
  rating_kW: 2.5,
  round_trip: 0.92,
  floor_soc: 0.1,
  self_discharge_share_per_month: 0.03,
  idle_W: 30,
  loss_linear: 0.04,
  charger: { max_charge_A: 40, max_output_kW: 2, efficiency: 0.9 },
  generator: {
    rating_kW: 2,
    fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
    start_soc: 0.15,
    stop_soc: 0.6,
    min_run_h: 2,
    min_load_share: 0.3,
    connection: 'transfer',
  },
  initial_soc: 0.5,
});
const ledger = playYear(year, plant);
const report = findings(ledger, 7);

describe('months', () => {
  it('each is a balance: what came in is served, lost or gained by the bank', () => {
    expect(report.by_month.map(({ month }) => month)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    for (const row of report.by_month) {
      const came = row.sun_used_kWh + row.generator_kWh + row.shore_kWh + row.alternator_kWh;
      expect(came).toBeCloseTo(
        row.served_kWh + row.surplus_load_kWh + row.losses_kWh + row.bank_gained_kWh,
        8,
      );
      expect(row.wanted_kWh).toBeCloseTo(row.served_kWh + row.unmet_kWh, 9);
    }
    expect(report.generator!.energy_kWh).toBeGreaterThan(0);
  });

  it('their sums are the figures of the year, and the bank ends where it ends', () => {
    const sum = (name: keyof (typeof report.by_month)[number]): number =>
      report.by_month.reduce((total, row) => total + row[name], 0);
    expect(sum('wanted_kWh')).toBeCloseTo(report.load.wanted_kWh, 8);
    expect(sum('served_kWh')).toBeCloseTo(report.load.served_kWh, 8);
    expect(sum('unmet_kWh')).toBeCloseTo(report.unmet.energy_kWh, 8);
    expect(sum('sun_used_kWh')).toBeCloseTo(report.array.used_kWh, 8);
    expect(sum('curtailed_kWh')).toBeCloseTo(report.array.curtailed_kWh, 8);
    expect(sum('generator_kWh')).toBeCloseTo(report.generator!.energy_kWh, 8);
    expect(sum('losses_kWh')).toBeCloseTo(report.losses.total_kWh, 8);
    const end = ledger.columns.bank_stock_kWh[steps - 1]!;
    expect(sum('bank_gained_kWh')).toBeCloseTo(end - ledger.start_stock_kWh, 8);
  });
});

describe('survival in the dark', () => {
  const { survival, least, p05, median } = report.autonomy.sunless_hours;
  const { hours } = sunlessHours(year, plant);

  it('counts the starts that last so long, one by one', () => {
    for (const point of survival) {
      const lasting = hours.filter((h) => h >= point.hours).length;
      expect(point.starts_share).toBeCloseTo(lasting / steps, 12);
    }
  });

  it('falls from all to none at equal distances, in at most sixty points, and passes through the quantiles', () => {
    expect(survival[0]).toEqual({ hours: 0, starts_share: 1 });
    expect(survival.at(-1)!.starts_share).toBe(0);
    expect(survival.at(-2)!.starts_share).toBeGreaterThan(0);
    expect(survival.length).toBeLessThanOrEqual(61);
    const step = survival[1]!.hours;
    survival.forEach((point, k) => {
      expect(point.hours).toBe(k * step);
      if (k > 0) expect(point.starts_share).toBeLessThanOrEqual(survival[k - 1]!.starts_share);
    });
    const shareAt = (h: number): number => survival.findLast((point) => point.hours <= h)!.starts_share;
    expect(shareAt(least)).toBe(1);
    expect(shareAt(p05)).toBeGreaterThanOrEqual(0.95);
    expect(shareAt(median)).toBeGreaterThanOrEqual(0.5);
  });

  it('still ends where a bank outlasts the year', () => {
    const light = yearOf({
      dc_kW_per_kWp: [new Float64Array(240)],
      load_kW: new Float64Array(240).fill(0.01),
    });
    const large = plantWith({ capacity_Ah: 2000 });
    const { sunless_hours } = findings(playYear(light, large), 3).autonomy;
    expect(sunless_hours.capped).toBe(true);
    expect(sunless_hours.survival.at(-2)!.hours).toBe(240);
    expect(sunless_hours.survival.at(-2)!.starts_share).toBe(1);
  });
});

describe('weeks of the seasons', () => {
  const MONTHS = [
    [12, 1, 2],
    [3, 4, 5],
    [6, 7, 8],
    [9, 10, 11],
  ];
  /** Of 365 days of 24 steps, from the columns themselves. */
  const dateOf = (day: number): string => new Date(Date.UTC(2025, 0, 1 + day)).toISOString().slice(0, 10);
  const over = (column: Float64Array, first: number): number =>
    column.slice(24 * first, 24 * (first + 7)).reduce((sum, kWh) => sum + kWh, 0);
  const ratioFrom = (first: number): number =>
    over(ledger.columns.array_available_kWh, first) / over(ledger.columns.load_wanted_kWh, first);

  it('each is the week in the middle of all that lie within its three months', () => {
    expect(report.season_weeks.map((week) => week.months)).toEqual(MONTHS);
    for (const [k, months] of MONTHS.entries()) {
      const firsts = Array.from({ length: 365 - 6 }, (_, first) => first).filter((first) =>
        [0, 1, 2, 3, 4, 5, 6].every((day) => months.includes(Number(dateOf(first + day).slice(5, 7)))),
      );
      const ranked = firsts.sort((a, b) => ratioFrom(a) - ratioFrom(b));
      // Of an even number the one with less sun.
      const at = ranked[Math.ceil(ranked.length / 2) - 1]!;
      const week = report.season_weeks[k]!;
      expect(week.start).toBe(dateOf(at));
      expect(week.sun_to_load).toBeCloseTo(ratioFrom(at), 9);
      expect(week.by_day.map((day) => day.date)).toEqual(
        [0, 1, 2, 3, 4, 5, 6].map((day) => dateOf(at + day)),
      );
      const { bank_soc, unmet_kWh } = ledger.columns;
      expect(week.initial_soc).toBe(bank_soc[24 * at - 1] ?? plant.initial_soc!);
      expect(week.lowest_soc).toBe(Math.min(...bank_soc.slice(24 * at, 24 * (at + 7))));
      expect(week.unmet_kWh).toBeCloseTo(over(unmet_kWh, at), 9);
    }
  });

  it('a year cut short has those that it has days for', () => {
    const given = randomYear(stream(3), 20 * 24, 1);
    const short = yearOf(given);
    const weeks = findings(playYear(short, plant), 3).season_weeks;
    expect(weeks.map((week) => week.months)).toEqual([[12, 1, 2]]);
    expect(weeks[0]!.start >= localDate(short.clock, 0)).toBe(true);
  });
});
