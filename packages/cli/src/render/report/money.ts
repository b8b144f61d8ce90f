import type { Report } from '@longnight/core';
import { figureColumns, type Section } from '../document/document.ts';
import { price } from '../document/figures.ts';
import { lyingBars } from '../drawing/bars.ts';
import { figure } from '../drawing/page-svg.ts';
import { billTable, lifetimeSums, type Money, moneySentence, presentValues } from './bill.ts';

/** What the plant costs to buy and over the years; nothing where the scenario has no prices. */
export function moneySection({ money }: Report): Section[] {
  if (money === null) return [];
  const on = ['markdown', 'page'] as const;
  const overTheYears = money.total !== null;
  return [
    {
      id: 'money',
      title: 'Money',
      sentence: moneySentence(money),
      blocks: [
        ...(overTheYears
          ? [
              { kind: 'drawing' as const, draw: () => [costBars(money)] },
              { kind: 'text' as const, on, text: `Present values: ${presentValues(money)}` },
              {
                kind: 'table' as const,
                on,
                caption: `Present values, ${money.currency}`,
                folded: 'till_printed' as const,
                columns: [{ title: 'what' }, ...figureColumns([money.currency])],
                rows: lifetimeSums(money).map(([what, value]) => [what, price(value)]),
              },
            ]
          : []),
        { ...billTable('Bill of materials', money.currency, money.bill, money.capital), on },
      ],
    },
  ];
}

/** What the cost over the years is made of. */
function costBars(money: Money): string {
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
    description: bars.map((bar) => `${bar.name}: ${bar.figure}`).join('; '),
    caption: `Present values, ${money.currency}.`,
  };
  return figure(chart, (room) => lyingBars(bars, 'f-socket e-socket', room));
}
