/** Loads and arrays on either side of the inverter, on legs, asleep, flexible, fed by surplus: each worked out by hand. */
import { audit, findings, type LoadYear, playYear } from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import type { Load } from '@longnight/core/scenario';
import { describe, expect, it } from 'vitest';
import { prepareLoads } from '../../packages/core/src/loads/prepare.ts';
import { openTracker, plantWith } from '../support/plant.ts';
import { surgeConflicts } from '../support/words.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (value: number, steps = DAY): Float64Array => new Float64Array(steps).fill(value);
const at = (values: Readonly<Record<number, number>>, steps = DAY): Float64Array =>
  Float64Array.from({ length: steps }, (_, i) => values[i] ?? 0);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);
const clock = buildClock(2025, 'Etc/UTC', 60);

/** The first day of loads prepared as a scenario gives them. */
function firstDay(loads: readonly Load[]): LoadYear {
  const year = prepareLoads(loads, clock, new Map(), constant(10, clock.steps), true);
  const cut = (column: Float64Array): Float64Array => column.slice(0, DAY);
  return {
    ...year,
    tier_kW: year.tier_kW.map(cut),
    total_kW: cut(year.total_kW),
    dc_tier_kW: year.dc_tier_kW?.map(cut) ?? null,
    leg_tier_kW: year.leg_tier_kW?.map((tiers) => tiers.map(cut)) ?? null,
    running_kW: cut(year.running_kW!),
    flexible: year.flexible.map((load) => ({
      ...load,
      asked_kWh: cut(load.asked_kWh),
      most_kWh: cut(load.most_kWh),
      later_kWh: cut(load.later_kWh),
    })),
    surplus: year.surplus.map((load) => ({ ...load, most_kWh: cut(load.most_kWh) })),
  };
}

const everyDay: Pick<Extract<Load, { kind: 'appliance' }>, 'days' | 'months'> = {
  days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
  months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
};
const appliance = (
  name: string,
  power_W: number,
  more: Partial<Extract<Load, { kind: 'appliance' }>> = {},
): Load =>
  ({
    kind: 'appliance',
    name,
    tier: 1,
    scale: 1,
    daily_variation_share: 0,
    power_W,
    count: 1,
    windows: ['00:00-24:00'],
    ...everyDay,
    duty_share: 1,
    ...more,
  }) as Load;

const yearWith = (loads: readonly Load[], sun: Float64Array = constant(0)) => {
  const more = firstDay(loads);
  return yearOf({ dc_kW_per_kWp: [sun], load_kW: more.total_kW, loads, more });
};

describe('a load on the DC side', () => {
  const loads = [appliance('lamp', 100, { bus: 'dc' }), appliance('fan', 100)];

  it('is spared the losses of the inverter, idle draw included', () => {
    const plant = plantWith({ loss_linear: 0.25, idle_W: 20, rating_kW: 1 });
    const { columns } = playYear(yearWith(loads), plant);
    // 0.1 for the lamp, 0.02 + 0.125 for the fan.
    expect(columns.bank_discharge_kWh[0]).toBeCloseTo(0.245, 12);
    expect(columns.dc_load_served_kWh[0]).toBeCloseTo(0.1, 12);
    expect(columns.inverter_out_kWh[0]).toBeCloseTo(0.1, 12);
  });

  it('stays on when the inverter is too small, and when the bank runs out it goes before the other does', () => {
    const year = yearWith(loads);
    const small = playYear(year, plantWith({ rating_kW: 0.05 })).columns;
    expect(small.dc_load_served_kWh[0]).toBeCloseTo(0.1, 12);
    expect(small.unmet_inverter_rating_kWh[0]).toBeCloseTo(0.05, 12);
    // 1.25 kWh in store at 0.2 kW: six hours whole, then 0.05 kWh, all of it to the lamp.
    const plant = plantWith({ capacity_Ah: 25 });
    const ledger = playYear(year, plant);
    expect(ledger.columns.dc_load_served_kWh[6]).toBeCloseTo(0.05, 12);
    expect(ledger.columns.inverter_out_kWh[6]).toBe(0);
    expect(ledger.columns.unmet_bank_floor_kWh[6]).toBeCloseTo(0.15, 12);
    expect(findings(ledger, 1).autonomy.sunless_hours.least).toBeCloseTo(6.25, 12);
  });

  it('is counted in its own tier, whatever becomes of the AC side', () => {
    const tiers = [appliance('fan', 100), appliance('lamp', 100, { bus: 'dc', tier: 2 })];
    const year = yearWith(tiers);
    const plant = plantWith({ rating_kW: 0.05 });
    const report = findings(playYear(year, plant), 1);
    expect(report.load.by_tier.map(({ unmet_kWh }) => unmet_kWh)).toEqual([
      expect.closeTo(1.2, 9),
      expect.closeTo(0, 9),
    ]);
  });

  it('can start the generator, through the charger', () => {
    const plant = plantWith({
      initial_soc: 0,
      charger: { max_charge_A: 20, max_output_kW: 1, efficiency: 0.5 },
      generator: {
        rating_kW: 2,
        fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
        start_soc: 0,
        stop_soc: 0.5,
        min_load_share: 0,
        min_run_h: 0,
        connection: 'transfer',
      },
    });
    const { columns } = playYear(yearWith([appliance('lamp', 100, { bus: 'dc' })]), plant);
    expect(total(columns.unmet_kWh)).toBe(0);
    expect(columns.generator_run_h[0]).toBe(1);
  });
});

describe('how near the generator came to its rating', () => {
  it('counts what it carries of the loads, and not what the sun on the AC side does', () => {
    // 4 kW asked, 3 kW of sun on the AC side, 1 kW of the generator of 2 kW: half of it, not 200 %.
    const generator = {
      rating_kW: 2,
      fuel: { full_load_L_per_h: 1, half_load_L_per_h: 0.6 },
      start_soc: 0.5,
      stop_soc: 0.9,
      min_load_share: 0,
      min_run_h: 0,
      connection: 'transfer',
    } as const;
    const arrays = [{ ...openTracker(3), ac: true }];
    const year = yearWith([appliance('kiln', 4000)], constant(1));
    const plant = plantWith({ arrays, generator, initial_soc: 0 });
    const { closest } = findings(playYear(year, plant), 1).gives_out_first;
    expect(closest.find(({ limit }) => limit === 'generator_rating')!.used_share).toBeCloseTo(0.5, 12);
  });
});

describe('stacked inverters', () => {
  const pair = { capacity_Ah: 1000, units: 2, legs: 2, rating_kW: 1, idle_W: 10, loss_linear: 0.1 };

  it('carry twice the load at twice the idle draw from one bank', () => {
    const { columns } = playYear(yearWith([appliance('oven', 1800)]), plantWith(pair));
    expect(columns.unmet_kWh[0]).toBe(0);
    expect(columns.bank_discharge_kWh[0]).toBeCloseTo(0.02 + 1.8 * 1.1, 12);
  });

  it('are limited by one leg: 1.3 kW on leg 1 beside 0.2 kW shared leave 0.4 kW unmet', () => {
    const loads = [appliance('saw', 1300, { leg: 1 }), appliance('lamps', 200, { tier: 2 })];
    const year = yearWith(loads);
    const plant = plantWith(pair);
    const ledger = playYear(year, plant);
    // Leg 1 is asked for 1.4 and gives 1; leg 2 gives its 0.1.
    expect(ledger.columns.inverter_out_kWh[0]).toBeCloseTo(1.1, 12);
    expect(ledger.columns.unmet_leg_kWh[0]).toBeCloseTo(0.4, 12);
    expect(ledger.columns.unmet_inverter_rating_kWh[0]).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    // It is the saw that stops, though the lamps are of the lower tier.
    const { by_tier } = findings(ledger, 1).load;
    expect(by_tier[0]!.unmet_kWh).toBeCloseTo(24 * 0.4, 9);
    expect(by_tier[1]!.unmet_kWh).toBeCloseTo(0, 9);
  });

  it('share out what is beyond both: 3 kW on leg 1 leave 2 unmet, 1 of them for the whole rating', () => {
    const { columns } = playYear(yearWith([appliance('saw', 3000, { leg: 1 })]), plantWith(pair));
    expect(columns.inverter_out_kWh[0]).toBeCloseTo(1, 12);
    expect(columns.unmet_leg_kWh[0]).toBeCloseTo(1, 12);
    expect(columns.unmet_inverter_rating_kWh[0]).toBeCloseTo(1, 12);
  });

  it("name a start that one leg can't take, though both could", () => {
    const year = yearWith([appliance('pump', 300, { leg: 2, start_W: 2500 })]);
    const plant = plantWith(pair);
    const { surge } = findings(playYear(year, plant), 1);
    expect(surgeConflicts(surge).join()).toContain(
      'On leg 2 with the start it is 2.50 kW; the leg gives 2.00 kW',
    );
  });
});

describe('an inverter that sleeps', () => {
  const sleep = { below_W: 25, search_W: 3 };

  it('draws its search pulse, and leaves loads dark that are too small to wake it', () => {
    const loads = [appliance('router', 12), appliance('lamp', 60, { windows: ['18:00-22:00'] })];
    const year = yearWith(loads);
    const plant = plantWith({ idle_W: 30, rating_kW: 1, sleep });
    const ledger = playYear(year, plant);
    const { columns } = ledger;
    expect(columns.bank_discharge_kWh[3]).toBeCloseTo(0.003, 12);
    expect(columns.unmet_inverter_asleep_kWh[3]).toBeCloseTo(0.012, 12);
    expect(columns.bank_discharge_kWh[19]).toBeCloseTo(0.03 + 0.072, 12);
    expect(total(columns.unmet_kWh)).toBeCloseTo(20 * 0.012, 12);
    expect(findings(ledger, 1).gives_out_first.main_cause).toBe('inverter_asleep');
  });

  it('is awake for a fridge whose mean is small but whose compressor is not', () => {
    const { columns } = playYear(
      yearWith([appliance('fridge', 60, { duty_share: 0.3 })]),
      plantWith({ idle_W: 30, rating_kW: 1, sleep }),
    );
    expect(total(columns.unmet_kWh)).toBe(0);
    expect(columns.bank_discharge_kWh[0]).toBeCloseTo(0.03 + 0.018, 12);
  });
});

describe('heat', () => {
  it('takes from the rating along a straight line between points', () => {
    const year = yearWith([appliance('oven', 3000)]);
    const derating = {
      temperature: { kind: 'indoors' as const, temperature_C: 50 },
      points: [
        { temperature_C: 40, share: 1 },
        { temperature_C: 60, share: 0.5 },
      ],
    };
    const { columns } = playYear(year, plantWith({ rating_kW: 2, derating }));
    expect(columns.inverter_out_kWh[0]).toBeCloseTo(1.5, 12);
    expect(columns.unmet_inverter_rating_kWh[0]).toBeCloseTo(1.5, 12);
  });
});

describe('an array on the AC side', () => {
  const ac = { ...openTracker(1, 0.95), ac: true };
  const sun = at({ 10: 1, 11: 1 });
  const lossy = { capacity_Ah: 1000, idle_W: 50, rating_kW: 2, loss_linear: 0.1 };

  it('serves loads past the inverter, and charges through the charger', () => {
    const charger = { max_charge_A: 100, max_output_kW: 5, efficiency: 0.9 };
    const plant = plantWith({ ...lossy, arrays: [ac], charger, initial_soc: 0.5 });
    const year = yearWith([appliance('fan', 350)], sun);
    const ledger = playYear(year, plant);
    const { columns } = ledger;
    // 0.95 on the AC side: 0.35 to the fan, 0.6 to the charger, 0.54 out of it, 0.05 of that to the inverter.
    expect(columns.array_ac_kWh[10]).toBeCloseTo(0.95, 12);
    expect(columns.charger_in_kWh[10]).toBeCloseTo(0.6, 12);
    expect(columns.bank_charge_kWh[10]).toBeCloseTo(0.49, 12);
    expect(columns.inverter_out_kWh[10]).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('has no way into the bank without a charger', () => {
    const { columns } = playYear(
      yearWith([appliance('fan', 350)], sun),
      plantWith({ ...lossy, arrays: [ac], initial_soc: 0.5 }),
    );
    expect(columns.curtailed_charger_kWh[10]).toBeCloseTo(1 - 0.35 / 0.95, 12);
    expect(columns.bank_charge_kWh[10]).toBe(0);
  });

  it("can't start a plant whose bank is empty, where one on the DC side can", () => {
    const charger = { max_charge_A: 100, max_output_kW: 5, efficiency: 0.9 };
    const year = yearWith([appliance('fan', 350)], sun);
    const dead = playYear(year, plantWith({ ...lossy, arrays: [ac], charger, initial_soc: 0 })).columns;
    expect(total(dead.load_served_kWh)).toBe(0);
    expect(dead.curtailed_inverter_off_kWh[10]).toBeCloseTo(1, 12);
    const alive = playYear(
      year,
      plantWith({ ...lossy, arrays: [openTracker(1, 0.95)], initial_soc: 0 }),
    ).columns;
    expect(total(alive.load_served_kWh)).toBeGreaterThan(0.6);
  });

  it('is cut at the power of its own inverter, which is booked as such', () => {
    const clipped = { ...ac, max_output_kW: 0.5 };
    const { columns } = playYear(
      yearWith([appliance('fan', 350)], sun),
      plantWith({ ...lossy, arrays: [clipped], initial_soc: 0.5 }),
    );
    expect(columns.curtailed_tracker_power_kWh[10]).toBeCloseTo((0.95 - 0.5) / 0.95, 12);
  });
});

describe('a flexible load', () => {
  const car = (more: Partial<Extract<Load, { kind: 'flexible' }>> = {}): Load => ({
    kind: 'flexible',
    name: 'car',
    scale: 1,
    growth_share_per_year: 0,
    energy_kWh: 3,
    max_power_W: 1000,
    window: '08:00-18:00',
    ...everyDay,
    min_soc: 0,
    ...more,
  });

  it('takes the sun when it is there', () => {
    const year = yearWith([car()], at({ 10: 5, 11: 5, 12: 5 }));
    const { columns } = playYear(year, plantWith({ size_kWp: 1, capacity_Ah: 1000, initial_soc: 0.5 }));
    expect([10, 11, 12].map((i) => columns.flexible_wanted_kWh[i])).toEqual([1, 1, 1]);
    expect(total(columns.load_served_kWh)).toBeCloseTo(3, 12);
    expect(columns.bank_charge_kWh[10]).toBeCloseTo(4, 12);
  });

  it('is served at the end of its window from the bank if no sun came: 15 to 18 h', () => {
    const { columns } = playYear(yearWith([car()]), plantWith({}));
    expect([14, 15, 16, 17, 18].map((i) => columns.load_served_kWh[i])).toEqual([0, 1, 1, 1, 0]);
    expect(total(columns.unmet_kWh)).toBe(0);
  });

  it('waits in part: two hours of sun leave one for the end', () => {
    const { columns } = playYear(yearWith([car()], at({ 9: 1, 10: 1 })), plantWith({ size_kWp: 1 }));
    expect([9, 10, 16, 17].map((i) => columns.load_served_kWh[i])).toEqual([1, 1, 0, 1]);
  });

  it('counts as unmet what it does not get by the end of its window, behind all tiers', () => {
    const year = yearWith([car(), appliance('fan', 100)]);
    const plant = plantWith({ capacity_Ah: 60, initial_soc: 1 });
    const report = findings(playYear(year, plant), 1);
    // 3 kWh: 1.5 to the fan until 15 h, 1.1 and 0.4 to both, 0.1 of the latter to the fan; then dark.
    expect(report.load.flexible).toEqual({
      wanted_kWh: expect.closeTo(3, 12),
      unmet_kWh: expect.closeTo(3 - 1.3, 12),
    });
    expect(report.load.by_tier[0]!.unmet_kWh).toBeCloseTo(0.7, 12);
  });

  it('goes without below its least state of charge, as shed on purpose', () => {
    const { columns } = playYear(yearWith([car({ min_soc: 0.6 })]), plantWith({ initial_soc: 0.5 }));
    expect(total(columns.load_served_kWh)).toBe(0);
    expect(total(columns.unmet_shed_kWh)).toBeCloseTo(3, 12);
  });

  it('asks once in each window, also past midnight', () => {
    const year = prepareLoads(
      [car({ window: '22:00-06:00', days: ['mon'] })],
      clock,
      new Map(),
      constant(10, clock.steps),
    );
    const asked = year.flexible[0]!.asked_kWh;
    expect(total(asked)).toBe(52 * 3);
    expect(asked.findIndex((kWh) => kWh > 0)).toBe(5 * 24 + 22);
    // Three hours are the last it can wait for: 3 to 6 h of Tuesday.
    const begin = 5 * 24 + 22;
    expect([0, 5, 7].map((k) => year.flexible[0]!.later_kWh[begin + k])).toEqual([7, 2, 0]);
  });

  it('draws its last sunless hours, for the autonomy too', () => {
    const year = yearWith([car()]);
    const plant = plantWith({ capacity_Ah: 40 });
    const report = findings(playYear(year, plant), 1);
    // A full bank of 2 kWh, begun at 15 h, carries 15 and 16 h of the 1 kWh asked for at 15, 16 and 17 h.
    expect(report.autonomy.sunless_hours.least).toBeCloseTo(2, 12);
    expect(report.autonomy.sunless_hours.least_start).toContain('T15:00');
  });
});

describe('a load that takes surplus', () => {
  const boiler: Load = {
    kind: 'surplus',
    name: 'boiler',
    scale: 1,
    max_power_W: 800,
    max_kWh_day: 1,
    windows: ['00:00-24:00'],
    ...everyDay,
  };

  it('takes what a full bank leaves, and no more than is of use in a day', () => {
    const year = yearWith([boiler], at({ 10: 1, 11: 1, 12: 1 }));
    const plant = plantWith({ size_kWp: 1, rating_kW: 2, loss_linear: 0.25 });
    const ledger = playYear(year, plant);
    const { columns } = ledger;
    // 1 kWh of sun is 0.8 behind the inverter; 0.2 more makes its day.
    expect([10, 11, 12].map((i) => columns.surplus_load_kWh[i])).toEqual([
      expect.closeTo(0.8, 12),
      expect.closeTo(0.2, 12),
      0,
    ]);
    expect(columns.curtailed_bank_full_kWh[11]).toBeCloseTo(0.75, 12);
    expect(total(columns.load_wanted_kWh)).toBe(0);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    expect(findings(ledger, 1).load.surplus_kWh).toBeCloseTo(1, 12);
  });

  it('never takes from the bank, nor from what charges it', () => {
    const year = yearWith([boiler], at({ 10: 1 }));
    const { columns } = playYear(year, plantWith({ size_kWp: 1, initial_soc: 0.5 }));
    expect(total(columns.surplus_load_kWh)).toBe(0);
  });
});

describe('a charger on circuits of different voltage', () => {
  it('draws 1.8 kW on one and 3 on the other', () => {
    const charge = (max_shore_input_kW: number): number => {
      const year = yearOf({
        dc_kW_per_kWp: [constant(0)],
        load_kW: constant(0),
        timetables: { shore_there: new Uint8Array(DAY).fill(1) },
      });
      const plant = plantWith({
        initial_soc: 0,
        max_charge_A: 1000,
        shore: { max_kW: 10, parallel: false },
        charger: { max_charge_A: 1e4, max_output_kW: 100, efficiency: 0.9, max_shore_input_kW },
      });
      return playYear(year, plant).columns.bank_charge_kWh[0]!;
    };
    expect(charge(1.8)).toBeCloseTo(1.62, 12);
    expect(charge(3)).toBeCloseTo(2.7, 12);
  });
});
