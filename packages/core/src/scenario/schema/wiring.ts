import * as z from 'zod';
import { assumed, optional, positive } from './terms.ts';

export const wiring = optional(
  z.strictObject({
    bank_cable_length_m: optional(
      positive().max(1000),
      'One way, along the cable',
      'no voltage drop is given',
    ),
    cable_AWG: optional(
      z.union([z.literal([14, 12, 10, 8, 6, 4, 3, 2, 1]), z.enum(['1/0', '2/0', '3/0', '4/0'])]),
      'Size of the cable there is; this or cable_mm2',
      'the smallest that carries the current is named',
    ),
    cable_mm2: optional(
      z.literal([2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120]),
      'Size of the cable there is; this or cable_AWG',
      'the smallest that carries the current is named',
    ),
    cables_parallel: assumed(
      z.int().min(1).max(12),
      'Cables on each pole, of each unit where inverters are stacked',
      1,
      'one cable a pole between bank and inverter',
    ),
    bank_lowest_voltage_V: optional(
      positive().max(1000),
      'Voltage of the bank near empty',
      '0.875 of the nominal one',
    ),
  }),
  'Cable between bank and inverter, for what check says of it; nothing of it is played',
);
