import { balancedBooks } from '../../findings/findings.ts';
import type { EveryYearRow, Report } from '../../findings/report.ts';
import { total } from '../../findings/totals.ts';
import { newReusedColumns, playYear } from '../../hours/play.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { PlantState } from '../../ledger/state.ts';
import { plantOf } from '../../plant/plant.ts';
import type { ReadScenario } from '../../scenario/read.ts';
import type { FileTexts } from '../../series/types.ts';
import type { PreparedYear } from '../../year.ts';
import { playableYears, WHOLE_YEAR, yearsOfFile } from './file-years.ts';
import { yearFigures } from './year-figures.ts';

type EveryYear = NonNullable<Report['every_year']>;

/**
 * Plays every whole year of the scenario's weather file with the plant as it is: sun, calendar and loads are those of
 * each year. The first closes on itself, or begins with `run.initial_soc`; every other begins as the one played before
 * it ended.
 *
 * @param run the year that the scenario runs, prepared already
 * @returns null if the weather is not from a file of dated rows, or the file holds one whole year or none
 * @throws BalanceError if the books of a year don't balance
 */
export function playEveryYear(
  read: ReadScenario,
  file: string,
  texts: FileTexts,
  run: PreparedYear,
): Report['every_year'] {
  const touched = yearsOfFile(read.scenario, file, texts);
  if (touched === null || touched.filter(({ held }) => held >= WHOLE_YEAR).length < 2) return null;
  const by_year: EveryYearRow[] = [];
  const left_out: { year: number; why: string }[] = [];
  const repeats = new Map<string, number[]>();
  const plant = plantOf(read.scenario);
  let reused = newReusedColumns(run.clock.steps);
  let handed_on: PlantState | null = null;
  for (const one of playableYears(read, file, texts, touched)) {
    if (one.prepared === null) {
      left_out.push({ year: one.year, why: one.why });
      continue;
    }
    const { year, prepared, repeated } = one;
    if (reused.tracked_kWh.length !== prepared.clock.steps) reused = newReusedColumns(prepared.clock.steps);
    const ledger: Ledger = playYear(prepared, plant, reused, handed_on);
    balancedBooks(ledger);
    handed_on = ledger.end;
    by_year.push(rowOf(ledger));
    for (const name of repeated) repeats.set(name, [...(repeats.get(name) ?? []), year]);
  }
  if (by_year.length < 2) return null;
  return {
    years_held: by_year.reduce((held, row) => held + (row.unmet_hours === 0 ? 1 : 0), 0),
    by_year,
    worst: by_year.reduce((a, b) => (isHarder(b, a) ? b : a)),
    left_out,
    rests_on: [
      `The first year begins with ${plant.initial_soc === null ? 'the state it would end with' : 'run.initial_soc'}; every other begins as the one before it ended. ` +
        'All else in this report is about the year of run.year alone' +
        `${plant.initial_soc === null ? ', which closes on itself' : ''}: its row here may differ.`,
      ...(left_out.length === 0 ? [] : ['Over a year that is left out the state is handed on as it is.']),
      ...[...repeats].map(
        ([name, years]) =>
          `${name} holds no ${yearList(years)}: its rows are used again there, date for date, so weekdays are not those of the calendar.`,
      ),
    ],
  };
}

/** `2010 to 2014, 2016`. */
function yearList(years: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const year of years) {
    const last = runs.at(-1);
    if (last !== undefined && last[1] === year - 1) last[1] = year;
    else runs.push([year, year]);
  }
  return runs.map(([from, to]) => (from === to ? `${from}` : `${from} to ${to}`)).join(', ');
}

/**
 * A report whose weather file holds many years: the verdict counts them, and rows of other years than that of the run
 * are not said to be unused. Without such a file the report stays as it is.
 */
export function withEveryYear(report: Report, every_year: Report['every_year']): Report {
  if (every_year === null) return report;
  const { verdict, notices, run } = report;
  return {
    ...report,
    every_year,
    verdict: {
      holds: every_year.years_held === every_year.by_year.length,
      sentence: verdictOf(every_year, run.year, verdict.sentence),
    },
    notices: notices.filter(
      ({ id, message }) => id !== 'rows-outside-year' || !message.startsWith('weather:'),
    ),
  };
}

function verdictOf({ by_year, years_held, left_out }: EveryYear, run: number, ofRun: string): string {
  const failing = by_year.filter((row) => row.unmet_hours > 0).map((row) => row.year);
  const played = `${by_year.length} years of the weather file`;
  const count =
    failing.length === 0
      ? `Holds in all ${played}.`
      : `Holds in ${years_held} of ${played}; not in ${yearList(failing)}.`;
  const out = left_out.length === 0 ? '' : ` Not played: ${yearList(left_out.map(({ year }) => year))}.`;
  return `${count}${out} ${run} on its own: ${ofRun.charAt(0).toLowerCase()}${ofRun.slice(1)}`;
}

function rowOf(ledger: Ledger): EveryYearRow {
  const { clock, sky } = ledger.year;
  return {
    year: clock.year,
    ghi_kWh_m2: (total(sky.ghi_W_m2) * clock.step_h) / 1000,
    wanted_kWh: total(ledger.columns.load_wanted_kWh),
    ...yearFigures(ledger),
  };
}

/** More unserved comes first, then more hours of the generator, then the lower bank; of equals the earlier year. */
function isHarder(a: EveryYearRow, b: EveryYearRow): boolean {
  if (a.unmet_kWh !== b.unmet_kWh) return a.unmet_kWh > b.unmet_kWh;
  const [runs, runsB] = [a.generator_run_hours ?? 0, b.generator_run_hours ?? 0];
  return runs !== runsB ? runs > runsB : a.lowest_soc < b.lowest_soc;
}
