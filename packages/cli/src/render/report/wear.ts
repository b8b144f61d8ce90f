import type { Report } from '@longnight/core';
import { amount, fixed, percent } from '../document/figures.ts';
import { table } from '../document/markdown-text.ts';

type Wear = NonNullable<Report['bank']['wear']>;

const ENDS = { cycles: 'its cycles', calendar: 'its years' } as const;

/** One sentence on how long the bank lasts; nothing where its life is not stated. */
export function wearSentence(wear: Wear | null): string {
  if (wear === null) return '';
  if (wear.years_to_end_of_life === null || wear.worst === null) return ' Nothing in this year wears it.';
  return (
    ` Worn after ${amount(wear.years_to_end_of_life)} such years, by ${ENDS[wear.worst]} ` +
    `(${shares(wear).join(', ')} in this one).`
  );
}

function shares(wear: Wear): string[] {
  const { cycle_life_used_share: cycles, calendar_life_used_share: calendar } = wear;
  return [
    ...(cycles === null ? [] : [`${percent(cycles)} of its cycle life`]),
    ...(calendar === null ? [] : [`${percent(calendar)} of its calendar life`]),
  ];
}

/** Cycles of the year by depth, and what they take of the bank's life. */
export function wearSection(wear: Wear | null): string {
  if (wear === null)
    return 'The scenario states no life of the bank: neither `bank.cycle_life` nor `bank.life_years`.';
  const bands = wear.cycles_by_depth.map((band) => [
    `${fixed(100 * band.depth_from_share, 0)} to ${fixed(100 * band.depth_to_share, 0)}`,
    fixed(band.cycles, 1),
  ]);
  return [
    wearSentence(wear).trimStart(),
    'Cycles are counted by rainflow over the state of charge (ASTM E1049-85); a half counts as 0.5.',
    table([{ title: 'depth, % of capacity' }, { title: 'cycles', figures: true }], bands),
  ].join('\n\n');
}
