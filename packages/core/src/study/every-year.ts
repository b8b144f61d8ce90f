import { InputError } from '../basis/errors.ts';
import { balancedBooks } from '../findings/findings.ts';
import type { EveryYearRow, Report } from '../findings/report.ts';
import { total } from '../findings/totals.ts';
import { newDesk, playYear } from '../hours/play.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { plantOf } from '../plant/plant.ts';
import type { ReadScenario } from '../scenario/read.ts';
import type { FileTexts } from '../series/types.ts';
import { type PreparedYear, prepareYear } from '../year.ts';
import { heldWords, WHOLE_YEAR, yearsOfFile } from './file-years.ts';
import { yearFigures } from './year-figures.ts';

/**
 * Plays every whole year of the scenario's weather file, each from `run.start_soc` with the plant as it is: sun,
 * calendar and loads are those of each year. A year is left out, with the reason, if the file holds a part of it, or if
 * it has gaps that may not be filled, there or in a load series.
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
  const plant = plantOf(read.scenario);
  let desk = newDesk(run.clock.steps);
  for (const { year, days, held } of touched) {
    if (held < WHOLE_YEAR) {
      left_out.push({ year, why: heldWords(held, days) });
      continue;
    }
    try {
      const scenario = { ...read.scenario, run: { ...read.scenario.run, year } };
      const prepared = year === run.clock.year ? run : prepareYear({ ...read, scenario }, file, texts);
      if (desk.tracked_kWh.length !== prepared.clock.steps) desk = newDesk(prepared.clock.steps);
      const ledger = playYear(prepared, plant, desk);
      balancedBooks(prepared, plant, ledger);
      by_year.push(rowOf(prepared, ledger, plant.generator !== null));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      left_out.push({ year, why: error.issues[0]!.message });
    }
  }
  if (by_year.length < 2) return null;
  const worst = by_year.reduce((a, b) => (isHarder(b, a) ? b : a));
  return { by_year, worst, left_out };
}

function rowOf({ clock, sky }: PreparedYear, ledger: Ledger, hasEngine: boolean): EveryYearRow {
  return {
    year: clock.year,
    ghi_kWh_m2: (total(sky.ghi_W_m2) * clock.step_h) / 1000,
    wanted_kWh: total(ledger.columns.load_wanted_kWh),
    ...yearFigures(ledger, hasEngine),
  };
}

/** More unserved comes first, then more hours of the generator, then the lower bank; of equals the earlier year. */
function isHarder(a: EveryYearRow, b: EveryYearRow): boolean {
  if (a.unmet_kWh !== b.unmet_kWh) return a.unmet_kWh > b.unmet_kWh;
  const [runs, runsB] = [a.generator_run_hours ?? 0, b.generator_run_hours ?? 0];
  return runs !== runsB ? runs > runsB : a.lowest_soc < b.lowest_soc;
}
