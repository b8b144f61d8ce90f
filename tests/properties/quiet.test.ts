/** Quiet steps are a faster way to what `settle` gives: every column of any plant, to rounding; a row has the same. */
import { LEDGER_COLUMNS, newReusedColumns, playYear } from '@longnight/core';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { playRow } from '../../packages/core/src/hours/play.ts';
import type { RowColumn } from '../../packages/core/src/ledger/ledger.ts';
import { banks, drawn, partsWith, withBank, yearWith } from '../support/drawn.ts';
import { plantWith } from '../support/plant.ts';

const ROW: readonly RowColumn[] = [
  'load_wanted_kWh',
  'unmet_kWh',
  'array_available_kWh',
  'curtailed_kWh',
  'bank_discharge_kWh',
  'bank_soc',
  'generator_run_h',
  'fuel_L',
  'shore_kWh',
];

it('quiet steps give what settling each step gives', () => {
  let quietly = 0;
  fc.assert(
    fc.property(fc.boolean().chain(drawn), banks, fc.boolean(), (drawnOne, bank, isPlain) => {
      // Legs and banks of other models have no quiet steps.
      const extras = isPlain ? { ...drawnOne.extras, places: false } : drawnOne.extras;
      const one = { ...drawnOne, extras };
      const parts = isPlain ? one.parts : withBank(one.parts, bank);
      const plant = plantWith(partsWith(parts, one.extras));
      const year = yearWith(one.seed, one.step_min, one.extras);
      const desk = newReusedColumns(year.clock.steps);
      const quick = playYear(year, plant, desk);
      const slow = playYear(year, plant, { ...newReusedColumns(year.clock.steps), quiet_kWh: null });
      if (isPlain && desk.need_kWh.some(Number.isFinite)) quietly++;
      for (const { name } of LEDGER_COLUMNS) {
        const [a, b] = [quick.columns[name], slow.columns[name]];
        for (let i = 0; i < a.length; i++) {
          if (!(Math.abs(a[i]! - b[i]!) <= 1e-12))
            throw new Error(`${name} of step ${i}: ${a[i]} and ${b[i]}`);
        }
      }
      const ofRow = playRow(year, plant, newReusedColumns(year.clock.steps)).columns;
      for (const name of ROW) expect(ofRow[name], name).toEqual(quick.columns[name]);
    }),
    { numRuns: 120, seed: 11 },
  );
  expect(quietly).toBeGreaterThan(25);
});
