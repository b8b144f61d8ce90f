/** Writes scenario.md beside it: every key of the scenario and of parts files, read off the schema that checks them. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Key, type KeyRule, partsKeys, scenarioKeys } from '@longnight/core/scenario';

/** The page as it should be; a test holds the file to it. */
export function scenarioReference(): string {
  const keys = scenarioKeys();
  const sections = keys.filter(({ path }) => !path.includes('.'));
  return [
    '<!-- Made from packages/core/src/scenario/schema by `pnpm run docs`: change it there. -->',
    '# The scenario file',
    'YAML or JSON. Units are part of the keys; shares and states of charge run from 0 to 1. The last column says whether ' +
      'a key is required, or the default that stands in for it with its reason, or what holds without it; a dash means ' +
      'that it may be left out. In brackets behind a key are the kinds that have it. Points of a curve ascend. ' +
      '`longnight explain KEY` says the same of one key, `longnight init` writes a file with all of them.',
    table(sections, ''),
    ...sections.flatMap(({ path, meaning }) => {
      const inside = keys.filter(
        (key) => /^[.[]/.test(key.path.slice(path.length)) && key.path.startsWith(path),
      );
      return inside.length === 0 ? [] : [`## \`${path}\``, `${meaning}.`, table(inside, path)];
    }),
    '# Parts files',
    'What a scenario names under `parts_files`: YAML or JSON as well. A part stands in for keys of the section that names it.',
    table(partsKeys(), ''),
  ]
    .join('\n\n')
    .concat('\n');
}

const table = (keys: readonly Key[], section: string): string =>
  [
    '| key | unit | meaning | takes | left out |',
    '| --- | --- | --- | --- | --- |',
    ...keys.map((key) => row(key, section)),
  ].join('\n');

function row({ path, unit, meaning, rule }: Key, section: string): string {
  const name = `\`${path.slice(section.length).replace(/^(\[\])?\./, '')}\``;
  const cells = [
    rule.kinds.length === 0 ? name : `${name} (${rule.kinds.join(', ')})`,
    unit ?? '',
    meaning,
    // What a mapping holds stands in the rows below it.
    rule.takes.replace(/(mappings?) with (?!kind|fill).*/, '$1'),
    leftOut(rule),
  ];
  return `| ${cells.map((cell) => cell.replaceAll('|', '\\|').replaceAll('\t', '\\t')).join(' | ')} |`;
}

function leftOut({ required, default: value, why, without }: KeyRule): string {
  if (value !== undefined) return `\`${typeof value === 'string' ? value : JSON.stringify(value)}\`: ${why}`;
  return required ? 'required' : (without ?? '–');
}

if (process.argv[1] === import.meta.filename)
  writeFileSync(join(import.meta.dirname, 'scenario.md'), scenarioReference());
