import * as z from 'zod';
import { assumed, life_years, part, positive, price } from './terms.ts';

export const inverter = z.strictObject({
  part,
  price,
  life_years,
  /** Stacked on one bank. Rating, surge, standing draw and price are of one unit. */
  units: assumed(z.int().min(1).max(24), 1, 'one inverter'),
  /** 1: one phase; 2: split phase; 3: three phases. The units are spread over them. */
  legs: assumed(z.int().min(1).max(3), 1, 'one phase: all loads are on the same leg'),
  /** From leg to neutral. */
  output_voltage_V: positive().max(1000).optional(),
  rating_kW: positive(),
  surge_kW: positive(),
  /** Drawn from the bank all the time the inverter is on. */
  standing_W: z.number().min(0).max(10_000),
  efficiency: z.union([
    z.strictObject({
      /** Measured points with the standing loss included, load ascending. */
      points: z
        .array(
          z.strictObject({
            load_share: z.number().positive().max(1),
            efficiency_share: z.number().min(0.1).max(1),
          }),
        )
        .min(1),
    }),
    z.strictObject({
      /** Loss proportional to output, and to its square, as shares of the rating. */
      loss_linear: z.number().min(0).max(1),
      loss_quadratic: z.number().min(0).max(1),
    }),
  ]),
  /** Of one unit of an all-in-one: most that its trackers and its charger put into the bank together. */
  max_total_charge_A: positive().max(10_000).optional(),
  /** Most that all its trackers take from their arrays together, and most that they put out together. */
  max_total_tracker_kW: positive().max(10_000).optional(),
  max_total_tracker_A: positive().max(10_000).optional(),
  /** Asleep while all that may be on draws less than a threshold: it looks for a load with short pulses, and gives nothing. */
  sleep: z
    .strictObject({
      below_W: positive().max(10_000),
      /** Mean draw while it looks. */
      search_W: z.number().min(0).max(10_000),
    })
    .optional(),
  /** What is left of the rating in the heat, ascending; between points on a straight line. */
  derating: z
    .strictObject({
      temperature: z.discriminatedUnion('kind', [
        z.strictObject({ kind: z.literal('indoors'), temperature_C: z.number().min(-60).max(80) }),
        z.strictObject({
          kind: z.literal('outdoors'),
          /** How much warmer than the air it stands. */
          above_air_K: assumed(z.number().min(0).max(40), 0, 'in the shade, as warm as the air'),
        }),
      ]),
      points: z
        .array(
          z.strictObject({ temperature_C: z.number().min(-60).max(100), share: z.number().min(0).max(1) }),
        )
        .min(1),
    })
    .optional(),
});

export const charger = z.strictObject({
  part,
  price,
  life_years,
  /** Highest current the AC charger puts into the bank. */
  max_charge_A: positive(),
  efficiency_share: assumed(z.number().min(0.3).max(1), 0.92, 'AC to DC; common practice, no source'),
  /** Most it draws on circuits of different voltage, ascending; the voltage of socket or generator picks. */
  input_at_voltage: z
    .array(z.strictObject({ voltage_V: positive().max(1000), max_input_W: positive().max(1e6) }))
    .min(1)
    .optional(),
  /** Part of an all-in-one inverter: each unit has one, and these figures are of one. Left out: there is one in a case of its own. */
  built_in: z.boolean().optional(),
});
