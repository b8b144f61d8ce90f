import { type GeneratorStepNotice, generatorStepNotices } from '../../findings/generator.ts';
import { type GrowthNotice, growthNotices } from '../../findings/money.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';

/** What the figures of all designs of a scenario rest on and whoever chooses among them must know. */
export const studyNotices = (scenario: Scenario): readonly (GeneratorStepNotice | GrowthNotice)[] => [
  ...generatorStepNotices(scenario),
  ...growthNotices(scenario),
];
