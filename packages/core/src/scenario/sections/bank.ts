import * as z from 'zod';
import { bankModel, chargeAtTemperature, olderModules } from './bank-model.ts';
import { assumed, life_years, part, positive, price } from './terms.ts';

const module = z.strictObject({
  nominal_voltage_V: positive().max(1000),
  capacity_Ah: positive().max(100_000),
  max_charge_A: positive().max(100_000),
  max_discharge_A: positive().max(100_000),
  /** For moments, at a motor's start. */
  peak_discharge_A: positive().max(100_000).optional(),
});

export const bank = z.strictObject({
  part,
  /** Of one module. */
  price,
  life_years,
  /** Equivalent full cycles after which the modules are bought again. */
  life_cycles: positive().max(1e6).optional(),
  /** Cycles to the end of life against their depth, ascending; where given, it wears the bank and `life_cycles` does not. */
  cycle_life: z
    .array(z.strictObject({ depth_share: z.number().positive().max(1), cycles: positive().max(1e7) }))
    .min(1)
    .max(50)
    .optional(),
  end_of_life_share: assumed(
    z.number().min(0.1).max(0.99),
    0.8,
    'capacity left when the stated life is used up; common practice, no source',
  ),
  chemistry: z.enum(['lfp', 'lead_acid']),
  modules_parallel: z.int().min(1).max(10_000),
  module,
  /** In addition to `modules_parallel`. */
  older: z.array(olderModules).min(1).max(20).optional(),
  /** Left out, it is `fixed_efficiency`. */
  model: bankModel.optional(),
  /** Of all models but `resistive`, which works its losses out. */
  round_trip_efficiency_share: z.number().min(0.3).max(1).optional(),
  /** State of charge below which nothing is drawn. */
  floor_soc: z.number().min(0).max(0.99),
  /** Charge current falls from here to full. Left out, the chemistry decides: see chemistry.ts. */
  taper_start_soc: z.number().min(0).max(1).optional(),
  taper_end_share: assumed(
    z.number().min(0.005).max(1),
    0.05,
    'share of the charge current left when full, the tail current at which chargers stop; common practice, no source',
  ),
  self_discharge_share_per_month: assumed(
    z.number().min(0).max(0.5),
    0.03,
    'a month is 30 days; includes the module electronics; common practice, no source',
  ),
  /** Coldest bank that may be charged. Left out, the chemistry decides. */
  min_charge_temperature_C: z.number().min(-60).max(40).optional(),
  /** What the modules' electronics let in when they are warmer than that but not warm. */
  max_charge_A_at_temperature: z.array(chargeAtTemperature).min(1).max(50).optional(),
  temperature: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('indoors'), temperature_C: z.number().min(-60).max(60) }),
    z.strictObject({ kind: z.literal('outdoors') }),
  ]),
  /** Share of the capacity that can be drawn at a temperature, ascending; between points on a straight line. */
  capacity_at_temperature: z
    .array(z.strictObject({ temperature_C: z.number().min(-60).max(60), share: z.number().min(0).max(1) }))
    .min(1)
    .optional(),
  /** Built-in heaters of a bank outdoors: they hold it at a temperature from the DC side, before any load. */
  heater: z
    .strictObject({
      keep_C: z.number().min(-40).max(40),
      /** Heat that all modules together lose per kelvin above the air. */
      loss_W_per_K: positive().max(10_000),
    })
    .optional(),
});
