import type { Mending, Scenario } from '@longnight/core';
import type { ChangedValue, TriedChange } from '@longnight/core/study';
import { amount, counted, fixed, hours, kWh, socPercent } from '../document/figures.ts';

export interface MendShown {
  readonly mending: Mending;
  /** As it stands, before any change. */
  readonly scenario: Scenario;
}

/** What was changed, in words: `one more module, 6 times`, `one more module and a lower floor`. */
export function changeWords({ changes }: Pick<TriedChange, 'changes'>): string {
  const ids = [...new Set(changes.map((change) => change.id))];
  return ids
    .map((id) => {
      const same = changes.filter((change) => change.id === id);
      return same.length === 1 ? same[0]!.words : `${same[0]!.words}, ${same.length} times`;
    })
    .join(' and ');
}

/** What to write into the scenario, as YAML on one line: `bank.modules_parallel: 5`. */
export function typedWords(values: readonly ChangedValue[]): string {
  const scales = values.filter(({ path }) => /^loads\[\d+\]\.scale$/.test(path));
  const rest = values
    .filter((value) => !scales.includes(value))
    .map(({ path, value }) => `${path}: ${yaml(value)}`);
  const [first] = scales;
  if (first === undefined) return rest.join(', ');
  const same = scales.every(({ value }) => value === first.value);
  const under = `under each of the ${counted(scales.length, 'load')}`;
  return [...rest, same ? `scale: ${yaml(first.value)} ${under}` : `scale × 0.9 ${under}`].join(', ');
}

/** A value in the flow style of YAML. */
function yaml(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(yaml).join(', ')}]`;
  if (typeof value === 'object' && value !== null)
    return `{ ${Object.entries(value)
      .map(([key, inside]) => `${key}: ${yaml(inside)}`)
      .join(', ')} }`;
  return typeof value === 'string' && !/^[A-Za-z][\w.-]*$/.test(value)
    ? JSON.stringify(value)
    : String(value);
}

/** How the plant stands now. */
export function nowWords({ now, holds }: Mending): string {
  const generator =
    now.generator_run_h === null ? 'no generator' : `the generator runs ${hours(now.generator_run_h)}`;
  const unmet = holds ? 'nothing is unserved' : `${kWh(now.unmet_kWh)} unserved in ${hours(now.unmet_hours)}`;
  return `${unmet}; ${generator}; lowest charge ${socPercent(now.lowest_soc)} %.`;
}

/** What a change costs, as a sentence without its capital and its stop. */
function costWords(tried: TriedChange, currency: string): string {
  if (tried.extra_money === null) return 'no price is known for it';
  if (tried.extra_money === 0) return 'it costs nothing on the bill';
  return tried.extra_money > 0
    ? `it costs ${amount(tried.extra_money)} ${currency} more`
    : `it costs ${amount(-tried.extra_money)} ${currency} less`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The answer in sentences: what mends the plant, or what comes closest. */
export function answerWords({ mending }: MendShown): string[] {
  const { helping, pairs, repeated, together, mended_by, currency, now } = mending;
  if (mending.holds)
    return [
      helping.length === 0
        ? 'Nothing to mend: the plant holds, and no change here saves generator hours or leaves more in the bank.'
        : 'Nothing to mend: the plant holds. Changes are ranked by the generator hours they save, then by the lowest ' +
          'charge they leave.',
    ];
  const answers: string[] = [];
  const menders = helping.filter((tried) => tried.mends);
  if (mended_by !== null) {
    const among = [...helping, ...pairs, ...repeated, ...together].filter((tried) => tried.mends);
    const isEngine = ({ outcome }: TriedChange): boolean =>
      now.generator_run_h === null && outcome.generator_run_h !== null;
    if (menders.length === 0) answers.push('No single change does.');
    else if (menders.every(isEngine) && !isEngine(mended_by))
      answers.push('No single change but a generator does.');
    const isCheapest = mended_by.extra_money !== null && among.length > 1;
    const what = changeWords(mended_by);
    const price = currency === null ? '' : ` ${capital(costWords(mended_by, currency))}.`;
    answers.push(
      `${isCheapest ? 'The cheapest of those that do' : 'This does'}: ${what} (${typedWords(mended_by.values)}).${price}`,
    );
    const careful = new Set(mended_by.changes.map((change) => change.caution));
    for (const caution of careful) if (caution !== null) answers.push(`${capital(caution)}.`);
    const others = among.filter((tried) => tried !== mended_by).slice(0, 3);
    if (others.length > 0) answers.push(`So would ${others.map(changeWords).join('; or ')}.`);
  } else {
    answers.push(
      'Nothing here does: no change alone, none made again and again, no two together, no array and bank together.',
    );
  }
  const [pair] = pairs;
  if (pair !== undefined && pair !== mended_by && !pair.mends)
    answers.push(
      `The best pair, ${changeWords(pair)}, leaves ${kWh(pair.outcome.unmet_kWh)} of ${kWh(now.unmet_kWh)}.`,
    );
  const [best] = helping;
  if (mended_by === null && pair === undefined && best !== undefined)
    answers.push(`The most that one does: ${changeWords(best)} leaves ${kWh(best.outcome.unmet_kWh)}.`);
  return answers;
}

/** Over what array and bank do together. */
export const TOGETHER = 'Array and bank together';

/** How many changes were dropped as dangers; null if none was. */
export const droppedWords = ({ dropped_dangerous: dropped }: Mending): string | null =>
  dropped === 0
    ? null
    : `${counted(dropped, 'change')}, alone or with others, ${dropped === 1 ? 'was' : 'were'} dropped: the plant would be a danger.`;

/** Every change that is shown with a row of its own. */
export const shownTries = ({ helping, repeated, pairs, together }: Mending): readonly TriedChange[] => [
  ...helping,
  ...repeated,
  ...pairs,
  ...together,
];

/** Everything that a reader must know about the changes shown, each once. */
export function cautionsOf(shown: readonly TriedChange[]): string[] {
  const by = new Map<string, Set<string>>();
  for (const change of shown.flatMap((tried) => tried.changes)) {
    if (change.caution === null) continue;
    by.set(change.caution, (by.get(change.caution) ?? new Set()).add(change.words.split(':')[0]!));
  }
  return [...by].map(([caution, words]) => `${[...words].join(', ')}: ${caution}`);
}

/** Before and after; what would look alike, though it is not, with the difference. */
function fromTo(before: number, after: number): string {
  const [from, to] = [amount(before), amount(after)];
  const less = before - after;
  if (from !== to || Math.abs(less) < 1e-6) return `${from} → ${to}`;
  return `${from} ${less > 0 ? '−' : '+'} ${amount(Math.abs(less))}`;
}

/** One figure of the table, before and after. */
interface MendColumn {
  readonly title: string;
  readonly cell: (tried: TriedChange) => string;
}

/** The columns that say something for this plant. */
export function columnsOf({ now, holds, currency }: Mending): readonly MendColumn[] {
  const columns: MendColumn[] = [];
  const priced = currency !== null;
  if (!holds) {
    columns.push({
      title: 'unmet kWh',
      cell: ({ outcome }) => fromTo(now.unmet_kWh, outcome.unmet_kWh),
    });
  } else {
    columns.push({
      title: 'lowest %',
      cell: ({ outcome }) => `${fixed(100 * now.lowest_soc, 1)} → ${fixed(100 * outcome.lowest_soc, 1)}`,
    });
  }
  if (now.generator_run_h !== null)
    columns.push({
      title: 'run h',
      cell: ({ outcome }) => `${amount(now.generator_run_h)} → ${amount(outcome.generator_run_h)}`,
    });
  if (!holds && now.unmet_higher_tiers_kWh !== null)
    columns.push({
      title: 'higher tiers',
      cell: ({ outcome }) => amount(outcome.unmet_higher_tiers_kWh),
    });
  if (priced) {
    columns.push({ title: `${currency}`, cell: ({ extra_money }) => amount(extra_money) });
    if (!holds)
      columns.push({ title: 'per kWh', cell: ({ money_per_removed_kWh }) => amount(money_per_removed_kWh) });
  }
  return columns;
}
