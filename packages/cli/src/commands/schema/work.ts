import { scenarioJsonSchema } from '@longnight/core';
import { partsJsonSchema } from '@longnight/core/scenario';
import type { Io } from '../../io.ts';

export const schemaText = (of: 'scenario' | 'parts'): string =>
  `${JSON.stringify(of === 'parts' ? partsJsonSchema() : scenarioJsonSchema(), null, 2)}\n`;

/** `longnight schema`: what an editor needs to complete and mark a scenario or a parts file. */
export function schema(of: 'scenario' | 'parts', io: Io): void {
  io.out(schemaText(of));
}
