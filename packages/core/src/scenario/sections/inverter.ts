import * as z from 'zod';
import { assumed, life_years, part, positive, price } from './terms.ts';

export const inverter = z.strictObject({
  part,
  price,
  life_years,
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
});

export const charger = z.strictObject({
  part,
  price,
  life_years,
  /** Highest current the AC charger puts into the bank. */
  max_charge_A: positive(),
  efficiency_share: assumed(z.number().min(0.3).max(1), 0.92, 'AC to DC; common practice, no source'),
});
