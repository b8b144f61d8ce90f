/** The names that stay from release to release, and where all others are. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import * as root from '@longnight/core';
import { expect, it } from 'vitest';

const CORE = resolve(import.meta.dirname, '../../packages/core');

it('the root has some thirty names', () => {
  expect(Object.keys(root).sort()).toEqual(
    [
      ...['BalanceError', 'InputError', 'issueText'],
      ...['filesNamed', 'partsFilesNamed', 'readParts', 'readScenario', 'scenarioJsonSchema', 'scenarioOf'],
      ...['newYearPreparer', 'prepareYear', 'agedPlant', 'plantOf', 'newVariantMaker'],
      ...['LEDGER_COLUMNS', 'newReusedColumns', 'overPeriods', 'periodStarts', 'playYear', 'audit'],
      ...['FIGURES', 'billOfScenario', 'cautions', 'dangersOf', 'findings', 'headline', 'staticLimits'],
      ...['askWeek', 'comparePlants', 'improvePlant', 'playEnsemble', 'playEveryYear', 'playYears'],
      ...['sizePlant', 'swayPlant', 'varyPlant'],
    ].sort(),
  );
});

it('every subpath is a file of its own, in the manifest as in the head of the root', () => {
  const { exports } = JSON.parse(readFileSync(join(CORE, 'package.json'), 'utf8'));
  const entries = readdirSync(join(CORE, 'src/entries')).map((file) => file.replace(/\.ts$/, ''));
  expect(Object.keys(exports).sort()).toEqual(
    ['.', './package.json', ...entries.map((name) => `./${name}`)].sort(),
  );
  const head = readFileSync(join(CORE, 'src/index.ts'), 'utf8').split('*/')[0]!;
  for (const name of entries) {
    expect(exports[`./${name}`]).toEqual({
      '@longnight/source': `./src/entries/${name}.ts`,
      types: `./dist/entries/${name}.d.ts`,
      default: `./dist/entries/${name}.js`,
    });
    expect(head).toContain(`/${name}\``);
  }
});
