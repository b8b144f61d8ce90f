import { cautions, InputError, plantOf, type Scenario } from '@longnight/core';
import { type Terms, termsOf } from '@longnight/core/money';
import { refused } from '@longnight/core/scenario';
import type { Setting } from '@longnight/core/study';
import manifest from '../../package.json' with { type: 'json' };
import { readText } from '../files/read.ts';
import { hashed } from '../files/scenario.ts';
import type { StudyFiles } from '../files/study.ts';
import type { ReadFrom } from '../render/document/again.ts';
import { present } from '../render/document/document.ts';
import {
  type NamedAxis,
  namedAxes,
  settingOptions,
  valueText,
  varyOptions,
} from '../render/document/key-words.ts';
import { overWords } from '../render/document/words.ts';
import type { DesignList } from '../workers/designs.ts';

type Ingredient = ReadFrom['read'][number];
/**
 * What a sweep is made from, kept beside unfinished rows and beside parts: rows that belong to different sweeps must
 * never get into one file.
 */
export interface SweepManifest {
  readonly format: 'longnight sweep 4';
  readonly longnight: string;
  readonly scenario: Ingredient;
  readonly parts_files: readonly Ingredient[];
  readonly series_files: readonly Ingredient[];
  /** With the words that people call them by. */
  readonly axes: readonly NamedAxis[];
  /** Keys that all designs are played with other values of than the file has. */
  readonly set: readonly Setting[];
  /** How many designs were asked for as a sample; null plays them all. */
  readonly sample: number | null;
  readonly part: { readonly number: number; readonly of: number } | null;
  /** All designs of the sweep, in all parts. */
  readonly designs: number;
  readonly site: string;
  /** Place, year and weather in words. */
  readonly over: string;
  readonly cautions: readonly string[];
  /** Word behind prices; null without any. */
  readonly currency: string | null;
  /** Years, discount and prices of what is used; null without any. */
  readonly terms: Terms | null;
  /** What an hour of the generator less is worth beyond them; null if nobody says. */
  readonly hour_worth: number | null;
  /** Values of the varied keys in the scenario's own file; null where it leaves them out. */
  readonly in_file: readonly (number | string | null)[];
}

export function manifestOf(
  files: StudyFiles,
  list: DesignList,
  { sample, hour_worth }: Pick<SweepManifest, 'sample' | 'hour_worth'>,
): SweepManifest {
  const { scenario } = files.read;
  const all = (texts: ReadonlyMap<string, string>): Ingredient[] =>
    [...texts].map(([name, text]) => hashed(name, text));
  return {
    format: 'longnight sweep 4',
    longnight: manifest.version,
    scenario: hashed(files.name, files.source.text),
    parts_files: all(files.source.partsTexts),
    series_files: all(files.texts),
    axes: namedAxes(files.study.axes, scenario),
    set: files.source.set ?? [],
    sample,
    part: list.part,
    designs: list.whole,
    site: scenario.site.name,
    over: overWords(
      scenario,
      // A seed that varies is not that of the file.
      files.study.axes.some(({ path }) => path === 'weather.seed'),
    ),
    cautions: cautions(plantOf(scenario)),
    currency: scenario.money?.currency ?? null,
    terms: termsOf(scenario),
    hour_worth,
    in_file: files.study.axes.map((axis) => valueAt(scenario, axis.path)),
  };
}

/** The value at a path such as `arrays[0].size_kWp`; those of all items for `arrays[*]`, once where they are alike. */
function valueAt(scenario: Scenario, path: string): number | string | null {
  let values: readonly unknown[] = [scenario];
  for (const step of path.split(/[.[\]]+/).filter((text) => text !== ''))
    values = values.flatMap((value) =>
      step === '*' ? (value as readonly unknown[]) : [(value as Record<string, unknown> | undefined)?.[step]],
    );
  const known = [...new Set(values)].filter(
    (value) => typeof value === 'number' || typeof value === 'string',
  );
  return known.length < 2 ? (known[0] ?? null) : known.map((value) => valueText(value)).join(', ');
}

const optionsText = (set: readonly Setting[]): string => settingOptions(set).join(' ') || 'no --set';

/** In what two sweeps differ, in words; the share that each plays and the name of the scenario file do not count. */
export function differences(before: SweepManifest, now: SweepManifest): readonly string[] {
  const differ = (key: keyof SweepManifest): boolean =>
    JSON.stringify(before[key]) !== JSON.stringify(now[key]);
  return present([
    differ('longnight') && `Longnight was ${before.longnight} and is ${now.longnight}`,
    before.scenario.sha256 !== now.scenario.sha256 && 'the scenario has changed',
    differ('parts_files') && 'a parts file has changed',
    differ('series_files') && 'a series file has changed',
    differ('axes') &&
      `it was asked with ${varyOptions(before.axes).join(' ')} and is now with ${varyOptions(now.axes).join(' ')}`,
    differ('set') && `it was played with ${optionsText(before.set)} and is now with ${optionsText(now.set)}`,
    differ('sample') && `--sample was ${before.sample ?? 'not given'} and is ${now.sample ?? 'not given'}`,
    differ('designs') && `it had ${before.designs} designs and has ${now.designs}`,
  ]);
}

/** @throws InputError if the file is not a manifest that this version can read */
export function readManifest(cwd: string, name: string): SweepManifest {
  try {
    const data = JSON.parse(readText(cwd, name, 64 * 2 ** 20)) as SweepManifest;
    if (data.format === 'longnight sweep 4') return data;
  } catch (error) {
    if (error instanceof InputError) throw error;
  }
  throw refused('no-manifest', { file: name })`this does not say what a sweep was made from | put it back
    from where the rows come from, or remove both and play that sweep again | the file as \`longnight
    sweep\` wrote it beside its rows`;
}

export const manifestText = (made: SweepManifest): string => `${JSON.stringify(made, null, 1)}\n`;
