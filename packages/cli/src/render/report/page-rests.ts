import { LEDGER_COLUMNS, type Report } from '@longnight/core';
import { counted, imbalance } from '../document/figures.ts';
import { escaped, paragraph, type Section, table } from '../document/html.ts';
import { grouped } from './assumption-groups.ts';
import type { MarkdownContext } from './markdown.ts';
import { runCommand } from './run-command.ts';

/** The sections about what a report stands on: assumptions and sources, how to make it again. */

export function assumptionsSection({ assumptions }: Report): Section {
  const of = (kind: 'default' | 'model') => assumptions.filter((assumption) => assumption.kind === kind);
  const [defaults, models] = [of('default'), of('model')];
  return {
    id: 'assumptions',
    title: 'Assumptions and sources',
    sentence:
      `The figures rest on ${counted(assumptions.length, 'assumption')}: ${counted(defaults.length, 'default')} that the scenario left open, ` +
      `and ${counted(models.length, 'statement')} of what the models take or leave out, each with its source where it has one.`,
    body: [
      '<h3>What the models take or leave out</h3>',
      table({
        caption: 'Statements about the models',
        columns: [{ title: 'what', code: true }, { title: 'why' }],
        rows: grouped(models).map(({ path, value, why }) => [
          path,
          value === null ? why : `${value}: ${why}`,
        ]),
      }),
      '<h3>Defaults that the scenario left open</h3>',
      table({
        caption: 'Keys that the scenario does not have, and the value taken',
        columns: [{ title: 'key', code: true }, { title: 'value' }, { title: 'why' }],
        rows: grouped(defaults).map(({ path, value, why }) => [
          path,
          value === null ? '' : String(value),
          why,
        ]),
      }),
    ],
  };
}

export function againSection(report: Report, { scenarioName, version, read }: MarkdownContext): Section {
  const { audit, run, longnight } = report;
  const seed =
    run.seed === null
      ? 'no weather is drawn, so there is no seed'
      : `seed ${run.seed}, which the scenario holds`;
  return {
    id: 'again',
    title: 'How to make this report again',
    sentence: `Longnight ${version} makes the same bytes from the same ${read.length === 1 ? 'file' : `${read.length} files`}, on any machine: ${seed}.`,
    body: [
      `<pre>${escaped(runCommand(report, scenarioName))}</pre>`,
      table({
        caption: `What was read, with its SHA-256; report format ${longnight.format}`,
        columns: [{ title: 'file' }, { title: 'SHA-256', code: true }],
        rows: read.map(({ name, sha256 }) => [name, sha256]),
      }),
      paragraph(
        `Energy in and out was checked in each of ${counted(audit.steps_checked, 'step')}; the largest miss is ${imbalance(audit.largest_imbalance_kWh)}. ` +
          `report.json beside this page holds every figure, hours.csv every step (${LEDGER_COLUMNS.length} ledger columns).`,
      ),
    ],
  };
}
