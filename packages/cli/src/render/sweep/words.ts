import type { DesignFigureName } from '@longnight/core';
import { combinations } from '@longnight/core/study';
import type { SweepDigest } from '../../sweep/digest.ts';
import type { SweepManifest } from '../../sweep/manifest.ts';
import { figure, type NumberedRow } from '../../sweep/rows.ts';
import { present } from '../document/document.ts';
import { figureText, unitOf, wordsOf } from '../document/figure-words.ts';
import { amount, counted, fixed, percent } from '../document/figures.ts';
import { axesText } from '../document/key-words.ts';
import { plain } from '../document/plain-text.ts';

/** The figures that the table may show, the most telling first: those at the end give way when it gets too wide. */
export const TELLING: readonly DesignFigureName[] = [
  'dangers',
  'unmet.energy_kWh',
  'unmet.hours',
  'generator.run_hours',
  'money.capital',
  'money.total',
  'bank.lowest_soc',
  'autonomy.sunless_hours.least',
];

/** The same where rows are chosen by their price. */
export const PRICED = [...TELLING].sort(
  (a, b) => Number(b === 'money.capital') - Number(a === 'money.capital'),
);

/** The word behind prices; empty without any. */
export const currencyOf = ({ currency }: SweepManifest): string => plain(currency ?? '');

/** What was played. */
export function playedWords({ axes, designs, part }: SweepManifest, { list }: SweepDigest): string {
  const all = combinations(axes);
  const whole = counted(designs, 'design');
  const sampled = designs < all ? ` (an even sample of ${fixed(all, 0)} combinations)` : '';
  const share = part === null ? '' : `Part ${part.number} of ${part.of}, ${list.count} of `;
  return `${share}${whole}${sampled}: ${axesText(axes)}`;
}

/** By which rule the rows shown were chosen; null if all are. */
export function ruleWords(digest: SweepDigest): string | null {
  const { rows, rule: by, of } = digest.shown();
  const { count } = digest.list;
  if (by === 'front') return frontWords(count, { rows, of });
  return by === 'all'
    ? null
    : `Shown: ${rows.length} of ${counted(count, 'design')}, spread evenly over the values.`;
}

/** How many designs no other beats, and what that means. */
export const frontWords = (
  count: number,
  { rows, of }: { readonly rows: readonly NumberedRow[]; readonly of: number },
): string =>
  `${of} of ${counted(count, 'design')} ${of === 1 ? 'is' : 'are'} beaten by no other: every one cheaper to buy leaves ` +
  `more unmet, or as much with more generator hours. ${rows.length < of ? `${rows.length} of them are shown.` : of === 1 ? 'It is shown.' : 'They are shown.'}`;

/** The telling figures that do not differ; null if there are none. */
export function sameInAllWords(made: SweepManifest, digest: SweepDigest): string | null {
  if (digest.played < 2) return null;
  const same = TELLING.filter(
    // How many are dangers has a sentence of its own; that none is was not found out.
    (name) => name !== 'dangers' && digest.range(name).count > 0 && digest.same(name),
  ).map((name) =>
    `${wordsOf(name)} ${figureText(name, digest.range(name).least)} ${unitOf(name, currencyOf(made))}`.trimEnd(),
  );
  return same.length === 0 ? null : `The same in all: ${same.join('; ')}.`;
}

/** `in the median year`; empty where one is played. */
export const inMedian = ({ years }: SweepManifest): string => (years === null ? '' : ' in the median year');

/** `, in none of 100 years`: what holding means where many years are played. */
const inAny = ({ years }: SweepManifest): string => (years === null ? '' : ` in any of ${years.count} years`);

/** How many designs leave nothing unmet, and which of them is cheapest or smallest. */
export function holdingWords(made: SweepManifest, digest: SweepDigest): string {
  const { holding: held, cheapest, dangerous } = digest;
  if (digest.played === 0) return 'No design could be played.';
  const played = digest.played - dangerous;
  if (played === 0) return 'Every design played is a danger.';
  const those = dangerous === 0 ? '' : ' in which no danger was found';
  if (held === 0)
    return made.years === null
      ? `Every design${those} leaves something unmet${shareWords(digest)}.`
      : `Every design${those} leaves something unmet in one of ${made.years.count} years or more${mostHeld(made, digest)}.`;
  if (held === played) return `No design${those} leaves anything unmet${inAny(made)}.`;
  const some = `${held} of ${played} designs${those} ${held === 1 ? 'leaves' : 'leave'} nothing unmet${inAny(made)}`;
  if (cheapest === null || digest.range('money.capital').count < digest.played)
    return `${some}${sizes(digest)}.`;
  const price =
    `${figureText('money.capital', figure(cheapest, 'money.capital'))} ${currencyOf(made)}`.trimEnd();
  return `${some}; the cheapest of them to buy is design ${cheapest.index + 1} at ${price}.`;
}

/** In how many years the one holds that holds in most. */
const mostHeld = ({ years }: SweepManifest, { leastUnmet: row, yearsHeld }: SweepDigest): string =>
  row === null ? '' : `; design ${row.index + 1} holds in most, ${yearsHeld(row)} of ${years!.count}`;

const shareWords = (digest: SweepDigest): string => {
  // Of designs that are dangers the least is no answer.
  const row = digest.leastUnmet;
  const least = row === null ? Number.NaN : figure(row, 'unmet.share');
  return Number.isFinite(least) ? `, at least ${percent(least)} of what the loads want` : '';
};

/** The smallest of those that leave nothing unmet, where sizes differ. */
function sizes(digest: SweepDigest): string {
  const words = (row: NumberedRow): string =>
    `design ${row.index + 1}, ${amount(figure(row, 'array.size_kWp'))} kWp with ${amount(figure(row, 'bank.usable_kWh'))} kWh usable`;
  const { smallestArray: array, smallestBank: bank } = digest;
  const found = present([
    array && !digest.same('array.size_kWp') && `the smallest array among them: ${words(array)}`,
    bank && !digest.same('bank.usable_kWh') && `the smallest bank: ${words(bank)}`,
  ]);
  return found.map((text) => `; ${text}`).join('');
}

/** How many designs are dangers, and how they are told; null if none was found. */
export function dangerWords({ dangerous, firstDangerous: first, played }: SweepDigest): string | null {
  if (first === null) return null;
  return (
    `${dangerous} of ${counted(played, 'design')} played ${dangerous === 1 ? 'is a danger: it' : 'are dangers: they'} can destroy a part or start a fire. ` +
    `The first is design ${first.index + 1}; the column dangers marks them, longnight check says what they are, and no sentence here recommends one.`
  );
}

/** What was not played, and why; null if all was. */
export function contradictionWords({ contradictory, firstContradiction: first }: SweepDigest): string | null {
  if (first === null) return null;
  const [were, their] = contradictory === 1 ? ['was', 'its'] : ['were', 'their'];
  return (
    `${counted(contradictory, 'design')} ${were} not played, because ${their} values contradict each other; ` +
    `design ${first.index + 1}: ${plain(first.contradiction ?? '')}`
  );
}
