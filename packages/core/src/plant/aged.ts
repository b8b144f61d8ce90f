import { expectArgument } from '../basis/arguments.ts';
import { ampsAtVolts_kW } from '../basis/units.ts';
import { expectWithin } from '../basis/within.ts';
import { type Bank, moduleVoltage_V } from './bank.ts';
import type { BankLife } from './bank-life.ts';
import type { Plant } from './plant.ts';

/**
 * A plant some years on. Of the bank three things age, each on a straight line over the life used: what it stores, and
 * with it the floor, which is a share of it, and what a kinetic bank has ready; the resistance of a resistive one; and
 * with the resistance the volts at which its amps count. Amps themselves stay: they are what its electronics or its
 * charger are set to. So do the efficiency of a bank that has no resistance, self-discharge and the shape of the taper.
 * Older modules age as the new ones. Common practice, no source.
 *
 * @param life_used_share of the bank, 0 to 1; a bank without a stated life does not age
 * @param array_share of each array's output left, in the order of the arrays
 */
export function agedPlant(plant: Plant, life_used_share: number, array_share: readonly number[]): Plant {
  expectArgument('agedPlant', 'plant', plant, 'plant');
  expectArgument('agedPlant', 'array_share', array_share, 'list');
  const count = plant.arrays.length;
  expectWithin('agedPlant', 'array_share.length', array_share.length, count, count);
  expectWithin('agedPlant', 'life_used_share', life_used_share, 0, 1);
  return {
    ...plant,
    arrays: plant.arrays.map((array, a) => {
      expectWithin('agedPlant', `array_share[${a}]`, array_share[a]!, 0, 1);
      return { ...array, size_kWp: array.size_kWp * array_share[a]! };
    }),
    bank: plant.bank_life === null ? plant.bank : agedBank(plant.bank, plant.bank_life, life_used_share),
  };
}

function agedBank(bank: Bank, life: BankLife, used_share: number): Bank {
  const left_share = 1 - (1 - life.end_of_life_share) * used_share;
  const less: Bank = {
    ...bank,
    capacity_kWh: bank.capacity_kWh * left_share,
    floor_kWh: bank.floor_kWh * left_share,
  };
  if (bank.model.kind !== 'resistive') return less;
  const factor = 1 + (life.end_of_life_resistance_factor - 1) * used_share;
  const model = { ...bank.model, module_resistance_ohm: bank.model.module_resistance_ohm * factor };
  const all_kW = (module_A: number): number =>
    ampsAtVolts_kW(
      bank.current_modules * Math.abs(module_A),
      moduleVoltage_V({ model, nominal_voltage_V: bank.nominal_voltage_V }, module_A),
    );
  return {
    ...less,
    model,
    max_charge_kW: all_kW(bank.module_max_charge_A),
    max_discharge_kW: all_kW(-bank.module_max_discharge_A),
  };
}
