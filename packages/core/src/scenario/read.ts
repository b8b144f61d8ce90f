import { expectArgument } from '../basis/arguments.ts';
import { InputError, inFileOrder, type Place } from '../basis/errors.ts';
import type { Assumption } from '../basis/notices.ts';
import { type GivenSeries, type ScenarioInput, withoutNumbers } from './given.ts';
import { type Shelf, shelve, withParts } from './parts/parts.ts';
import { defaultsUsed, type Stated, statedIn } from './rules/assumptions.ts';
import { checkScenario } from './rules/check.ts';
import { idleParts } from './rules/sources.ts';
import { schemaError } from './schema/issues.ts';
import { type Scenario, scenarioSchema } from './schema/schema.ts';
import { parseText, type SourceDocument } from './text/document.ts';
import { plainDocument } from './text/plain.ts';

/** A scenario as read from its file. */
export interface ReadScenario {
  /** Checked, parts and defaults filled in. */ readonly scenario: Scenario;
  /** Every default that was used, and what the plant can't do for want of a part. */
  readonly assumptions: readonly Assumption[];
  /** All that it states, parts filled in. */ readonly stated: readonly Stated[];
  /** Where in the file a path such as `bank.module.capacity_Ah` stands; its nearest parent if it isn't written. */
  readonly place: (path: string) => Place;
  /** Series that were handed over as numbers, by the names that the scenario has for them. */
  readonly series: ReadonlyMap<string, GivenSeries>;
  /** What it was read from, parts not filled in: other values are put into it (`newVariantMaker`). */
  readonly source: { readonly written: SourceDocument; readonly shelf: Shelf };
}

/**
 * Names of the parts files that a scenario asks for, as it writes them. They must be read before the scenario can be.
 *
 * @throws InputError if the text can't be parsed
 */
export function partsFilesNamed(text: string, file: string): readonly string[] {
  expectArgument('partsFilesNamed', 'text', text, 'text');
  expectArgument('partsFilesNamed', 'file', file, 'text');
  // Most scenarios name none, and parsing twice costs as much as playing a dozen years.
  if (!text.includes('parts_files')) return [];
  const { data } = parseText(text, file);
  const names = (data as { parts_files?: unknown }).parts_files;
  return Array.isArray(names) ? names.filter((name): name is string => typeof name === 'string') : [];
}

/**
 * Reads and checks a scenario.
 *
 * @param text YAML 1.2 or JSON
 * @param file name of the file, for messages
 * @param partsTexts text of every file that `partsFilesNamed` lists, by the name the scenario uses
 * @throws InputError with the issues found, in file order. Syntax is checked first, then each value on its own, then
 *   the values against each other: a later check needs the ones before to have passed
 */
export function readScenario(
  text: string,
  file: string,
  partsTexts: ReadonlyMap<string, string> = new Map(),
): ReadScenario {
  expectArgument('readScenario', 'text', text, 'text');
  expectArgument('readScenario', 'file', file, 'text');
  expectArgument('readScenario', 'partsTexts', partsTexts, 'map');
  return checkedScenario(parseText(text, file), shelve(partsTexts));
}

/**
 * Checks a scenario given as an object, as `readScenario` does one given as text: the same defaults, assumptions and
 * messages, with the path of a value where a file has its line.
 *
 * @param input keys as in a scenario file; it is copied, but for the numbers of series (see `ScenarioInput`). Under
 *   `parts_files` stand names of `partsTexts`
 * @param name what messages call it
 * @param partsTexts text of the parts files it names
 * @throws InputError with every issue found; also for what no file could hold: dates, functions, cycles
 */
export function scenarioOf(
  input: ScenarioInput,
  name = 'scenario',
  partsTexts: ReadonlyMap<string, string> = new Map(),
): ReadScenario {
  expectArgument('scenarioOf', 'name', name, 'text');
  expectArgument('scenarioOf', 'partsTexts', partsTexts, 'map');
  const { written, series } = withoutNumbers(input);
  return { ...checkedScenario(plainDocument(written, name), shelve(partsTexts)), series };
}

/** The scenario of a parsed document, parts filled in; see `readScenario`. */
export function checkedScenario(written: SourceDocument, shelf: Shelf): ReadScenario {
  const document = withParts(written, shelf);
  const parsed = scenarioSchema.safeParse(document.data);
  if (!parsed.success) throw schemaError(parsed.error.issues, document);
  const scenario = parsed.data;
  const issues = checkScenario(scenario, document.place);
  if (issues.length > 0) throw new InputError(inFileOrder(issues));
  return {
    scenario,
    assumptions: [...defaultsUsed(document.data), ...idleParts(scenario)],
    get stated() {
      return statedIn(document.data as object);
    },
    place: document.place,
    series: new Map(),
    source: { written, shelf },
  };
}
