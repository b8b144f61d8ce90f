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
  fuel_price_growth_share_per_year: ofMoney(between(-0.5, 0.5), 0)`By how much fuel gets dearer each year; its
    price is that of today | fuel costs in each year what it costs today`,
  shore_price_growth_share_per_year: ofMoney(between(-0.5, 0.5), 0)`By how much a kWh from the socket gets
    dearer each year; its price is that of today | a kWh from the socket costs in each year what it costs today`,
  residual_share: ofMoney(
    share(),
    0,
  )`What a part that is still new after the last year is worth then, as a share
    of its price; one that is partly worn, or has no stated life, is worth less or nothing | nothing that is
    left after the last year is worth anything`,
  lines: ofMoney(
    list(line, 0, 100),
    [],
  )`What is bought beside the parts | nothing is bought beside the parts: no
    mounting, cable, labour or freight`,
});
