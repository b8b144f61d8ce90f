import { expectArgument } from '../basis/arguments.ts';
import { expectWithin, FINITE } from '../basis/within.ts';
import type { Plant } from './plant.ts';

const ANY = Number.POSITIVE_INFINITY;

/**
 * Refuses a plant that can't be: made by hand, or varied by `{ ...plant, … }`, it has passed no check of a scenario.
 *
 * @throws RangeError naming the first figure that is out of its bounds
 */
export function expectSound(where: string, plant: Plant): void {
  const { arrays, bank, inverter, charger, generator, shore } = plant;
  const expect = (name: string, value: number, least: number, most: number): void =>
    expectWithin(where, name, value, least, most);
  for (const [name, value] of Object.entries({ arrays, bank, inverter }))
    expectArgument(where, `plant.${name}`, value, name === 'arrays' ? 'list' : 'object');
  for (let k = 0; k < arrays.length; k++) {
    expectArgument(where, `plant.arrays[${k}]`, arrays[k], 'object');
    const array = arrays[k]!;
    expect(`arrays[${k}].size_kWp`, array.size_kWp, 0, FINITE);
    expect(`arrays[${k}].max_input_kW`, array.max_input_kW, 0, ANY);
    expect(`arrays[${k}].max_output_kW`, array.max_output_kW, 0, ANY);
    expect(`arrays[${k}].efficiency`, array.efficiency, 0, 1);
  }
  expect('bank.capacity_kWh', bank.capacity_kWh, 0, FINITE);
  expect('bank.floor_kWh', bank.floor_kWh, 0, bank.capacity_kWh);
  expect('bank.max_charge_kW', bank.max_charge_kW, 0, ANY);
  expect('bank.max_discharge_kW', bank.max_discharge_kW, 0, ANY);
  expect('bank.charge_efficiency', bank.charge_efficiency, 0, 1);
  expect('bank.discharge_efficiency', bank.discharge_efficiency, 0, 1);
  expect('inverter.rating_kW', inverter.rating_kW, 0, FINITE);
  expect('inverter.curve.idle', inverter.curve.idle, 0, FINITE);
  if (charger !== null) {
    expect('charger.max_output_kW', charger.max_output_kW, 0, ANY);
    expect('charger.efficiency', charger.efficiency, 0, 1);
  }
  if (generator !== null) {
    expect('generator.rating_kW', generator.rating_kW, 0, FINITE);
    expect('generator.min_load_kW', generator.min_load_kW, 0, generator.rating_kW);
    expect('generator.stop_soc', generator.stop_soc, 0, 1);
  }
  if (shore !== null) expect('shore.max_kW', shore.max_kW, 0, ANY);
  expect('alternator_kW', plant.alternator_kW, 0, ANY);
  if (plant.initial_soc !== null) expect('initial_soc', plant.initial_soc, 0, 1);
}
