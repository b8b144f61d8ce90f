import {
  ensembleSeeds,
  figuresOfReport,
  findings,
  hoursByYear,
  newYearShelf,
  type Plant,
  plantOf,
  playEnsemble,
  playEveryYear,
  playYear,
  playYears,
  type Report,
  readHold,
} from '@longnight/core';
import manifest from '../../package.json' with { type: 'json' };
import { Ending, EXIT } from '../exit-codes.ts';
import { type Opened, openScenario } from '../files/scenario.ts';
import { checkOutputs, writeOutputs } from '../files/write.ts';
import type { Io } from '../io.ts';
import { type Bounded, boundLine, isKept, missedText } from '../render/check-bounds.ts';
import { seedsCsv } from '../render/ensemble.ts';
import { hoursCsv } from '../render/hours-csv.ts';
import { reportJson } from '../render/json.ts';
import { reportMarkdown } from '../render/markdown.ts';
import { paint } from '../render/paint.ts';
import { plain } from '../render/plain-text.ts';
import { summary } from '../render/summary.ts';
import { yearsCsv } from '../render/years.ts';

const OUTPUT_NAMES = ['report.md', 'report.json', 'hours.csv', 'report.html'];

export interface RunOptions {
  /** Folder for the outputs; null writes none. */
  readonly out: string | null;
  readonly json: boolean;
  readonly spell_days: number;
  /** Bounds on figures of the report, as the user wrote them. */
  readonly hold: readonly string[];
  /** How many years to play on; null plays one. */
  readonly years: number | null;
  /** How many years to draw; null draws the scenario's own alone. */
  readonly seeds: number | null;
}

/**
 * `longnight run`: read, prepare, play, find, write, print.
 *
 * @throws Ending with exit code 3, after all is written and printed, if a bound is missed
 */
export async function run(file: string, options: RunOptions, io: Io): Promise<void> {
  const opened = openScenario(io.cwd, file);
  const { weather } = opened.year.scenario;
  const seeds = options.seeds === null ? null : ensembleSeeds(weather, options.seeds);
  const names = [
    ...OUTPUT_NAMES,
    ...(options.years === null ? [] : ['years.csv']),
    ...(seeds === null ? [] : ['seeds.csv']),
  ];
  if (options.out !== null) checkOutputs(io.cwd, options.out, names, opened.paths);

  const plant = plantOf(opened.year.scenario);
  const ledger = playYear(opened.year, plant);
  const years = options.years === null ? null : yearsOf(opened, plant, options.years);
  const ensemble = seeds === null ? null : ensembleOf(opened, plant, seeds);
  const { read, source, texts } = opened.files;
  const every_year = playEveryYear(read, source.file, texts, opened.year);
  const report = {
    ...findings(opened.year, plant, ledger, options.spell_days),
    years,
    every_year,
    ensemble,
  };
  const bounds = boundsOn(report, options.hold);

  const json = reportJson(report);
  if (options.out !== null) {
    const context = { scenarioName: opened.name, read: opened.read, version: manifest.version };
    const { reportPage } = await import('../render/page-report.ts');
    writeOutputs(io.cwd, options.out, [
      { name: 'report.md', text: reportMarkdown(report, context) },
      { name: 'report.json', text: json },
      { name: 'hours.csv', text: hoursCsv(opened.year, ledger) },
      { name: 'report.html', text: reportPage(report, context, opened.year, ledger) },
      ...(years === null ? [] : [{ name: 'years.csv', text: yearsCsv(years) }]),
      ...(ensemble === null ? [] : [{ name: 'seeds.csv', text: seedsCsv(ensemble) }]),
    ]);
  }

  const written = options.out === null ? null : { folder: options.out, names };
  io.out(options.json ? json : summary(report, { written, bounds: bounds.map(boundLine) }, paint(io.colour)));
  for (const notice of report.notices) io.err(`note: ${plain(notice.message)}\n`);
  const missed = bounds.filter((bounded) => !isKept(bounded));
  if (missed.length > 0) throw new Ending(EXIT.missedTarget, missedText(missed));
}

function boundsOn(report: Report, texts: readonly string[]): readonly Bounded[] {
  if (texts.length === 0) return [];
  const figures = figuresOfReport(report);
  const known = [...figures.keys()];
  return texts.map((text) => {
    const hold = readHold(text, known);
    return { hold, figure: figures.get(hold.name) ?? null };
  });
}

function yearsOf({ year, files }: Opened, plant: Plant, years: number): NonNullable<Report['years']> {
  const prepare = newYearShelf(files.source.file, files.texts);
  return playYears({
    years,
    plant,
    yearOf: hoursByYear(year, prepare),
    array_ageing_share_per_year: year.scenario.arrays.map((array) => array.ageing_share_per_year),
  });
}

const ensembleOf = (
  { year, files }: Opened,
  plant: Plant,
  seeds: readonly number[],
): NonNullable<Report['ensemble']> =>
  playEnsemble({
    scenario: year.scenario,
    plant,
    seeds,
    prepare: newYearShelf(files.source.file, files.texts),
  });
