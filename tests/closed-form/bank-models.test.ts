/** Resistive and kinetic banks in the hour loop against algebra and finer integrations. No outside source. */

import {
  agedPlant,
  audit,
  type Bank,
  findings,
  LEDGER_COLUMNS,
  type Plant,
  playYear,
  staticLimits,
} from '@longnight/core';
import { fitKinetic, type KineticModel, sunlessHours, withModules } from '@longnight/core/bank';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { kineticStep } from '../../packages/core/src/plant/bank-kinetic.ts';
import { type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { limitSaid } from '../support/words.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (steps: number, value: number): Float64Array => new Float64Array(steps).fill(value);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);
const steady = (load: number, sun = 0, days = 1, bank_C = 20) =>
  yearOf({
    dc_kW_per_kWp: [constant(days * DAY, sun)],
    load_kW: constant(days * DAY, load),
    bank_temperature_C: constant(days * DAY, bank_C),
  });
type Model = NonNullable<Parts['model']>;
const flat = (resistance_mOhm: number, coulombic_efficiency_share = 1, voltage_V = 50): Model => ({
  kind: 'resistive',
  open_circuit: [
    { soc: 0, voltage_V },
    { soc: 1, voltage_V },
  ],
  cells_series: 1,
  resistance_mOhm,
  end_of_life_resistance_factor: 2,
  coulombic_efficiency_share,
});
const rising: Model = {
  kind: 'resistive',
  open_circuit: [
    { soc: 0, voltage_V: 36 },
    { soc: 0.1, voltage_V: 48 },
    { soc: 0.9, voltage_V: 52 },
    { soc: 1, voltage_V: 56 },
  ],
  cells_series: 1,
  resistance_mOhm: 20,
  coulombic_efficiency_share: 0.98,
  end_of_life_resistance_factor: 2,
};
const lead: Model = { kind: 'kinetic', capacity_20h_Ah: 100, capacity_10h_Ah: 90, capacity_5h_Ah: 78 };

/** The plant with a kinetic model of given parameters instead of a fitted one. */
const withWells = (plant: Plant, available_share: number, rate_per_h: number): Plant => ({
  ...plant,
  bank: { ...plant.bank, model: { kind: 'kinetic', available_share, rate_per_h } },
});

function expectSame(a: Plant, b: Plant, within: number): void {
  const given = randomYear(stream(7), 20 * DAY, 1);
  const [one, two] = [playYear(yearOf(given), a).columns, playYear(yearOf(given), b).columns];
  expect(total(one.unmet_kWh)).toBeGreaterThan(1);
  expect(total(one.bank_charge_kWh)).toBeGreaterThan(1);
  for (const { name } of LEDGER_COLUMNS) {
    for (let i = 0; i < 20 * DAY; i++) {
      if (!(Math.abs(one[name][i]! - two[name][i]!) <= within))
        throw new Error(`${name}[${i}]: ${one[name][i]} and ${two[name][i]}`);
    }
  }
}
const ORDINARY: Parts = {
  size_kWp: 4,
  capacity_Ah: 120,
  floor_soc: 0.1,
  max_charge_A: 40,
  max_discharge_A: 40,
  taper_start_soc: 0.8,
  self_discharge_share_per_month: 0.03,
  idle_W: 20,
  loss_linear: 0.05,
  loss_quadratic: 0.05,
};

describe('a resistive bank', () => {
  it('gives P = I (V - I R) and loses I² R', () => {
    // 50 V, two modules of 200 mΩ: 0.1 Ω. 2.4 kW: I = (50 - √(50² - 4 × 0.1 × 2400)) / 0.2.
    const I = (50 - Math.sqrt(2500 - 960)) / 0.2;
    const plant = plantWith({ capacity_Ah: 200, modules_parallel: 2, model: flat(200) });
    const { columns } = playYear(steady(2.4), plant);
    expect(columns.bank_discharge_kWh[0]).toBeCloseTo(2.4, 12);
    expect(columns.bank_loss_kWh[0]).toBeCloseTo((I * I * 0.1) / 1000, 12);
    expect(columns.bank_stock_kWh[0]).toBeCloseTo(20 - (I * 50) / 1000, 12);
  });

  it('takes P = I (V + I R), loses I² R, and stores the coulombic share of I V', () => {
    const I = (-50 + Math.sqrt(2500 + 4 * 0.1 * 3000)) / 0.2;
    const plant = plantWith({
      size_kWp: 3,
      capacity_Ah: 200,
      modules_parallel: 2,
      initial_soc: 0.2,
      model: flat(200, 0.97),
    });
    const { columns } = playYear(steady(0, 1), plant);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(3, 12);
    expect(columns.bank_stock_kWh[0]! - 4).toBeCloseTo((I * 50 * 0.97) / 1000, 12);
    expect(columns.bank_loss_kWh[0]).toBeCloseTo((I * I * 0.1 + I * 50 * 0.03) / 1000, 12);
  });

  it('stops at its amps: less power than the nominal voltage promises, and the rest is the amps’ fault', () => {
    const plant = plantWith({ capacity_Ah: 400, max_discharge_A: 60, model: flat(100) });
    const { columns } = playYear(steady(3), plant);
    const most = (60 * (50 - 60 * 0.1)) / 1000;
    expect(columns.load_served_kWh[0]).toBeCloseTo(most, 12);
    expect(columns.unmet_bank_current_kWh[0]).toBeCloseTo(3 - most, 12);
    expect(staticLimits(plant).ac_output.figure_kW).toBeCloseTo(most, 12);
    expect(limitSaid(staticLimits(plant).ac_output)).toContain('44.0 V, half charged');
  });

  it('comes as near to its amps as its voltage before the step says, in the first step and in a later one', () => {
    // Without resistance I = P / V, and V² rises with energy: from 40² V² empty by 900 V² to 50² full.
    const open_circuit = [
      { soc: 0, voltage_V: 40 },
      { soc: 1, voltage_V: 50 },
    ];
    const model = { ...flat(0), open_circuit } as Model;
    const plant = plantWith({ capacity_Ah: 200, max_discharge_A: 100, initial_soc: 0.9, model });
    for (const [step, drawn_kWh] of [
      [0, 0],
      [5, 5],
    ] as const) {
      const load_kW = constant(7 * DAY, 0)
        .fill(1, 0, step)
        .fill(2, step, step + 1);
      const ledger = playYear(yearOf({ dc_kW_per_kWp: [constant(7 * DAY, 0)], load_kW }), plant);
      const left_share = (ledger.start_stock_kWh - drawn_kWh) / plant.bank.capacity_kWh;
      const near = findings(ledger).gives_out_first.closest.find(({ limit }) => limit === 'bank_current');
      expect(near!.used_share).toBeCloseTo(2000 / Math.sqrt(1600 + 900 * left_share) / 100, 9);
    }
  });

  it('gives the last of its stock with the loss of the current that takes it', () => {
    // 1 kWh above the floor for an hour: 20 A × (50 - 20 × 0.1) V.
    const plant = plantWith({ capacity_Ah: 100, floor_soc: 0.2, initial_soc: 0.4, model: flat(100) });
    const { columns } = playYear(steady(3), plant);
    expect(columns.bank_discharge_kWh[0]).toBeCloseTo(0.96, 12);
    expect(columns.bank_stock_kWh[0]).toBeCloseTo(1, 12);
    expect(columns.unmet_bank_floor_kWh[0]).toBeCloseTo(3 - 0.96, 12);
  });

  it('of level voltage without resistance is a bank of efficiency 1, in every column', () => {
    expectSame(plantWith({ ...ORDINARY, model: flat(0) }), plantWith({ ...ORDINARY, round_trip: 1 }), 1e-9);
  });

  it('tapers as dE/dt = η V I (e + b x) says', () => {
    const plant = plantWith({
      size_kWp: 50,
      capacity_Ah: 100,
      max_charge_A: 30,
      initial_soc: 0.6,
      taper_start_soc: 0.7,
      taper_end_share: 0.1,
      model: flat(0, 0.9),
    });
    const { columns } = playYear(steady(0, 1), plant);
    let soc = 0.6;
    const n = 20_000;
    for (let hour = 0; hour < 6; hour++) {
      for (let i = 0; i < n; i++) {
        const share = (s: number): number => (s < 0.7 ? 1 : 0.1 + (0.9 * (1 - s)) / 0.3);
        const half = soc + (0.5 * share(soc) * 0.9 * 30) / 100 / n;
        soc = Math.min(1, soc + (share(half) * 0.9 * 30) / 100 / n);
      }
      expect(columns.bank_soc[hour]).toBeCloseTo(soc, 6);
    }
  });

  it('loses more the harder it is drawn on, for the same energy', () => {
    const lost = (max: number): number =>
      total(
        playYear(steady(max), plantWith({ capacity_Ah: 400, model: rising })).columns.bank_loss_kWh.slice(
          0,
          2 / max,
        ),
      );
    expect(lost(2)).toBeGreaterThan(1.8 * lost(1));
  });
});

describe('a kinetic bank', () => {
  it('that gives all at once is a plain bank, in every column', () => {
    const plain = plantWith({ ...ORDINARY, round_trip: 0.8 });
    expectSame(withWells(plain, 0.3, 1e12), plain, 1e-9);
    // Nor does it differ if nothing is ever bound.
    expectSame(withWells(plain, 1 - 1e-12, 1), plain, 1e-9);
  });

  it('steps as a fine integration of its two wells does, drawn on, charged and at rest', () => {
    const model: KineticModel = { kind: 'kinetic', available_share: 0.35, rate_per_h: 0.7 };
    const c = model.available_share;
    const valve = model.rate_per_h * c * (1 - c);
    for (const [I, step_h] of [
      [12, 1],
      [-9, 0.5],
      [0, 0.25],
    ] as const) {
      let [q1, q2] = [20, 55];
      const slope = (a: number, b: number): number => valve * (b / (1 - c) - a / c);
      const n = 2000;
      const h = step_h / n;
      for (let i = 0; i < n; i++) {
        // Midpoint rule.
        const flow = slope(q1, q2);
        const mid = slope(q1 + (flow - I) * (h / 2), q2 - flow * (h / 2));
        [q1, q2] = [q1 + (mid - I) * h, q2 - mid * h];
      }
      const { keeps, gains, per_drawn } = kineticStep(model, step_h);
      expect(20 * keeps + 75 * gains - I * step_h * per_drawn).toBeCloseTo(q1, 6);
    }
  });

  it('leaves to its amps what is bound, and gives more of it after a rest', () => {
    const load = Float64Array.from({ length: 2 * DAY }, (_, i) => (i < 6 || i >= 30 ? 2 : 0));
    const year = yearOf({ dc_kW_per_kWp: [constant(2 * DAY, 0)], load_kW: load });
    const plant = plantWith({ capacity_Ah: 100, model: lead });
    const ledger = playYear(year, plant);
    const { columns } = ledger;
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    // Faster than in 5 hours: dark with a sixth of the stock still there.
    expect(columns.bank_soc[5]).toBeGreaterThan(1 / 6);
    expect(total(columns.unmet_bank_current_kWh.slice(0, 6))).toBeGreaterThan(1);
    for (let i = 0; i < 6; i++) {
      // Were all of it ready, it would serve up to its whole stock; what is missing then is missing for want of stock.
      const unbound = Math.min(2, i === 0 ? ledger.start_stock_kWh : columns.bank_stock_kWh[i - 1]!);
      expect(columns.unmet_bank_current_kWh[i]).toBeCloseTo(unbound - columns.load_served_kWh[i]!, 12);
      expect(columns.unmet_bank_floor_kWh[i]).toBeCloseTo(2 - unbound, 12);
    }
    expect(columns.load_served_kWh[30]).toBeGreaterThan(2 * columns.load_served_kWh[5]!);
  });

  it('that is empty is at its floor, whatever is ready', () => {
    const { columns } = playYear(
      steady(0.5, 0, 2),
      plantWith({ capacity_Ah: 100, initial_soc: 0, model: lead }),
    );
    expect(total(columns.unmet_bank_floor_kWh)).toBeCloseTo(24, 9);
    expect(total(columns.unmet_bank_current_kWh)).toBe(0);
  });

  it('splits what is missing between what is bound, the cold and the floor', () => {
    const fit = fitKinetic(100, 90, 78);
    if (typeof fit === 'string') throw new Error(fit);
    const plant = plantWith({
      capacity_Ah: 100,
      max_discharge_A: 80,
      floor_soc: 0.3,
      initial_soc: 0.5,
      model: lead,
      capacity_at_temperature: [{ temperature_C: 0, share: 0.6 }],
    });
    const { columns } = playYear(steady(5, 0, 1, -5), plant);
    const { keeps, gains, per_drawn } = kineticStep(plant.bank.model as KineticModel, 1);
    const whole = fit.most * 0.05;
    const ready = (0.5 * whole * (fit.available_share * keeps + gains)) / per_drawn;
    const [drawable, inStore, amps] = [0.1 * whole, 0.2 * whole, 4];
    const gives = Math.min(ready, drawable, amps);
    expect(columns.load_served_kWh[0]).toBeCloseTo(gives, 12);
    expect(columns.unmet_bank_current_kWh[0]).toBeCloseTo(drawable - gives, 12);
    expect(columns.unmet_bank_cold_kWh[0]).toBeCloseTo(inStore - drawable, 12);
    expect(columns.unmet_bank_floor_kWh[0]).toBeCloseTo(5 - inStore, 12);
  });

  it('takes no more than its ready well has room for', () => {
    const plant = withWells(
      plantWith({ size_kWp: 50, capacity_Ah: 100, max_charge_A: 1000, initial_soc: 0 }),
      0.2,
      0.1,
    );
    const { columns } = playYear(steady(0, 1, 12), plant);
    // The ready well is full after the first hour; the bound one fills as the rate allows.
    const { gains, per_drawn } = kineticStep(plant.bank.model as KineticModel, 1);
    expect(gains).toBeGreaterThan(0);
    expect(columns.bank_stock_kWh[0]).toBeCloseTo((0.2 * 5) / per_drawn, 12);
    expect(columns.bank_soc[0]).toBeLessThan(0.35);
    expect(columns.bank_soc[12 * DAY - 1]).toBeGreaterThan(0.99);
    expect(total(columns.curtailed_bank_full_kWh)).toBeGreaterThan(0);
  });
});

describe('sunless hours', () => {
  it('are those of a plain bank where the models are one', () => {
    const given = randomYear(stream(3), 20 * DAY, 1);
    const year = yearOf(given);
    const cold: Parts = {
      ...ORDINARY,
      capacity_at_temperature: [
        { temperature_C: -10, share: 0.5 },
        { temperature_C: 10, share: 1 },
      ],
      heater: { keep_C: 0, loss_kW_per_K: 0.01 },
      max_discharge_A: 1000,
    };
    const plain = sunlessHours(year, plantWith(cold)).hours;
    const level = sunlessHours(year, plantWith({ ...cold, model: flat(0) })).hours;
    const quick = sunlessHours(year, withWells(plantWith(cold), 0.3, 1e12)).hours;
    for (let i = 0; i < plain.length; i++) {
      expect(level[i]).toBeCloseTo(plain[i]!, 6);
      expect(quick[i]).toBeCloseTo(plain[i]!, 6);
    }
  });

  it.each([
    ['resistive', rising],
    ['kinetic', lead],
  ] as const)('of a %s bank end where a played night leaves load unmet', (_, model) => {
    const plant = plantWith({ ...ORDINARY, capacity_Ah: 100, modules_parallel: 4, size_kWp: 0, model });
    const year = steady(0.6, 0, 10);
    const { hours, capped } = sunlessHours(year, plant);
    expect(capped).toBe(false);
    const dark = playYear(year, plant).columns.unmet_kWh.findIndex((kWh) => kWh > 1e-9);
    expect(Math.floor(hours[0]!)).toBe(dark);
  });

  it('are the whole year, and said to be capped, where nothing is drawn', () => {
    const { hours, capped } = sunlessHours(steady(0), plantWith({ capacity_Ah: 100, model: lead }));
    expect([...hours].every((h) => h === DAY)).toBe(true);
    expect(capped).toBe(true);
  });
});

describe('older modules', () => {
  const older = [{ modules: 2, capacity_share: 0.8 }];

  it('share the current by what they store: all store 3.6, carry 3.6 and the new one is first at its amps', () => {
    const { bank } = plantWith({ capacity_Ah: 100, modules_parallel: 2, max_discharge_A: 60, older });
    expect(bank.capacity_kWh).toBeCloseTo(3.6 * 5, 12);
    expect(bank.max_discharge_kW).toBeCloseTo(3.6 * 3, 12);
  });

  it('of a resistive bank share it by their resistance: two of twice that carry as one', () => {
    const factor = [{ modules: 2, capacity_share: 0.8, resistance_factor: 2 }];
    const plant = plantWith({
      capacity_Ah: 100,
      modules_parallel: 2,
      max_discharge_A: 60,
      older: factor,
      model: flat(90),
    });
    expect(plant.bank.capacity_kWh).toBeCloseTo(3.6 * 5, 12);
    // 90 mΩ over 3: 180 A lose 5.4 V, as 60 A do in a new one.
    const { columns } = playYear(steady(50), plant);
    expect(columns.bank_discharge_kWh[0]).toBeCloseTo((180 * (50 - 5.4)) / 1000, 12);
    expect(limitSaid(staticLimits(plant).ac_output)).toContain('2 modules and 2 older, which carry as 3');
  });

  it.each([
    ['plain', undefined],
    ['resistive', rising],
    ['kinetic', lead],
  ] as const)('stay when new modules are added to a %s bank', (_, model) => {
    const group = [
      { modules: 2, capacity_share: 0.8, resistance_factor: model?.kind === 'resistive' ? 1.5 : undefined },
    ];
    const of = (modules_parallel: number): Bank =>
      plantWith({ capacity_Ah: 100, floor_soc: 0.2, modules_parallel, older: group, model }).bank;
    const grown = withModules(of(2), 5);
    for (const key of [
      'capacity_kWh',
      'floor_kWh',
      'max_charge_kW',
      'max_discharge_kW',
      'current_modules',
    ] as const) {
      expect(grown[key]).toBeCloseTo(of(5)[key], 10);
    }
  });
});

describe('amps in the cold', () => {
  const points = [
    { temperature_C: 0, max_charge_A: 10 },
    { temperature_C: 20, max_charge_A: 50 },
  ];
  const cold: Parts = { size_kWp: 10, capacity_Ah: 400, max_charge_A: 50, initial_soc: 0 };

  it.each([
    [-10, 10],
    [0, 10],
    [10, 30],
    [30, 50],
  ])('at %d °C let in %d A', (bank_C, amps) => {
    const plant = plantWith({ ...cold, charge_A_at_temperature: points });
    const { columns } = playYear(steady(0, 1, 1, bank_C), plant);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo((amps * 50) / 1000, 12);
    expect(columns.curtailed_charge_current_kWh[0]).toBeCloseTo(10 - (amps * 50) / 1000, 12);
    const resistive = plantWith({ ...cold, charge_A_at_temperature: points, model: flat(50) });
    const played = playYear(steady(0, 1, 1, bank_C), resistive).columns;
    expect(played.bank_charge_kWh[0]).toBeCloseTo((amps * (50 + amps * 0.05)) / 1000, 12);
  });

  it('are those of the heaters’ temperature while they run', () => {
    const heater = { keep_C: 10, loss_kW_per_K: 0.01 };
    const plant = plantWith({ ...cold, charge_A_at_temperature: points, heater });
    const { columns } = playYear(steady(0, 1, 1, -10), plant);
    expect(columns.heater_kWh[0]).toBeCloseTo(0.2, 12);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(1.5, 12);
  });
});

describe('the fit of a kinetic bank', () => {
  it('says why three capacities are none', () => {
    expect(fitKinetic(90, 100, 78)).toMatch(/more the slower/);
    expect(fitKinetic(100, 100, 78)).toMatch(/more the slower/);
    expect(fitKinetic(100, 95, 80)).toMatch(/too little is lost/);
    expect(fitKinetic(100, 70, 65)).toMatch(/too much is lost|ten times/);
  });

  it('finds any battery that there can be', () => {
    fc.assert(
      fc.property(fc.integer({ min: 15, max: 95 }), fc.integer({ min: 10, max: 150 }), (c100, k100) => {
        const model: KineticModel = { kind: 'kinetic', available_share: c100 / 100, rate_per_h: k100 / 100 };
        const of = (T_h: number): number => {
          const { keeps, gains, per_drawn, available_share } = kineticStep(model, T_h);
          return (available_share * keeps + gains) / per_drawn;
        };
        const fit = fitKinetic(of(20), of(10), of(5));
        if (typeof fit === 'string') throw new Error(fit);
        expect(fit.available_share).toBeCloseTo(model.available_share, 3);
        expect(fit.most).toBeCloseTo(1, 3);
      }),
      { numRuns: 200 },
    );
  });
});

describe('an aged plant', () => {
  it.each([
    ['resistive', rising],
    ['kinetic', lead],
  ] as const)('of a %s bank plays with less capacity, and balances', (_, model) => {
    const plant = plantWith({ ...ORDINARY, capacity_Ah: 100, model });
    const year = yearOf(randomYear(stream(11), 20 * DAY, 1));
    const old = { ...agedPlant(plant, 0.7, [0.95]), initial_soc: 0.6 };
    const aged = playYear(year, old);
    expect(audit(aged).largest_imbalance_kWh).toBeLessThan(1e-10);
    expect(total(aged.columns.unmet_kWh)).toBeGreaterThan(total(playYear(year, plant).columns.unmet_kWh));
  });
});
