import { expectArgument, expectArguments } from '../basis/arguments.ts';
import { expectWithin, FINITE } from '../basis/within.ts';
import type { GeneratorSpec } from '../scenario/schema/schema.ts';
import { buildFuelCurve, type FuelCurve } from './fuel.ts';

/** An engine generator. */
export interface EngineGenerator {
  /** Continuous AC output. */ readonly rating_kW: number;
  /** The engine is kept at it; what nobody takes is spilled. */ readonly min_load_kW: number;
  /** Null where no state of charge starts it. */ readonly start_soc: number | null;
  /** State of charge at which it stops. */ readonly stop_soc: number;
  /** It runs at least so long. */ readonly min_run_h: number;
  /** Runs so long before it carries anything, burning as at its least load. */ readonly warm_up_h: number;
  /** Null where it does not look ahead to the night. */ readonly night: NightRule | null;
  /** True if it can share the loads with the inverter; false behind a plain transfer switch. */
  readonly parallel: boolean;
  /** Local days. */ readonly max_run_h_per_day: number;
  /** Null where there is always enough fuel. */ readonly tank_L: number | null;
  /** How often the tank is filled. */ readonly refill_every_days: number;
  /** Of its starts. */ readonly start_failure_share: number;
  /** Run-hours between two services; null where none is stated. */ readonly service_every_h: number | null;
  /** What it burns by output. */ readonly fuel: FuelCurve;
}

/** How tonight's need is estimated: see hours/night.ts. */
export interface NightRule {
  /** Local minute of the day at which it is decided; null once the sun falls below the need. */
  readonly decide_minute: number | null;
  readonly look_back_days: number;
  readonly margin_share: number;
}

/**
 * Builds a generator; see plant/fuel.ts for what it burns.
 *
 * @throws RangeError for a rating below 0, a share outside 0 to 1, a time below 0
 */
export function buildGenerator(spec: GeneratorSpec): EngineGenerator {
  expectArguments('buildGenerator', { spec });
  const { starts } = spec;
  const expect = (name: string, value: number, most: number): void =>
    expectWithin('buildGenerator', name, value, 0, most);
  expect('rating_kW', spec.rating_kW, FINITE);
  expect('min_load_share', spec.min_load_share, 1);
  expect('start_soc', spec.start_soc ?? 0, 1);
  expect('stop_soc', spec.stop_soc, 1);
  expect('min_run_h', spec.min_run_h, FINITE);
  expect('warm_up_min', spec.warm_up_min, FINITE);
  expect('max_run_h_per_day', spec.max_run_h_per_day, 24);
  expectArgument('buildGenerator', 'starts', starts, 'object');
  expectArgument('buildGenerator', 'fuel', spec.fuel, 'object');
  return {
    rating_kW: spec.rating_kW,
    min_load_kW: spec.min_load_share * spec.rating_kW,
    start_soc: starts.kind === 'on_shortfall' ? null : (spec.start_soc ?? null),
    stop_soc: spec.stop_soc,
    min_run_h: spec.min_run_h,
    warm_up_h: spec.warm_up_min / 60,
    night:
      starts.kind === 'before_night'
        ? {
            decide_minute: starts.decide_at === undefined ? null : minuteOf(starts.decide_at),
            look_back_days: starts.look_back_days,
            margin_share: starts.margin_share,
          }
        : null,
    parallel: spec.connection === 'parallel',
    max_run_h_per_day: spec.max_run_h_per_day,
    tank_L: spec.tank?.capacity_L ?? null,
    refill_every_days: spec.tank?.refill_every_days ?? 1,
    start_failure_share: spec.start_failure?.share ?? 0,
    service_every_h: spec.service?.every_h ?? null,
    fuel: buildFuelCurve(spec),
  };
}

const minuteOf = (clock: string): number => 60 * Number(clock.slice(0, 2)) + Number(clock.slice(3));
