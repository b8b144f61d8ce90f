/** Invariants of the hour loop over random plants, in steps of any length. */
import {
  audit,
  LEDGER_COLUMNS,
  type Ledger,
  newReusedColumns,
  type Plant,
  type PreparedYear,
  playYear,
} from '@longnight/core';
import { sunlessHours } from '@longnight/core/bank';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  banks,
  DAYS,
  type Drawn,
  doubled,
  drawn,
  partsWith,
  type StepMin,
  stepsOf,
  withBank,
  yearWith,
} from '../support/drawn.ts';
import { type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const RUNS = { numRuns: 150 } as const;

const bareYear = (seed: number, step_min: StepMin) => ({
  ...randomYear(stream(seed), stepsOf(step_min), 2, step_min),
  step_min,
});
const yearFor = ({ seed, step_min }: Drawn): PreparedYear => yearOf(bareYear(seed, step_min));
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);

function invariants(ledger: Ledger): void {
  const { columns, step_h, plant } = ledger;
  expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-9);
  const { bank } = plant;
  const floor = bank.floor_kWh / bank.capacity_kWh;
  // A resistive bank takes its amps at a voltage of its own: most when full.
  const isResistive = bank.model.kind === 'resistive';
  const full_V = isResistive ? 56 + (bank.module_max_charge_A * 60) / 1000 : bank.nominal_voltage_V;
  const most_charge_kW = (bank.current_modules * bank.module_max_charge_A * full_V) / 1000;
  const most_discharge_kW =
    (bank.current_modules * bank.module_max_discharge_A * (isResistive ? 56 : bank.nominal_voltage_V)) / 1000;
  for (let i = 0; i < ledger.steps; i++) {
    for (const { name } of LEDGER_COLUMNS) {
      const value = columns[name][i]!;
      if (!Number.isFinite(value) || value < -1e-9) throw new Error(`${name}[${i}] is ${value}`);
    }
    if (columns.bank_soc[i]! < floor - 1e-12 || columns.bank_soc[i]! > 1)
      throw new Error(`soc ${columns.bank_soc[i]} at ${i}`);
    if (columns.bank_charge_kWh[i]! > 1e-12 && columns.bank_discharge_kWh[i]! > 1e-12)
      throw new Error(`charges and discharges at ${i}`);
    if (columns.bank_charge_kWh[i]! > most_charge_kW * step_h + 1e-9)
      throw new Error(`charge above amps at ${i}`);
    if (columns.bank_discharge_kWh[i]! > most_discharge_kW * step_h + 1e-9)
      throw new Error(`discharge above amps at ${i}`);
    if (columns.generator_run_h[i] !== 0 && columns.generator_run_h[i] !== step_h)
      throw new Error(`runs ${columns.generator_run_h[i]} h of ${step_h} at ${i}`);
    if (columns.inverter_out_kWh[i]! > plant.inverter.rating_kW * step_h + 1e-9)
      throw new Error(`inverter above rating at ${i}`);
    if (plant.generator && columns.generator_kWh[i]! > plant.generator.rating_kW * step_h + 1e-9)
      throw new Error(`generator above rating at ${i}`);
  }
}

describe('any plant', () => {
  it('without a generator: books balance, SoC within floor and full, one direction at a time, limits kept', () => {
    fc.assert(
      fc.property(drawn(false), (one) => {
        const plant = plantWith(one.parts);
        const year = yearFor(one);
        invariants(playYear(year, plant));
      }),
      RUNS,
    );
  });

  it('with a generator, a socket, an engine, quiet hours, a tank, failing starts, shedding: the same', () => {
    fc.assert(
      fc.property(drawn(true), ({ seed, step_min, extras: on, parts: p }) => {
        const plant = plantWith(partsWith(p, on));
        const year = yearWith(seed, step_min, on);
        const ledger = playYear(year, plant);
        invariants(ledger);
        const { columns, steps, step_h } = ledger;
        for (let i = 0; i < steps; i++) {
          if (columns.shore_kWh[i]! > 2 * step_h * (year.timetables.shore_there?.[i] ?? 0) + 1e-9)
            throw new Error(`socket above its amps at ${i}`);
          if (columns.shore_kWh[i]! > 0 && columns.generator_kWh[i]! > 0)
            throw new Error(`socket and generator at ${i}`);
          if (columns.generator_run_h[i]! > 0 && year.timetables.generator_barred?.[i] === 1)
            throw new Error(`runs in quiet hours at ${i}`);
        }
        if (on.failing && p.generator) {
          const perDay = 24 / step_h;
          for (let day = 0; day < DAYS[step_min]; day += 4) {
            const burnt = total(columns.fuel_L.slice(day * perDay, (day + 4) * perDay));
            expect(burnt).toBeLessThanOrEqual(30 + 1e-9);
          }
        }
      }),
      RUNS,
    );
  });

  it('with any bank: the same', () => {
    fc.assert(
      fc.property(drawn(true), banks, ({ seed, step_min, extras: on, parts: p }, bank) => {
        const plant = plantWith(withBank(partsWith(p, on), bank));
        const year = yearWith(seed, step_min, on);
        invariants(playYear(year, plant));
      }),
      { numRuns: 300 },
    );
  });

  it('an inverter that has cut off is off until the bank is back, and draws it down to no less', () => {
    let off = 0;
    fc.assert(
      fc.property(drawn(true), banks, ({ seed, step_min, extras, parts: p }, bank) => {
        // A kinetic bank counts as full, and so as back, before its stock is.
        fc.pre(bank.kind !== 'kinetic');
        const on = { ...extras, cuts_off: true };
        const plant = plantWith(withBank(partsWith(p, on), bank));
        const { cut_off_soc, reconnect_soc } = plant.inverter.cut_off!;
        const { columns, steps, start_stock_kWh } = playYear(yearWith(seed, step_min, on), plant);
        let soc = start_stock_kWh / plant.bank.capacity_kWh;
        let isOff = false;
        for (let i = 0; i < steps; i++) {
          isOff = isOff ? soc < reconnect_soc - 1e-9 : soc <= cut_off_soc + 1e-9;
          soc = columns.bank_soc[i]!;
          if (isOff && columns.inverter_out_kWh[i]! + columns.inverter_loss_kWh[i]! > 0)
            throw new Error(`gives or draws while it is off at ${i}`);
          const booked = columns.unmet_inverter_cut_off_kWh[i]! > 1e-9;
          // While an engine warms up the bank may come down to the cut-off, and be charged by it within the same step.
          const isCharged = columns.generator_run_h[i]! > 0;
          if (!isOff && booked && !isCharged && soc > cut_off_soc + 1e-9)
            throw new Error(`cut off too soon at ${i}`);
          if (isOff) off++;
        }
      }),
      { numRuns: 80 },
    );
    expect(off).toBeGreaterThan(1000);
  });

  it('with any bank: sunless hours are whole or end where a dark year leaves load unmet', () => {
    fc.assert(
      fc.property(drawn(false), banks, (one, bank) => {
        const { parts: p } = one;
        // Amps and inverter do not bind, so that what ends the night is the bank.
        const wide: Parts = { ...p, max_discharge_A: 400, rating_kW: 100, initial_soc: 1, loss_quadratic: 0 };
        const plant = plantWith({
          ...withBank(
            { ...wide, arrays: p.arrays!.map((a) => ({ ...a, size_kWp: 0 })) },
            { ...bank, resistance_mOhm: 5 },
          ),
        });
        const year = yearFor(one);
        const dark = playYear(year, plant).columns.unmet_kWh.findIndex((kWh) => kWh > 1e-6);
        const [first] = sunlessHours(year, plant).hours;
        if (dark >= 0)
          expect(Math.abs(first! / year.clock.step_h - dark - 0.5)).toBeLessThanOrEqual(0.5 + 1e-6);
      }),
      { numRuns: 60 },
    );
  });

  const unmetOf = (year: PreparedYear, plant: Plant): number =>
    total(playYear(year, plant).columns.unmet_kWh);

  it('without a generator: more array or larger trackers never raise unmet energy, whatever the losses', () => {
    fc.assert(
      fc.property(drawn(false), fc.boolean(), (one, array) => {
        const { parts: p } = one;
        const year = yearFor(one);
        const plant = plantWith(p);
        const arrays = plant.arrays.map((a) =>
          array
            ? { ...a, size_kWp: a.size_kWp * 1.3 + 0.1 }
            : { ...a, max_input_kW: a.max_input_kW * 1.5, max_output_kW: a.max_output_kW * 1.5 },
        );
        expect(unmetOf(year, { ...plant, arrays })).toBeLessThanOrEqual(unmetOf(year, plant) + 1e-9);
      }),
      RUNS,
    );
  });

  // The larger bank starts with the same share, as a bought bank does. Where the loss curve bends, more amps can serve
  // a peak at a worse efficiency and leave less for later (seen: 0.0001 kWh in 237), so amps must not bind there.
  it('without a generator: more modules never raise unmet energy if losses are linear or the amps cover the load', () => {
    fc.assert(
      fc.property(drawn(false), fc.boolean(), (one, linear) => {
        const { parts: p } = one;
        const year = yearFor(one);
        const curve: Parts = linear ? { ...p, loss_quadratic: 0 } : { ...p, max_discharge_A: 1e4 };
        const more = plantWith({ ...curve, modules_parallel: p.modules_parallel! + 1 });
        expect(unmetOf(year, more)).toBeLessThanOrEqual(unmetOf(year, plantWith(curve)) + 1e-9);
      }),
      RUNS,
    );
  });

  it('without a generator and with linear losses: more amps or a larger inverter never raise unmet energy', () => {
    fc.assert(
      fc.property(drawn(false), fc.boolean(), (one, amps) => {
        const { parts: p } = one;
        const year = yearFor(one);
        const linear: Parts = { ...p, loss_quadratic: 0 };
        const grown: Parts = amps
          ? { ...linear, max_charge_A: p.max_charge_A! * 1.5, max_discharge_A: p.max_discharge_A! * 1.5 }
          : { ...linear, rating_kW: p.rating_kW! * 1.5 };
        expect(unmetOf(year, plantWith(grown))).toBeLessThanOrEqual(unmetOf(year, plantWith(linear)) + 1e-9);
      }),
      RUNS,
    );
  });

  it('doubling every size and every load doubles every kWh and leaves SoC alone', () => {
    fc.assert(
      fc.property(drawn(true), banks, ({ seed, step_min, parts }, bank) => {
        const given = bareYear(seed, step_min);
        const p = withBank(parts, { ...bank, older: false });
        const plant = plantWith(p);
        const twice = plantWith({
          ...p,
          arrays: p.arrays!.map((a) => ({
            ...a,
            size_kWp: 2 * a.size_kWp,
            max_input_kW: 2 * a.max_input_kW,
            max_output_kW: 2 * a.max_output_kW,
          })),
          modules_parallel: 2 * p.modules_parallel!,
          rating_kW: 2 * p.rating_kW!,
          idle_W: 2 * p.idle_W!,
          charger: p.charger ? { ...p.charger, max_output_kW: 2 * p.charger.max_output_kW } : null,
          generator: p.generator
            ? {
                ...p.generator,
                rating_kW: 2 * p.generator.rating_kW,
                fuel: doubled(p.generator.fuel),
              }
            : null,
        });
        const one = playYear(yearOf(given), plant).columns;
        const two = playYear(yearOf({ ...given, load_kW: given.load_kW.map((kW) => 2 * kW) }), twice).columns;
        for (const { name } of LEDGER_COLUMNS) {
          const factor = name === 'bank_soc' || name === 'generator_run_h' ? 1 : 2;
          for (let i = 0; i < one[name].length; i++) {
            if (Math.abs(two[name][i]! - factor * one[name][i]!) > 1e-9) {
              throw new Error(`${name}[${i}]: ${one[name][i]} and ${two[name][i]}`);
            }
          }
        }
      }),
      RUNS,
    );
  });

  it('zero load leaves nothing unmet; zero array and an empty bank serve nothing', () => {
    fc.assert(
      fc.property(drawn(true), banks, ({ seed, step_min, parts }, bank) => {
        const p = withBank(parts, bank);
        const given = bareYear(seed, step_min);
        const idle = playYear(
          yearOf({ ...given, load_kW: new Float64Array(stepsOf(step_min)) }),
          plantWith(p),
        ).columns;
        expect(total(idle.unmet_kWh)).toBe(0);
        const dead = plantWith({
          ...p,
          arrays: p.arrays!.map((a) => ({ ...a, size_kWp: 0 })),
          initial_soc: 0,
          generator: null,
        });
        expect(total(playYear(yearOf(given), dead).columns.load_served_kWh)).toBe(0);
      }),
      RUNS,
    );
  });

  it('same input, same bytes, also on reused columns; frozen inputs stay as they are', () => {
    fc.assert(
      fc.property(drawn(true), banks, ({ seed, step_min, parts }, bank) => {
        const p = withBank(parts, bank);
        const year = yearOf(bareYear(seed, step_min));
        const plant = Object.freeze(plantWith(p));
        const before = Float64Array.from(year.loads.total_kW);
        const one = playYear(year, plant);
        const desk = { ...newReusedColumns(year.clock.steps), columns: one.columns };
        const first = LEDGER_COLUMNS.map(({ name }) => Float64Array.from(one.columns[name]));
        playYear(year, plantWith({ ...p, modules_parallel: 1, initial_soc: 0.5 }), desk);
        playYear(year, plant, desk);
        LEDGER_COLUMNS.forEach(({ name }, k) => {
          expect(Buffer.from(desk.columns[name].buffer).equals(Buffer.from(first[k]!.buffer))).toBe(true);
        });
        expect(year.loads.total_kW).toEqual(before);
      }),
      { numRuns: 40 },
    );
  });
});
