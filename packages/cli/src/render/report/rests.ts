import type { Report } from '@longnight/core';
import { scenarioKeys } from '@longnight/core/scenario';
import { type ColumnOf, FILES, present, type Section, tableOf, textsOf } from '../document/document.ts';
import { counted, imbalance } from '../document/figures.ts';
import { type Counted, countedOnce } from './assumption-groups.ts';
import { WIRED_BY } from './dangers.ts';
import type { ReportContext } from './document.ts';

/** What a report stands on. */

/** What the groups are called, in the order in which they are read. */
const GROUPS = {
  verdict_most: 'Could change the verdict by much',
  verdict: 'Could change the verdict where it is close',
  run_hours: 'Could change hours and fuel of the generator',
  money: 'Could change the money',
  figures: 'Could change figures beside the answer',
  nothing: 'What it means that a key is left out',
} as const satisfies Readonly<Record<Counted['moves'], string>>;

/** Read first of those that could change the verdict. */
const FIRST = [
  'weather.source',
  'losses.snow_share',
  'model.sky.air_temperature',
  'model.sky.order',
  'run.initial_soc',
];
const rank = ({ path }: Counted): number =>
  (FIRST.findIndex((name) => path.endsWith(name)) + FIRST.length + 1) % (FIRST.length + 1);

/** What a loss comes from, as its key says: `light`, `panels`, `wires`, `years`. */
const CAUSES = ['Light', 'Panels', 'Wires', 'Years'];
const causeOf = ({ path }: Counted): string => {
  const key = path.replace(/\[\d*\]/g, '[]');
  const known = scenarioKeys().find((one) => one.path === key);
  return known?.meaning.split(':')[0] ?? '';
};

export function assumptionsSection({ assumptions }: Report): Section {
  const all = countedOnce(assumptions);
  const isLoss = ({ path }: Counted): boolean => /losses\.(?!snow)/.test(path);
  const losses = all
    .filter(isLoss)
    .map((one) => ({ ...one, cause: causeOf(one) }))
    .sort((a, b) => CAUSES.indexOf(a.cause) - CAUSES.indexOf(b.cause));
  const groups = (Object.keys(GROUPS) as Counted['moves'][]).flatMap((moves) => {
    const rows = all.filter((one) => one.moves === moves && !isLoss(one)).sort((a, b) => rank(a) - rank(b));
    const table = tableOf(GROUPS[moves], rows, [WHAT, ['value', ({ value }) => value], WHY]);
    return rows.length === 0 ? [] : [moves === 'verdict_most' ? table : { ...table, folded: true as const }];
  });
  const first = all.filter(({ moves }) => moves === 'verdict_most').length;
  const byCause =
    losses.length > 0 &&
    tableOf('Losses between sun and tracker, by cause; they could change the verdict by much', losses, [
      ['cause', ({ cause }, k) => (losses[k - 1]?.cause === cause ? '' : cause.toLowerCase())],
      WHAT,
      ['value', ({ value }) => value],
      WHY,
    ]);
  return {
    id: 'assumptions',
    title: 'Assumptions and sources',
    on: FILES,
    sentence:
      `The figures rest on ${counted(all.filter(isCounted).length, 'assumption')}, each with its source where it has one; ` +
      `${first} of them could change the verdict by much and ${first === 1 ? 'stands' : 'stand'} first.`,
    blocks: present([groups[0], byCause, ...groups.slice(1)]),
  };
}

const WHAT: ColumnOf<Counted> = [{ title: 'what', holds: 'code' }, ({ path }) => path];
const WHY: ColumnOf<Counted> = [{ title: 'why', holds: 'words' }, ({ why }) => why];

/** That one of something runs all day is no more than what the scenario says by its silence. */
const isCounted = ({ moves }: Counted): boolean => moves !== 'nothing';

/** The last lines of the screen: the energy balance, what is assumed, what was required. */
export function restsSections(
  { audit, assumptions, cautions }: Report,
  { isWritten, bounds }: ReportContext,
): Section[] {
  const both = `${counted(countedOnce(assumptions).filter(isCounted).length, 'assumption')} and ${counted(cautions.length, 'caution')}`;
  const [first, ...others] = bounds;
  const line = (id: string, title: string, sentence: string, more: readonly string[] = []): Section => ({
    id,
    title,
    on: ['screen'],
    sentence,
    blocks: textsOf(more),
  });
  const checked = `Checked in ${counted(audit.steps_checked, 'step')}; the largest miss is ${imbalance(audit.largest_imbalance_kWh)}.`;
  const rests = isWritten ? `${both}, listed in report.md: read both.` : `${both}; --out DIR lists them.`;
  return present([
    line('balance', 'Energy balance', checked),
    line('rests', 'Rests on', rests),
    line('caution', 'Cautions', WIRED_BY),
    first !== undefined && line('bounds', 'Required', first, others),
  ]);
}
