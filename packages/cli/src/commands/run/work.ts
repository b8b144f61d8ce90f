import {
  findings,
  newYearPreparer,
  type Plant,
  plantOf,
  playEnsemble,
  playEveryYear,
  playYear,
  playYears,
  type Report,
} from '@longnight/core';
import { figuresOfReport } from '@longnight/core/findings';
import { ensembleSeeds, hoursByYear, readRequirement, withEveryYear } from '@longnight/core/study';
import manifest from '../../../package.json' with { type: 'json' };
import { Ending, EXIT } from '../../exit-codes.ts';
import { type Opened, openScenario } from '../../files/scenario.ts';
import { checkOutputs, writeOutputs } from '../../files/write.ts';
import { blocksWanted, type Io } from '../../io.ts';
import { type Bounded, boundLine, isKept, missedText } from '../../render/check/requirements.ts';
import { reportJson } from '../../render/document/json.ts';
import { paint } from '../../render/document/paint.ts';
import { plain } from '../../render/document/plain-text.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { written } from '../../render/document/written.ts';
import { dangersText } from '../../render/report/dangers.ts';
import { reportDocument } from '../../render/report/document.ts';
import { seedsCsv } from '../../render/report/ensemble.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { BLOCKS, DIGITS, leanStrip, monthStrip } from '../../render/report/strip.ts';
import { yearsCsv } from '../../render/report/years.ts';
import { checkTables, type TableOptions, tableNames, tableOutputs } from '../../render/tables/tables.ts';
import { progressOf } from '../../workers/progress.ts';

const OUTPUT_NAMES = ['report.md', 'report.json', 'report.html'];

interface RunOptions {
  /** Folder for the outputs; null writes none. */
  readonly out: string | null;
  readonly json: boolean;
  readonly lean_days: number;
  /** Bounds on figures of the report, as the user wrote them. */
  readonly hold: readonly string[];
  /** How many years to play on; null plays one. */
  readonly years: number | null;
  /** How many years to draw; null draws the scenario's own alone. */
  readonly seeds: number | null;
  readonly tables: TableOptions;
}

/**
 * `longnight run`: read, prepare, play, find, write, print.
 *
 * @throws Ending with exit code 3, after all is written and printed, if a bound is missed or the plant is a danger
 */
export async function run(file: string, options: RunOptions, io: Io): Promise<void> {
  checkTables(options.tables, options.out);
  const opened = openScenario(io.cwd, file);
  const { weather } = opened.year.scenario;
  const seeds = options.seeds === null ? null : ensembleSeeds(weather, options.seeds);
  const names = [
    ...OUTPUT_NAMES,
    ...tableNames(options.tables),
    ...(options.years === null ? [] : ['years.csv']),
    ...(seeds === null ? [] : ['seeds.csv']),
  ];
  if (options.out !== null) checkOutputs(io.cwd, options.out, names, opened.paths);

  const plant = plantOf(opened.year.scenario);
  const ledger = playYear(opened.year, plant);
  const years = options.years === null ? null : yearsOf(opened, plant, options.years, io);
  const ensemble = seeds === null ? null : ensembleOf(opened, plant, seeds, io);
  const { read, source, texts } = opened.files;
  const every_year = playEveryYear(read, source.file, texts, opened.year);
  const alone = findings(ledger, options.lean_days, years);
  const report = { ...withEveryYear(alone, every_year), ensemble };
  const bounds = boundsOn(report, options.hold);

  const json = reportJson(report);
  const glyphs = blocksWanted(io.env) ? BLOCKS : DIGITS;
  const document = reportDocument(report, ledger, {
    scenarioName: opened.name,
    read: opened.read,
    stated: opened.files.read.stated,
    version: manifest.version,
    isWritten: options.out !== null,
    bounds: bounds.map(boundLine),
    strips: {
      months: monthStrip(report, glyphs),
      lean: leanStrip(ledger, report.leanest_days, glyphs),
    },
  });
  if (options.out !== null) {
    const { toMarkdown } = await import('../../render/document/to-markdown.ts');
    const { toPage } = await import('../../render/document/to-page.ts');
    writeOutputs(io.cwd, options.out, [
      { name: 'report.md', text: toMarkdown(document) },
      { name: 'report.json', text: json },
      ...(await tableOutputs(ledger, report, options.tables)),
      { name: 'report.html', text: toPage(document) },
      ...(years === null ? [] : [{ name: 'years.csv', text: yearsCsv(years) }]),
      ...(ensemble === null ? [] : [{ name: 'seeds.csv', text: seedsCsv(ensemble) }]),
    ]);
  }

  const written = options.out === null ? null : { folder: options.out, names };
  io.out(options.json ? json : toScreen(document, written, paint(io.colour)));
  for (const notice of report.notices) io.err(`note: ${plain(noticeText(notice))}\n`);
  const missed = bounds.filter((bounded) => !isKept(bounded));
  const { dangers } = report;
  if (missed.length > 0 || dangers.length > 0)
    throw new Ending(
      dangers.length > 0 ? EXIT.danger : EXIT.missedTarget,
      [dangersText(dangers), missedText(missed)].filter((text) => text !== '').join('\n'),
    );
}

function boundsOn(report: Report, texts: readonly string[]): readonly Bounded[] {
  if (texts.length === 0) return [];
  const figures = figuresOfReport(report);
  const known = [...figures.keys()];
  return texts.map((text) => {
    const hold = readRequirement(text, known);
    const figure = figures.get(hold.name) ?? null;
    // As the files hold it: a bound copied from report.json is kept by the plant that gave it.
    return { hold, figure: figure === null ? null : written(figure) };
  });
}

function yearsOf({ year, files }: Opened, plant: Plant, years: number, io: Io): NonNullable<Report['years']> {
  const hoursOf = hoursByYear(year, newYearPreparer(files.source.file, files.texts));
  const progress = progressOf(io, 'years', years);
  const found = playYears({
    years,
    plant,
    yearOf: (k) => {
      progress.at(k);
      return hoursOf(k);
    },
    array_ageing_share_per_year: year.scenario.arrays.map((array) => array.ageing_share_per_year),
  });
  progress.end();
  return found;
}

function ensembleOf(
  { year, files }: Opened,
  plant: Plant,
  seeds: readonly number[],
  io: Io,
): NonNullable<Report['ensemble']> {
  const hoursOf = newYearPreparer(files.source.file, files.texts);
  const progress = progressOf(io, 'years', seeds.length);
  let drawn = 0;
  const found = playEnsemble({
    scenario: year.scenario,
    plant,
    seeds,
    prepare: (scenario) => {
      progress.at(drawn++);
      return hoursOf(scenario);
    },
  });
  progress.end();
  return found;
}
