/**
 * An hour is only a unit: a plant with four times the powers, amps and rates, played in quarters of an hour, writes the
 * ledger of the hourly one cell by cell, for every energy of a step is the same. Factors of two are exact in binary
 * arithmetic, so nothing is rounded and nothing is allowed for.
 */
import {
  findings,
  LEDGER_COLUMNS,
  type LoadYear,
  type Plant,
  type PreparedYear,
  playYear,
} from '@longnight/core';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { curvePerStep } from '../../packages/core/src/plant/inverter.ts';
import { headline } from '../../packages/core/src/study/designs/headline.ts';
import { yearFigures } from '../../packages/core/src/study/years/year-figures.ts';
import { banks, type Drawn, drawn, partsWith, withBank, yearWith } from '../support/drawn.ts';
import { figuresOf } from '../support/figures.ts';
import { type Parts, plantWith } from '../support/plant.ts';

/** Quarters of an hour. */
const K = 4;

const times = (column: Float64Array): Float64Array => column.map((x) => K * x);
const each = (columns: readonly Float64Array[]): readonly Float64Array[] => columns.map(times);

/** The same powers in a quarter of the time. */
function quick({ arrays, bank, inverter, charger, generator, shore, ...rest }: Plant): Plant {
  const { model } = bank;
  return {
    ...rest,
    arrays: arrays.map((a) => ({
      ...a,
      max_input_kW: K * a.max_input_kW,
      max_output_kW: K * a.max_output_kW,
    })),
    bank: {
      ...bank,
      max_charge_kW: K * bank.max_charge_kW,
      max_discharge_kW: K * bank.max_discharge_kW,
      module_max_charge_A: K * bank.module_max_charge_A,
      module_max_discharge_A: K * bank.module_max_discharge_A,
      charge_A_at_temperature: bank.charge_A_at_temperature.map((point) => ({
        ...point,
        max_charge_A: K * point.max_charge_A,
      })),
      self_discharge_per_h: K * bank.self_discharge_per_h,
      heater: bank.heater && { ...bank.heater, loss_kW_per_K: K * bank.heater.loss_kW_per_K },
      model:
        model.kind === 'resistive'
          ? { ...model, module_resistance_ohm: model.module_resistance_ohm / K }
          : model.kind === 'kinetic'
            ? { ...model, rate_per_h: K * model.rate_per_h }
            : model,
    },
    inverter: {
      ...inverter,
      rating_kW: K * inverter.rating_kW,
      sleep: inverter.sleep && {
        below_kW: K * inverter.sleep.below_kW,
        search_kW: K * inverter.sleep.search_kW,
      },
      curve: curvePerStep(inverter.curve, K),
    },
    charger: charger && {
      ...charger,
      max_output_kW: K * charger.max_output_kW,
      max_shore_input_kW: K * charger.max_shore_input_kW!,
      max_generator_input_kW: K * charger.max_generator_input_kW!,
    },
    generator: generator && {
      ...generator,
      rating_kW: K * generator.rating_kW,
      min_load_kW: K * generator.min_load_kW,
      min_run_h: generator.min_run_h / K,
      warm_up_h: generator.warm_up_h / K,
      max_run_h_per_day: generator.max_run_h_per_day / K,
      service_every_h: generator.service_every_h && generator.service_every_h / K,
      fuel: {
        ...generator.fuel,
        output_kW: times(generator.fuel.output_kW),
        L_per_h: times(generator.fuel.L_per_h),
      },
    },
    shore: shore && { ...shore, max_kW: K * shore.max_kW },
    alternator_kW: K * rest.alternator_kW,
    others: rest.others.map((other) => ({ ...other, max_output_kW: K * other.max_output_kW })),
  };
}

/** Its days have 24 quarters of an hour. */
function quickYear(year: PreparedYear): PreparedYear {
  const { clock, loads } = year;
  const faster: LoadYear = {
    ...loads,
    tier_kW: each(loads.tier_kW),
    total_kW: times(loads.total_kW),
    dc_tier_kW: loads.dc_tier_kW && each(loads.dc_tier_kW),
    leg_tier_kW: loads.leg_tier_kW?.map(each) ?? null,
    running_kW: loads.running_kW && times(loads.running_kW),
  };
  return {
    ...year,
    clock: { ...clock, step_min: clock.step_min / K, step_h: clock.step_h / K },
    loads: faster,
    others: year.others.map((other) => ({ ...other, power_kW: times(other.power_kW) })),
    arrays: year.arrays.map((array) => ({
      ...array,
      dc_kW_per_kWp: times(array.dc_kW_per_kWp),
      plane_W_m2: times(array.plane_W_m2),
    })),
  };
}

/** A drawn plant with what else counts by the hour; the look ahead to the night is by days of 24 hours and left out. */
function plantOf({ extras, parts }: Drawn, bank: Parameters<typeof withBank>[1]): Plant {
  const p: Parts = withBank(partsWith(parts, extras), bank);
  return plantWith({
    ...p,
    charger: p.charger ? { ...p.charger, max_shore_input_kW: 1.1, max_generator_input_kW: 1.3 } : null,
    generator: p.generator
      ? {
          ...p.generator,
          starts: p.generator.starts?.kind === 'on_shortfall' ? { kind: 'on_shortfall' } : { kind: 'at_soc' },
          service: { every_h: 12 },
        }
      : null,
    derating: extras.cold
      ? {
          temperature: { kind: 'outdoors', above_air_K: 10 },
          points: [
            { temperature_C: 5, share: 1 },
            { temperature_C: 15, share: 0.8 },
          ],
        }
      : undefined,
    bank_life: {
      cycle_life: [
        { depth_share: 0.2, cycles: 9000 },
        { depth_share: 0.8, cycles: 3000 },
      ],
      life_cycles: null,
      life_years: 10,
      end_of_life_share: 0.8,
      end_of_life_resistance_factor: 1,
    },
  });
}

/** What a figure of the report is in quarters of an hour, by its name. */
const factorOf = (path: string): number =>
  /(^|\.)(hours|run_hours)\b|_hours\b|hours_|_h\b/.test(path) ? 1 / K : /_kW\b/.test(path) ? K : 1;

/** Not read off the ledger, or places on a scale of whole hours. */
const ASIDE =
  /^peak\.conflicts|^(run|site|longnight|limits|surge|strings|money|audit|assumptions|notices|cautions|verdict)\b|survival/;

const allOf = (report: object): [string, unknown][] => figuresOf(report, ASIDE);

const inHours = (figures: [string, unknown][]): [string, unknown][] =>
  figures.map(([path, value]) => [path, typeof value === 'number' ? value / factorOf(path) : value]);

describe('a quarter of the time at four times the powers', () => {
  it('gives the same ledger, whatever plant and bank', () => {
    fc.assert(
      fc.property(drawn(true), banks, (one, bank) => {
        const plant = plantOf(one, bank);
        const year = yearWith(one.seed, 60, one.extras);
        const slow = playYear(year, plant);
        const fast = playYear(quickYear(year), quick(plant));
        expect(fast.start_stock_kWh).toBe(slow.start_stock_kWh);
        for (const { name } of LEDGER_COLUMNS) {
          const factor = name === 'generator_run_h' ? 1 / K : 1;
          for (let i = 0; i < slow.steps; i++) {
            if (fast.columns[name][i] !== factor * slow.columns[name][i]!)
              throw new Error(`${name}[${i}]: ${slow.columns[name][i]} and ${fast.columns[name][i]}`);
          }
        }
      }),
      { numRuns: 60, seed: 4 },
    );
  });

  it('gives the same findings, hours a quarter and powers four times as large', () => {
    fc.assert(
      fc.property(drawn(true), banks, (one, bank) => {
        const plant = plantOf(one, bank);
        const year = yearWith(one.seed, 60, one.extras);
        const [fastPlant, fastYear] = [quick(plant), quickYear(year)];
        const slow = playYear(year, plant);
        const fast = playYear(fastYear, fastPlant);
        const hourly = allOf(findings(slow));
        expect(hourly.length).toBeGreaterThan(100);
        expect(inHours(allOf(findings(fast)))).toEqual(hourly);
        expect(inHours(allOf(headline(fast)))).toEqual(allOf(headline(slow)));
        expect(inHours(allOf(yearFigures(fast)))).toEqual(allOf(yearFigures(slow)));
      }),
      { numRuns: 25, seed: 4 },
    );
  });
});
