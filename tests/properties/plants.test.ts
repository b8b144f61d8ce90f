/** Invariants of the hour loop over random plants. Plants are drawn as scaled integers so that they shrink quickly. */
import {
  audit,
  darkHours,
  LEDGER_COLUMNS,
  type Ledger,
  type LoadYear,
  newDesk,
  type Plant,
  type PreparedYear,
  playYear,
} from '@longnight/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BareGenerator, type Parts, plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

const DAYS = 20;
const STEPS = DAYS * 24;
const RUNS = { numRuns: 150 } as const;

const scaled = (low: number, high: number, per: number) =>
  fc.integer({ min: low, max: high }).map((n) => n / per);

interface Drawn {
  readonly seed: number;
  readonly extras: Extras;
  readonly parts: Parts;
}

/** What comes and goes by the clock, or is shed. */
interface Extras {
  readonly shore: boolean;
  readonly engine: boolean;
  readonly quiet: boolean;
  readonly failing: boolean;
  readonly tiers: boolean;
  readonly cold: boolean;
  /** Loads on the DC side and on legs, some that wait or take surplus, an inverter that sleeps, an array on the AC side. */
  readonly places: boolean;
}

const extras = fc.record({
  shore: fc.boolean(),
  engine: fc.boolean(),
  quiet: fc.boolean(),
  failing: fc.boolean(),
  tiers: fc.boolean(),
  cold: fc.boolean(),
  places: fc.boolean(),
});

/** The year of a seed with what the extras add to it. */
function yearWith(seed: number, on: Extras): PreparedYear {
  const draw = stream(seed);
  const given = randomYear(draw, STEPS, 2);
  const by = (isOn: (hour: number) => boolean): Float64Array =>
    Float64Array.from({ length: STEPS }, (_, i) => (isOn(i % 24) ? draw() : 0));
  const first = given.load_kW.map((kW) => kW * 0.6);
  return yearOf({
    ...given,
    ...(on.places ? { more: placesOf(given.load_kW, on.tiers ? first : null, draw) } : {}),
    cell_temperature_C: Float64Array.from({ length: STEPS }, (_, i) => -15 + ((i * 37) % 75)),
    ...(on.tiers
      ? { tiers: { numbers: [1, 3], kW: [first, given.load_kW.map((kW, i) => kW - first[i]!)] } }
      : {}),
    timetables: {
      shore_there: on.shore
        ? Uint8Array.from({ length: STEPS }, (_, i) => (i % 24 >= 20 || i % 24 < 4 ? 1 : 0))
        : null,
      engine_share: on.engine ? by((h) => h >= 7 && h < 11) : null,
      generator_barred: on.quiet ? Uint8Array.from({ length: STEPS }, (_, i) => (i % 24 < 7 ? 1 : 0)) : null,
      start_draw: on.failing ? Float64Array.from({ length: STEPS }, () => draw()) : null,
    },
  });
}

/** Where the loads of a year hang, and what more draws power. */
function placesOf(
  load_kW: Float64Array,
  first_kW: Float64Array | null,
  draw: () => number,
): Partial<LoadYear> {
  const tiers = first_kW === null ? [load_kW] : [first_kW, load_kW.map((kW, i) => kW - first_kW[i]!)];
  const most_kWh = load_kW.map((_, i) => (i % 24 >= 8 && i % 24 < 18 ? 0.8 : 0));
  return {
    dc_tier_kW: tiers.map((kW) => kW.map((value) => 0.3 * value)),
    leg_tier_kW: [tiers.map((kW) => kW.map((value) => 0.5 * value * draw()))],
    running_kW: load_kW.map((kW) => kW * draw()),
    waiting: [
      {
        name: 'car',
        asked_kWh: load_kW.map((_, i) => (i % 24 === 8 ? 8 * draw() : 0)),
        most_kWh,
        later_kWh: most_kWh.map((kWh, i) => (kWh === 0 ? 0 : 0.8 * (17 - (i % 24)))),
        least_soc: draw() < 0.5 ? 0 : 0.4,
      },
    ],
    surplus: [{ name: 'boiler', most_kWh: load_kW.map(() => 1.5), max_kWh_day: 4 }],
  };
}

/** The parts that go with the extras. */
function partsWith(p: Parts, on: Extras): Parts {
  return {
    ...p,
    ...(on.places
      ? {
          legs: 2,
          units: 2,
          rating_kW: (p.rating_kW ?? 1) / 2,
          sleep: { below_W: 100, search_W: 5 },
          arrays: p.arrays!.map((array, k) => ({ ...array, ac: k === 1 })),
        }
      : {}),
    shore: on.shore ? { max_kW: 2, parallel: on.quiet } : null,
    engine_charging_kW: on.engine ? 1.5 : 0,
    capacity_at_temperature: on.cold
      ? [
          { temperature_C: -10, share: 0.5 },
          { temperature_C: 10, share: 1 },
        ]
      : [],
    heater: on.cold && on.quiet ? { keep_C: 5, loss_kW_per_K: 0.004 } : null,
    shedding: on.tiers ? [{ tier: 3, shed_soc: 0.4, restore_soc: 0.6 }] : [],
    generator:
      p.generator == null
        ? null
        : {
            ...p.generator,
            max_run_h_per_day: on.quiet ? 5 : 24,
            ...(on.failing
              ? { start_failure: { share: 0.3, seed: 1 }, tank: { capacity_L: 30, refill_every_days: 4 } }
              : {}),
          },
  };
}

const FUELS: readonly BareGenerator['fuel'][] = [
  { full_load_L_per_h: 2, half_load_L_per_h: 1.3 },
  {
    points: [
      { load_share: 0.2, L_per_h: 0.7 },
      { load_share: 0.6, L_per_h: 1.1 },
      { load_share: 0.9, L_per_h: 1.9 },
    ],
  },
];

const doubled = (fuel: BareGenerator['fuel']): BareGenerator['fuel'] =>
  'points' in fuel
    ? { points: fuel.points.map(({ load_share, L_per_h }) => ({ load_share, L_per_h: 2 * L_per_h })) }
    : { full_load_L_per_h: 2 * fuel.full_load_L_per_h, half_load_L_per_h: 2 * fuel.half_load_L_per_h };

const parts = (withGenerator: boolean): fc.Arbitrary<Parts> =>
  fc.record({
    arrays: fc.array(
      fc
        .record({
          size_kWp: scaled(0, 100, 10),
          power: scaled(1, 100, 10),
          out: scaled(1, 100, 10),
          eff: scaled(90, 100, 100),
          coldest: fc.constantFrom(Number.NEGATIVE_INFINITY, -5),
          hottest: fc.constantFrom(Number.POSITIVE_INFINITY, 45),
        })
        .map((t) => ({
          name: 'a',
          size_kWp: t.size_kWp,
          max_input_kW: t.power,
          max_charge_A: 1,
          max_output_kW: t.out,
          efficiency: t.eff,
          works: { from_C: t.coldest, to_C: t.hottest },
        })),
      { minLength: 2, maxLength: 2 },
    ),
    modules_parallel: fc.integer({ min: 1, max: 6 }),
    capacity_Ah: scaled(20, 400, 1),
    max_charge_A: scaled(10, 150, 1),
    max_discharge_A: scaled(10, 150, 1),
    round_trip: scaled(60, 100, 100),
    floor_soc: scaled(0, 60, 100),
    taper_start_soc: scaled(50, 100, 100),
    taper_end_share: scaled(1, 100, 100),
    self_discharge_share_per_month: scaled(0, 20, 100),
    min_charge_temperature_C: fc.integer({ min: -30, max: 5 }),
    rating_kW: scaled(5, 80, 10),
    standing_W: scaled(0, 200, 1),
    loss_linear: scaled(0, 15, 100),
    loss_quadratic: scaled(0, 15, 100),
    initial_soc: scaled(0, 100, 100),
    generator: withGenerator
      ? fc
          .record({
            rating_kW: scaled(5, 80, 10),
            start: scaled(0, 50, 100),
            band: scaled(1, 50, 100),
            min_load_share: scaled(0, 60, 100),
            min_run_h: fc.integer({ min: 0, max: 6 }),
            connection: fc.constantFrom('transfer' as const, 'parallel' as const),
            fuel: fc.constantFrom(...FUELS),
            warm_up_min: fc.constantFrom(0, 7, 60),
            starts: fc.constantFrom<NonNullable<BareGenerator['starts']>>(
              { kind: 'at_soc' },
              { kind: 'on_shortfall' },
              { kind: 'before_night', look_back_days: 2, margin_share: 0.1 },
              { kind: 'before_night', decide_at: '16:00', look_back_days: 3, margin_share: 0 },
            ),
          })
          .map((g) => ({
            rating_kW: g.rating_kW,
            fuel: g.fuel,
            warm_up_min: g.warm_up_min,
            starts: g.starts,
            start_soc: g.start,
            stop_soc: g.start + g.band,
            min_load_share: g.min_load_share,
            min_run_h: g.min_run_h,
            connection: g.connection,
          }))
      : fc.constant(null),
    charger: withGenerator
      ? fc.option(
          scaled(1, 60, 10).map((kW) => ({ max_charge_A: kW * 20, max_output_kW: kW, efficiency: 0.9 })),
          { nil: null },
        )
      : fc.constant(null),
  });

/** Any bank: plain, resistive or kinetic, with older modules among it, and fewer amps in the cold. */
const banks = fc.record({
  kind: fc.constantFrom('plain' as const, 'resistive' as const, 'kinetic' as const),
  resistance_mOhm: scaled(0, 60, 1),
  low_V: scaled(36, 50, 1),
  coulombic: scaled(90, 100, 100),
  available: scaled(15, 90, 100),
  rate: scaled(10, 150, 100),
  older: fc.boolean(),
  cold: fc.boolean(),
});
type AnyBank = typeof banks extends fc.Arbitrary<infer B> ? B : never;

/** What a kinetic module of 1 Ah in 20 hours gives within so many hours (Manwell and McGowan 1993). */
function kineticAh({ available: c, rate: k }: AnyBank, T: number): number {
  const of = (t: number): number => {
    const e = Math.exp(-k * t);
    return (k * c * t) / (1 - e + c * (k * t - 1 + e));
  };
  return of(T) / of(20);
}

function withBank(p: Parts, bank: AnyBank): Parts {
  const Ah = p.capacity_Ah!;
  return {
    ...p,
    ...(bank.kind === 'resistive'
      ? {
          model: {
            kind: 'resistive',
            open_circuit: [
              { soc: 0, voltage_V: bank.low_V },
              { soc: 0.2, voltage_V: 50 },
              { soc: 0.9, voltage_V: 52 },
              { soc: 1, voltage_V: 56 },
            ],
            cells_series: 1,
            resistance_mOhm: bank.resistance_mOhm,
            coulombic_efficiency_share: bank.coulombic,
          },
        }
      : bank.kind === 'kinetic'
        ? {
            model: {
              kind: 'kinetic',
              capacity_20h_Ah: Ah,
              capacity_10h_Ah: Ah * kineticAh(bank, 10),
              capacity_5h_Ah: Ah * kineticAh(bank, 5),
            },
          }
        : {}),
    ...(bank.older
      ? {
          older: [
            {
              modules: 2,
              capacity_share: 0.7,
              ...(bank.kind === 'resistive' ? { resistance_factor: 1.5 } : {}),
            },
          ],
        }
      : {}),
    ...(bank.cold
      ? {
          charge_A_at_temperature: [
            { temperature_C: 0, max_charge_A: 0 },
            { temperature_C: 12, max_charge_A: p.max_charge_A! },
          ],
        }
      : {}),
  };
}

const drawn = (withGenerator: boolean): fc.Arbitrary<Drawn> =>
  fc.record({
    seed: fc.integer({ min: 1, max: 1e6 }),
    extras,

    parts: parts(withGenerator),
  });

const yearFor = (seed: number, steps = STEPS): PreparedYear => yearOf(randomYear(stream(seed), steps, 2));
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);

function invariants(plant: Plant, ledger: Ledger): void {
  const { columns } = ledger;
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
    if (columns.bank_charge_kWh[i]! > most_charge_kW + 1e-9) throw new Error(`charge above amps at ${i}`);
    if (columns.bank_discharge_kWh[i]! > most_discharge_kW + 1e-9)
      throw new Error(`discharge above amps at ${i}`);
    if (columns.inverter_out_kWh[i]! > plant.inverter.rating_kW + 1e-9)
      throw new Error(`inverter above rating at ${i}`);
    if (plant.generator && columns.generator_kWh[i]! > plant.generator.rating_kW + 1e-9)
      throw new Error(`generator above rating at ${i}`);
  }
}

describe('any plant', () => {
  it('without a generator: books balance, SoC within floor and full, one direction at a time, limits kept', () => {
    fc.assert(
      fc.property(drawn(false), ({ seed, parts: p }) => {
        const plant = plantWith(p);
        invariants(plant, playYear(yearFor(seed), plant));
      }),
      RUNS,
    );
  });

  it('with a generator, a socket, an engine, quiet hours, a tank, failing starts, shedding: the same', () => {
    fc.assert(
      fc.property(drawn(true), ({ seed, extras: on, parts: p }) => {
        const plant = plantWith(partsWith(p, on));
        const year = yearWith(seed, on);
        const ledger = playYear(year, plant);
        invariants(plant, ledger);
        const { columns } = ledger;
        for (let i = 0; i < STEPS; i++) {
          if (columns.shore_kWh[i]! > 2 * (year.timetables.shore_there?.[i] ?? 0) + 1e-9)
            throw new Error(`socket above its amps at ${i}`);
          if (columns.shore_kWh[i]! > 0 && columns.generator_kWh[i]! > 0)
            throw new Error(`socket and generator at ${i}`);
          if (columns.generator_run_h[i]! > 0 && year.timetables.generator_barred?.[i] === 1)
            throw new Error(`runs in quiet hours at ${i}`);
        }
        if (on.failing && p.generator) {
          for (let day = 0; day < DAYS; day += 4) {
            const burnt = total(columns.fuel_L.slice(day * 24, (day + 4) * 24));
            expect(burnt).toBeLessThanOrEqual(30 + 1e-9);
          }
        }
      }),
      RUNS,
    );
  });

  it('with any bank: the same', () => {
    fc.assert(
      fc.property(drawn(true), banks, ({ seed, extras: on, parts: p }, bank) => {
        const plant = plantWith(withBank(partsWith(p, on), bank));
        invariants(plant, playYear(yearWith(seed, on), plant));
      }),
      { numRuns: 300 },
    );
  });

  it('with any bank: hours in the dark are whole or end where a dark year leaves load unserved', () => {
    fc.assert(
      fc.property(drawn(false), banks, ({ seed, parts: p }, bank) => {
        // Amps and inverter do not bind, so that what ends the night is the bank.
        const wide: Parts = { ...p, max_discharge_A: 400, rating_kW: 100, initial_soc: 1, loss_quadratic: 0 };
        const plant = plantWith({
          ...withBank(
            { ...wide, arrays: p.arrays!.map((a) => ({ ...a, size_kWp: 0 })) },
            { ...bank, resistance_mOhm: 5 },
          ),
        });
        const year = yearFor(seed);
        const dark = playYear(year, plant).columns.unmet_kWh.findIndex((kWh) => kWh > 1e-6);
        const [first] = darkHours(year, plant).hours;
        if (dark >= 0) expect(Math.abs(first! - dark - 0.5)).toBeLessThanOrEqual(0.5 + 1e-6);
      }),
      { numRuns: 60 },
    );
  });

  const unmetOf = (year: PreparedYear, plant: Plant): number =>
    total(playYear(year, plant).columns.unmet_kWh);

  it('without a generator: more array or larger trackers never raise unmet energy, whatever the losses', () => {
    fc.assert(
      fc.property(drawn(false), fc.boolean(), ({ seed, parts: p }, array) => {
        const year = yearFor(seed);
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
      fc.property(drawn(false), fc.boolean(), ({ seed, parts: p }, linear) => {
        const year = yearFor(seed);
        const curve: Parts = linear ? { ...p, loss_quadratic: 0 } : { ...p, max_discharge_A: 1e4 };
        const more = plantWith({ ...curve, modules_parallel: p.modules_parallel! + 1 });
        expect(unmetOf(year, more)).toBeLessThanOrEqual(unmetOf(year, plantWith(curve)) + 1e-9);
      }),
      RUNS,
    );
  });

  it('without a generator and with linear losses: more amps or a larger inverter never raise unmet energy', () => {
    fc.assert(
      fc.property(drawn(false), fc.boolean(), ({ seed, parts: p }, amps) => {
        const year = yearFor(seed);
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
      fc.property(drawn(true), banks, ({ seed, parts }, bank) => {
        const given = randomYear(stream(seed), STEPS, 2);
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
          standing_W: 2 * p.standing_W!,
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
          for (let i = 0; i < STEPS; i++) {
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
      fc.property(drawn(true), banks, ({ seed, parts }, bank) => {
        const p = withBank(parts, bank);
        const given = randomYear(stream(seed), STEPS, 2);
        const idle = playYear(yearOf({ ...given, load_kW: new Float64Array(STEPS) }), plantWith(p)).columns;
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
      fc.property(drawn(true), banks, ({ seed, parts }, bank) => {
        const p = withBank(parts, bank);
        const year = yearFor(seed);
        const plant = Object.freeze(plantWith(p));
        const before = Float64Array.from(year.loads.total_kW);
        const one = playYear(year, plant);
        const desk = { ...newDesk(STEPS), columns: one.columns };
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
