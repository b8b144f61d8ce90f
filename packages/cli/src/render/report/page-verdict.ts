import type { Report } from '@longnight/core';
import { amount, counted, days, hours, kWh, percent, socPercent } from '../document/figures.ts';
import { escaped, list, paragraph, type Section, table, terms } from '../document/html.ts';
import { dangerSentence, dangersTitle } from './dangers.ts';
import { ensembleBasis, ensembleSentences, SPREAD_TITLES, spreadCells } from './ensemble.ts';
import { EVERY_YEAR_TITLES, everyYearCells, everyYearSentences } from './every-year.ts';
import { otherSources } from './other-sources.ts';
import { serviceSentence } from './service.ts';
import { verdictSentence } from './verdict-words.ts';

/** The first thing that a reader looks for, and the figures that say how near it was. */
export function verdictSection(report: Report): Section {
  const { verdict, dangers, load, unmet, bank, generator, autonomy, array, every_year, ensemble } = report;
  const others = [...otherSources(report), ...service(report)];
  return {
    id: 'verdict',
    title: 'Does it hold?',
    sentence: verdictSentence(report),
    tone: verdict.holds ? 'verdict' : 'verdict fails',
    body: [
      ...(dangers.length === 0
        ? []
        : [
            `<div class="caution">\n<h3>${escaped(dangersTitle(dangers))}</h3>\n${list(dangers.map(dangerSentence))}\n</div>`,
          ]),
      ...(every_year === null ? [] : [everyYear(every_year)]),
      ...(ensemble === null ? [] : [drawnYears(ensemble)]),
      terms([
        ['wanted', kWh(load.wanted_kWh)],
        ['on a mean day', kWh(load.mean_kWh_day)],
        ['unserved', kWh(unmet.energy_kWh)],
        ['hours with unserved load', hours(unmet.hours)],
        ['loss-of-load probability', percent(unmet.loss_of_load_probability)],
        ['longest spell of them', hours(unmet.longest_hours)],
        ['lowest charge', `${socPercent(bank.lowest_soc)} %`],
        ['usable bank', kWh(bank.usable_kWh)],
        ['nominal autonomy', days(autonomy.nominal_days)],
        ['arrays', `${amount(array.size_kWp)} kWp`],
        ['sun curtailed', percent(array.curtailed_share)],
        [
          'generator',
          generator === null
            ? 'none'
            : `${hours(generator.run_hours)}, ${counted(generator.starts, 'start')}`,
        ],
      ]),
      ...(others.length === 0 ? [] : [list(others.map(([label, said]) => `${label}: ${said}`))]),
    ],
  };
}

/** What the other years of a weather file say, before any figure of this one. */
function everyYear(years: NonNullable<Report['every_year']>): string {
  return [
    '<h3>Every year of the weather file</h3>',
    table({
      caption: 'Every year of the weather file, each with its own weather, calendar and sun',
      columns: EVERY_YEAR_TITLES.map((title, k) => (k === 0 ? { title } : { title, figures: true as const })),
      rows: everyYearCells(years),
    }),
    list(everyYearSentences(years)),
  ].join('\n');
}

/** How the plant fares in other years that fit the same means. */
function drawnYears(ensemble: NonNullable<Report['ensemble']>): string {
  return [
    '<h3>Other years that fit the same means</h3>',
    paragraph(ensembleSentences(ensemble).join(' ')),
    table({
      caption: 'Spread over the drawn years',
      columns: SPREAD_TITLES.map((title, k) => (k === 0 ? { title } : { title, figures: true as const })),
      rows: spreadCells(ensemble),
    }),
    list(ensembleBasis(ensemble)),
  ].join('\n');
}

function service({ generator }: Report): [string, string][] {
  const sentence = generator === null ? '' : serviceSentence(generator).trimStart();
  return sentence === '' ? [] : [['Generator', sentence]];
}
