import type { Report } from '@longnight/core';
import { type Block, FILES, figures, type Section, tableOf, textsOf } from '../document/document.ts';
import { price } from '../document/figures.ts';
import { barsSaid, lyingBars } from '../drawing/bars.ts';
import { drawing } from '../drawing/page-svg.ts';
import { billTable, lifetimeSums, type Money, moneySentence, presentValues, yearCosts } from './bill.ts';

/** What the plant costs to buy and over the years; nothing where the scenario has no prices. */
export function moneySection({ money }: Report): Section[] {
  if (money === null) return [];
  const { currency, bill, capital } = money;
  const overTheYears = (): Block[] => [
    costBars(money),
    ...textsOf([`Present values: ${presentValues(money)}`], FILES),
    {
      ...tableOf(`Present values, ${currency}`, lifetimeSums(money), [
        ['what', ([what]) => what],
        [figures(currency), ([, value]) => price(value)],
      ]),
      on: FILES,
      folded: 'till_printed',
    },
    { ...yearCosts(money), on: FILES, folded: true },
  ];
  const blocks: Block[] = [
    ...(money.total === null ? [] : overTheYears()),
    { ...billTable('Bill of materials', currency, bill, capital), on: FILES },
  ];
  return [{ id: 'money', title: 'Money', sentence: moneySentence(money), blocks }];
}

/** What the cost over the years is made of. */
function costBars(money: Money): Block {
  const sums = lifetimeSums(money);
  const parts = sums.slice(
    0,
    sums.findIndex(([, value]) => value === money.total && value !== money.capital),
  );
  const bars = (parts.length === 0 ? sums.slice(0, 1) : parts)
    .filter(([, value]) => value !== null)
    .map(([name, value]) => ({ name, value: value!, figure: price(value) }));
  const chart = {
    id: 'cost',
    title: `What the cost over the years is made of, ${money.currency}`,
    description: barsSaid(bars),
    caption: `Present values, ${money.currency}.`,
  };
  return drawing(chart, (room) => lyingBars(bars, 'f-socket e-socket', room));
}
