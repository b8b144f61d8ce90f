import * as z from 'zod';
import { assumed, positive } from './terms.ts';

/** The cable between bank and inverter. */
export const wiring = z.strictObject({
  /** One way, along the cable. */
  bank_cable_length_m: positive().max(1000).optional(),
  cable_AWG: z
    .union([z.literal([14, 12, 10, 8, 6, 4, 3, 2, 1]), z.enum(['1/0', '2/0', '3/0', '4/0'])])
    .optional(),
  cable_mm2: z.literal([2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120]).optional(),
  cables_parallel: assumed(z.int().min(1).max(12), 1, 'one cable a pole between bank and inverter'),
  /** Of the bank near empty; without it a share of the nominal voltage. */
  bank_lowest_voltage_V: positive().max(1000).optional(),
});
