import type { Report } from '@longnight/core';
import type { Section } from '../document/document.ts';
import { counted, imbalance } from '../document/figures.ts';
import { grouped } from './assumption-groups.ts';
import type { ReportContext } from './document.ts';

/** What a report stands on. */

export function assumptionsSection({ assumptions }: Report): Section {
  const of = (kind: 'default' | 'model') => assumptions.filter((assumption) => assumption.kind === kind);
  const [defaults, models] = [of('default'), of('model')];
  return {
    id: 'assumptions',
    title: 'Assumptions and sources',
    on: ['markdown', 'page'],
    sentence:
      `The figures rest on ${counted(assumptions.length, 'assumption')}: ${counted(defaults.length, 'default')} that the scenario left open, ` +
      `and ${counted(models.length, 'statement')} of what the models take or leave out, each with its source where it has one.`,
    blocks: [
      { kind: 'heading', text: 'What the models take or leave out' },
      {
        kind: 'table',
        caption: 'Statements about the models',
        columns: [{ title: 'what', holds: 'code' }, { title: 'why' }],
        rows: grouped(models).map(({ path, value, why }) => [
          path,
          value === null ? why : `${value}: ${why}`,
        ]),
      },
      { kind: 'heading', text: 'Defaults that the scenario left open' },
      {
        kind: 'table',
        caption: 'Keys that the scenario does not have, and the value taken',
        columns: [{ title: 'key', holds: 'code' }, { title: 'value' }, { title: 'why' }],
        rows: grouped(defaults).map(({ path, value, why }) => [
          path,
          value === null ? '' : String(value),
          why,
        ]),
      },
    ],
  };
}

/** The last lines of the screen: the energy balance, what is assumed, what was required. */
export function restsSections(
  { audit, assumptions }: Report,
  { isWritten, bounds }: ReportContext,
): Section[] {
  const count = counted(assumptions.length, 'assumption');
  const [first, ...others] = bounds;
  const line = (id: string, label: string, sentence: string, more: readonly string[] = []): Section => ({
    id,
    title: label,
    on: ['screen'],
    sentence,
    blocks: more.map((text) => ({ kind: 'text', text })),
  });
  return [
    line(
      'balance',
      'Energy balance',
      `Checked in each of ${counted(audit.steps_checked, 'step')}; the largest miss is ${imbalance(audit.largest_imbalance_kWh)}.`,
    ),
    line(
      'rests',
      'Rests on',
      isWritten
        ? `${count}; report.md lists each, with the cautions: read both.`
        : `${count}; --out DIR writes a report that lists each.`,
    ),
    ...(first === undefined ? [] : [line('bounds', 'Required', first, others)]),
  ];
}
