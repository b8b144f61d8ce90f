/** Random plants and years for property tests. Plants are drawn as scaled integers so that they shrink quickly. */
import type { LoadYear, OtherSource, PreparedYear } from '@longnight/core';
import fc from 'fast-check';
import type { BareGenerator, Parts } from './plant.ts';
import { randomYear, stream } from './random.ts';
import { yearOf } from './year.ts';

/** Lengths of a step, min, and days that are played of each, so that all cost about as much. */
export const DAYS = { 60: 20, 30: 10, 15: 5, 10: 4, 5: 3 } as const;
export type StepMin = keyof typeof DAYS;
export const step_mins = fc.constantFrom<StepMin>(60, 30, 15, 10, 5);
export const stepsOf = (step_min: StepMin): number => (DAYS[step_min] * 24 * 60) / step_min;

const scaled = (low: number, high: number, per: number) =>
  fc.integer({ min: low, max: high }).map((n) => n / per);

export interface Drawn {
  readonly seed: number;
  readonly step_min: StepMin;
  readonly extras: Extras;
  readonly parts: Parts;
}

/** What comes and goes by the clock, or is shed. */
export interface Extras {
  readonly shore: boolean;
  readonly engine: boolean;
  readonly quiet: boolean;
  readonly failing: boolean;
  readonly tiers: boolean;
  readonly cold: boolean;
  /** Loads on the DC side and on legs, some that wait or take surplus, an inverter that sleeps, an array on the AC side. */
  readonly places: boolean;
  /** An inverter that cuts off before the bank is at its floor. */
  readonly cuts_off: boolean;
  /** A stream on the DC side, and where there are other places a turbine on the AC side. */
  readonly stream: boolean;
}

const extras = fc.record({
  shore: fc.boolean(),
  engine: fc.boolean(),
  quiet: fc.boolean(),
  failing: fc.boolean(),
  tiers: fc.boolean(),
  cold: fc.boolean(),
  places: fc.boolean(),
  cuts_off: fc.boolean(),
  stream: fc.boolean(),
});

/** The year of a seed with what the extras add to it. */
export function yearWith(seed: number, step_min: StepMin, on: Extras): PreparedYear {
  const draw = stream(seed);
  const STEPS = stepsOf(step_min);
  const given = randomYear(draw, STEPS, 2, step_min);
  const hourOf = (i: number): number => ((i * step_min) / 60) % 24;
  const by = (isOn: (hour: number) => boolean): Float64Array =>
    Float64Array.from({ length: STEPS }, (_, i) => (isOn(hourOf(i)) ? draw() : 0));
  const first = given.load_kW.map((kW) => kW * 0.6);
  return yearOf({
    ...given,
    step_min,
    others: OTHERS.slice(0, othersOn(on)).map(({ name }, k) => ({
      name,
      power_kW: Float64Array.from({ length: STEPS }, () => (k === 0 ? 0.4 : 1.2 * draw())),
    })),
    ...(on.places ? { more: placesOf(given.load_kW, on.tiers ? first : null, draw, step_min) } : {}),
    cell_temperature_C: Float64Array.from({ length: STEPS }, (_, i) => -15 + ((i * 37) % 75)),
    ...(on.tiers
      ? { tiers: { numbers: [1, 3], kW: [first, given.load_kW.map((kW, i) => kW - first[i]!)] } }
      : {}),
    timetables: {
      shore_there: on.shore
        ? Uint8Array.from({ length: STEPS }, (_, i) => (hourOf(i) >= 20 || hourOf(i) < 4 ? 1 : 0))
        : null,
      engine_share: on.engine ? by((h) => h >= 7 && h < 11) : null,
      generator_barred: on.quiet
        ? Uint8Array.from({ length: STEPS }, (_, i) => (hourOf(i) < 7 ? 1 : 0))
        : null,
      start_draw: on.failing ? Float64Array.from({ length: STEPS }, () => draw()) : null,
    },
  });
}

/** Where the loads of a year hang, and what more draws power. */
function placesOf(
  load_kW: Float64Array,
  first_kW: Float64Array | null,
  draw: () => number,
  step_min: StepMin,
): Partial<LoadYear> {
  const step_h = step_min / 60;
  const hourOf = (i: number): number => (i * step_h) % 24;
  const tiers = first_kW === null ? [load_kW] : [first_kW, load_kW.map((kW, i) => kW - first_kW[i]!)];
  const most_kWh = load_kW.map((_, i) => (hourOf(i) >= 8 && hourOf(i) < 18 ? 0.8 * step_h : 0));
  return {
    dc_tier_kW: tiers.map((kW) => kW.map((value) => 0.3 * value)),
    leg_tier_kW: [tiers.map((kW) => kW.map((value) => 0.5 * value * draw()))],
    running_kW: load_kW.map((kW) => kW * draw()),
    flexible: [
      {
        name: 'car',
        asked_kWh: load_kW.map((_, i) => (Math.abs(hourOf(i) - 8) < 1e-9 ? 8 * draw() : 0)),
        most_kWh,
        later_kWh: most_kWh.map((kWh, i) => (kWh === 0 ? 0 : 0.8 * (18 - step_h - hourOf(i)))),
        min_soc: draw() < 0.5 ? 0 : 0.4,
      },
    ],
    surplus: [{ name: 'boiler', most_kWh: load_kW.map(() => 1.5 * step_h), max_kWh_day: 4 }],
  };
}

const OTHERS: readonly OtherSource[] = [
  { name: 'stream', max_output_kW: 0.3, efficiency: 0.9, ac: false },
  { name: 'turbine', max_output_kW: 1, efficiency: 0.95, ac: true },
];
const othersOn = ({ stream, places }: Extras): number => (stream ? (places ? 2 : 1) : 0);

/** The parts that go with the extras. */
export function partsWith(p: Parts, on: Extras): Parts {
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
    others: OTHERS.slice(0, othersOn(on)),
    cut_off: on.cuts_off
      ? { cut_off_soc: Math.max(0.3, p.floor_soc ?? 0), reconnect_soc: Math.max(0.3, p.floor_soc ?? 0) + 0.2 }
      : undefined,
    shore: on.shore
      ? {
          max_kW: 2,
          parallel: on.quiet,
          ...(on.failing ? { carries: { kind: 'after_bank', at_soc: 0.3, until_soc: 0.6 } as const } : {}),
        }
      : null,
    alternator_kW: on.engine ? 1.5 : 0,
    capacity_at_temperature: on.cold
      ? [
          { temperature_C: -10, share: 0.5 },
          { temperature_C: 10, share: 1 },
        ]
      : [],
    heater: on.cold && (on.quiet || on.shore) ? { keep_C: 5, loss_kW_per_K: 0.004 } : null,
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

export const doubled = (fuel: BareGenerator['fuel']): BareGenerator['fuel'] =>
  'points' in fuel
    ? { points: fuel.points.map(({ load_share, L_per_h }) => ({ load_share, L_per_h: 2 * L_per_h })) }
    : { full_load_L_per_h: 2 * fuel.full_load_L_per_h, half_load_L_per_h: 2 * fuel.half_load_L_per_h };

export const parts = (withGenerator: boolean): fc.Arbitrary<Parts> =>
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
    idle_W: scaled(0, 200, 1),
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
export const banks = fc.record({
  kind: fc.constantFrom('plain' as const, 'resistive' as const, 'kinetic' as const),
  resistance_mOhm: scaled(0, 60, 1),
  low_V: scaled(36, 50, 1),
  coulombic: scaled(90, 100, 100),
  available: scaled(15, 90, 100),
  rate: scaled(10, 150, 100),
  older: fc.boolean(),
  cold: fc.boolean(),
});
export type AnyBank = typeof banks extends fc.Arbitrary<infer B> ? B : never;

/** What a kinetic module of 1 Ah in 20 hours gives within so many hours (Manwell and McGowan 1993). */
function kineticAh({ available: c, rate: k }: AnyBank, T: number): number {
  const of = (t: number): number => {
    const e = Math.exp(-k * t);
    return (k * c * t) / (1 - e + c * (k * t - 1 + e));
  };
  return of(T) / of(20);
}

export function withBank(p: Parts, bank: AnyBank): Parts {
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
            end_of_life_resistance_factor: 2,
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

export const drawn = (withGenerator: boolean): fc.Arbitrary<Drawn> =>
  fc.record({
    seed: fc.integer({ min: 1, max: 1e6 }),
    step_min: step_mins,
    extras,
    parts: parts(withGenerator),
  });
