/** Inverter against published weights, formulas and curves. */

import { buildInverter, CEC_WEIGHTS, EUROPEAN_WEIGHTS, weightedEfficiency } from '@longnight/core/machines';
import { describe, expect, it } from 'vitest';
import { inputFor } from '../../packages/core/src/plant/inverter.ts';

const sum = (weights: Readonly<Record<number, number>>): number =>
  Object.values(weights).reduce((total, weight) => total + weight, 0);

describe('weighted efficiency of an inverter', () => {
  it('has the weights of the European (JRC Ispra) and Californian (CEC; Bower et al. 2004) efficiency, which sum to 1', () => {
    expect(EUROPEAN_WEIGHTS).toEqual({ 5: 0.03, 10: 0.06, 20: 0.13, 30: 0.1, 50: 0.48, 100: 0.2 });
    expect(CEC_WEIGHTS).toEqual({ 10: 0.04, 20: 0.05, 30: 0.12, 50: 0.21, 75: 0.53, 100: 0.05 });
    expect(sum(EUROPEAN_WEIGHTS)).toBeCloseTo(1, 12);
    expect(sum(CEC_WEIGHTS)).toBeCloseTo(1, 12);
  });

  /**
   * Schmidt & Sauer 1996, Sonnenenergie 4: eta = p / (p + p0 + kv p + kr p²), here with p0 0.01, kv 0.01, kr 0.02 (form
   * recalled; figures computed from it outside this project). Peak 0.9631274 at p = sqrt(p0 / kr).
   */
  const told = { 5: 0.82576, 10: 0.89928, 50: 0.96154, 75: 0.96308, 100: 0.96154 };
  const quadratic = buildInverter({
    units: 1,
    legs: 1,
    rating_kW: 4,
    surge_kW: 8,
    idle_W: 40,
    efficiency: { loss_linear: 0.01, loss_quadratic: 0.02 },
  });
  const at = (share: number): number => (4 * share) / inputFor(quadratic.curve, 4 * share);

  it('of the quadratic loss curve: 0.950055 European, 0.9577554 CEC', () => {
    for (const [percent, eta] of Object.entries(told)) expect(at(Number(percent) / 100)).toBeCloseTo(eta, 4);
    expect(at(Math.sqrt(0.5))).toBeCloseTo(0.9631274, 5);
    // Chords lie above the curve of a loss by up to 2 % × 1/64² / 4 of the rating: 1.2e-6, more in the share of small loads.
    expect(Math.abs(weightedEfficiency(quadratic, EUROPEAN_WEIGHTS) - 0.950055)).toBeLessThan(6e-6);
    expect(Math.abs(weightedEfficiency(quadratic, CEC_WEIGHTS) - 0.9577554)).toBeLessThan(6e-6);
  });

  it('of a data sheet with the very points is their weighted mean, whatever lies between', () => {
    // Invented points in the form of a data sheet: % of load against % of efficiency.
    const sheet: Readonly<Record<number, number>> = {
      5: 86.1,
      10: 91.4,
      20: 94,
      30: 94.8,
      50: 95.2,
      75: 94.9,
      100: 94.1,
    };
    const inverter = buildInverter({
      units: 1,
      legs: 1,
      rating_kW: 3,
      surge_kW: 6,
      idle_W: 20,
      efficiency: {
        points: Object.entries(sheet).map(([percent, eta]) => ({
          load_share: Number(percent) / 100,
          efficiency_share: eta / 100,
        })),
      },
    });
    const european = 0.03 * 86.1 + 0.06 * 91.4 + 0.13 * 94 + 0.1 * 94.8 + 0.48 * 95.2 + 0.2 * 94.1;
    const cec = 0.04 * 91.4 + 0.05 * 94 + 0.12 * 94.8 + 0.21 * 95.2 + 0.53 * 94.9 + 0.05 * 94.1;
    expect(100 * weightedEfficiency(inverter, EUROPEAN_WEIGHTS)).toBeCloseTo(european, 10);
    expect(100 * weightedEfficiency(inverter, CEC_WEIGHTS)).toBeCloseTo(cec, 10);
  });

  it('p0, kv and kr follow from three points in closed form (recalled), and give the points back', () => {
    // eta 0.9, 0.94, 0.92 at 10, 50 and 100 %: p0 0.00913649, kv 0.01329359, kr 0.06452644.
    const [p0, kv, kr] = [0.00913649, 0.01329359, 0.06452644];
    const fitted = buildInverter({
      units: 1,
      legs: 1,
      rating_kW: 1,
      surge_kW: 1,
      idle_W: 1000 * p0,
      efficiency: { loss_linear: kv, loss_quadratic: kr },
    });
    for (const [p, eta] of [
      [0.1, 0.9],
      [0.5, 0.94],
      [1, 0.92],
    ] as const)
      expect(p / inputFor(fitted.curve, p)).toBeCloseTo(eta, 4);
  });
});
