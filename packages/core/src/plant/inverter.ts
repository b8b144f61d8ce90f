import { expectArgument, expectArguments } from '../basis/arguments.ts';
import { expectWithin, FINITE } from '../basis/within.ts';
import type { InverterSpec } from '../scenario/schema/schema.ts';
import { atTemperature } from './at-temperature.ts';

/**
 * DC input wanted for an AC output, as straight lines between knots: `input[k]` for `output[k]`, both ascending, from no
 * load to the rating. In kW, or in kWh of a step: a curve has no unit of its own. One representation serves measured
 * points and the quadratic loss curve, and it is inverted without iteration.
 */
export interface LossCurve {
  /** Input at no load. */
  readonly idle: number;
  readonly output: Float64Array;
  readonly input: Float64Array;
  /** From knot k to knot k + 1. */
  readonly input_per_output: Float64Array;
  readonly output_per_input: Float64Array;
}

/** What turns DC into AC. */
export interface Inverter {
  /** Of all units together, as every figure here. */ readonly rating_kW: number;
  /** For a moment, at a motor's start. */ readonly surge_kW: number;
  /** In kW. */ readonly curve: LossCurve;
  /** How many side by side. */ readonly units: number;
  /** Legs that the units are spread over: each carries its share of the rating and no more. */
  readonly legs: number;
  /** Null unless it sleeps below a load. */
  readonly sleep: { readonly below_kW: number; readonly search_kW: number } | null;
  /** States of charge at which it cuts off and comes back; null if it goes down to the bank's floor. */
  readonly cut_off: { readonly cut_off_soc: number; readonly reconnect_soc: number } | null;
  /** Null where the rating holds at any temperature. */ readonly derating: Derating | null;
}

/** What heat leaves of a rating. */
interface Derating {
  /** Of the inverter's place; null outdoors. */
  readonly temperature_C: number | null;
  /** How much warmer than the air it stands outdoors. */
  readonly above_air_K: number;
  /** Temperature ascending. */
  readonly points: readonly { readonly temperature_C: number; readonly share: number }[];
}

/** Segments that stand for the quadratic curve: its chord error is below loss_quadratic × rating / (4 × 64²). */
const QUADRATIC_SEGMENTS = 64;

/**
 * Builds the loss curve of an inverter.
 *
 * With `efficiency.points` the DC input at each point is output over efficiency (idle draw included, as
 * datasheets measure it) and lines join them; below the first point the line runs to the idle draw, above the
 * last one the last efficiency is kept. With `loss_linear` and `loss_quadratic` the input is
 * p + p0 + kv p + kr p², all as shares of the rating, p0 being the idle draw. Stacked units share the load evenly:
 * what legs that carry unequal loads lose beyond that is left out.
 *
 * Source: Schmidt & Sauer 1996, Sonnenenergie 4, for the quadratic form (recalled).
 *
 * @throws RangeError for a rating that isn't above 0, a surge or idle draw below 0, no unit
 */
export function buildInverter(spec: InverterSpec): Inverter {
  expectArguments('buildInverter', { spec });
  const expect = (name: 'rating_kW' | 'surge_kW' | 'idle_W' | 'units', least: number): void =>
    expectWithin('buildInverter', name, spec[name], least, FINITE);
  // Less than a milliwatt is no inverter: its curve would have no slope.
  expect('rating_kW', 1e-6);
  expect('surge_kW', 0);
  expect('idle_W', 0);
  expect('units', 1);
  expectArgument('buildInverter', 'efficiency', spec.efficiency, 'object');
  const rating = spec.rating_kW * spec.units;
  const idle_kW = (spec.idle_W * spec.units) / 1000;
  const ac: number[] = [0];
  const dc: number[] = [idle_kW];
  if ('points' in spec.efficiency) {
    for (const point of spec.efficiency.points) {
      ac.push(point.load_share * rating);
      dc.push((point.load_share * rating) / point.efficiency_share);
    }
    const last = spec.efficiency.points.at(-1)!;
    if (last.load_share < 1) {
      ac.push(rating);
      dc.push(rating / last.efficiency_share);
    }
  } else {
    const { loss_linear, loss_quadratic } = spec.efficiency;
    const segments = loss_quadratic === 0 ? 1 : QUADRATIC_SEGMENTS;
    for (let k = 1; k <= segments; k++) {
      const p = k / segments;
      ac.push(p * rating);
      dc.push(idle_kW + rating * (p + loss_linear * p + loss_quadratic * p * p));
    }
  }
  const { sleep } = spec;
  return {
    curve: withKnots(ac, dc),
    rating_kW: rating,
    surge_kW: spec.surge_kW * spec.units,
    units: spec.units,
    legs: spec.legs,
    sleep:
      sleep === undefined
        ? null
        : { below_kW: sleep.below_W / 1000, search_kW: (sleep.search_W * spec.units) / 1000 },
    cut_off: spec.cut_off ?? null,
    derating: deratingOf(spec),
  };
}

function deratingOf({ derating }: InverterSpec): Derating | null {
  if (derating === undefined) return null;
  const { temperature: there, points } = derating;
  return there.kind === 'indoors'
    ? { temperature_C: there.temperature_C, above_air_K: 0, points }
    : { temperature_C: null, above_air_K: there.above_air_K, points };
}

function withKnots(ac: ArrayLike<number>, dc: ArrayLike<number>): LossCurve {
  const segments = ac.length - 1;
  const rise = (xs: ArrayLike<number>, ys: ArrayLike<number>): Float64Array =>
    Float64Array.from({ length: segments }, (_, k) => (ys[k + 1]! - ys[k]!) / (xs[k + 1]! - xs[k]!));
  return {
    idle: dc[0]!,
    output: Float64Array.from(ac),
    input: Float64Array.from(dc),
    input_per_output: rise(ac, dc),
    output_per_input: rise(dc, ac),
  };
}

/** The same curve in energies of a step instead of powers: every knot times the step's length in hours. */
export const curvePerStep = ({ output, input }: LossCurve, step_h: number): LossCurve =>
  withKnots(
    output.map((kW) => kW * step_h),
    input.map((kW) => kW * step_h),
  );

/**
 * Rating in each step, kW; null where no heat takes from it. Between points on a straight line, beyond them the nearest.
 *
 * @param air_temperature_C outside, one entry a step
 */
export function deratedRating_kW(inverter: Inverter, air_temperature_C: Float64Array): Float64Array | null {
  const { derating, rating_kW } = inverter;
  if (derating === null) return null;
  const { points, temperature_C, above_air_K } = derating;
  const rating = new Float64Array(air_temperature_C.length);
  for (let i = 0; i < rating.length; i++) {
    const there_C = temperature_C ?? air_temperature_C[i]! + above_air_K;
    rating[i] = rating_kW * atTemperature(points, (point) => point.share, there_C);
  }
  return rating;
}

/**
 * Input for an output from 0 to the rating.
 *
 * @param wanted output, in the unit of the curve, as the answer
 */
export function inputFor({ output, input, input_per_output }: LossCurve, wanted: number): number {
  return along(output, input, input_per_output, wanted);
}

/**
 * Highest output from an input: 0 up to the idle draw, the rating from full input on.
 *
 * @param given input, in the unit of the curve, as the answer
 */
export function outputFrom({ idle, output, input, output_per_input }: LossCurve, given: number): number {
  return given <= idle ? 0 : along(input, output, output_per_input, given);
}

/** Line through ascending knots, held at both ends. Searched from below: loads are mostly far under the rating. */
function along(xs: Float64Array, ys: Float64Array, slopes: Float64Array, x: number): number {
  const last = xs.length - 1;
  if (x <= xs[0]!) return ys[0]!;
  if (x >= xs[last]!) return ys[last]!;
  let low = 0;
  while (xs[low + 1]! <= x) low++;
  return ys[low]! + slopes[low]! * (x - xs[low]!);
}
