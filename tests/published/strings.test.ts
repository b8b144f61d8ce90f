/** Panels in series: the code's table, a printed example, and the data sheet's coefficient beside them. */

import { openVoltage_V, type PanelString, workingVoltage_V } from '@longnight/core/array';
import { coldVoltageFactor, SHORT_CIRCUIT_FACTOR } from '@longnight/core/wiring';
import { describe, expect, it } from 'vitest';
import { workingCoefficient_per_K, workingRange } from '../../packages/core/src/plant/panel-string.ts';

const PANEL = {
  voc_V: 38.9,
  vmp_V: 32.6,
  isc_A: 11.2,
  imp_A: 10.6,
  voc_temperature_coefficient_per_K: -0.004,
};

/** NFPA 70 (NEC) Table 690.7(A), crystalline and multicrystalline silicon: warm and cold end of a row, factor. */
const TABLE: readonly (readonly [number, number, number])[] = [
  [24, 20, 1.02],
  [19, 15, 1.04],
  [14, 10, 1.06],
  [9, 5, 1.08],
  [4, 0, 1.1],
  [-1, -5, 1.12],
  [-6, -10, 1.14],
  [-11, -15, 1.16],
  [-16, -20, 1.18],
  [-21, -25, 1.2],
  [-26, -30, 1.21],
  [-31, -35, 1.23],
  [-36, -40, 1.25],
];

describe('NEC Table 690.7(A)', () => {
  it.each(TABLE)('from %d to %d °C: %d', (warm, cold, factor) => {
    expect(coldVoltageFactor(warm)).toBe(factor);
    expect(coldVoltageFactor(cold)).toBe(factor);
    // The table has whole degrees; between two rows the colder one counts.
    expect(coldVoltageFactor(cold - 0.5)).not.toBe(factor);
  });
  it('has no factor below -40 °C, and none is needed from 25 °C up', () => {
    expect(coldVoltageFactor(-40.1)).toBeNull();
    expect(coldVoltageFactor(25)).toBe(1);
  });
  it('is 0.4 %/K at the cold end of each row down to -25 °C, and up to 1 % less below', () => {
    for (const [, cold, factor] of TABLE) {
      const difference = openVoltage_V(PANEL, cold) / PANEL.voc_V - factor;
      if (cold >= -25) expect(Math.abs(difference)).toBeLessThan(1e-9);
      else expect(difference).toBeCloseTo(0.01, 9);
    }
  });
  it('stands above a panel of today (-0.26 %/K) by 0.7 % at 20 °C, 5.6 % at -20 °C and 7 % at -40 °C', () => {
    const today = { ...PANEL, voc_temperature_coefficient_per_K: -0.0026 };
    const above = (cold: number): number =>
      100 * (coldVoltageFactor(cold)! / (openVoltage_V(today, cold) / today.voc_V) - 1);
    console.info(
      `table of the code over -0.26 %/K: ${TABLE.map(([, cold]) => `${cold} °C ${above(cold).toFixed(1)} %`).join(', ')}`,
    );
    expect(above(20)).toBeCloseTo(0.69, 2);
    expect(above(-20)).toBeCloseTo(5.64, 2);
    expect(above(-40)).toBeCloseTo(6.93, 2);
  });
});

describe('printed examples', () => {
  it('two modules of 38.9 V at -20 °C: 91.8 V (course example, factor 1.18)', () => {
    expect(Math.abs(2 * 38.9 * coldVoltageFactor(-20)! - 91.8)).toBeLessThan(0.05);
    // The coefficient that the table stands for gives the same.
    expect(Math.abs(2 * openVoltage_V(PANEL, -20) - 91.8)).toBeLessThan(0.05);
  });
  it('NEC 690.8: 11.2 A of short-circuit current are 14.0 A, and 17.5 A for what carries them', () => {
    expect(Math.abs(11.2 * Math.sqrt(SHORT_CIRCUIT_FACTOR) - 14)).toBeLessThan(0.01);
    expect(Math.abs(11.2 * SHORT_CIRCUIT_FACTOR - 17.5)).toBeLessThan(0.01);
  });
});

describe('working voltage', () => {
  it('is the data sheet’s at 25 °C, loses as many volts a kelvin as the open one, and is never negative', () => {
    expect(workingVoltage_V(PANEL, 25)).toBe(32.6);
    const lost = PANEL.voc_V - openVoltage_V(PANEL, 65);
    expect(32.6 - workingVoltage_V(PANEL, 65)).toBeCloseTo(lost, 9);
    expect(workingCoefficient_per_K({ ...PANEL, vmp_temperature_coefficient_per_K: -0.005 })).toBe(-0.005);
    expect(workingVoltage_V(PANEL, 1000)).toBe(0);
  });
  it('crosses the limits of the tracker at the ends of its range, and nowhere else', () => {
    const string: PanelString = { panel: PANEL, in_series: 5, strings: 1 };
    const { from_C, to_C } = workingRange(string, { max_V: 190, min_V: 130, max_A: null });
    expect(5 * workingVoltage_V(PANEL, from_C)).toBeCloseTo(190, 9);
    expect(5 * workingVoltage_V(PANEL, to_C)).toBeCloseTo(130, 9);
    expect(from_C).toBeLessThan(to_C);
    const open = workingRange({ ...string, in_series: null }, { max_V: 190, min_V: 130, max_A: null });
    expect(open).toEqual({ from_C: Number.NEGATIVE_INFINITY, to_C: Number.POSITIVE_INFINITY });
  });
  it('without a coefficient fits at every temperature or at none', () => {
    const steady = { ...PANEL, voc_temperature_coefficient_per_K: 0 };
    const string: PanelString = { panel: steady, in_series: 2, strings: 1 };
    const range = (min_V: number, max_V: number) => workingRange(string, { min_V, max_V, max_A: null });
    expect(range(60, 70).from_C).toBe(Number.NEGATIVE_INFINITY);
    expect(range(66, 70).from_C).toBe(Number.POSITIVE_INFINITY);
    expect(range(60, 65).from_C).toBe(Number.POSITIVE_INFINITY);
  });
});
