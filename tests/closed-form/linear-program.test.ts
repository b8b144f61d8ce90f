/**
 * An exact outside check of the hour loop. Without a generator the greedy settlement serves as much energy as any
 * dispatch can, so a linear program over the whole year, which sees every hour at once, must find the same unmet
 * energy. Solver: HiGHS (the `highs` package), a general-purpose LP solver. Losses are linear and standing loss, taper
 * and self-discharge are off; amps, ratings, trackers, floor, cold hours and start SoC are on.
 */
import { audit, type Plant, type PreparedYear, playYear } from '@longnight/core';
import highsLoader from 'highs';
import { describe, expect, it } from 'vitest';
import { plantWith } from '../support/plant.ts';
import { randomYear, stream } from '../support/random.ts';
import { yearOf } from '../support/year.ts';

/** Energy at the trackers' DC side, computed here anew from the plant's numbers. */
function trackedEnergy(year: PreparedYear, plant: Plant, i: number): number {
  return plant.arrays.reduce((sum, t, a) => {
    const offered = year.arrays[a]!.dc_kW_per_kWp[i]! * t.size_kWp;
    return sum + Math.min(Math.min(offered, t.max_input_kW) * t.efficiency, t.max_output_kW);
  }, 0);
}

/** The year as a linear program in the solver's text form: least unmet energy over all ways to run the plant. */
function linearProgram(year: PreparedYear, plant: Plant, dc_per_ac: number): string {
  const { bank, inverter } = plant;
  const rows: string[] = [];
  const bounds: string[] = [];
  const served: string[] = [];
  for (let i = 0; i < year.clock.steps; i++) {
    const cold = year.bank_temperature_C[i]! < bank.min_charge_temperature_C;
    // s served, c into the bank, d out of it, e in store at the end of the hour. Sun may be left unused.
    rows.push(` bus${i}: ${dc_per_ac} s${i} + c${i} - d${i} <= ${trackedEnergy(year, plant, i)}`);
    const before = i === 0 ? '' : `- e${i - 1} `;
    const start = i === 0 ? plant.start_soc * bank.capacity_kWh : 0;
    rows.push(
      ` e_${i}: e${i} ${before}- ${bank.charge_efficiency} c${i} + ${1 / bank.discharge_efficiency} d${i} = ${start}`,
    );
    bounds.push(` 0 <= s${i} <= ${Math.min(year.loads.total_kW[i]!, inverter.rating_kW)}`);
    bounds.push(` 0 <= c${i} <= ${cold ? 0 : bank.max_charge_kW}`);
    bounds.push(` 0 <= d${i} <= ${bank.max_discharge_kW}`);
    bounds.push(` ${bank.floor_kWh} <= e${i} <= ${bank.capacity_kWh}`);
    served.push(`s${i}`);
  }
  return `Maximize\n obj: ${served.join(' + ')}\nSubject To\n${rows.join('\n')}\nBounds\n${bounds.join('\n')}\nEnd\n`;
}

// The package's types describe its CommonJS form; what Node imports here is the function itself.
const loadSolver = highsLoader as unknown as typeof highsLoader.default;

const CASES = 8;

describe('a whole year against a linear program', async () => {
  const highs = await loadSolver();
  for (let seed = 1; seed <= CASES; seed++) {
    it(`random plant ${seed}: same unmet energy`, () => {
      const draw = stream(seed);
      const between = (low: number, high: number): number => low + (high - low) * draw();
      const given = randomYear(draw, 8760, 2);
      const year = yearOf(given);
      const loss_linear = between(0, 0.15);
      const mean = given.load_kW.reduce((sum, kW) => sum + kW, 0) / 8760;
      const tracked = (): Plant['arrays'][number] => {
        const size_kWp = mean * between(2, 9);
        return {
          name: 'a',
          size_kWp,
          max_input_kW: size_kWp * between(0.5, 1.1),
          max_charge_A: 0,
          max_output_kW: size_kWp * between(0.4, 1.1),
          efficiency: between(0.9, 1),
        };
      };
      const plant = plantWith({
        arrays: [tracked(), tracked()],
        voltage_V: 51.2,
        capacity_Ah: mean * between(100, 1500),
        max_charge_A: mean * between(40, 200),
        max_discharge_A: mean * between(25, 120),
        round_trip: between(0.7, 1),
        floor_soc: between(0, 0.4),
        rating_kW: mean * between(1, 3),
        loss_linear,
        min_charge_temperature_C: 0,
        start_soc: between(0.4, 1),
      });
      const ledger = playYear(year, plant);
      const ours = ledger.columns.unmet_kWh.reduce((sum, x) => sum + x, 0);
      const wanted = ledger.columns.load_wanted_kWh.reduce((sum, x) => sum + x, 0);
      const solved = highs.solve(linearProgram(year, plant, 1 + loss_linear));
      expect(solved.Status).toBe('Optimal');
      const theirs = wanted - solved.ObjectiveValue;
      console.log(
        `plant ${seed}: wanted ${wanted.toFixed(1)}, unmet ours ${ours.toFixed(6)}, LP ${theirs.toFixed(6)} kWh, difference ${(ours - theirs).toExponential(1)}`,
      );
      expect(ours).toBeGreaterThan(wanted * 1e-3); // a case in which nothing is unmet would compare nothing
      expect(Math.abs(ours - theirs)).toBeLessThan(1e-6 * wanted);
      expect(Math.abs(ours - theirs)).toBeLessThan(1e-6 * ours + 1e-5);
      expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-9);
    });
  }
});
