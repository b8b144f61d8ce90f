/**
 * The generator's strategies against a linear program that sees every hour of the year at once and runs the plant as
 * cheaply as it can, fuel at a price a litre and unmet load at a price a kWh. Solver: HiGHS (the `highs` package), a
 * general-purpose LP solver.
 *
 * The program may do all that a strategy may and more: it knows the year, lets inverter and generator share the loads
 * whatever switch there is, stops and starts as it likes and even runs for a part of an hour, paying the idle fuel of
 * that part alone. So its cost is a bound below any dispatch, causal or not; no strategy may beat it, and how far each
 * stays above it is a figure of merit, not an error. Losses are linear; idle draw, taper and self-discharge are off;
 * amps, ratings, trackers, floor, cold hours, least load, quiet hours and the daily limit are on. Plants, loads and
 * prices are invented.
 */
import { audit, type Plant, type PreparedYear, playYear } from '@longnight/core';
import highsLoader from 'highs';
import { describe, expect, it } from 'vitest';
import { type BareGenerator, type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const FUEL_PRICE = 2;
const UNMET_PRICE = 10;

const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);

/** The year in the solver's text form: least fuel and unmet load, each at its price. */
function linearProgram(
  year: PreparedYear,
  plant: Plant,
  dc_per_ac: number,
  fuel: { readonly idle_L_per_h: number; readonly L_per_kWh: number },
): string {
  const { bank, inverter, charger } = plant;
  const generator = plant.generator!;
  const rows: string[] = [];
  const bounds: string[] = [];
  const cost: string[] = [];
  const { steps, days, day_start } = year.clock;
  for (let i = 0; i < steps; i++) {
    const cold = year.bank_temperature_C[i]! < bank.min_charge_temperature_C;
    const barred = year.timetables.generator_barred?.[i] === 1;
    const load = year.loads.total_kW[i]!;
    const sun = plant.arrays.reduce((sum, t, a) => {
      const offered = year.arrays[a]!.dc_kW_per_kWp[i]! * t.size_kWp;
      return sum + Math.min(Math.min(offered, t.max_input_kW) * t.efficiency, t.max_output_kW);
    }, 0);
    // s by the inverter, g by the generator, u unmet; h into the charger; p spilled; r the part of the hour that the
    // generator runs; c into the bank, d out of it, e in store at the end of the hour.
    const before = i === 0 ? '' : `- e${i - 1} `;
    const start = i === 0 ? plant.initial_soc! * bank.capacity_kWh : 0;
    rows.push(
      ` load${i}: s${i} + g${i} + u${i} = ${load}`,
      ` bus${i}: ${dc_per_ac} s${i} + c${i} - d${i} - ${charger!.efficiency} h${i} <= ${sun}`,
      ` store${i}: e${i} ${before}- ${bank.charge_efficiency} c${i} + ${1 / bank.discharge_efficiency} d${i} = ${start}`,
      ` most${i}: g${i} + h${i} + p${i} - ${generator.rating_kW} r${i} <= 0`,
      ` least${i}: g${i} + h${i} + p${i} - ${generator.min_load_kW} r${i} >= 0`,
    );
    bounds.push(
      ` 0 <= s${i} <= ${inverter.rating_kW}`,
      ` 0 <= h${i} <= ${charger!.max_output_kW / charger!.efficiency}`,
      ` 0 <= c${i} <= ${cold ? 0 : bank.max_charge_kW}`,
      ` 0 <= d${i} <= ${bank.max_discharge_kW}`,
      ` ${bank.floor_kWh} <= e${i} <= ${bank.capacity_kWh}`,
      ` 0 <= r${i} <= ${barred ? 0 : 1}`,
    );
    cost.push(
      `${UNMET_PRICE} u${i} + ${FUEL_PRICE * fuel.idle_L_per_h} r${i}`,
      `${FUEL_PRICE * fuel.L_per_kWh} g${i} + ${FUEL_PRICE * fuel.L_per_kWh} h${i} + ${FUEL_PRICE * fuel.L_per_kWh} p${i}`,
    );
  }
  for (let day = 0; day < days; day++) {
    const hours = Array.from(
      { length: day_start[day + 1]! - day_start[day]! },
      (_, k) => `r${day_start[day]! + k}`,
    );
    rows.push(` day${day}: ${hours.join(' + ')} <= ${generator.max_run_h_per_day}`);
  }
  return `Minimize\n obj: ${cost.join(' + ')}\nSubject To\n${rows.join('\n')}\nBounds\n${bounds.join('\n')}\nEnd\n`;
}

const STARTS: Readonly<Record<string, NonNullable<BareGenerator['starts']>>> = {
  at_soc: { kind: 'at_soc' },
  on_shortfall: { kind: 'on_shortfall' },
  'before_night, at dusk': { kind: 'before_night', look_back_days: 3, margin_share: 0.2 },
  'before_night, at 17:00': {
    kind: 'before_night',
    decide_at: '17:00',
    look_back_days: 3,
    margin_share: 0.2,
  },
};

interface Case {
  readonly about: string;
  readonly seed: number;
  readonly generator: Partial<BareGenerator>;
  readonly quiet?: (hour: number) => boolean;
}
const CASES: readonly Case[] = [
  { about: 'plain transfer switch', seed: 21, generator: {} },
  {
    about: 'side by side, 10 min to warm up',
    seed: 22,
    generator: { connection: 'parallel', warm_up_min: 10 },
  },
  { about: 'quiet from 22 to 7', seed: 23, generator: {}, quiet: (h) => h >= 22 || h < 7 },
  { about: 'at most 4 h a day', seed: 24, generator: { max_run_h_per_day: 4, connection: 'parallel' } },
];

const DAYS = 365;

// The package's types describe its CommonJS form; what Node imports here is the function itself.
const loadSolver = highsLoader as unknown as typeof highsLoader.default;

describe('strategies against foresight', async () => {
  const highs = await loadSolver();
  it.each(CASES)(
    '$about: no strategy is cheaper than the linear program',
    ({ about, seed, generator, quiet }) => {
      const draw = stream(seed);
      const given = randomYear(draw, DAYS * 24, 1);
      const mean = total(given.load_kW) / given.load_kW.length;
      const barred = Uint8Array.from(given.load_kW, (_, i) => (quiet?.(i % 24) ? 1 : 0));
      const year = yearOf({ ...given, ...(quiet ? { timetables: { generator_barred: barred } } : {}) });
      const rating_kW = 4 * mean;
      const loss_linear = 0.06;
      // Idle burns 0.1 L/h for each kW of rating, each kWh 0.25 L.
      const fuel = { idle_L_per_h: 0.1 * rating_kW, L_per_kWh: 0.25 };
      const engine: BareGenerator = {
        rating_kW,
        fuel: {
          points: [
            { load_share: 0.5, L_per_h: fuel.idle_L_per_h + 0.5 * rating_kW * fuel.L_per_kWh },
            { load_share: 1, L_per_h: fuel.idle_L_per_h + rating_kW * fuel.L_per_kWh },
          ],
        },
        start_soc: 0.25,
        stop_soc: 0.8,
        min_load_share: 0.3,
        min_run_h: 1,
        connection: 'transfer',
        ...generator,
      };
      const parts: Parts = {
        size_kWp: 7 * mean,
        voltage_V: 51.2,
        capacity_Ah: mean * 500,
        max_charge_A: mean * 150,
        max_discharge_A: mean * 100,
        round_trip: 0.92,
        floor_soc: 0.1,
        rating_kW: 3 * mean,
        loss_linear,
        min_charge_temperature_C: -4,
        initial_soc: 0.9,
        charger: { max_charge_A: 0, max_output_kW: 2.5 * mean, efficiency: 0.92 },
      };
      const began = performance.now();
      const solved = highs.solve(
        linearProgram(year, plantWith({ ...parts, generator: engine }), 1 + loss_linear, fuel),
      );
      const seconds = (performance.now() - began) / 1000;
      expect(solved.Status).toBe('Optimal');
      const bound = solved.ObjectiveValue;
      expect(bound).toBeGreaterThan(0);
      const wanted = total(year.loads.total_kW);
      const lines = [
        `${about}: ${wanted.toFixed(0)} kWh wanted, bound ${bound.toFixed(1)} (${seconds.toFixed(1)} s)`,
      ];
      for (const [name, starts] of Object.entries(STARTS)) {
        const plant = plantWith({ ...parts, generator: { ...engine, starts } });
        const ledger = playYear(year, plant);
        const { columns } = ledger;
        const fuel_L = total(columns.fuel_L);
        const unmet_kWh = total(columns.unmet_kWh);
        const cost = FUEL_PRICE * fuel_L + UNMET_PRICE * unmet_kWh;
        lines.push(
          `  ${name.padEnd(24)} ${cost.toFixed(1).padStart(8)} = ${(cost / bound).toFixed(3)} x bound; ` +
            `${fuel_L.toFixed(0)} L, ${unmet_kWh.toFixed(1)} kWh unmet, ${total(columns.generator_run_h)} h`,
        );
        // The solver keeps its rows within 1e-7 or so each.
        expect(cost, name).toBeGreaterThanOrEqual(bound - 1e-6 * bound - 1e-3);
        // Ten times the bound would be a strategy that does not do its work.
        expect(cost, name).toBeLessThan(10 * bound);
        expect(total(columns.generator_run_h), name).toBeGreaterThan(0);
        expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-9);
      }
      console.log(lines.join('\n'));
    },
  );

  it('required is reached where nothing is left to decide: no sun, no charge, a load as large as the rating', () => {
    const steps = 10 * 24;
    const flat = (kW: number): Float64Array => new Float64Array(steps).fill(kW);
    const year = yearOf({ dc_kW_per_kWp: [flat(0)], load_kW: flat(3) });
    // 0.3 L/h at idle and 0.25 L a kWh: 1.05 L/h. The bank begins at its floor.
    const plant = plantWith({
      initial_soc: 0,
      charger: { max_charge_A: 0, max_output_kW: 1, efficiency: 0.9 },
      generator: {
        rating_kW: 3,
        fuel: { full_load_L_per_h: 1.05, half_load_L_per_h: 0.675 },
        stop_soc: 0.8,
        min_load_share: 0.3,
        min_run_h: 1,
        connection: 'transfer',
        starts: { kind: 'on_shortfall' },
      },
    });
    const solved = highs.solve(linearProgram(year, plant, 1, { idle_L_per_h: 0.3, L_per_kWh: 0.25 }));
    const { fuel_L, unmet_kWh } = playYear(year, plant).columns;
    expect(total(unmet_kWh)).toBe(0);
    expect(FUEL_PRICE * total(fuel_L)).toBeCloseTo(FUEL_PRICE * 1.05 * steps, 9);
    expect(solved.ObjectiveValue).toBeCloseTo(FUEL_PRICE * 1.05 * steps, 4);
  });
});
