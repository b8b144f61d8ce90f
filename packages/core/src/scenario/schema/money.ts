import * as z from 'zod';
import { money as amount, assumed, key, name, optional, text } from './terms.ts';

export const money = optional(
  z.strictObject({
    currency: key(text(), 'Any word, printed behind prices; nothing is converted'),
    years: key(z.int().min(1).max(100), 'Years over which costs are added up'),
    discount_share_per_year: key(
      z.number().min(0).max(1),
      'What a cost is worth less for each year that it is put off',
    ),
    fuel_price_per_L: optional(z.number().min(0).max(1e6), 'Price of a litre of fuel'),
    shore_price_per_kWh: optional(z.number().min(0).max(1e6), 'Price of a kWh from the socket of shore'),
    lines: assumed(
      z.array(
        z.strictObject({
          name,
          price: key(amount(), 'Price for each'),
          per: key(z.enum(['plant', 'panel', 'module', 'kWp', 'kWh']), 'What it is bought for each of'),
        }),
      ),
      'What is bought beside the parts',
      [],
      'nothing is bought beside the parts: no mounting, cable, labour or freight',
    ),
  }),
  'What the plant costs, once every part has a price',
);
