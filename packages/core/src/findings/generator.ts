import type { Notice } from '../basis/notices.ts';
import { localDate } from '../clock/clock.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { Scenario } from '../scenario/schema/schema.ts';
import type { Report } from './report.ts';
import { byMonth, shareOf, total } from './totals.ts';

/** Run-hours, starts, fuel, services due; null without a generator. */
export function generatorFindings(ledger: Ledger): Report['generator'] {
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
export function generatorStepNotices({ generator, run }: Scenario): readonly Notice[] {
  if (generator === undefined) return [];
  const { step_min } = run;
  const times: readonly (readonly [words: string, minutes: number])[] = [
    ['warm-up', generator.warm_up_min],
    ['shortest run', 60 * generator.min_run_h],
  ];
  const fits = (minutes: number, step: number): boolean =>
    Math.abs(minutes / step - Math.round(minutes / step)) < 1e-9;
  const coarse = times.filter(([, minutes]) => !fits(minutes, step_min));
  if (coarse.length === 0) return [];
  const finer = STEPS_min.filter((step) => step < step_min);
  const step = finer.find((one) => times.every(([, minutes]) => fits(minutes, one))) ?? finer.at(-1);
  if (step === undefined) return [];
  const what = coarse
    .map(([words, minutes]) => `${words} of ${Number(minutes.toPrecision(6))} min`)
    .join(' and ');
  return [
    {
      id: 'generator-step',
      message:
        `the generator's ${what} ${coarse.length === 1 ? 'is' : 'are'} played in steps of ${step_min} min, at whose edges ` +
        `it starts and stops: its run-hours and fuel come out other, as a rule higher. Tune them with run.step_min: ${step}`,
      count: coarse.length,
    },
  ];
}
