/**
 * The generator's fuel, warm-up, services and what starts it, against arithmetic on paper. No outside source: closed
 * forms.
 */
import { audit, type Columns, findings, LEDGER_COLUMNS, type Plant, playYear } from '@longnight/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildFuelCurve, fuelAt_L_per_h, outputFor_kW } from '../../packages/core/src/plant/fuel.ts';
import { type BareGenerator, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (steps: number, value: number): Float64Array => new Float64Array(steps).fill(value);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);
const byHour = (days: number, at: (hour: number, day: number) => number): Float64Array =>
  Float64Array.from({ length: days * DAY }, (_, i) => at(i % DAY, Math.floor(i / DAY)));
const charger = { max_charge_A: 40, max_output_kW: 2, efficiency: 0.8 };
const engine: BareGenerator = {
  rating_kW: 4,
  fuel: { full_load_L_per_h: 2, half_load_L_per_h: 1.2 },
  start_soc: 0.3,
  stop_soc: 0.6,
  min_load_share: 0.25,
  min_run_h: 1,
  connection: 'transfer',
};
const dark = (load_kW: Float64Array, step_min = 60) =>
  yearOf({ dc_kW_per_kWp: [constant(load_kW.length, 0)], load_kW, step_min });

describe('fuel on a straight line', () => {
  // Invented coefficients of a straight line: L/kWh of output, and L/h for each kW of rating while it runs.
  const straight_L_per_h = (rating_kW: number, kW: number): number => 0.07 * rating_kW + 0.27 * kW;
  const cases = [
    { kW: 10, rating_kW: 20, L_per_h: 4.1 },
    { kW: 20, rating_kW: 40, L_per_h: 8.2 },
    { kW: 12, rating_kW: 20, L_per_h: 4.64 },
  ];

  it.each(cases)(
    '$kW kW of $rating_kW kW burn $L_per_h L/h, from any two points of the line',
    ({ kW, rating_kW, L_per_h }) => {
      const point = (load_share: number) => ({
        load_share,
        L_per_h: straight_L_per_h(rating_kW, load_share * rating_kW),
      });
      const spec = (fuel: Parameters<typeof buildFuelCurve>[0]['fuel']) =>
        buildFuelCurve({ fuel, rating_kW } as Parameters<typeof buildFuelCurve>[0]);
      const pair = spec({
        full_load_L_per_h: point(1).L_per_h,
        half_load_L_per_h: point(0.5).L_per_h,
      });
      for (const curve of [
        pair,
        spec({ points: [point(0.25), point(0.75)] }),
        spec({ points: [point(0.25), point(0.5), point(0.75), point(1)] }),
      ]) {
        expect(fuelAt_L_per_h(curve, kW)).toBeCloseTo(L_per_h, 9);
        expect(outputFor_kW(curve, L_per_h)).toBeCloseTo(kW, 9);
        expect(fuelAt_L_per_h(curve, 0)).toBeCloseTo(0.07 * rating_kW, 9);
      }
    },
  );

  it('burns 0.34, 0.41 and 0.55 L/kWh at full, half and quarter load, as played', () => {
    for (const [share, L_per_kWh] of [
      [1, 0.34],
      [0.5, 0.41],
      [0.25, 0.55],
    ] as const) {
      const steps = 48;
      const plant = plantWith({
        initial_soc: 0,
        generator: {
          rating_kW: 8,
          fuel: { full_load_L_per_h: straight_L_per_h(8, 8), half_load_L_per_h: straight_L_per_h(8, 4) },
          start_soc: 0,
          stop_soc: 0.5,
          min_load_share: 0,
          min_run_h: 1,
          connection: 'transfer',
        },
      });
      const year = yearOf({
        dc_kW_per_kWp: [new Float64Array(steps)],
        load_kW: new Float64Array(steps).fill(8 * share),
      });
      const { fuel_L, generator_kWh } = playYear(year, plant).columns;
      expect(total(generator_kWh)).toBeCloseTo(8 * share * steps, 9);
      expect(total(fuel_L) / total(generator_kWh)).toBeCloseTo(L_per_kWh, 9);
    }
  });
});

describe('fuel from points of the data sheet', () => {
  /** Litres of an hour that carries a load alone, bank empty, no charger. */
  const burnt = (fuel: BareGenerator['fuel'], load_kW: number): number => {
    const plant = plantWith({
      generator: { ...engine, fuel, min_load_share: 0, start_soc: 0 },
      initial_soc: 0,
    });
    return playYear(dark(constant(DAY, load_kW)), plant).columns.fuel_L[3]!;
  };

  it('two points make the line of full and half load, and any two points of one line make the same', () => {
    const line = (kW: number): number => 0.4 + 0.4 * kW;
    const pairs = [
      [0.5, 1],
      [0.25, 0.75],
      [0, 0.5],
    ];
    for (const load of [0.1, 1, 2, 3.9, 4]) {
      expect(burnt(engine.fuel, load)).toBeCloseTo(line(load), 12);
      for (const pair of pairs) {
        const points = pair.map((load_share) => ({ load_share, L_per_h: line(4 * load_share) }));
        expect(burnt({ points }, load)).toBeCloseTo(line(load), 12);
      }
    }
  });

  it('more points are joined; the first line goes on down to idle, the last up to the rating', () => {
    // At 1, 2 and 3 kW of 4: 0.7, 0.9 and 1.4 L/h. Idle 0.5, full load 1.9.
    const points = [
      { load_share: 0.25, L_per_h: 0.7 },
      { load_share: 0.5, L_per_h: 0.9 },
      { load_share: 0.75, L_per_h: 1.4 },
    ];
    const told: [number, number][] = [
      [0.5, 0.6],
      [1, 0.7],
      [1.5, 0.8],
      [2, 0.9],
      [2.5, 1.15],
      [3, 1.4],
      [4, 1.9],
    ];
    for (const [load, litres] of told) expect(burnt({ points }, load)).toBeCloseTo(litres, 12);
  });

  it('a tank is burnt to the last usable drop along a bent curve', () => {
    // 4 kW wanted: 2 L an hour. 3.4 L: an hour at 4 kW leaves 1.4 L, which make 3 kW.
    const points = [
      { load_share: 0.25, L_per_h: 0.7 },
      { load_share: 0.75, L_per_h: 1.4 },
      { load_share: 1, L_per_h: 2 },
    ];
    const plant = plantWith({
      generator: {
        ...engine,
        fuel: { points },
        start_soc: 0,
        tank: { capacity_L: 3.4, refill_every_days: 9 },
      },
      initial_soc: 0,
    });
    const { columns } = playYear(dark(constant(DAY, 4)), plant);
    expect(columns.generator_kWh[0]).toBeCloseTo(4, 12);
    expect(columns.generator_kWh[1]).toBeCloseTo(3, 12);
    expect(columns.generator_kWh[2]).toBe(0);
    expect(total(columns.fuel_L)).toBeCloseTo(3.4, 12);
  });
});

describe('warming up', () => {
  it('takes its share of the first step from what the generator gives; the inverter carries the loads till then', () => {
    // Load 2 kW, 15 of 60 min: 0.5 kWh from the bank, 1.5 from the generator; charger 0.75 × 2 kW from 2.5 kW of AC.
    // Fuel: a quarter of the 0.8 L/h at the least load (1 kW), three quarters of the 2 L/h at 4 kW (2 + 2 of 2.5 kW).
    const plant = plantWith({ generator: { ...engine, warm_up_min: 15 }, charger, initial_soc: 0.3 });
    const ledger = playYear(dark(constant(DAY, 2)), plant);
    const { columns } = ledger;
    expect(columns.inverter_out_kWh[0]).toBeCloseTo(0.5, 12);
    expect(columns.generator_kWh[0]).toBeCloseTo(0.75 * 4, 12);
    expect(columns.generator_spilled_kWh[0]).toBe(0);
    expect(columns.fuel_L[0]).toBeCloseTo(0.25 * 0.8 + 0.75 * 2, 12);
    expect(columns.unmet_kWh[0]).toBe(0);
    expect(columns.generator_run_h[0]).toBe(1);
    expect(columns.generator_kWh[1]).toBeCloseTo(4, 12);
    expect(columns.fuel_L[1]).toBeCloseTo(2, 12);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('leaves what an empty bank cannot carry meanwhile unmet, and says that the generator was not ready', () => {
    for (const connection of ['transfer', 'parallel'] as const) {
      const plant = plantWith({ generator: { ...engine, connection, warm_up_min: 15 }, initial_soc: 0 });
      const year = dark(constant(DAY, 2));
      const ledger = playYear(year, plant);
      expect(ledger.columns.unmet_kWh[0]).toBeCloseTo(0.5, 12);
      expect(ledger.columns.unmet_generator_barred_kWh[0]).toBeCloseTo(0.5, 12);
      expect(total(ledger.columns.unmet_kWh)).toBeCloseTo(0.5, 12);
      expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
    }
  });

  it('tells what the generator is too small for from what it was not ready for', () => {
    // 6 kW wanted of an engine of 4: for 45 min 2 kW are too much for it; for 15 min the inverter, rated at 5, is.
    const plant = plantWith({
      generator: { ...engine, warm_up_min: 15, start_soc: 0.3 },
      rating_kW: 3,
      initial_soc: 0.3,
      capacity_Ah: 400,
    });
    const { columns } = playYear(dark(constant(DAY, 6)), plant);
    expect(columns.load_served_kWh[0]).toBeCloseTo(0.75 * 4 + 0.25 * 3, 12);
    expect(columns.unmet_generator_rating_kWh[0]).toBeCloseTo(0.75 * 2, 12);
    // Had it been warm, it would have carried 4 kW in that quarter of an hour, 1 kW more than the inverter.
    expect(columns.unmet_generator_barred_kWh[0]).toBeCloseTo(0.25, 12);
    expect(columns.unmet_inverter_rating_kWh[0]).toBeCloseTo(0.5, 12);
  });

  it('runs on over several short steps', () => {
    // 12 min in steps of 5: two whole steps and two fifths of the third.
    const plant = plantWith({ generator: { ...engine, warm_up_min: 12 }, initial_soc: 0 });
    const { columns } = playYear(dark(constant(DAY * 12, 2), 5), plant);
    const made = [...columns.generator_kWh.slice(0, 4)].map((kWh) => kWh * 12);
    for (const [k, kW] of [0, 0, 1.2, 2].entries()) expect(made[k]).toBeCloseTo(kW, 12);
    const burnt = [...columns.fuel_L.slice(0, 4)].map((L) => L * 12);
    for (const [k, L] of [0.8, 0.8, 0.4 * 0.8 + 0.6 * 1.2, 1.2].entries())
      expect(burnt[k]).toBeCloseTo(L, 12);
  });
});

describe('services', () => {
  const report = (every_h: number | null) => {
    // Never stops: nothing charges the bank. 10 days are 240 h.
    const service = every_h === null ? {} : { service: { every_h } };
    const year = dark(constant(10 * DAY, 1));
    const plant = plantWith({ generator: { ...engine, ...service }, initial_soc: 0 });
    return findings(playYear(year, plant), 1).generator!;
  };

  it('fall due by run-hours, with or without a price', () => {
    // The 50th hour is the second of the third day.
    expect(report(50)).toMatchObject({ run_hours: 240, services_due: 4, first_service: '2025-01-03' });
    expect(report(240)).toMatchObject({ services_due: 1, first_service: '2025-01-10' });
    expect(report(241)).toMatchObject({ services_due: 0, first_service: null });
    expect(report(null)).toMatchObject({ services_due: null, first_service: null });
  });
});

describe('what starts it', () => {
  const running = (columns: Columns): number[] =>
    [...columns.generator_run_h].flatMap((h, i) => (h > 0 ? [i] : []));

  it('on_shortfall waits until a step would go unmet, whatever the state of charge', () => {
    // 5 kWh full, 1 kW of load: empty after five hours. at_soc would start at 1.5 kWh, after the fourth.
    const shortfall = { ...engine, starts: { kind: 'on_shortfall' }, start_soc: undefined } as const;
    const year = dark(constant(DAY, 1));
    const at = playYear(year, plantWith({ generator: engine, charger })).columns;
    const on = playYear(year, plantWith({ generator: shortfall, charger })).columns;
    expect(running(at)[0]).toBe(4);
    expect(running(on)[0]).toBe(5);
    expect(total(on.unmet_kWh)).toBe(0);
    // From empty, two hours at 2 kWh are more than the 3 kWh it stops at; the 4 kWh then last for four hours.
    expect(running(on).slice(0, 3)).toEqual([5, 6, 11]);
  });

  it('on_shortfall starts for more load than the inverter gives', () => {
    const year = dark(byHour(1, (h) => (h === 12 ? 3 : 0.1)));
    const generator = { ...engine, starts: { kind: 'on_shortfall' } } as const;
    const { columns } = playYear(year, plantWith({ generator, rating_kW: 2, capacity_Ah: 400 }));
    expect(running(columns)).toEqual([12]);
    expect(total(columns.unmet_kWh)).toBe(0);
  });

  describe('before_night', () => {
    // Sun of 4 kW from 8 to 16, load 0.25 kW by day and 0.5 kW from 16 to 8: a night takes 8 kWh of the 20 kWh bank.
    const sun = (days: number, share: (day: number) => number): Float64Array =>
      byHour(days, (h, day) => (h >= 8 && h < 16 ? share(day) : 0));
    const load = (days: number): Float64Array => byHour(days, (h) => (h >= 8 && h < 16 ? 0.25 : 0.5));
    const night = {
      ...engine,
      stop_soc: 0.9,
      starts: { kind: 'before_night', look_back_days: 3, margin_share: 0.2 },
    } as const;
    const plant = (generator: BareGenerator): Plant =>
      plantWith({ size_kWp: 4, capacity_Ah: 400, charger, generator, initial_soc: 1 });
    const play = (share: (day: number) => number, generator: BareGenerator, days = 8) => {
      const year = yearOf({ dc_kW_per_kWp: [sun(days, share)], load_kW: load(days) });
      return playYear(year, plant(generator)).columns;
    };

    it('does not run while the bank holds what the night takes and start_soc besides', () => {
      expect(running(play(() => 1, night))).toEqual([]);
    });

    it('runs in the evening after a dull day until the night is covered, and leaves start_soc in the morning', () => {
      // Day 4 is without sun. Full at dusk of day 3 (20 kWh), it holds 12 at 8, 10 at 16 of day 4. The night takes 8 and
      // 30 % are 6 kWh, so 14 are wanted and 15.6 with the margin; at_soc starts at 6 kWh, eight hours later.
      const columns = play((day) => (day === 4 ? 0 : 1), night);
      const dusk = 4 * DAY + 16;
      // The charger puts in 2 kWh an hour while the need falls by half a kWh: 12 against 15, 14 against 14.4, 16.
      expect(running(columns)).toEqual([dusk, dusk + 1, dusk + 2]);
      const morning = columns.bank_stock_kWh[5 * DAY + 7]!;
      expect(morning).toBeCloseTo(16 - 13 * 0.5, 9);
      expect(total(columns.unmet_kWh)).toBe(0);
      expect(running(play((day) => (day === 4 ? 0 : 1), engine))[0]).toBe(dusk + 8);
    });

    it('keeps the margin between stop and start where the bank cannot hold the whole night', () => {
      // Stops at 12 kWh of the 14 to 15.6 wanted and starts again 1.6 kWh and less below, not an hour later.
      const ran = running(play((day) => (day === 4 ? 0 : 1), { ...night, stop_soc: 0.6 }));
      // 10 kWh at 16:00, 12 at 17:00, then half a kWh less each hour, with the start at 12 - 1.5, 1.4, 1.3, 1.2.
      expect(ran.slice(0, 2)).toEqual([4 * DAY + 16, 4 * DAY + 20]);
    });

    it('at a stated hour decides there and only there, and counts on the sun expected until dusk', () => {
      // At 14:00 of the dull day it holds 10.5 kWh. Two hours of 3.75 kW are expected still: 7.5 of the 8 kWh.
      const early = { ...night, starts: { ...night.starts, decide_at: '14:00' } };
      expect(running(play((day) => (day === 4 ? 0 : 1), early))).toEqual([]);
      const late = { ...night, starts: { ...night.starts, decide_at: '18:00' } };
      const ran = running(play((day) => (day === 4 ? 0 : 1), late));
      expect(ran[0]).toBe(4 * DAY + 18);
      expect(ran.every((i) => i >= 4 * DAY + 18 && i < 5 * DAY + 8)).toBe(true);
    });

    it('knows nothing on the first day, and waits for a shortfall', () => {
      const year = yearOf({ dc_kW_per_kWp: [sun(2, () => 0)], load_kW: load(2) });
      const { columns } = playYear(year, { ...plant(night), initial_soc: 0.2 });
      const first = running(columns)[0]!;
      expect(columns.bank_stock_kWh[first - 1]).toBeLessThan(0.5);
    });

    it('keeps quiet hours, the daily limit, the tank and failing starts', () => {
      const dull = (day: number): number => (day >= 4 ? 0 : 1);
      const free = running(play(dull, night));
      const limited = play(dull, { ...night, max_run_h_per_day: 2 });
      expect(free.filter((i) => i < 5 * DAY)).toHaveLength(3);
      expect(running(limited).filter((i) => i < 5 * DAY)).toHaveLength(2);
      const dry = play(dull, { ...night, tank: { capacity_L: 2.5, refill_every_days: 30 } });
      expect(total(dry.fuel_L)).toBeLessThanOrEqual(2.5);
      expect(total(dry.unmet_fuel_kWh)).toBeGreaterThan(0);
      const year = yearOf({
        dc_kW_per_kWp: [sun(8, dull)],
        load_kW: load(8),
        timetables: { generator_barred: Uint8Array.from(byHour(8, (h) => (h >= 17 ? 1 : 0))) },
      });
      const { columns } = playYear(year, plant(night));
      expect(running(columns).length).toBeGreaterThan(0);
      expect(running(columns).every((i) => i % DAY < 17)).toBe(true);
    });
  });

  const isSame = (a: Float64Array, b: Float64Array): boolean => a.every((x, i) => x === b[i]);

  it('never looks ahead: what comes after a step changes nothing up to it, for any strategy and plant', () => {
    const STEPS = 12 * DAY;
    const kinds = fc.oneof(
      fc.constantFrom({ kind: 'at_soc' } as const, { kind: 'on_shortfall' } as const),
      fc.record({
        kind: fc.constant('before_night' as const),
        look_back_days: fc.integer({ min: 1, max: 5 }),
        margin_share: fc.integer({ min: 0, max: 10 }).map((n) => n / 10),
        decide_at: fc.constantFrom(undefined, '13:00', '16:30', '18:00'),
      }),
    );
    let ran = 0;
    fc.assert(
      fc.property(
        fc.record({
          seed: fc.integer({ min: 1, max: 1e6 }),
          starts: kinds,
          cut: fc.integer({ min: 1, max: STEPS - 1 }),
          warm_up_min: fc.constantFrom(0, 10),
          size_kWp: fc.integer({ min: 0, max: 8 }),
          modules_parallel: fc.integer({ min: 1, max: 30 }),
        }),
        ({ seed, starts, cut, warm_up_min, size_kWp, modules_parallel }) => {
          const draw = stream(seed);
          const given = randomYear(draw, STEPS, 1);
          const other = randomYear(stream(seed + 1), STEPS, 1);
          const grafted = (a: Float64Array, b: Float64Array): Float64Array =>
            Float64Array.from(a, (x, i) => (i < cut ? x : b[i]!));
          const plant = plantWith({
            size_kWp,
            modules_parallel,
            charger,
            initial_soc: 0.7,
            generator: { ...engine, starts, warm_up_min, stop_soc: 0.95 },
          });
          const one = playYear(yearOf(given), plant).columns;
          const two = playYear(
            yearOf({
              dc_kW_per_kWp: [grafted(given.dc_kW_per_kWp[0]!, other.dc_kW_per_kWp[0]!)],
              load_kW: grafted(given.load_kW, other.load_kW),
              bank_temperature_C: given.bank_temperature_C,
            }),
            plant,
          ).columns;
          for (const { name } of LEDGER_COLUMNS)
            if (!isSame(two[name].subarray(0, cut), one[name].subarray(0, cut))) throw new Error(name);
          if (starts.kind === 'before_night') ran += total(one.generator_run_h);
        },
      ),
      { numRuns: 150 },
    );
    expect(ran).toBeGreaterThan(100);
  });
});
