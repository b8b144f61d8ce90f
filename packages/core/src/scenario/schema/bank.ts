import * as z from 'zod';
import { bankModel, capacityAtTemperature, chargeAtTemperature, olderModules } from './bank-model.ts';
import { assumed, key, kind, life_years, optional, part, positive, price } from './terms.ts';

const module = z.strictObject({
  nominal_voltage_V: key(positive().max(1000), 'Nominal voltage'),
  capacity_Ah: key(positive().max(100_000), 'Capacity'),
  max_charge_A: key(positive().max(100_000), 'Highest charge current of one module'),
  max_discharge_A: key(positive().max(100_000), 'Highest discharge current of one module'),
  peak_discharge_A: optional(
    positive().max(100_000),
    "Highest discharge current of one module for moments, at a motor's start; for the check of starting loads alone",
  ),
});

export const bank = z.strictObject({
  part,
  price: price('one module'),
  life_years: life_years('Years after which the bank is worn, used or not'),
  life_cycles: optional(
    positive().max(1e6),
    'Equivalent full cycles after which the modules are bought again; not used beside cycle_life',
    'use does not wear the bank',
  ),
  cycle_life: optional(
    z
      .array(
        z.strictObject({
          depth_share: key(z.number().positive().max(1), 'Depth of the cycle, share of the capacity'),
          cycles: key(positive().max(1e7), 'Cycles of that depth to the end of life'),
        }),
      )
      .min(1)
      .max(50),
    'Cycles to the end of life against their depth, lowest depth first; each cycle of the year wears the bank by what it takes of it',
    'life_cycles wears it',
  ),
  end_of_life_share: assumed(
    z.number().min(0.1).max(0.99),
    'Capacity left when it is worn',
    0.8,
    'capacity left when the stated life is used up; common practice, no source',
  ),
  chemistry: key(
    z.enum(['lfp', 'lead_acid']),
    'Lithium iron phosphate, or lead-acid; chooses cautions, and defaults of taper and cold',
  ),
  modules_parallel: key(z.int().min(1).max(10_000), 'Number of modules'),
  module: key(module, 'One module, from its data sheet'),
  older: optional(
    z.array(olderModules).min(1).max(20),
    'Modules bought earlier, in parallel with these; they share the current by what they store, those of a resistive bank by their resistance, and the first at its amps limits the bank',
  ),
  model: optional(bankModel, 'How losses and charge hang on the current', 'fixed_efficiency'),
  round_trip_efficiency_share: optional(
    z.number().min(0.3).max(1),
    'Energy out over energy in; half of the loss falls to each way',
    'a resistive bank works its losses out; others ask for it',
  ),
  floor_soc: key(z.number().min(0).max(0.99), 'State of charge below which nothing is drawn'),
  taper_start_soc: optional(
    z.number().min(0).max(1),
    'State of charge from which the charge current falls, to full',
    '0.95 of lfp and 0.8 of lead_acid',
  ),
  taper_end_share: assumed(
    z.number().min(0.005).max(1),
    'Share of the charge current that is left when full',
    0.05,
    'share of the charge current left when full, the tail current at which chargers stop; common practice, no source',
  ),
  self_discharge_share_per_month: assumed(
    z.number().min(0).max(0.5),
    'Share of the capacity lost in 30 days',
    0.03,
    'a month is 30 days; includes the module electronics; common practice, no source',
  ),
  min_charge_temperature_C: optional(
    z.number().min(-60).max(40),
    'Coldest bank that may be charged',
    '0 of lfp and -20 of lead_acid',
  ),
  max_charge_A_at_temperature: optional(
    z.array(chargeAtTemperature).min(1).max(50),
    'Charge current that one module takes at a temperature, coldest first; straight between the points',
    'its max_charge_A wherever it may be charged',
  ),
  temperature: key(
    z.discriminatedUnion('kind', [
      z.strictObject({
        kind: kind('indoors', 'In a room'),
        temperature_C: key(z.number().min(-60).max(60), 'Of the room'),
      }),
      z.strictObject({ kind: kind('outdoors', 'As cold as the air') }),
    ]),
    'How warm the bank stands',
  ),
  capacity_at_temperature: optional(
    z.array(capacityAtTemperature).min(1),
    'Share of the capacity that can be drawn at a temperature, coldest first; straight between the points',
    'all of it at any temperature',
  ),
  heater: optional(
    z.strictObject({
      keep_C: key(z.number().min(-40).max(40), 'Temperature at which they hold the bank'),
      loss_W_per_K: key(
        positive().max(10_000),
        'Heat that all modules together lose per kelvin above the air',
      ),
    }),
    'Built-in heaters of a bank outdoors, fed from the DC side before any load',
    'it is as cold as the air',
  ),
});
