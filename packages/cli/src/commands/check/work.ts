import { billOfScenario, findings, plantOf, playYear, type Report, type Scenario } from '@longnight/core';
import { Ending, EXIT } from '../../exit-codes.ts';
import { openScenario } from '../../files/scenario.ts';
import type { Io } from '../../io.ts';
import { checkDocument } from '../../render/check/document.ts';
import { jsonText } from '../../render/document/json.ts';
import { dangersText } from '../../render/report/dangers.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { type Given, tell } from '../tell.ts';

/**
 * `longnight check`: the same reading as `run`, and what the plant can do whatever the hours bring.
 *
 * @throws Ending with exit code 3, after all is printed, if the plant is a danger
 */
export async function check(file: string, given: Given, io: Io): Promise<void> {
  const { year, name, paths } = openScenario(io.cwd, file, given.set);
  const { scenario } = year;
  // Only the parts of the report that don't depend on the hours are shown; a year costs about a millisecond.
  const report = findings(playYear(year, plantOf(scenario)));
  const { notices, dangers } = report;
  // Fuel is burnt in the hours; the bill is not.
  const money = report.money && { ...report.money, unpriced: billOfScenario(scenario).unpriced };
  const noBill = 'parts have prices, and no money section says in which currency: there is no bill';
  const { zoneOffPlace } = await import('../place.ts');
  await tell(io, given, [], {
    document: checkDocument({
      report,
      scenarioName: name,
      filesRead: paths.length - 1,
      money,
      unknownPanels: scenario.arrays.filter(({ panel }) => panel === undefined).map(({ name }) => name),
    }),
    json: checkJson(report, money),
    notes: [
      ...(money === null && hasPrices(scenario) ? [noBill] : []),
      ...[...notices, ...zoneOffPlace(scenario)].map(noticeText),
    ],
  });
  if (dangers.length > 0) throw new Ending(EXIT.danger, dangersText(dangers));
}

const hasPrices = ({ arrays, bank, inverter, charger, generator }: Scenario): boolean =>
  [...arrays, ...arrays.map(({ tracker }) => tracker), bank, inverter, charger, generator].some(
    (part) => part?.price !== undefined,
  );

/** Those parts of report.json that no hour changes. */
function checkJson(report: Report, money: Report['money']): string {
  const { longnight, site, dangers, limits, peak, surge, strings, cautions, notices } = report;
  const bought = money && {
    currency: money.currency,
    capital: money.capital,
    bill: money.bill,
    unpriced: money.unpriced,
    per_usable_kWh: money.per_usable_kWh,
    per_output_kW: money.per_output_kW,
  };
  const all = { longnight, site, dangers, limits, peak, surge, strings, money: bought, cautions, notices };
  return jsonText('check.json', all);
}
