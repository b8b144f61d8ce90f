import type { Ledger, Report } from '@longnight/core';
import { PERCENTILES } from '@longnight/core/study';
import { againSection, type ReadFrom } from '../document/again.ts';
import { type Document, present } from '../document/document.ts';
import { counted, imbalance } from '../document/figures.ts';
import { fileWord } from '../document/shell.ts';
import { placeWords, sentenceCase, weatherWords } from '../document/words.ts';
import { autonomySection, givesOutSection, wearSection } from './bank.ts';
import { dangersSection, wholeCautions } from './dangers.ts';
import { ensembleSections, everyYearSections } from './many-years.ts';
import { moneySection } from './money.ts';
import { limitsSection, noticesSection } from './plant.ts';
import { loadsSection, plantSection, type Stated, statedSection } from './played.ts';
import { assumptionsSection, restsSections } from './rests.ts';
import { arraySection, bankSection, generatorSection, otherSections } from './sources.ts';
import { verdictSection } from './verdict.ts';
import { leanestSection, seasonsSection } from './week.ts';
import { monthsSection, yearSection } from './year.ts';
import { yearsSections } from './years.ts';

/** What `run` knows beyond the report itself. Nothing in it may depend on the machine or the folder. */
export interface ReportContext extends ReadFrom {
  /** Name of the scenario file, without its folder. */
  readonly scenarioName: string;
  /** Every input that the scenario states. */
  readonly stated: readonly Stated[];
  /** True if files are written: then the screen says where its assumptions stand. */
  readonly isWritten: boolean;
  /** A line for each requirement that was asked for. */
  readonly bounds: readonly string[];
  /** The months and the leanest days as bars of a terminal. */
  readonly strips: { readonly months: readonly string[]; readonly lean: readonly string[] };
}

/** What `longnight run` says; figures are those of the report, hours are read off the ledger. */
export function reportDocument(report: Report, ledger: Ledger, context: ReportContext): Document {
  const { project, site, run, dangers, cautions, audit } = report;
  const everyYear = everyYearSections(report.every_year);
  const ensemble = ensembleSections(report);
  const years = yearsSections(report.years);
  return {
    title: `${project.title ?? site.name}: the year ${run.year}`,
    dangers: dangersSection(dangers),
    about: [
      ...projectWords(project),
      ...present([project.title && `${site.name}.`]),
      `${placeWords(site)}, ${site.time_zone}. Weather: ${weatherWords(run)}.`,
      `A model of one year, played in ${counted(run.steps, 'step')} of ${run.step_min} min; no measurement of a plant.`,
    ],
    sections: [
      verdictSection(report, context.strips.months),
      ...[everyYear, ensemble].flatMap((told) => told.said),
      plantSection(report, ledger.year.scenario),
      loadsSection(report),
      statedSection(context.stated),
      yearSection(report, ledger),
      monthsSection(report),
      leanestSection(report, ledger, context.strips.lean),
      autonomySection(report),
      givesOutSection(report),
      seasonsSection(report, ledger),
      generatorSection(report),
      ...otherSections(report),
      arraySection(report),
      bankSection(report),
      wearSection(report),
      ...years.said,
      ...moneySection(report),
      ...restsSections(report, context),
      wholeCautions(cautions),
      limitsSection(report),
      noticesSection(report),
      assumptionsSection(report),
      ...[everyYear, ensemble, years].flatMap((told) => told.table),
      againSection(
        runCommand(report, context.scenarioName),
        context,
        `Energy in and out was checked in each of ${counted(audit.steps_checked, 'step')}; the largest miss is ` +
          `${imbalance(audit.largest_imbalance_kWh)}. report.json holds every figure, hours.csv every step.`,
      ),
    ],
    foot: [
      ...projectWords(project),
      `Made by Longnight ${context.version} from ${context.scenarioName}.`,
    ].join(' '),
  };
}

/** For whom, by whom, which job and issue: one sentence, or none. */
function projectWords({ client, author, reference, revision }: Report['project']): string[] {
  const said = present([
    client !== null && `for ${client}`,
    author !== null && `by ${author}`,
    reference !== null && `reference ${reference}`,
    revision !== null && `revision ${revision}`,
  ]);
  return said.length === 0 ? [] : [`${sentenceCase(said.join(', '))}.`];
}

/** The command that makes a report again, with the options that change what it says. */
function runCommand({ leanest_days, years, ensemble, every_year }: Report, scenarioName: string): string {
  const lean = leanest_days.days === 7 ? '' : ` --lean-days ${leanest_days.days}`;
  const played = years === null ? '' : ` --years ${years.by_year.length}`;
  const seeds = ensemble === null ? '' : ` --seeds ${ensemble.by_year.length}`;
  const [over] = (ensemble ?? every_year)?.over_years ?? [];
  const percents = over?.percentiles.map(({ percent }) => percent);
  const told =
    percents === undefined || `${percents}` === `${PERCENTILES}` ? '' : ` --percentiles ${percents}`;
  return `longnight run ${fileWord(scenarioName)} --out DIR${played}${seeds}${told}${lean}`;
}
