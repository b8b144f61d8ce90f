/** A plant that can't be is refused where it is made, and where one made by hand is played. */
import { type Plant, playYear } from '@longnight/core';
import { stringFindings } from '@longnight/core/array';
import { sunlessHours } from '@longnight/core/bank';
import { describe, expect, it } from 'vitest';
import { bankConductor } from '../../packages/core/src/wiring/bank-conductor.ts';
import { plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

describe('a nonsense plant', () => {
  it.each<[made: Parameters<typeof plantWith>[0], said: string]>([
    [{ rating_kW: -5 }, 'buildInverter: rating_kW is -5; expected a finite number, 0.000001 or more'],
    [
      { rating_kW: Number.NaN },
      'buildInverter: rating_kW is NaN; expected a finite number, 0.000001 or more',
    ],
    [{ idle_W: -1 }, 'buildInverter: idle_W is -1; expected a finite number, 0 or more'],
    [{ units: 0 }, 'buildInverter: units is 0; expected a finite number, 1 or more'],
    [{ capacity_Ah: -100 }, 'buildBank: module.capacity_Ah is -100; expected a finite number, 0 or more'],
    [
      { modules_parallel: Number.NaN },
      'buildBank: modules_parallel is NaN; expected a finite number, 0 or more',
    ],
    [
      { max_charge_A: Number.POSITIVE_INFINITY },
      'buildBank: module.max_charge_A is Infinity; expected a finite number, 0 or more',
    ],
    [{ floor_soc: 1.2 }, 'buildBank: floor_soc is 1.2; expected 0 to 1'],
    [{ round_trip: 94 }, 'buildBank: round_trip_efficiency_share is 94; expected 0 to 1'],
  ])('as %j is not built', (made, said) => {
    expect(() => plantWith(made)).toThrow(new RangeError(said));
  });

  const sound = plantWith({ size_kWp: 2 });
  const year = yearOf({
    dc_kW_per_kWp: [new Float64Array(48).fill(0.2)],
    load_kW: new Float64Array(48).fill(0.5),
  });
  const bank = (changes: Partial<Plant['bank']>): Plant => ({
    ...sound,
    bank: { ...sound.bank, ...changes },
  });

  it.each<[what: string, plant: Plant, said: string]>([
    ['a floor above the capacity', bank({ floor_kWh: 9 }), 'playYear: bank.floor_kWh is 9; expected 0 to 5'],
    [
      'no capacity at all',
      bank({ capacity_kWh: Number.NaN }),
      'playYear: bank.capacity_kWh is NaN; expected a finite number, 0 or more',
    ],
    [
      'a charge below 0',
      bank({ max_charge_kW: -1 }),
      'playYear: bank.max_charge_kW is -1; expected 0 or more',
    ],
    [
      'more out than in',
      bank({ discharge_efficiency: 1.1 }),
      'playYear: bank.discharge_efficiency is 1.1; expected 0 to 1',
    ],
    [
      'an array below 0',
      { ...sound, arrays: [{ ...sound.arrays[0]!, size_kWp: -2 }] },
      'playYear: arrays[0].size_kWp is -2; expected a finite number, 0 or more',
    ],
    [
      'a rating below 0',
      { ...sound, inverter: { ...sound.inverter, rating_kW: -5 } },
      'playYear: inverter.rating_kW is -5; expected a finite number, 0 or more',
    ],
    [
      'a beginning above full',
      { ...sound, initial_soc: 1.5 },
      'playYear: initial_soc is 1.5; expected 0 to 1',
    ],
  ])('with %s is not played', (_, plant, said) => {
    expect(() => playYear(year, plant)).toThrow(new RangeError(said));
  });

  it.each([
    ['sunlessHours', (plant: Plant) => sunlessHours(year, plant)],
    ['bankConductor', bankConductor],
    ['stringFindings', (plant: Plant) => stringFindings(year, plant)],
  ] as const)('is not asked by %s', (name, ask) => {
    const said = `${name}: bank.floor_kWh is -100; expected 0 to 5`;
    expect(() => ask(bank({ floor_kWh: -100 }))).toThrow(new RangeError(said));
  });

  it('is none as it was', () => {
    expect(playYear(year, sound).steps).toBe(year.clock.steps);
  });
});
