import { billOfScenario, findings, plantOf, playYear, type Report, type Scenario } from '@longnight/core';
import { Ending, EXIT } from '../../exit-codes.ts';
import { openScenario } from '../../files/scenario.ts';
import type { Io } from '../../io.ts';
import { checkDocument } from '../../render/check/document.ts';
import { jsonText } from '../../render/document/json.ts';
import { paint } from '../../render/document/paint.ts';
import { plain } from '../../render/document/plain-text.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { dangersText } from '../../render/report/dangers.ts';
import { noticeText } from '../../render/report/notice-words.ts';

/**
 * `longnight check`: the same reading as `run`, and what the plant can do whatever the hours bring.
 *
 * @throws Ending with exit code 3, after all is printed, if the plant is a danger
 */
export function check(file: string, json: boolean, io: Io): void {
  const { year, name, paths } = openScenario(io.cwd, file);
  const plant = plantOf(year.scenario);
  // Only the parts of the report that don't depend on the hours are shown; a year costs about a millisecond.
  const ledger = playYear(year, plant);
  const report = findings(ledger);
  const { money, notices, dangers } = report;
  const document = checkDocument({
    report,
    scenarioName: name,
    filesRead: paths.length - 1,
    // Fuel is burnt in the hours; the bill is not.
    money: money === null ? null : { ...money, unpriced: billOfScenario(year.scenario).unpriced },
    unknownPanels: year.scenario.arrays.filter(({ panel }) => panel === undefined).map(({ name }) => name),
  });
  io.out(json ? checkJson(report) : toScreen(document, null, paint(io.colour)));
  if (money === null && hasPrices(year.scenario)) {
    io.err('note: parts have prices, and no money section says in which currency: there is no bill\n');
  }
  for (const notice of notices) io.err(`note: ${plain(noticeText(notice))}\n`);
  if (dangers.length > 0) throw new Ending(EXIT.danger, dangersText(dangers));
}

const hasPrices = ({ arrays, bank, inverter, charger, generator }: Scenario): boolean =>
  [...arrays, ...arrays.map(({ tracker }) => tracker), bank, inverter, charger, generator].some(
    (part) => part?.price !== undefined,
  );

/** Those parts of report.json that no hour changes. */
const checkJson = ({
  longnight,
  site,
  dangers,
  limits,
  peak,
  surge,
  strings,
  cautions,
  notices,
}: Report): string =>
  jsonText('check.json', { longnight, site, dangers, limits, peak, surge, strings, cautions, notices });
