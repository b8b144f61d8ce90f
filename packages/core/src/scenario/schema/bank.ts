import * as z from 'zod';
import {
  amps,
  assumed,
  between,
  key,
  kind,
  leftOut,
  list,
  ofFigures,
  ofMoney,
  optional,
  positive,
  share,
  volts,
  whole,
} from './key.ts';
import { life_years, part, price } from './terms.ts';

const openCircuitPoint = z.strictObject({
  soc: key(share())`State of charge, by charge: 0 empty, 1 full`,
  voltage_V: key(volts())`Voltage without current`,
});

/** How a bank loses energy, and what keeps it from giving all it holds at once. */
const bankModel = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: kind('fixed_efficiency')`The same share is lost at any current; the bank gives all that is above its
      floor`,
  }),
  z.strictObject({
    kind: kind('resistive')`For lithium: a voltage that rises with charge, behind a resistance; losses rise
      with current, and amps are worth less near empty`,
    open_circuit: key(list(openCircuitPoint, 2, 50))`Voltage without current against state of charge, from 0
      to 1`,
    cells_series: leftOut(whole(1, 500), 1)`Cells of a module, if the points are of one cell | voltages of
      open_circuit are those of a whole module`,
    resistance_mOhm: key(between(0, 10_000))`Of one module, terminals and electronics included`,
    coulombic_efficiency_share: assumed(between(0.5, 1), 0.99)`Share of the amp-hours put in that comes out
      again | share of the amp-hours put in that comes out again; common practice, no source`,
    end_of_life_resistance_factor: ofFigures(between(1, 100), 2)`Resistance when it is worn over that as new |
      it is taken to be worn at twice its resistance as well as at end_of_life_share; common practice, no
      source; played by run --years and size --at-age only`,
  }),
  z.strictObject({
    kind: kind('kinetic')`For lead-acid: a part of the charge is ready, the rest is bound and comes free at a
      finite rate; less comes out the harder it is drawn on, and some comes back after a rest. State of charge
      and floor_soc are then shares of what it would give drawn on ever so slowly, which is more than its
      rated capacity`,
    capacity_20h_Ah: key(positive(100_000))`What one module gives at constant current in 20 hours;
      module.capacity_Ah is one of the three`,
    capacity_10h_Ah: key(positive(100_000))`What one module gives at constant current in 10 hours`,
    capacity_5h_Ah: key(positive(100_000))`What one module gives at constant current in 5 hours`,
  }),
]);

const olderModules = z.strictObject({
  modules: key(whole(1, 10_000))`How many; they come on top of modules_parallel`,
  capacity_share: key(positive(1))`Share of what a new module stores`,
  resistance_factor: optional(between(1, 100))`Resistance over that of a new module; a resistive bank shares
    its current by it | a resistive bank asks for it`,
});

/** The temperature of a point of a curve. */
const bankPoint_C = () => key(between(-60, 60))`Temperature of the bank`;

const chargeAtTemperature = z.strictObject({
  temperature_C: bankPoint_C(),
  max_charge_A: key(between(0, 100_000))`Most that one module takes`,
});

const capacityAtTemperature = z.strictObject({
  temperature_C: bankPoint_C(),
  share: key(share())`Share of the capacity that can be drawn`,
});

const module = z.strictObject({
  nominal_voltage_V: key(volts())`Nominal voltage`,
  capacity_Ah: key(positive(100_000))`Capacity`,
  max_charge_A: key(amps())`Highest charge current of one module`,
  max_discharge_A: key(amps())`Highest discharge current of one module`,
  peak_discharge_A: optional(amps())`Highest discharge current of one module for moments, at a
    motor's start; for the check of starting loads alone`,
});

const cyclePoint = z.strictObject({
  depth_share: key(positive(1))`Depth of the cycle, share of the capacity`,
  cycles: key(positive(1e7))`Cycles of that depth to the end of life`,
});

const temperature = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: kind('indoors')`In a room`,
    temperature_C: key(between(-60, 60))`Of the room`,
  }),
  z.strictObject({ kind: kind('outdoors')`As cold as the air` }),
]);

const heater = z.strictObject({
  keep_C: key(between(-40, 40))`Temperature at which they hold the bank`,
  loss_W_per_K: key(positive(10_000))`Heat that all modules together lose per kelvin above the air`,
});

export const bank = z.strictObject({
  part,
  price: price('one module'),
  life_years: life_years('Years after which the bank is worn, used or not'),
  life_cycles: optional(positive(1e6))`Equivalent full cycles after which the bank is worn; not used beside
    cycle_life | use does not wear the bank`,
  cycle_life: optional(list(cyclePoint, 1, 50))`Cycles to the end of life against their depth, lowest depth
    first; each cycle of the year wears the bank by what it takes of it | life_cycles wears it`,
  end_of_life_share: ofMoney(between(0.1, 0.99), 0.8)`Capacity left when it is worn | capacity left when the
    stated life is used up; common practice, no source`,
  chemistry: key(z.enum(['lfp', 'lead_acid']))`Lithium iron phosphate, or lead-acid; chooses cautions, and
    defaults of taper and cold`,
  modules_parallel: key(whole(1, 10_000))`Number of modules`,
  module: key(module)`One module, from its data sheet`,
  older: optional(list(olderModules, 1, 20))`Modules bought earlier, in parallel with these; they share the
    current by what they store, those of a resistive bank by their resistance, and the first at its amps
    limits the bank`,
  model: optional(bankModel)`How losses and charge depend on the current | fixed_efficiency`,
  round_trip_efficiency_share: optional(between(0.3, 1))`Energy out over energy in; half of the loss falls to
    each way | a resistive bank works its losses out; others ask for it`,
  floor_soc: key(between(0, 0.99))`State of charge below which nothing is drawn`,
  taper_start_soc: optional(share())`State of charge from which the charge current falls, to full | 0.95 of
    lfp and 0.8 of lead_acid`,
  taper_end_share: assumed(between(0.005, 1), 0.05)`Share of the charge current that is left when full | share
    of the charge current left when full, the tail current at which chargers stop; common practice, no
    source`,
  self_discharge_share_per_month: assumed(between(0, 0.5), 0.03)`Share of the capacity lost in 30 days | a
    month is 30 days; includes the module electronics; common practice, no source`,
  min_charge_temperature_C: optional(between(-60, 40))`Coldest bank that may be charged | 0 of lfp and -20 of
    lead_acid`,
  max_charge_A_at_temperature: optional(list(chargeAtTemperature, 1, 50))`Charge current that one module takes
    at a temperature, coldest first; straight between the points | its max_charge_A wherever it may be
    charged`,
  temperature: key(temperature)`How warm the bank stands`,
  capacity_at_temperature: optional(
    list(capacityAtTemperature, 1, 50),
  )`Share of the capacity that can be drawn at
    a temperature, coldest first; straight between the points | all of it at any temperature`,
  heater: optional(heater)`Built-in heaters of a bank outdoors, fed from the DC side before any load | it is
    as cold as the air`,
});
