import type { FoundIn } from '../basis/notices.ts';
import { localDate } from '../clock/clock.ts';
import { byMonth } from '../clock/months.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { Scenario } from '../scenario/schema/schema.ts';
import { shareOf, total } from './totals.ts';

/** What the generator did. */
export interface GeneratorFindings {
  /** Hours the generator runs. */ readonly run_hours: number;
  /** Times the generator starts. */ readonly starts: number;
  /** Fuel burnt. */ readonly fuel_L: number;
  /** AC energy it makes. */ readonly energy_kWh: number;
  /** Made only to keep the engine at its least load, and wasted. */ readonly spilled_kWh: number;
  /** Mean output while running over rating; null if it never ran. */
  readonly mean_load_share: number | null;
  /** Services that fall due if one was done just before the year; null where no interval is stated. */
  readonly services_due: number | null;
  /** Local date on which the first of them falls due. */
  readonly first_service: string | null;
  /** Hours it runs in each month of the local calendar, January first. */ readonly run_hours_by_month: readonly number[];
}

/** Times of the generator that are no whole number of steps, and the longest shorter step that fits them, or the shortest. */
export type GeneratorStepNotice = FoundIn<{
  'generator-step': {
    times: readonly { readonly what: 'warm_up' | 'min_run'; readonly minutes: number }[];
    step_min: number;
    finer_step_min: number;
  };
}>;

/** Run-hours, starts, fuel, services due; null without a generator. */
export function generatorFindings(ledger: Ledger): GeneratorFindings | null {
  const { year, plant } = ledger;
  const { generator } = plant;
  if (generator === null) return null;
  const { generator_run_h, generator_kWh, generator_spilled_kWh, fuel_L } = ledger.columns;
  let starts = 0;
  for (let i = 0; i < ledger.steps; i++) {
    if (generator_run_h[i]! > 0 && (i === 0 || generator_run_h[i - 1]! === 0)) starts++;
  }
  const run_hours = total(generator_run_h);
  const services = servicesDue(generator.service_every_h, ledger);
  const energy_kWh = total(generator_kWh);
  return {
    run_hours,
    starts,
    fuel_L: total(fuel_L),
    energy_kWh,
    spilled_kWh: total(generator_spilled_kWh),
    mean_load_share: shareOf(energy_kWh, run_hours * generator.rating_kW),
    services_due: services?.due ?? null,
    first_service: services?.first == null ? null : localDate(year.clock, services.first),
    run_hours_by_month: byMonth(generator_run_h, year.clock),
  };
}

/** Services that fall due if the year begins with one just done: how many, and the step in which the first does. */
function servicesDue(every_h: number | null, { columns, steps }: Ledger) {
  if (every_h === null) return null;
  let ran_h = 0;
  let due = 0;
  let first: number | null = null;
  for (let i = 0; i < steps; i++) {
    ran_h += columns.generator_run_h[i]!;
    // Hours are sums of steps, which may fall short of a whole number by rounding.
    const sofar = Math.floor(ran_h / every_h + 1e-9);
    if (sofar > due && first === null) first = i;
    due = sofar;
  }
  return { due, first };
}

/** Steps that a scenario may ask for, longest first. */
const STEPS_min = [60, 30, 15, 10, 5];

/**
 * Says that the generator's warm-up or shortest run is no whole number of steps: it is started and stopped at their
 * edges, so that its run-hours come out longer than they will be.
 *
 * @returns nothing where they are, or without a generator
 */
export function generatorStepNotices({ generator, run }: Scenario): readonly GeneratorStepNotice[] {
  if (generator === undefined) return [];
  const { step_min } = run;
  const times = [
    { what: 'warm_up', minutes: generator.warm_up_min },
    { what: 'min_run', minutes: 60 * generator.min_run_h },
  ] as const;
  const fits = (minutes: number, step: number): boolean =>
    Math.abs(minutes / step - Math.round(minutes / step)) < 1e-9;
  const coarse = times.filter(({ minutes }) => !fits(minutes, step_min));
  if (coarse.length === 0) return [];
  const finer = STEPS_min.filter((step) => step < step_min);
  const finer_step_min =
    finer.find((one) => times.every(({ minutes }) => fits(minutes, one))) ?? finer.at(-1);
  if (finer_step_min === undefined) return [];
  return [{ id: 'generator-step', values: { times: coarse, step_min, finer_step_min } }];
}
