import type { Report } from '@longnight/core';

/** The command that makes a report again, with the options that change what it says. */
export function runCommand({ darkest_spell, years, ensemble }: Report, scenarioName: string): string {
  const spell = darkest_spell.days === 7 ? '' : ` --spell-days ${darkest_spell.days}`;
  const played = years === null ? '' : ` --years ${years.by_year.length}`;
  const seeds = ensemble === null ? '' : ` --seeds ${ensemble.years}`;
  return `longnight run ${scenarioName} --out DIR${played}${seeds}${spell}`;
}
