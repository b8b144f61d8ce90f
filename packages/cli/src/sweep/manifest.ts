import { createHash } from 'node:crypto';
import { type Axis, cautions, InputError, plantOf, type Scenario } from '@longnight/core';
import { refused } from '@longnight/core/scenario';
import manifest from '../../package.json' with { type: 'json' };
import { readText } from '../files/read.ts';
import type { StudyFiles } from '../files/study.ts';
import { placeWords, weatherWords } from '../render/document/words.ts';
import type { DesignList } from '../workers/designs.ts';

/** A file that a sweep was made from. */
interface Ingredient {
  readonly name: string;
  readonly sha256: string;
}

/**
 * What a sweep is made from, kept beside unfinished rows and beside parts: rows that belong to different sweeps must
 * never get into one file.
 */
export interface SweepManifest {
  readonly format: 'longnight sweep 2';
  readonly longnight: string;
  readonly scenario: Ingredient;
  readonly parts_files: readonly Ingredient[];
  readonly series_files: readonly Ingredient[];
  readonly axes: readonly Axis[];
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
  /** Values of the varied keys in the scenario's own file; null where it leaves them out. */
  readonly in_file: readonly (number | string | null)[];
}

const hashed = (name: string, text: string): Ingredient => ({
  // A file may be named by an absolute path; what is handed on must not tell where somebody's files are.
  name: name.split(/[\\/]/).at(-1) ?? name,
  sha256: createHash('sha256').update(text).digest('hex'),
});

export function manifestOf(files: StudyFiles, list: DesignList, sample: number | null): SweepManifest {
  const { scenario } = files.read;
  const all = (texts: ReadonlyMap<string, string>): Ingredient[] =>
    [...texts].map(([name, text]) => hashed(name, text));
  return {
    format: 'longnight sweep 2',
    longnight: manifest.version,
    scenario: hashed(files.name, files.source.text),
    parts_files: all(files.source.partsTexts),
    series_files: all(files.texts),
    axes: files.study.axes,
    sample,
    part: list.part,
    designs: list.whole,
    site: scenario.site.name,
    over: overOf(scenario, files.study.axes),
    cautions: cautions(plantOf(scenario)),
    currency: scenario.money?.currency ?? null,
    in_file: files.study.axes.map((axis) => valueAt(scenario, axis.path)),
  };
}

/** A seed that varies is not that of the file. */
function overOf({ site, run, weather }: Scenario, axes: readonly Axis[]): string {
  const varies = axes.some(({ path }) => path === 'weather.seed');
  const seed = weather.kind === 'monthly_means' && !varies ? weather.seed : null;
  return `${placeWords(site)}, ${run.year}. Weather: ${weatherWords({ weather: weather.kind, seed })}.`;
}

/** The value at a path such as `arrays[0].size_kWp`. */
function valueAt(scenario: Scenario, path: string): number | string | null {
  let value: unknown = scenario;
  for (const step of path.split(/[.[\]]+/).filter((text) => text !== ''))
    value = (value as Record<string, unknown> | undefined)?.[step];
  return typeof value === 'number' || typeof value === 'string' ? value : null;
}

/** In what two sweeps differ, in words; the share that each plays and the name of the scenario file do not count. */
export function differences(before: SweepManifest, now: SweepManifest): readonly string[] {
  const found: string[] = [];
  const differ = (a: unknown, b: unknown): boolean => JSON.stringify(a) !== JSON.stringify(b);
  if (before.longnight !== now.longnight)
    found.push(`Longnight was ${before.longnight} and is ${now.longnight}`);
  if (before.scenario.sha256 !== now.scenario.sha256) found.push('the scenario has changed');
  if (differ(before.parts_files, now.parts_files)) found.push('a parts file has changed');
  if (differ(before.series_files, now.series_files)) found.push('a series file has changed');
  if (differ(before.axes, now.axes))
    found.push(
      `--vary was ${before.axes.map(axisWords).join(', ')} and is ${now.axes.map(axisWords).join(', ')}`,
    );
  if (before.sample !== now.sample)
    found.push(`--sample was ${before.sample ?? 'not given'} and is ${now.sample ?? 'not given'}`);
  if (before.designs !== now.designs) found.push(`it had ${before.designs} designs and has ${now.designs}`);
  return found;
}

/** `bank.modules_parallel 2 to 10 (9 values)`. */
export function axisWords({ path, values }: Axis): string {
  if (values.length <= 3) return `${path} ${values.join(' or ')}`;
  return `${path} ${values[0]} to ${values.at(-1)} (${values.length} values)`;
}

/** @throws InputError if the file is not a manifest that this version can read */
export function readManifest(cwd: string, name: string): SweepManifest {
  try {
    const data = JSON.parse(readText(cwd, name, 64 * 2 ** 20)) as SweepManifest;
    if (data.format === 'longnight sweep 2') return data;
  } catch (error) {
    if (error instanceof InputError) throw error;
  }
  throw refused('no-manifest', { file: name })`this does not say what a sweep was made from | put it back
    from where the rows come from, or remove both and play that sweep again | the file as \`longnight
    sweep\` wrote it beside its rows`;
}

export const manifestText = (made: SweepManifest): string => `${JSON.stringify(made, null, 1)}\n`;
