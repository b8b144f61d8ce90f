import { InputError, type Place } from '../basis/errors.ts';
import type { Assumption } from '../basis/notices.ts';
import { defaultsUsed } from './assumptions.ts';
import { checkScenario, idleParts } from './check.ts';
import { parseText } from './document.ts';
import { inFileOrder, schemaIssues } from './issues.ts';
import { type Scenario, scenarioSchema } from './schema.ts';

/** A scenario as read from its file. */
export interface ReadScenario {
  readonly scenario: Scenario;
  /** Every default that was used, and what the plant can't do for want of a part. */
  readonly assumptions: readonly Assumption[];
  /** Where in the file a path such as `bank.module.capacity_Ah` stands; its nearest parent if it isn't written. */
  readonly place: (path: string) => Place;
}

/**
 * Reads and checks a scenario.
 *
 * @param text YAML 1.2 or JSON
 * @param file name of the file, for messages
 * @throws InputError with every issue found, in file order. Syntax is checked first, then each value on its own, then
 *   the values against each other: a later check needs the ones before to have passed
 */
export function readScenario(text: string, file: string): ReadScenario {
  const document = parseText(text, file);
  const parsed = scenarioSchema.safeParse(document.data);
  if (!parsed.success) throw new InputError(schemaIssues(parsed.error.issues, document));
  const scenario = parsed.data;
  const issues = checkScenario(scenario, document.place);
  if (issues.length > 0) throw new InputError(inFileOrder(issues));
  return {
    scenario,
    assumptions: [...defaultsUsed(document.data), ...idleParts(scenario)],
    place: document.place,
  };
}
