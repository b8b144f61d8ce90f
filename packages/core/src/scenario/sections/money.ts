import * as z from 'zod';
import { assumed, name } from './terms.ts';

export const money = z.strictObject({
  /** A word to print behind prices; nothing is converted. */
  currency: name(),
  /** Years over which costs are added up. */
  years: z.int().min(1).max(100),
  discount_share_per_year: z.number().min(0).max(1),
  fuel_price_per_L: z.number().min(0).max(1e6).optional(),
  /** Of energy from the socket. */
  shore_price_per_kWh: z.number().min(0).max(1e6).optional(),
  /** What is bought beside the parts. */
  lines: assumed(
    z.array(
      z.strictObject({
        name: name(),
        price: z.number().min(0).max(1e9),
        per: z.enum(['plant', 'panel', 'module', 'kWp', 'kWh']),
      }),
    ),
    [],
    'nothing is bought beside the parts: no mounting, cable, labour or freight',
  ),
});
