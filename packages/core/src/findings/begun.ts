import type { Assumption, Notice } from '../basis/notices.ts';
import type { Ledger } from '../ledger/ledger.ts';

const percent = (soc: number): string => `${Number((100 * soc).toFixed(1))} %`;

/** How the played year began, as the report lists it among what it rests on. */
export function beginningOf({ plant, begun, start_stock_kWh, end }: Ledger): Assumption {
  const { bank, initial_soc } = plant;
  const path = 'run.initial_soc';
  const from = start_stock_kWh / bank.capacity_kWh;
  const to = end.stock_kWh / bank.capacity_kWh;
  switch (begun.kind) {
    case 'closed':
      return {
        path,
        value: null,
        why: `the year closes: bank, generator, tank and loads begin it in the state in which they end it, the bank at ${percent(from)}`,
        kind: 'default',
      };
    case 'not_closed':
      return {
        path,
        value: null,
        why: notClosed(begun.rounds, from, to, gap_kWh(start_stock_kWh, end.stock_kWh)),
        kind: 'default',
      };
    case 'given':
      return {
        path,
        value: initial_soc,
        why: `the year begins with a bank at ${percent(from)} and ends with one at ${percent(to)}: ${gap_kWh(start_stock_kWh, end.stock_kWh)}`,
        kind: 'model',
      };
  }
}

function gap_kWh(from_kWh: number, to_kWh: number): string {
  const gained = to_kWh - from_kWh;
  if (gained === 0) return 'it holds what it held';
  return `${Number(Math.abs(gained).toPrecision(3))} kWh ${gained > 0 ? 'more' : 'less'} than it held`;
}

const notClosed = (rounds: number, from: number, to: number, gap: string): string =>
  `the year does not close: after ${rounds} such years in a row the bank still begins it at ${percent(from)} and ends it at ` +
  `${percent(to)}, ${gap}${from === to ? ', with the generator, a tank or a load in another state' : ''}`;

/** Said beside the report where the year was meant to close and did not. */
export function beginningNotices({ plant, begun, start_stock_kWh, end }: Ledger): readonly Notice[] {
  const { bank } = plant;
  if (begun.kind !== 'not_closed') return [];
  const [from, to] = [start_stock_kWh / bank.capacity_kWh, end.stock_kWh / bank.capacity_kWh];
  return [
    {
      id: 'year-not-closed',
      message: `run: ${notClosed(begun.rounds, from, to, gap_kWh(start_stock_kWh, end.stock_kWh))}; figures of the year hold that much too much or too little`,
      count: 1,
    },
  ];
}
