import type { BillLine, Report } from '@longnight/core';
import { type ColumnOf, figures, present, type Table, tableOf } from '../document/document.ts';
import { counted, fixed, percent, price } from '../document/figures.ts';
import { pricedYears } from './notice-words.ts';

export type Money = NonNullable<Report['money']>;
type YearCost = Money['by_year'][number];

/** Counts are whole but for lines priced per kWp or kWh. */
const countText = (line: BillLine): string => fixed(line.count, Number.isInteger(line.count) ? 0 : 2);

/** A column of prices shows fractions in all rows or in none. */
const decimalsOf = (lines: readonly BillLine[]): number =>
  lines.every(({ price_each, total }) => Number.isInteger(price_each ?? 0) && Number.isInteger(total ?? 0))
    ? 0
    : 2;

/** Why there is no sum; empty if there is one. */
export const notPriced = (unpriced: readonly string[]): string =>
  unpriced.length === 0
    ? ''
    : `No total: ${unpriced.length === 1 ? 'this has' : 'these have'} no price: ${unpriced.join(', ')}. ` +
      'Give each a price; 0 for what is paid for with another part.';

/** What the money comes to, in a sentence or two. */
export function moneySentence(money: Money): string {
  const { currency, capital, total, years, years_priced, discount_share_per_year } = money;
  if (capital === null) return notPriced(money.unpriced);
  const buy = `${price(capital)} ${currency} to buy`;
  if (total === null)
    return `${buy}. ${notPriced(money.unpriced).replace('No total', 'No sum over the years')}`;
  const each =
    money.per_served_kWh === null ? '' : `, ${price(money.per_served_kWh)} ${currency} a kWh served`;
  const own =
    years_priced === 1
      ? ''
      : years_priced === years
        ? ', each by its own use'
        : `, ${years_priced} of them by their own use`;
  return (
    `${buy}; ${price(total)} over ${counted(years, 'year')}${own}, discounted at ` +
    `${percent(discount_share_per_year)} a year${each}.`
  );
}

/** The sum of a bill. */
export const billSum = (bill: readonly BillLine[], capital: number): string =>
  fixed(capital, decimalsOf(bill));

/** A bill of materials: count, price of one, of all, life. */
export const billTable = (
  title: string,
  currency: string,
  bill: readonly BillLine[],
  capital: number | null,
): Table =>
  tableOf(
    `${title}, ${currency}`,
    bill,
    [
      ['item', (line) => line.item],
      [figures('count'), countText],
      [figures('each'), (line) => fixed(line.price_each, decimalsOf(bill))],
      [figures('total'), (line) => fixed(line.total, decimalsOf(bill))],
      ['lasts', lifeText],
    ],
    capital === null ? {} : { sums: ['all', '', '', billSum(bill, capital), ''] },
  );

/** What the plant costs over the years and per what it gives, the sums that concern it. */
export const lifetimeSums = (money: Money): readonly (readonly [string, number | null])[] =>
  present([
    ['to buy', money.capital],
    ['parts bought again when they are worn', money.replacements],
    ['fuel', money.fuel],
    money.shore !== 0 && ['power from the socket', money.shore],
    ['service of the generator', money.service],
    [`all over ${counted(money.years, 'year')}`, money.total],
    money.residual !== 0 && ['taken off in it: what is left of the parts', money.residual],
    ['all, per kWh served (levelised)', money.per_served_kWh],
    ['to buy, per kWh of usable bank', money.per_usable_kWh],
    ['to buy, per kW of continuous AC output', money.per_output_kW],
  ]);

/** How those sums are made. */
export const presentValues = (money: Money): string =>
  'yearly costs fall at the end of their year, and a part is bought again at the moment at which it is worn. ' +
  (money.residual === 0
    ? 'A part that is left over after the last year counts for nothing. '
    : 'What is left of a part after the last year is taken off, as far as its life is not used up. ') +
  `Labour and freight are not paid a second time. ${pricedYears(money)}`;

/** What each year pays, and all of them together. */
export function yearCosts({ currency, by_year }: Money): Table {
  const all = by_year.reduce(addedCosts);
  const paid = (value: number): string => fixed(value, all.total < 1000 ? 2 : 0);
  const columns: readonly ColumnOf<YearCost>[] = present([
    [figures('parts'), ({ replacements }) => paid(replacements)],
    [figures('fuel'), ({ fuel }) => paid(fuel)],
    all.shore > 0 && [figures('socket'), ({ shore }) => paid(shore)],
    [figures('service'), ({ service }) => paid(service)],
    [figures('all'), ({ total }) => paid(total)],
    [figures('worth today'), ({ present_value }) => paid(present_value)],
    [figures('served', 'kWh'), ({ served_kWh }) => fixed(served_kWh, 0)],
  ]);
  return tableOf(
    `What each year pays, ${currency} of that year, and what that is worth today`,
    by_year,
    [['year', ({ year }) => `${year}`], ...columns],
    { sums: ['all', ...columns.map(([, text]) => text(all, 0))] },
  );
}

const addedCosts = (a: YearCost, b: YearCost): YearCost => ({
  year: b.year,
  served_kWh: a.served_kWh + b.served_kWh,
  replacements: a.replacements + b.replacements,
  fuel: a.fuel + b.fuel,
  shore: a.shore + b.shore,
  service: a.service + b.service,
  total: a.total + b.total,
  present_value: a.present_value + b.present_value,
});

/** `15 years or 5000 cycles`. */
function lifeText({ life }: BillLine): string {
  const ends = present([
    life?.years != null && `${fixed(life.years, Number.isInteger(life.years) ? 0 : 1)} years`,
    life?.cycles != null && `${fixed(life.cycles, 0)} full cycles`,
    life?.run_h != null && `${fixed(life.run_h, 0)} run-hours`,
  ]);
  return ends.length === 0 ? 'as long as the plant' : ends.join(' or ');
}
