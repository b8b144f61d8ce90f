import { billOfScenario, findings, plantOf, playYear, type Scenario } from '@longnight/core';
import { Ending, EXIT } from '../../exit-codes.ts';
import { openScenario } from '../../files/scenario.ts';
import type { Io } from '../../io.ts';
import { checkText } from '../../render/check/check.ts';
import { paint } from '../../render/document/paint.ts';
import { plain } from '../../render/document/plain-text.ts';
import { dangersText } from '../../render/report/dangers.ts';
import { peakSentences } from '../../render/report/peak.ts';

/**
 * `longnight check`: the same reading as `run`, and what the plant can do whatever the hours bring.
 *
 * @throws Ending with exit code 3, after all is printed, if the plant is a danger
 */
export function check(file: string, io: Io): void {
  const { year, name, paths } = openScenario(io.cwd, file);
  const plant = plantOf(year.scenario);
  // Only the parts of the report that don't depend on the hours are shown; a year costs about a millisecond.
  const ledger = playYear(year, plant);
  const report = findings(ledger);
  const { limits, surge, strings, load, money, cautions, notices, dangers } = report;
  const context = {
    siteName: year.scenario.site.name,
    scenarioName: name,
    filesRead: paths.length - 1,
    mean_load_kWh_day: load.mean_kWh_day,
    peak_load_kW: load.peak_kW,
    peak: peakSentences(report),
    step_min: year.clock.step_min,
    // Fuel is burnt in the hours; the bill is not.
    money: money === null ? null : { ...money, unpriced: billOfScenario(year.scenario).unpriced },
    surge,
    strings,
    unknownPanels: year.scenario.arrays.filter(({ panel }) => panel === undefined).map(({ name }) => name),
    cautions,
    dangers,
  };
  io.out(checkText(limits, context, paint(io.colour)));
  if (money === null && hasPrices(year.scenario)) {
    io.err('note: parts have prices, and no money section says in which currency: there is no bill\n');
  }
  for (const notice of notices) io.err(`note: ${plain(notice.message)}\n`);
  if (dangers.length > 0) throw new Ending(EXIT.danger, dangersText(dangers));
}

const hasPrices = ({ arrays, bank, inverter, charger, generator }: Scenario): boolean =>
  [...arrays, ...arrays.map(({ tracker }) => tracker), bank, inverter, charger, generator].some(
    (part) => part?.price !== undefined,
  );
