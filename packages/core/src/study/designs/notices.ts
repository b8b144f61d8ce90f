import { expectArguments } from '../../basis/arguments.ts';
import { type GeneratorStepNotice, generatorStepNotices } from '../../findings/generator.ts';
import { type GrowthNotice, growthNotices } from '../../findings/money.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';

/** What the figures of all designs of a scenario rest on and whoever chooses among them must know. */
export function studyNotices(scenario: Scenario): readonly (GeneratorStepNotice | GrowthNotice)[] {
  expectArguments('studyNotices', { scenario });
  return [...generatorStepNotices(scenario), ...growthNotices(scenario)];
}
