/**
 * The same powers in steps of 60, 30, 15, 10 and 5 minutes: the same energies in every hour and the same findings where
 * nothing happens within an hour, and the closed form that each length comes near to where the model goes by steps.
 */
import {
  type Bank,
  findings,
  LEDGER_COLUMNS,
  type Ledger,
  type LoadYear,
  type Plant,
  type PreparedYear,
  playYear,
} from '@longnight/core';
import { sunlessHours } from '@longnight/core/bank';
import { buildClock } from '@longnight/core/clock';
import { buildGenerator } from '@longnight/core/machines';
import type { Load } from '@longnight/core/scenario';
import { describe, expect, it } from 'vitest';
import { nightYear } from '../../packages/core/src/hours/night.ts';
import { partsForStep } from '../../packages/core/src/hours/parts.ts';
import { prepareLoads } from '../../packages/core/src/loads/prepare.ts';
import { dischargeCurrent_A, openCircuit_V } from '../../packages/core/src/plant/bank-resistive.ts';
import { figuresOf } from '../support/figures.ts';
import { openTracker, type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const LENGTHS_min = [60, 30, 15, 10, 5] as const;
const DAYS = 4;
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);

/** An hourly column in shorter steps, held within each hour. */
const hold = (hourly: Float64Array, step_min: number): Float64Array =>
  Float64Array.from(
    { length: (hourly.length * 60) / step_min },
    (_, i) => hourly[Math.floor((i * step_min) / 60)]!,
  );
const hours = (value: (hour: number, day: number) => number, days = DAYS): Float64Array =>
  Float64Array.from({ length: days * 24 }, (_, i) => value(i % 24, Math.floor(i / 24)));

/** Sums of a column by the hour; of a state its last. */
function byHour(column: Float64Array, kind: 'sum' | 'state' | 'mean', step_min: number): number[] {
  const n = 60 / step_min;
  return Array.from({ length: column.length / n }, (_, h) => {
    const hour = column.slice(h * n, (h + 1) * n);
    return kind === 'state' ? hour[n - 1]! : total(hour);
  });
}

const WHOLE_DAY = {
  days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'],
  months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
  windows: ['00:00-24:00'],
} as const;
const loadOf = (kind: Load['kind'], more: object): Load =>
  ({
    kind,
    name: kind,
    tier: 1,
    scale: 1,
    daily_variation_share: 0,
    count: 1,
    duty_share: 1,
    ...WHOLE_DAY,
    ...more,
  }) as unknown as Load;
const appliance = (power_W: number, more: object = {}): Load => loadOf('appliance', { power_W, ...more });

const CLOCKS = new Map(
  LENGTHS_min.map((step_min) => [step_min as number, buildClock(2025, 'Etc/UTC', step_min)]),
);

/** Loads as a scenario gives them, on the first days of a year. */
function loadsFor(loads: readonly Load[], step_min: number, days = DAYS): LoadYear {
  const clock = CLOCKS.get(step_min)!;
  const whole = prepareLoads(loads, clock, new Map(), new Float64Array(clock.steps), true);
  const cut = (column: Float64Array): Float64Array => column.slice(0, (days * 24 * 60) / step_min);
  return {
    ...whole,
    tier_kW: whole.tier_kW.map(cut),
    total_kW: cut(whole.total_kW),
    dc_tier_kW: whole.dc_tier_kW?.map(cut) ?? null,
    leg_tier_kW: whole.leg_tier_kW?.map((tiers) => tiers.map(cut)) ?? null,
    running_kW: cut(whole.running_kW!),
    flexible: whole.flexible.map((load) => ({
      ...load,
      asked_kWh: cut(load.asked_kWh),
      most_kWh: cut(load.most_kWh),
      later_kWh: cut(load.later_kWh),
    })),
    surplus: whole.surplus.map((load) => ({ ...load, most_kWh: cut(load.most_kWh) })),
  };
}

interface Case {
  readonly loads: readonly Load[];
  readonly parts: Parts;
  /** kW per kWp of each array, hourly. */
  readonly sun: readonly Float64Array[];
  readonly shore?: Float64Array;
  readonly engine?: Float64Array;
  readonly quiet?: Float64Array;
  readonly bank_temperature_C?: Float64Array;
  /** Columns that must not stay empty, or the case would compare nothing. */
  readonly uses: readonly (keyof Ledger['columns'])[];
}

function yearFor(one: Case, step_min: number): PreparedYear {
  const loads = loadsFor(one.loads, step_min);
  const asOnes = (column: Float64Array | undefined) =>
    column === undefined ? null : Uint8Array.from(hold(column, step_min));
  return yearOf({
    dc_kW_per_kWp: one.sun.map((column) => hold(column, step_min)),
    load_kW: loads.total_kW,
    more: loads,
    step_min,
    ...(one.bank_temperature_C && { bank_temperature_C: hold(one.bank_temperature_C, step_min) }),
    timetables: {
      shore_there: asOnes(one.shore),
      generator_barred: asOnes(one.quiet),
      engine_share: one.engine === undefined ? null : hold(one.engine, step_min),
    },
  });
}

/** Lossless, with floor, full and thresholds reached at the end of an hour: a step does the same whatever its length. */
const EVEN: Parts = { capacity_Ah: 200, floor_soc: 0.2, rating_kW: 4, initial_soc: 0.6 };
/** Thresholds lie this far beside round numbers, where rounding can't reach them. */
const BESIDE = 1e-7;
const CHARGER = { max_charge_A: 40, max_output_kW: 1.75, efficiency: 0.8 };
const ENGINE = {
  rating_kW: 3,
  fuel: { full_load_L_per_h: 1.4, half_load_L_per_h: 0.8 },
  start_soc: 0.3 + BESIDE,
  stop_soc: 0.5 - BESIDE,
  min_load_share: 0.5,
  min_run_h: 3,
  connection: 'parallel',
} as const;

const CASES: Readonly<Record<string, Case>> = {
  // 10 kWh, 8 above the floor; 2 kW of load, 1 without tier 2: 6 kWh fall to 4 in two hours, then to 2 in two more. From
  // 8:00 sun of 4.25 kW on the DC side and 0.75 on the AC side; the car takes 1 kW of it in two hours, then the bank is
  // full at 11:00 and the boiler gets its 2 kWh. At 16:00 leg 1 is asked for 3.25 kW and gives 2.
  'both sides, legs, shedding, a load that waits and one that takes surplus': {
    loads: [
      appliance(250, { bus: 'dc' }),
      appliance(750),
      appliance(2500, { leg: 1, windows: ['16:00-17:00'] }),
      appliance(750, { leg: 2, windows: ['16:00-17:00'] }),
      appliance(750, { tier: 2 }),
      appliance(250, { tier: 2, bus: 'dc' }),
      loadOf('flexible', { window: '08:00-16:00', energy_kWh: 2, max_power_W: 1000, min_soc: 0 }),
      loadOf('surplus', { max_power_W: 1000, max_kWh_day: 2 }),
    ],
    parts: {
      ...EVEN,
      legs: 2,
      units: 2,
      rating_kW: 2,
      arrays: [
        { ...openTracker(5), max_input_kW: 4.25 },
        { ...openTracker(2, 0.5), ac: true, max_output_kW: 0.75 },
      ],
      shedding: [{ tier: 2, shed_soc: 0.4 + BESIDE, restore_soc: 0.5 - BESIDE }],
    },
    sun: [
      hours((h, day) => (h >= 8 && h < 16 && day !== 1 ? 1 : 0)),
      hours((h, day) => (h >= 8 && h < 16 && day !== 1 ? 1 : 0)),
    ],
    uses: [
      'dc_load_served_kWh',
      'unmet_leg_kWh',
      'unmet_shed_kWh',
      'flexible_wanted_kWh',
      'surplus_load_kWh',
      'array_ac_kWh',
      'curtailed_tracker_power_kWh',
      'curtailed_bank_full_kWh',
      'unmet_bank_floor_kWh',
    ],
  },
  // 1 kW of load; an hour to warm up, then 1.75 kW through the charger: the bank gains 1.5 kWh an hour, 2 to 5 in two.
  // Three runs of three hours are a day's 9 and burn the tank's 10.65 L: 0.8 while warming up and twice 0.2 + 0.4 x 2.9375.
  'a generator with a least run, a tank, quiet hours, a daily limit and an hour to warm up': {
    loads: [appliance(750), appliance(250, { bus: 'dc' })],
    parts: {
      ...EVEN,
      charger: CHARGER,
      generator: {
        ...ENGINE,
        warm_up_min: 60,
        tank: { capacity_L: 10.65 + BESIDE, refill_every_days: 2 },
        max_run_h_per_day: 9,
        service: { every_h: 12 },
      },
    },
    sun: [hours(() => 0)],
    quiet: hours((h) => (h >= 22 || h < 3 ? 1 : 0)),
    uses: [
      'generator_kWh',
      'generator_run_h',
      'fuel_L',
      'charger_in_kWh',
      'unmet_generator_barred_kWh',
      'unmet_fuel_kWh',
    ],
  },
  // By night 0.25 kW each for the DC side, the search and the heaters; by day 1 kW; 1 kW from the engine in two hours. The
  // socket leaves 1.5625 kW to the charger, 1.25 behind it and 1 for the bank.
  'a socket, an engine that charges, heaters and an inverter that sleeps': {
    loads: [appliance(750, { windows: ['06:00-22:00'] }), appliance(250, { bus: 'dc' })],
    parts: {
      ...EVEN,
      initial_soc: 1,
      charger: CHARGER,
      shore: { max_kW: 2.3125, parallel: true },
      alternator_kW: 1,
      heater: { keep_C: 5, loss_kW_per_K: 0.05 },
      sleep: { below_W: 100, search_W: 250 },
    },
    sun: [hours(() => 0)],
    shore: hours((h, day) => (day % 2 === 0 && h >= 18 && h < 20 ? 1 : 0)),
    engine: hours((h) => (h === 7 || h === 8 ? 1 : 0)),
    bank_temperature_C: hours((h) => (h < 8 ? 0 : 10)),
    uses: ['shore_kWh', 'alternator_kWh', 'heater_kWh', 'charger_loss_kWh', 'unmet_bank_floor_kWh'],
  },
};

/** When something was lowest or first is told by its step, and sunless hours start with every step. */
const ASIDE =
  /^(verdict|run|audit|strings)\b|sunless_hours|hours_at_floor|_time$|\.time$|^longnight|limits|notices|assumptions|by_day/;

describe('the same powers in shorter steps', () => {
  for (const [name, one] of Object.entries(CASES)) {
    const plant = plantWith(one.parts);
    const hourly = playYear(yearFor(one, 60), plant);
    const figures = figuresOf(findings(hourly, 2), ASIDE);

    it(`${name}: the case uses what it is for`, () => {
      for (const column of one.uses) expect(total(hourly.columns[column]), column).toBeGreaterThan(0.01);
      expect(figures.length).toBeGreaterThan(100);
    });

    it.each(LENGTHS_min.slice(1))(
      `${name}: the same energies in each hour, in steps of %i min`,
      (step_min) => {
        const { columns } = playYear(yearFor(one, step_min), plant);
        for (const { name: column, kind } of LEDGER_COLUMNS) {
          const off = byHour(columns[column], kind, step_min).findIndex(
            (x, h) => !(Math.abs(x - hourly.columns[column][h]!) < 1e-9),
          );
          expect(off < 0 ? '' : `${column} in hour ${off}`).toBe('');
        }
      },
    );

    it.each(LENGTHS_min.slice(1))(`${name}: the same findings, in steps of %i min`, (step_min) => {
      const year = yearFor(one, step_min);
      const found = figuresOf(findings(playYear(year, plant), 2), ASIDE);
      expect(found.map(([path]) => path)).toEqual(figures.map(([path]) => path));
      const off = found.filter(([, x], k) => {
        const was = figures[k]![1];
        return typeof x === 'number' && typeof was === 'number' ? Math.abs(x - was) > 1e-9 : x !== was;
      });
      expect(off).toEqual([]);
    });
  }
});

const LEAD = { kind: 'kinetic', capacity_20h_Ah: 200, capacity_10h_Ah: 180, capacity_5h_Ah: 156 } as const;
const RISING: Extract<NonNullable<Parts['model']>, { kind: 'resistive' }> = {
  kind: 'resistive',
  open_circuit: [
    { soc: 0, voltage_V: 40 },
    { soc: 1, voltage_V: 56 },
  ],
  cells_series: 1,
  resistance_mOhm: 60,
  coulombic_efficiency_share: 1,
  end_of_life_resistance_factor: 2,
};

describe('sunless hours', () => {
  const TAKES: Parts = { ...EVEN, idle_W: 250 };
  const constant = (kW: number, step_min: number): PreparedYear => {
    const steps = (10 * 24 * 60) / step_min;
    const dc = new Float64Array(steps).fill(kW / 4);
    return yearOf({
      dc_kW_per_kWp: [new Float64Array(steps)],
      load_kW: new Float64Array(steps).fill(kW),
      more: { dc_tier_kW: [dc] },
      step_min,
    });
  };

  it.each(LENGTHS_min)(
    'of a constant load are energy over power from every start, in steps of %i min',
    (step_min) => {
      // 8 kWh above the floor over 0.43 kW through an inverter that takes 0.25 kW besides.
      const { hours: lasts, capped } = sunlessHours(constant(0.43, step_min), plantWith(TAKES));
      expect(capped).toBe(false);
      expect(Math.min(...lasts)).toBeCloseTo(8 / 0.68, 9);
      expect(Math.max(...lasts)).toBeCloseTo(8 / 0.68, 9);
      // So long that the year is not enough, in either reckoning.
      for (const model of [undefined, LEAD])
        expect(sunlessHours(constant(0, step_min), plantWith({ ...EVEN, model })).hours[3]).toBeCloseTo(
          240,
          9,
        );
    },
  );

  it.each(LENGTHS_min)(
    'of a load that waits are those of its power at the end of its window, at %i min',
    (step_min) => {
      // 1 kW until 24:00 for 4 kWh: from 20:00 on. 2 kWh above the floor last from noon to 22:00.
      const loads = [
        loadOf('flexible', { window: '12:00-24:00', energy_kWh: 4, max_power_W: 1000, min_soc: 0 }),
      ];
      const more = loadsFor(loads, step_min);
      const steps = more.total_kW.length;
      const year = yearOf({
        dc_kW_per_kWp: [new Float64Array(steps)],
        load_kW: more.total_kW,
        more,
        step_min,
      });
      const lasts = sunlessHours(year, plantWith({ capacity_Ah: 40 })).hours;
      expect(lasts[(12 * 60) / step_min]).toBeCloseTo(10, 9);
    },
  );

  it('of other banks: without resistance the same, of two wells no more than minutes from it', () => {
    for (const step_min of [60, 15, 5]) {
      const year = constant(0.43, step_min);
      const level = plantWith({ ...TAKES, model: { ...RISING, resistance_mOhm: 0 } });
      expect(sunlessHours(year, level).hours[0]).toBeCloseTo((0.8 * level.bank.capacity_kWh) / 0.68, 9);
    }
    const lead = [60, 15, 5].map(
      (step_min) => sunlessHours(constant(0.43, step_min), plantWith({ ...TAKES, model: LEAD })).hours[0]!,
    );
    expect(lead[0]).toBeGreaterThan(5);
    expect(Math.max(...lead) - Math.min(...lead)).toBeLessThan(0.2);
  });
});

describe('amps that bind', () => {
  const one: Parts = {
    max_charge_A: 20,
    max_discharge_A: 20,
    capacity_Ah: 1000,
    initial_soc: 0.5,
    size_kWp: 1,
  };

  it.each(LENGTHS_min)('let in and out 1 kW of 5, whatever the bank, in steps of %i min', (step_min) => {
    const h = step_min / 60;
    const constant = (kW: number): Float64Array => new Float64Array((24 * 60) / step_min).fill(kW);
    for (const model of [
      undefined,
      { ...LEAD, capacity_20h_Ah: 1000, capacity_10h_Ah: 900, capacity_5h_Ah: 780 },
    ]) {
      const plant = plantWith({ ...one, model });
      const sunny = playYear(
        yearOf({ dc_kW_per_kWp: [constant(5)], load_kW: constant(0), step_min }),
        plant,
      ).columns;
      expect(sunny.bank_charge_kWh[1]).toBeCloseTo(h, 12);
      expect(sunny.curtailed_charge_current_kWh[1]).toBeCloseTo(4 * h, 12);
      const dark = playYear(
        yearOf({ dc_kW_per_kWp: [constant(0)], load_kW: constant(5), step_min }),
        plant,
      ).columns;
      expect(dark.bank_discharge_kWh[1]).toBeCloseTo(h, 12);
      expect(dark.unmet_bank_current_kWh[1]).toBeCloseTo(4 * h, 12);
      // On the AC side the charger lets through 0.5 kW.
      const ac = plantWith({
        ...one,
        model,
        arrays: [{ ...openTracker(1), ac: true }],
        charger: { ...CHARGER, max_output_kW: 0.5 },
      });
      const through = playYear(
        yearOf({ dc_kW_per_kWp: [constant(5)], load_kW: constant(0), step_min }),
        ac,
      ).columns;
      expect(through.bank_charge_kWh[1]).toBeCloseTo(0.5 * h, 12);
      expect(through.curtailed_charger_kWh[1]).toBeCloseTo((5 - 0.5 / 0.8) * h, 12);
    }
  });
});

describe('self-discharge', () => {
  const share = 0.3;
  const plant = plantWith({ self_discharge_share_per_month: share, capacity_Ah: 200, floor_soc: 0.2 });
  const { bank } = plant;
  const alone = (step_min: number): Ledger => {
    const steps = (30 * 24 * 60) / step_min;
    return playYear(
      yearOf({ dc_kW_per_kWp: [new Float64Array(steps)], load_kW: new Float64Array(steps), step_min }),
      plant,
    );
  };

  it.each(LENGTHS_min)(
    'compounds over a month to the share that is stated, in steps of %i min',
    (step_min) => {
      const { columns, steps, step_h } = alone(step_min);
      // Hour by hour it is exact; shorter steps compound more often, by s²/2 of an hour at most, here 5e-7 of the share.
      const left =
        (columns.bank_stock_kWh[steps - 1]! - bank.floor_kWh) / (bank.capacity_kWh - bank.floor_kWh);
      expect(left).toBeCloseTo((1 - bank.self_discharge_per_h * step_h) ** steps, 12);
      const lost_share = (1 - left) * 0.8;
      expect(Math.abs(lost_share - share)).toBeLessThan(step_min === 60 ? 1e-12 : 1e-3 * share);
      expect(lost_share).toBeLessThanOrEqual(share + 1e-12);
    },
  );
});

/** Stocks at the end of each hour of a bank that is charged or discharged at a constant power. */
function stocks(parts: Parts, sun_kW: number, load_kW: number, step_min: number, n_h: number): number[] {
  const steps = (24 * 60) / step_min;
  const year = yearOf({
    dc_kW_per_kWp: [new Float64Array(steps).fill(sun_kW)],
    load_kW: new Float64Array(steps).fill(load_kW),
    step_min,
  });
  const { columns } = playYear(year, plantWith({ size_kWp: 1, ...parts }));
  return byHour(columns.bank_stock_kWh, 'state', step_min).slice(0, n_h);
}

describe('banks at a constant power', () => {
  it('that tapers: the stock of each hour, whatever the steps', () => {
    const parts: Parts = {
      initial_soc: 0.2,
      taper_start_soc: 0.7,
      taper_end_share: 0.05,
      round_trip: 0.81,
      max_charge_A: 30,
    };
    const hourly = stocks(parts, 5, 0, 60, 12);
    // x' = -a (e + b x) from 30 % empty on, a = 0.9 × 1.5 / 5, e = 0.05, b = 0.95 / 0.3 (see `chargeRoom_kWh`).
    const [a, e, b] = [(0.9 * 1.5) / 5, 0.05, 0.95 / 0.3];
    const since = 12 - 2.5 / 1.35;
    expect(1 - hourly[11]! / 5).toBeCloseTo(Math.max(0, (0.3 + e / b) * Math.exp(-a * b * since) - e / b), 9);
    for (const step_min of LENGTHS_min)
      stocks(parts, 5, 0, step_min, 12).forEach((stock, h) => {
        expect(stock).toBeCloseTo(hourly[h]!, 9);
      });
  });

  const kinetic: Parts = {
    model: { kind: 'kinetic', capacity_20h_Ah: 100, capacity_10h_Ah: 90, capacity_5h_Ah: 78 },
    max_charge_A: 400,
  };

  it.each([
    ['discharged', { ...kinetic, initial_soc: 1 }, 0, 0.6],
    ['charged', { ...kinetic, initial_soc: 0.2 }, 0.6, 0],
  ] as const)(
    'of two wells, %s: the step is a closed form, so its length does not matter',
    (_, parts, sun, load) => {
      const hourly = stocks(parts, sun, load, 60, 24);
      for (const step_min of LENGTHS_min) {
        const found = stocks(parts, sun, load, step_min, 24);
        // Up to the hour in which it is at the end of what it gives or takes.
        const until = hourly.findIndex(
          (stock, h) =>
            Math.abs(Math.abs(stock - (h > 0 ? hourly[h - 1]! : hourly[0]! - (sun - load))) - 0.6) > 1e-9,
        );
        expect(until < 0 ? 24 : until).toBeGreaterThan(3);
        found.slice(0, until < 0 ? 24 : until).forEach((stock, h) => {
          expect(stock).toBeCloseTo(hourly[h]!, 9);
        });
      }
    },
  );

  it('behind a resistance: shorter steps come nearer to the stock of a voltage that falls with every moment', () => {
    const parts: Parts = { model: RISING, initial_soc: 1 };
    const { bank } = plantWith(parts) as Plant & { bank: Bank };
    if (bank.model.kind !== 'resistive') throw new Error('not resistive');
    // dE/dt = -I V, P = I (V - I R), by the midpoint rule in steps of a second.
    const { open_circuit, module_resistance_ohm: R } = bank.model;
    const slope = (E: number): number => {
      const V = openCircuit_V(open_circuit, E / bank.capacity_kWh);
      return (-dischargeCurrent_A(V, R, 800) * V) / 1000;
    };
    let E = bank.capacity_kWh;
    for (let s = 0; s < 4 * 3600; s++) E += slope(E + slope(E) / 7200) / 3600;
    const off = LENGTHS_min.map((step_min) => Math.abs(stocks(parts, 0, 0.8, step_min, 4)[3]! - E));
    expect(off[0]).toBeLessThan(0.02);
    // The error is of first order: in proportion to the length of the step.
    LENGTHS_min.forEach((step_min, k) => {
      expect(off[k]! / off[0]!).toBeCloseTo(step_min / 60, 1);
    });
  });
});

describe('a generator that looks ahead to the night', () => {
  const given = randomYear(stream(5), 6 * 24, 2);
  const dc_kW = given.load_kW.map((kW, i) => (0.2 + 0.1 * (i % 3)) * kW);
  const nightFor = (step_min: number, decide_at: string | undefined) => {
    const dc = hold(dc_kW, step_min);
    const year = yearOf({
      dc_kW_per_kWp: given.dc_kW_per_kWp.map((column) => hold(column, step_min)),
      load_kW: hold(given.load_kW, step_min),
      more: { dc_tier_kW: [dc] },
      step_min,
    });
    const starts = {
      kind: 'before_night',
      look_back_days: 3,
      margin_share: 0.1,
      ...(decide_at && { decide_at }),
    } as const;
    const plant = plantWith({
      capacity_Ah: 800,
      round_trip: 0.9,
      idle_W: 30,
      loss_linear: 0.04,
      rating_kW: 2,
      charger: CHARGER,
      generator: { ...ENGINE, starts },
    });
    const { step_h } = year.clock;
    const offered = (a: number) => year.arrays[a]!.dc_kW_per_kWp.map((kW) => kW * step_h);
    const [tracked_kWh, ac_sun_kWh] = [offered(0), offered(1)];
    const parts = partsForStep(plant, step_h, [1]);
    return nightYear(year, plant.generator, parts, { tracked_kWh, ac_sun_kWh }, dc)!;
  };

  it.each([undefined, '16:00'])(
    'decided at %s expects the same of each night, in steps of any length',
    (decide_at) => {
      const hourly = nightFor(60, decide_at);
      expect(hourly.start_kWh.filter((kWh) => kWh > ENGINE.start_soc * 40 + 0.5).length).toBeGreaterThan(3);
      for (const step_min of LENGTHS_min.slice(1)) {
        const n = 60 / step_min;
        const found = nightFor(step_min, decide_at);
        hourly.start_kWh.forEach((kWh, h) => {
          expect(found.start_kWh[h * n], `start in hour ${h}, ${step_min} min`).toBeCloseTo(kWh, 9);
          expect(found.stop_kWh[h * n], `stop in hour ${h}, ${step_min} min`).toBeCloseTo(
            hourly.stop_kWh[h]!,
            9,
          );
        });
      }
    },
  );

  it('is built with its powers as they are', () => {
    expect(
      buildGenerator({
        ...ENGINE,
        quiet_windows: [],
        max_run_h_per_day: 24,
        starts: { kind: 'at_soc' },
        warm_up_min: 0,
      }).min_load_kW,
    ).toBe(1.5);
  });
});

describe('loads in shorter steps', () => {
  it('a window of 20 minutes is a third of its hour, and all of four steps of 5', () => {
    const loads = [appliance(900, { windows: ['12:20-12:40', '23:50-00:10'] })];
    for (const step_min of LENGTHS_min) {
      const { total_kW } = loadsFor(loads, step_min);
      const at = (minute: number): number => total_kW[Math.floor(minute / step_min)]!;
      const perDay = total(total_kW.slice((24 * 60) / step_min, (48 * 60) / step_min)) * (step_min / 60);
      expect(perDay).toBeCloseTo(0.9 * (40 / 60), 12);
      expect(at(12 * 60 + 20)).toBeCloseTo({ 60: 0.3, 30: 0.3, 15: 0.6, 10: 0.9, 5: 0.9 }[step_min], 12);
      expect(at(24 * 60)).toBeCloseTo({ 60: 0.15, 30: 0.3, 15: 0.6, 10: 0.9, 5: 0.9 }[step_min], 12);
    }
  });

  it('a load of so many kWh a day has them, each hour in its share', () => {
    const loads = [
      loadOf('daily', {
        energy_kWh_day: 6,
        month_factors: Array(12).fill(1),
        shape: Array.from({ length: 24 }, (_, h) => (h === 7 ? 1 : h === 19 ? 3 : 0)),
      }),
    ];
    for (const step_min of LENGTHS_min) {
      const { total_kW } = loadsFor(loads, step_min);
      const byHours = byHour(total_kW, 'sum', step_min).map((sum) => sum * (step_min / 60));
      expect(byHours[7]).toBeCloseTo(1.5, 12);
      expect(byHours[19]).toBeCloseTo(4.5, 12);
      expect(total_kW[(19 * 60) / step_min]).toBeCloseTo(4.5, 12);
    }
  });

  it('what waits asks for its energy at the start of its window, and takes surplus at its power', () => {
    const loads = [
      loadOf('flexible', { window: '22:00-06:00', energy_kWh: 5, max_power_W: 2000, min_soc: 0 }),
      loadOf('surplus', { max_power_W: 1200, max_kWh_day: 3, windows: ['10:00-11:00'] }),
    ];
    for (const step_min of LENGTHS_min) {
      const { flexible, surplus } = loadsFor(loads, step_min);
      const step_h = step_min / 60;
      const { asked_kWh, most_kWh, later_kWh } = flexible[0]!;
      const at = (hour: number): number => (hour * 60) / step_min;
      expect([...asked_kWh].flatMap((kWh, i) => (kWh > 0 ? [[i * step_h, kWh]] : [])).slice(0, 2)).toEqual([
        [22, 5],
        [46, 5],
      ]);
      expect(most_kWh[at(23)]).toBeCloseTo(2 * step_h, 12);
      expect(later_kWh[at(22)]).toBeCloseTo(2 * (8 - step_h), 12);
      expect(later_kWh[at(30) - 1]).toBe(0);
      expect(surplus[0]!.most_kWh[at(10)]).toBeCloseTo(1.2 * step_h, 12);
      expect(surplus[0]!.max_kWh_day).toBe(3);
    }
  });
});
