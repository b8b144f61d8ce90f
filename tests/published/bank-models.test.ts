/** Models of a bank against published figures: the kinetic battery, and the voltage of a lithium iron phosphate cell. */
import { fitKinetic, type KineticFit, type KineticModel, sunlessHours } from '@longnight/core/bank';
import { describe, expect, it } from 'vitest';
import { kineticStep } from '../../packages/core/src/plant/bank-kinetic.ts';
import { openCircuit, openCircuit_V } from '../../packages/core/src/plant/bank-resistive.ts';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const kinetic = (available_share: number, rate_per_h: number): KineticModel => ({
  kind: 'kinetic',
  available_share,
  rate_per_h,
});
/** Wells after a step, from the ready one and the whole. */
function wellsAfter(model: KineticModel, q1: number, q2: number, I: number, dt: number): [number, number] {
  const { keeps, gains, per_drawn } = kineticStep(model, dt);
  const q0 = q1 + q2;
  const ready = q1 * keeps + q0 * gains - I * dt * per_drawn;
  return [ready, q0 - I * dt - ready];
}
/** Most that a full battery of `most` gives at constant current within a time. */
function capacity(model: KineticModel, most: number, T_h: number): number {
  const { keeps, gains, per_drawn, available_share } = kineticStep(model, T_h);
  return (available_share * most * keeps + most * gains) / per_drawn;
}

describe('the kinetic battery', () => {
  // Manwell and McGowan 1993, Solar Energy 50, 399-405: values computed from its closed-form step.
  it.each([
    [{ q1: 30, q2: 60, I: 20, dt: 1 }, [13.750848, 56.249152]],
    [{ q1: 20, q2: 50, I: -10, dt: 0.5 }, [24.58312, 50.41688]],
  ])('steps as published: %j', ({ q1, q2, I, dt }, expected) => {
    wellsAfter(kinetic(0.3, 1.2), q1, q2, I, dt).forEach((q, k) => {
      expect(Math.abs(q - expected[k]!)).toBeLessThan(1e-6);
    });
  });

  // The same, values computed from its capacity function, c 0.3, k 1.2 per hour, qmax 100 Ah.
  it.each([
    [1, 42.395],
    [10, 83.721],
    [20, 91.139],
    [100, 98.093],
  ])('gives in %d h what the capacity function says: %d Ah', (T, Ah) => {
    expect(Math.abs(capacity(kinetic(0.3, 1.2), 100, T) - Ah)).toBeLessThan(0.0006);
  });

  // Jongerden and Haverkort 2009; Cloth, Jongerden and Haverkort 2007: lifetimes in minutes, recalled; C = 7200 As,
  // c = 0.625, valve constant 4.5e-5 per second, of which k = valve / (c (1 - c)); 0.96 A, all the time or half of it.
  it.each([
    ['all the time', null, 91],
    ['on and off, once a second', 1, 203],
    ['on and off, once in five seconds', 0.2, 203],
  ] as const)('lasts as long as published at 0.96 A %s', (_, frequency_Hz, minutes) => {
    const model = kinetic(0.625, (3600 * 4.5e-5) / (0.625 * 0.375));
    const step_h = (frequency_Hz === null ? 1 : 0.5 / frequency_Hz) / 3600;
    let [q1, q2] = [0.625 * 2, 0.375 * 2];
    let step = 0;
    for (; q1 > 0; step++) {
      [q1, q2] = wellsAfter(model, q1, q2, frequency_Hz === null || step % 2 === 0 ? 0.96 : 0, step_h);
    }
    expect(Math.abs(60 * step * step_h - minutes)).toBeLessThan(0.5);
  });

  // No outside source: the fit must give back what it was made from.
  it.each([
    [100, 90, 78],
    [120, 110, 95],
    [600, 512, 440],
  ])(
    'fitted to %d, %d and %d Ah, gives these within 20, 10 and 5 hours, also hour by hour',
    (c20, c10, c5) => {
      const fit = fitKinetic(c20, c10, c5) as KineticFit;
      const model = kinetic(fit.available_share, fit.rate_per_h);
      const plant = plantWith({
        capacity_Ah: c20,
        max_discharge_A: c20,
        model: { kind: 'kinetic', capacity_20h_Ah: c20, capacity_10h_Ah: c10, capacity_5h_Ah: c5 },
      });
      for (const [T, Ah] of [
        [20, c20],
        [10, c10],
        [5, c5],
      ] as const) {
        expect(Math.abs(capacity(model, fit.most, T) - Ah)).toBeLessThan(1e-6 * Ah);
        const lasts = (factor: number): number => {
          const load_kW = new Float64Array(48).fill((factor * Ah * 50) / 1000 / T);
          return sunlessHours(yearOf({ dc_kW_per_kWp: [new Float64Array(48)], load_kW }), plant).hours[0]!;
        };
        // The hour in which it ends counts in the share that was carried of it, slower than at full current.
        expect(lasts(1 - 1e-6)).toBeGreaterThanOrEqual(T);
        expect(lasts(1 + 1e-5)).toBeLessThan(T);
      }
    },
  );

  it('is found again by its fit from what the published parameters give', () => {
    const of = (T: number): number => capacity(kinetic(0.3, 1.2), 100, T);
    const fit = fitKinetic(of(20), of(10), of(5)) as KineticFit;
    expect(fit.most).toBeCloseTo(100, 4);
    expect(fit.available_share).toBeCloseTo(0.3, 4);
    expect(fit.rate_per_h).toBeCloseTo(1.2, 4);
  });
});

describe('the voltage of a lithium iron phosphate cell', () => {
  // Sunil, Pattipati and Balasingam 2025, IEEE TIM: piecewise-linear open-circuit voltage of an 18650 cell at C/32.
  const POINTS = [
    [0, 2.0102],
    [0.0033, 2.4177],
    [0.0117, 2.7405],
    [0.0267, 2.9299],
    [0.0534, 3.0872],
    [0.0885, 3.1942],
    [0.2972, 3.2772],
    [0.9833, 3.3511],
    [0.995, 3.418],
    [1, 3.5981],
  ].map(([soc, voltage_V]) => ({ soc: soc!, voltage_V: voltage_V! }));
  const line = (soc: number): number => {
    const k = POINTS.findIndex((point) => point.soc >= soc);
    const [low, high] = [POINTS[Math.max(0, k - 1)]!, POINTS[Math.max(1, k)]!];
    return low.voltage_V + ((soc - low.soc) / (high.soc - low.soc)) * (high.voltage_V - low.voltage_V);
  };
  /** Energy up to a state of charge, by small steps. */
  function energy(soc: number): number {
    const n = 20_000;
    let sum = 0;
    for (let i = 0; i < n; i++) sum += line(((i + 0.5) / n) * soc);
    return (sum * soc) / n;
  }

  it.each([
    [0.1, 3.1988],
    [0.5, 3.299],
    [0.9, 3.3421],
  ])('at %d of its charge is %d V, looked up by the energy that it then holds', (soc, voltage_V) => {
    const curve = openCircuit(POINTS, 1);
    expect(Math.abs(openCircuit_V(curve, energy(soc) / energy(1)) - voltage_V)).toBeLessThan(6e-5);
    expect(curve.mean_V).toBeCloseTo(energy(1), 6);
    // Sixteen of them.
    expect(
      Math.abs(openCircuit_V(openCircuit(POINTS, 16), energy(soc) / energy(1)) - 16 * voltage_V),
    ).toBeLessThan(16 * 6e-5);
  });
});
