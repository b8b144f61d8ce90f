import { expectArgument } from '../../basis/arguments.ts';
import { balancedBooks } from '../../findings/findings.ts';
import type { Report } from '../../findings/report.ts';
import type { ManyYears, ManyYearsRow } from '../../findings/years.ts';
import { newReusedColumns, playYear } from '../../hours/play.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { PlantState } from '../../ledger/state.ts';
import { plantOf } from '../../plant/plant.ts';
import type { ReadScenario } from '../../scenario/read.ts';
import type { FileTexts } from '../../series/types.ts';
import type { PreparedYear } from '../../year.ts';
import type { OnPlayed } from '../on-played.ts';
import { playableYears, WHOLE_YEAR, yearsOfFile } from './file-years.ts';
import { manyYears, PERCENTILES } from './many-years.ts';
import { yearFigures } from './year-figures.ts';

/**
 * Plays every whole year of the scenario's weather file with the plant as it is: sun, calendar and loads are those of
 * each year. The first closes on itself, or begins with `run.initial_soc`; every other begins as the one played before
 * it ended.
 *
 * @param run the year that the scenario runs, prepared already
 * @param onYear told how many of the file's years are done, after each
 * @param percentiles of figures to tell, whole, 1 to 99
 * @returns null if the weather is not from a file of dated rows, or the file holds one whole year or none
 * @throws BalanceError if the books of a year don't balance
 */
export function playEveryYear(
  read: ReadScenario,
  file: string,
  texts: FileTexts,
  run: PreparedYear,
  onYear?: OnPlayed,
  percentiles: readonly number[] = PERCENTILES,
): ManyYears | null {
  expectArgument('playEveryYear', 'read', read, 'read');
  expectArgument('playEveryYear', 'texts', texts, 'map');
  expectArgument('playEveryYear', 'run', run, 'year');
  const touched = yearsOfFile(read.scenario, file, texts);
  if (touched === null || touched.filter(({ held }) => held >= WHOLE_YEAR).length < 2) return null;
  const by_year: ManyYearsRow[] = [];
  const left_out: { year: number; why: string }[] = [];
  const repeats = new Map<string, number[]>();
  const plant = plantOf(read.scenario);
  let reused = newReusedColumns(run.clock.steps);
  let handed_on: PlantState | null = null;
  for (const one of playableYears(read, file, texts, touched, onYear)) {
    if (one.prepared === null) {
      left_out.push({ year: one.year, why: one.why });
      continue;
    }
    const { year, prepared, repeated } = one;
    if (reused.tracked_kWh.length !== prepared.clock.steps) reused = newReusedColumns(prepared.clock.steps);
    const ledger: Ledger = playYear(prepared, plant, reused, handed_on);
    balancedBooks(ledger);
    handed_on = ledger.end;
    by_year.push(yearFigures(ledger));
    for (const name of repeated) repeats.set(name, [...(repeats.get(name) ?? []), year]);
  }
  if (by_year.length < 2) return null;
  return manyYears(by_year, plant, percentiles, {
    left_out,
    repeated: [...repeats].map(([file, years]) => ({ file, years })),
  });
}

/**
 * A report whose weather file holds many years: the verdict counts them, and rows of other years than that of the run
 * are not said to be unused. Without such a file the report stays as it is.
 */
export function withEveryYear(report: Report, every_year: ManyYears | null): Report {
  if (every_year === null) return report;
  const { notices } = report;
  return {
    ...report,
    every_year,
    verdict: { holds: every_year.years_held === every_year.by_year.length },
    notices: notices.filter(
      (notice) =>
        !('message' in notice) || notice.id !== 'rows-outside-year' || !notice.message.startsWith('weather:'),
    ),
  };
}
