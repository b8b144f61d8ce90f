import { cautions, InputError, plantOf, type Scenario } from '@longnight/core';
import { termsOf } from '@longnight/core/money';
import { refused } from '@longnight/core/scenario';
import type { PossibleYears, Setting } from '@longnight/core/study';
import * as z from 'zod';
import manifest from '../../package.json' with { type: 'json' };
import { readText } from '../files/read.ts';
import { hashed } from '../files/scenario.ts';
import type { StudyFiles } from '../files/study.ts';
import { present } from '../render/document/document.ts';
import { namedAxes, settingOptions, valueText, varyOptions } from '../render/document/key-words.ts';
import { overWords } from '../render/document/words.ts';
import { yearOptions, yearsWords } from '../render/document/year-words.ts';
import type { DesignList } from '../workers/designs.ts';

const SUM = z.string().regex(/^[0-9a-f]{64}$/);
const ingredient = z.object({ name: z.string(), sha256: SUM }).readonly();
const whole = z.number().int().positive();
const amount = z.number().nonnegative();
const value = z.union([z.number(), z.string()]);
const setting = z.object({ path: z.string(), value }).readonly();

/**
 * What a sweep is made from, kept beside unfinished rows and beside parts: rows that belong to different sweeps must
 * never get into one file.
 */
const MANIFEST = z
  .strictObject({
    format: z.literal('longnight sweep 4'),
    longnight: z.string(),
    scenario: ingredient,
    parts_files: z.array(ingredient).readonly(),
    series_files: z.array(ingredient).readonly(),
    /** With the words that people call them by. */
    axes: z
      .array(
        z
          .object({
            path: z.string(),
            values: z.array(value).min(1).readonly(),
            short: z.string(),
            words: z.string(),
            unit: z.string(),
          })
          .readonly(),
      )
      .min(1)
      .readonly(),
    /** Keys that all designs are played with other values of than the file has. */
    set: z.array(setting).readonly(),
    /** How many designs were asked for as a sample; null plays them all. */
    sample: whole.nullable(),
    part: z.object({ number: whole, of: whole }).readonly().nullable(),
    /** All designs of the sweep, in all parts. */
    designs: whole,
    site: z.string(),
    /** Place, year and weather in words. */
    over: z.string(),
    cautions: z.array(z.string()).readonly(),
    /** Years that each design is played in, and what is told of them; null for the scenario's own. */
    years: z
      .strictObject({
        count: whole,
        percentiles: z.array(whole).readonly(),
        /** The options that ask for them. */
        options: z.array(z.string()).readonly(),
        /** Which they are and what they rest on, in sentences. */
        words: z.array(z.string()).readonly(),
      })
      .readonly()
      .nullable(),
    /** Word behind prices; null without any. */
    currency: z.string().nullable(),
    /** Years, discount and prices of what is used; null without any. */
    terms: z
      .strictObject({
        years: whole,
        discount_share_per_year: z.number(),
        fuel_price_per_L: amount.nullable(),
        shore_price_per_kWh: amount.nullable(),
        fuel_price_growth_share_per_year: z.number(),
        shore_price_growth_share_per_year: z.number(),
        residual_share: z.number(),
        service: z.object({ price: amount.nullable(), every_h: z.number().positive() }).readonly().nullable(),
      })
      .readonly()
      .nullable(),
    /** What an hour of the generator less is worth beyond them; null if nobody says. */
    hour_worth: amount.nullable(),
    /** Values of the varied keys in the scenario's own file; null where it leaves them out. */
    in_file: z.array(value.nullable()).readonly(),
    /** SHA-256 of the rows of a part; null while they are not whole. */
    rows_sha256: SUM.nullable(),
  })
  .readonly()
  .refine(({ part }) => part === null || part.number <= part.of);

export type SweepManifest = z.infer<typeof MANIFEST>;
type Ingredient = SweepManifest['scenario'];

/** @returns null where the scenario's own year is played */
export const sweepYears = (
  possible: PossibleYears,
  percentiles: readonly number[],
): SweepManifest['years'] =>
  possible.years.length === 0
    ? null
    : {
        count: possible.years.length,
        percentiles,
        options: yearOptions(possible.years),
        words: yearsWords(possible),
      };

export function manifestOf(
  files: StudyFiles,
  list: DesignList,
  { sample, hour_worth, years }: Pick<SweepManifest, 'sample' | 'hour_worth' | 'years'>,
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
      years !== null || files.study.axes.some(({ path }) => path === 'weather.seed'),
    ),
    cautions: cautions(plantOf(scenario)),
    years,
    currency: scenario.money?.currency ?? null,
    terms: termsOf(scenario),
    hour_worth,
    in_file: files.study.axes.map((axis) => valueAt(scenario, axis.path)),
    rows_sha256: null,
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
    differ('years') && `it was played ${yearsAsked(before)} and is now ${yearsAsked(now)}`,
    differ('designs') && `it had ${before.designs} designs and has ${now.designs}`,
  ]);
}

const yearsAsked = ({ years }: SweepManifest): string =>
  years === null
    ? 'over one year'
    : `with ${years.options.join(' ')} --percentiles ${years.percentiles.join(',')}`;

/** @throws InputError if the file is not a manifest that this version can read */
export function readManifest(cwd: string, name: string): SweepManifest {
  try {
    return MANIFEST.parse(JSON.parse(readText(cwd, name, 64 * 2 ** 20)));
  } catch (error) {
    if (error instanceof InputError) throw error;
  }
  throw refused('no-manifest', { file: name })`this does not say what a sweep was made from | put it back
    from where the rows come from, or remove both and play that sweep again | the file as \`longnight
    sweep\` wrote it beside its rows`;
}

export const manifestText = (made: SweepManifest): string => `${JSON.stringify(made, null, 1)}\n`;
