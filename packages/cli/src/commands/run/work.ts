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
import { Ending, EXIT } from '../../exit-codes.ts';
import { madeFrom, type Opened, openScenario } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import { blocksWanted, type Io } from '../../io.ts';
import { type Bounded, boundLine, isKept, missedText } from '../../render/check/requirements.ts';
import { present } from '../../render/document/document.ts';
import { reportJson } from '../../render/document/json.ts';
import { written } from '../../render/document/written.ts';
import { dangersText } from '../../render/report/dangers.ts';
import { reportDocument } from '../../render/report/document.ts';
import { seedsCsv } from '../../render/report/ensemble.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { BLOCKS, DIGITS, leanStrip, monthStrip } from '../../render/report/strip.ts';
import { yearsCsv } from '../../render/report/years.ts';
import { checkTables, type TableOptions, tableNames, tableOutputs } from '../../render/tables/tables.ts';
import { watched } from '../../workers/progress.ts';
import { type Given, tell } from '../tell.ts';

const NAMES = ['report.md', 'report.json', 'report.html'];

interface RunGiven extends Given, TableOptions {
  readonly leanDays: number;
  /** Bounds on figures of the report, as the user wrote them. */
  readonly require?: readonly string[];
  /** How many years to play on; without it one is played. */
  readonly years?: number;
  /** How many years to draw; without it the scenario's own alone is played. */
  readonly seeds?: number;
}

/**
 * `longnight run`: read, prepare, play, find, write, print.
 *
 * @throws Ending with exit code 3, after all is written and printed, if a bound is missed or the plant is a danger
 */
export async function run(file: string, given: RunGiven, io: Io): Promise<void> {
  const { out } = given;
  checkTables(given, out);
  const opened = openScenario(io.cwd, file, given.set);
  const { weather } = opened.year.scenario;
  const seeds = given.seeds === undefined ? null : ensembleSeeds(weather, given.seeds);
  const names = present([
    ...NAMES,
    ...tableNames(given),
    given.years !== undefined && 'years.csv',
    seeds && 'seeds.csv',
  ]);
  checkOutputs(io.cwd, out, names, opened.paths);

  const plant = plantOf(opened.year.scenario);
  const ledger = playYear(opened.year, plant);
  const years = given.years === undefined ? null : yearsOf(opened, plant, given.years, io);
  const ensemble = seeds === null ? null : ensembleOf(opened, plant, seeds, io);
  const { read, source, texts } = opened;
  const every_year = watched(io, 'years', null, (at) =>
    playEveryYear(read, source.file, texts, opened.year, at),
  );
  const alone = findings(ledger, given.leanDays, years);
  const report = { ...withEveryYear(alone, every_year), ensemble };
  const bounds = boundsOn(report, given.require ?? []);

  const glyphs = blocksWanted(io.env) ? BLOCKS : DIGITS;
  const document = reportDocument(report, ledger, {
    scenarioName: opened.name,
    ...madeFrom(opened),
    isWritten: out !== undefined,
    stated: read.stated,
    bounds: bounds.map(boundLine),
    strips: {
      months: monthStrip(report, glyphs),
      lean: leanStrip(ledger, report.leanest_days, glyphs),
    },
  });
  const tables = present([
    ...(out === undefined ? [] : await tableOutputs(ledger, report, given)),
    years && { name: 'years.csv', text: yearsCsv(years) },
    ensemble && { name: 'seeds.csv', text: seedsCsv(ensemble) },
  ]);
  const notes = report.notices.map(noticeText);
  await tell(io, given, names, { document, json: reportJson(report), tables, notes });
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

function yearsOf(
  { year, source, texts }: Opened,
  plant: Plant,
  years: number,
  io: Io,
): NonNullable<Report['years']> {
  const hoursOf = hoursByYear(year, newYearPreparer(source.file, texts));
  return watched(io, 'years', years, (at) =>
    playYears({
      years,
      plant,
      yearOf: (k) => {
        at(k);
        return hoursOf(k);
      },
      array_ageing_share_per_year: year.scenario.arrays.map((array) => array.ageing_share_per_year),
    }),
  );
}

function ensembleOf(
  { year, source, texts }: Opened,
  plant: Plant,
  seeds: readonly number[],
  io: Io,
): NonNullable<Report['ensemble']> {
  const hoursOf = newYearPreparer(source.file, texts);
  let drawn = 0;
  return watched(io, 'years', seeds.length, (at) =>
    playEnsemble({
      scenario: year.scenario,
      plant,
      seeds,
      prepare: (scenario) => {
        at(drawn++);
        return hoursOf(scenario);
      },
    }),
  );
}
