/**
 * What no plant can beat: a linear program that sees every dark hour of several drawn years at once chooses array and
 * bank as real numbers at least cost, nothing unmet in any of the years. Whatever is sized by playing costs at least
 * that; and because a greedy year without a generator serves what any can, the whole panels and modules above its sizes
 * hold, so that the sized plant costs at most one step of each more. Solver: HiGHS, a general-purpose LP solver.
 */
import { prepareYear, readScenario, varyPlant } from '@longnight/core';
import { inYear, readAxes, readRequirement } from '@longnight/core/study';
import highsLoader from 'highs';
import { expect, it } from 'vitest';
import { chooseDesign } from '../../packages/core/src/study/size/size.ts';

const YEARS = [5, 6, 7].map((seed) => ({ kind: 'drawn', seed }) as const);
const KWP_A_PANEL = 0.5;
/** A price is one number for a step of a size: nothing else is bought. */
const PRICES = { panel: 110, module: 900 };
const MODULE_kWh = 2.4;

const text = `
site: { name: invented, latitude_deg: 52, longitude_deg: 15, elevation_m: 300, time_zone: Etc/GMT-1 }
weather:
  kind: monthly_means
  ghi_kWh_m2_day: [0.6, 1.2, 2.5, 4.0, 5.0, 5.3, 5.1, 4.4, 3.0, 1.6, 0.8, 0.45]
  air_temperature_C: [0, 1, 5, 9, 14, 17, 19, 19, 14, 10, 5, 1]
  seed: 5
arrays:
  - name: a
    panels: 8
    panel_kWp: ${KWP_A_PANEL}
    price: ${PRICES.panel}
    tilt_deg: 60
    azimuth_deg: 180
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
    tracker: { max_power_kW: 900, max_charge_A: 90000, efficiency_share: 0.97, price: 0 }
bank:
  chemistry: lfp
  modules_parallel: 2
  price: ${PRICES.module}
  module: { nominal_voltage_V: 48, capacity_Ah: ${(MODULE_kWh * 1000) / 48}, max_charge_A: 20, max_discharge_A: 40 }
  round_trip_efficiency_share: 0.9
  floor_soc: 0.1
  taper_start_soc: 1
  taper_end_share: 1
  self_discharge_share_per_month: 0
  min_charge_temperature_C: -50
  temperature: { kind: indoors, temperature_C: 20 }
inverter: { rating_kW: 9, surge_kW: 9, idle_W: 0, price: 0, efficiency: { loss_linear: 0.06, loss_quadratic: 0 } }
money: { currency: coins, years: 1, discount_share_per_year: 0 }
loads: [{ kind: daily, name: all, energy_kWh_day: 2.4, shape: flat }]
run: { year: 2025 }
`;

/** Least cost over sizes and every way to run them, from November to February of each year. */
function leastCost(): string {
  const read = readScenario(text, 'bound.yaml');
  const rows: string[] = [];
  const bounds: string[] = ['p >= 0', 'b >= 0'];
  const loss = Math.sqrt(0.9);
  YEARS.forEach((possible, y) => {
    const year = prepareYear({ ...read, scenario: inYear(read.scenario, possible) }, 'bound.yaml', new Map());
    let before: string | null = null;
    for (let i = 0; i < year.clock.steps; i++) {
      const month = year.clock.month[i]!;
      if (month > 2 && month < 11) {
        before = null;
        continue;
      }
      const id = `${y}_${i}`;
      const sun = year.arrays[0]!.dc_kW_per_kWp[i]! * 0.97;
      // c into the bank, d out of it, e in store at the end of the hour; sun may be left unused.
      rows.push(`${sun} p - c${id} + d${id} >= ${1.06 * year.loads.total_kW[i]!}`);
      // The first hour of a stretch begins with what it likes: that only makes the bound lower.
      if (before !== null) rows.push(`e${id} - e${before} - ${loss} c${id} + ${1 / loss} d${id} = 0`);
      rows.push(`e${id} - ${MODULE_kWh} b <= 0`, `e${id} - ${0.1 * MODULE_kWh} b >= 0`);
      rows.push(`c${id} - 0.96 b <= 0`, `d${id} - 1.92 b <= 0`);
      before = id;
    }
  });
  const cost = `${PRICES.panel / KWP_A_PANEL} p + ${PRICES.module} b`;
  return `Minimize\n obj: ${cost}\nSubject To\n${rows.map((row, k) => ` r${k}: ${row}`).join('\n')}\nBounds\n ${bounds.join('\n ')}\nEnd\n`;
}

// The package's types describe its CommonJS form; what Node imports here is the function itself.
const loadSolver = highsLoader as unknown as typeof highsLoader.default;

it('no plant sized over drawn years costs less than a linear program that sees them all, nor a step more', async () => {
  const solved = (await loadSolver()).solve(leastCost());
  if (solved.Status !== 'Optimal') throw new Error(solved.Status);
  const panels = Number(solved.Columns.p!.Primal) / KWP_A_PANEL;
  const modules = Number(solved.Columns.b!.Primal);
  const axes = readAxes([
    `arrays[0].panels=${Math.floor(panels / 2)}:${Math.ceil(panels) + 4}:1`,
    `bank.modules_parallel=1:${Math.ceil(modules) + 3}:1`,
  ]);
  const designs = [
    ...varyPlant({ text, file: 'bound.yaml', partsTexts: new Map() }, axes, {
      years: YEARS,
    }),
  ];
  const answer = chooseDesign(designs, {
    holds: [readRequirement('unmet.energy_kWh<=0.000001', ['unmet.energy_kWh'])],
    least: 'money.capital',
    years_to_hold: YEARS.length,
  });
  const cost = answer.tried(answer.best!)!.least!;
  console.log(
    `bound ${solved.ObjectiveValue.toFixed(1)} with ${panels.toFixed(2)} panels and ${modules.toFixed(2)} modules; sized ${cost} as ${designs[answer.best!]!.values.join(' and ')}, of ${designs.length} designs`,
  );
  expect(cost).toBeGreaterThanOrEqual(solved.ObjectiveValue - 1e-6);
  expect(cost).toBeLessThanOrEqual(
    Math.ceil(panels) * PRICES.panel + Math.ceil(modules) * PRICES.module + 1e-6,
  );
  // The year closes, the bank at its last hour is that of its first: the designs of the edge are not the answer.
  expect(designs[answer.best!]!.values[0]).toBeLessThan(axes[0]!.values.at(-1) as number);
});
