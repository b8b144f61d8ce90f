import type { Assumption } from '@longnight/core';
import { grouped } from './assumption-groups.ts';
import { counted } from './figures.ts';
import { escaped, table } from './markdown-text.ts';

/** Every assumption. */
export function assumptions(list: readonly Assumption[]): string {
  const rows = grouped(list).map(({ path, value, why }) => [
    `\`${path.replaceAll('`', '')}\``,
    value === null ? '' : escaped(String(value)),
    escaped(why),
  ]);
  return [
    `${counted(list.length, 'assumption')}: defaults that the scenario left open, and what the model leaves out.`,
    table([{ title: 'what' }, { title: 'value' }, { title: 'why' }], rows),
  ].join('\n\n');
}
