import * as z from 'zod';
import { money as amount, between, key, list, ofMoney, optional, share, text, whole } from './key.ts';
import { name } from './terms.ts';

const line = z.strictObject({
  name,
  price: key(amount())`Price for each`,
  per: key(z.enum(['plant', 'panel', 'module', 'kWp', 'kWh']))`What it is bought for each of`,
});

export const money = z.strictObject({
  currency: key(text())`Any word, printed behind prices; nothing is converted`,
  years: key(whole(1, 100))`Years over which costs are added up`,
  discount_share_per_year: key(share())`What a cost is worth less for each year that it is put off`,
  fuel_price_per_L: optional(between(0, 1e6))`Price of a litre of fuel`,
  shore_price_per_kWh: optional(between(0, 1e6))`Price of a kWh from the socket of shore`,
  lines: ofMoney(
    list(line, 0, 100),
    [],
  )`What is bought beside the parts | nothing is bought beside the parts: no
    mounting, cable, labour or freight`,
});
