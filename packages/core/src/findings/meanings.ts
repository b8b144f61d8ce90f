import { BANK_MEANINGS } from './meanings/of-bank.ts';
import { LOAD_MEANINGS } from './meanings/of-load.ts';
import { PLANT_MEANINGS } from './meanings/of-plant.ts';
import { RUN_MEANINGS } from './meanings/of-run.ts';
import { SUN_MEANINGS } from './meanings/of-sun.ts';

export type { Meaning } from './meanings/meaning.ts';

/** What each figure of report.json means. A test fails until a new one has its line. */
export const FINDING_MEANINGS = [
  ...LOAD_MEANINGS,
  ...BANK_MEANINGS,
  ...SUN_MEANINGS,
  ...PLANT_MEANINGS,
  ...RUN_MEANINGS,
];
