import type { Issue, Place } from '../../basis/errors.ts';
import type { Scenario } from '../schema/schema.ts';
import { arrayRules } from './arrays.ts';
import { bankRules } from './bank.ts';
import { inverterRules } from './inverter.ts';
import { loadRules } from './loads.ts';
import { siteRules } from './site.ts';
import { sourceRules } from './sources.ts';

/**
 * Rules between values that the schema can't say, one file a section. Needed again after a study has changed a scenario.
 *
 * @param place where a path stands in the file; left out for a scenario that comes from no file
 * @returns every rule broken; empty if all hold
 */
export function checkScenario(scenario: Scenario, place?: (path: string) => Place): Issue[] {
  const found: Issue[] = [
    ...siteRules(scenario),
    ...arrayRules(scenario),
    ...bankRules(scenario),
    ...inverterRules(scenario),
    ...sourceRules(scenario),
    ...loadRules(scenario),
  ];
  return found.map((issue) => (place ? { ...issue, place: place(issue.path) } : issue));
}
