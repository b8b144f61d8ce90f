import * as z from 'zod';
import { leftOut, optional, positive, volts, whole } from './key.ts';

const AWG = z.union([z.literal([14, 12, 10, 8, 6, 4, 3, 2, 1]), z.enum(['1/0', '2/0', '3/0', '4/0'])]);
const mm2 = z.literal([2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120]);

export const wiring = z.strictObject({
  bank_cable_length_m: optional(positive(1000))`One way, along the cable | no voltage drop is given`,
  cable_AWG: optional(AWG)`Size of the cable there is; this or cable_mm2 | the smallest that carries the
    current is named`,
  cable_mm2: optional(mm2)`Size of the cable there is; this or cable_AWG | the smallest that carries the
    current is named`,
  cables_parallel: leftOut(whole(1, 12), 1)`Cables on each pole, of each unit where inverters are stacked |
    one cable a pole between bank and inverter`,
  bank_lowest_voltage_V: optional(volts())`Voltage of the bank near empty | 0.875 of the nominal one`,
});
