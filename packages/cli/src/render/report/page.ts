import type { Ledger, Report } from '@longnight/core';
import { counted } from '../document/figures.ts';
import { pageDocument } from '../document/page.ts';
import { placeWords, weatherWords } from '../document/words.ts';
import type { MarkdownContext } from './markdown.ts';
import { autonomySection, givesOutSection, wearSection } from './page-bank.ts';
import { limitsSection, moneySection } from './page-plant.ts';
import { againSection, assumptionsSection } from './page-rests.ts';
import { verdictSection } from './page-verdict.ts';
import { seasonsSection, spellSection } from './page-week.ts';
import { monthsSection, yearSection } from './page-year.ts';

/** report.html: what report.json says, drawn. Figures are those of the report; hours are read off the ledger. */
export function reportPage(report: Report, context: MarkdownContext, ledger: Ledger): string {
  const { site, run } = report;
  return pageDocument({
    title: `${site.name}: the year ${run.year}`,
    about: [
      `${placeWords(site)}, ${site.time_zone}. Weather: ${weatherWords(run)}.`,
      `A model of one year, played in ${counted(run.steps, 'step')} of ${run.step_min} min; no measurement of a plant.`,
    ],
    sections: [
      verdictSection(report),
      yearSection(report, ledger),
      monthsSection(report),
      spellSection(report, ledger),
      autonomySection(report),
      givesOutSection(report),
      seasonsSection(report, ledger),
      wearSection(report),
      moneySection(report),
      limitsSection(report),
      assumptionsSection(report),
      againSection(report, context),
    ],
    foot: `Made by Longnight ${context.version} from ${context.scenarioName}.`,
  });
}
