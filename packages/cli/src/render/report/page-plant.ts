import type { Report } from '@longnight/core';
import { fixed, kW, price } from '../document/figures.ts';
import { details, escaped, list, paragraph, type Section, table } from '../document/html.ts';
import { blockHtml } from '../document/to-page.ts';
import { lyingBars } from '../drawing/bars.ts';
import { figure, WIDTH } from '../drawing/page-svg.ts';
import { billTable, lifetimeSums, type Money, moneySentence, presentValues } from './bill.ts';
import { conductorSentences, surgeSentences } from './conductor.ts';
import { limitWords } from './limit-words.ts';
import { noticeText } from './notice-words.ts';
import { peakSentences } from './peak.ts';
import { staticFigures } from './static-figures.ts';
import { NO_PANEL_DATA, stringSentences, stringsTitle } from './strings.ts';

/** The sections about the plant as it stands: money, limits and cautions. */

const figures = true as const;

export function moneySection({ money }: Report): Section {
  const head = { id: 'money', title: 'Money' };
  if (money === null)
    return { ...head, sentence: 'The scenario has no money section: nothing here has a price.', body: [] };
  return {
    ...head,
    sentence: moneySentence(money),
    body: [
      ...costBars(money),
      ...blockHtml({
        ...billTable('Bill of materials', money.currency, money.bill, money.capital),
        ...(money.total === null ? {} : { folded: true as const }),
      }),
    ],
  };
}

/** What the cost over the years is made of; nothing where a price is missing. */
function costBars(money: Money): string[] {
  const sums = lifetimeSums(money);
  if (money.total === null) return [];
  const parts = sums.slice(
    0,
    sums.findIndex(([, value]) => value === money.total && value !== money.capital),
  );
  const bars = (parts.length === 0 ? sums.slice(0, 1) : parts)
    .filter(([, value]) => value !== null)
    .map(([name, value]) => ({ name, value: value!, figure: price(value) }));
  const chart = {
    id: 'cost',
    title: `What the cost over the years is made of, ${money.currency}`,
    description: bars.map((bar) => `${bar.name}: ${bar.figure}`).join('; '),
    caption: `Present values, ${money.currency}: ${presentValues(money)}`,
  };
  return [
    figure(chart, {
      wide: lyingBars(bars, 'f-socket e-socket', WIDTH.wide),
      narrow: lyingBars(bars, 'f-socket e-socket', WIDTH.narrow),
    }),
    details(
      'The sums',
      table({
        caption: `Present values, ${money.currency}`,
        columns: [{ title: 'what' }, { title: money.currency, figures }],
        rows: sums.map(([what, value]) => [what, price(value)]),
      }),
    ),
  ];
}

export function limitsSection(report: Report): Section {
  const { limits, surge, strings, cautions, notices } = report;
  const rows = staticFigures(limits).flatMap(({ title, figure: { limits: all }, none }) =>
    all.length === 0
      ? [[title, none, 'n/a']]
      : all.map((limit, k) => [
          k === 0 ? title : '',
          `${k === 0 ? 'set by' : 'then'} ${limitWords(limit)}`,
          fixed(limit.limit_kW, 2),
        ]),
  );
  return {
    id: 'limits',
    title: 'Limits and cautions',
    sentence: limitsSentence(report),
    body: [
      `<div class="caution">\n<h3>Cautions</h3>\n${list(cautions)}\n</div>`,
      '<h3>What the plant can do before an hour is played</h3>',
      table({
        caption: 'Limits in ascending order: the first sets the figure',
        columns: [{ title: 'figure' }, { title: 'limit' }, { title: 'kW', figures }],
        rows,
      }),
      '<h3>What the loads can ask for at once</h3>',
      list([...peakSentences(report), ...surgeSentences(surge)]),
      '<h3>Cable between bank and inverter</h3>',
      list(conductorSentences(limits.bank_conductor)),
      ...strings.flatMap((check) => [
        `<h3>${escaped(stringsTitle(check))}</h3>`,
        list(stringSentences(check)),
      ]),
      ...(strings.length === 0 && report.array.size_kWp > 0
        ? ['<h3>Strings</h3>', paragraph(NO_PANEL_DATA)]
        : []),
      '<h3>What was filled or clipped on the way in, and what looks odd</h3>',
      notices.length === 0 ? paragraph('Nothing.') : list(notices.map(noticeText)),
    ],
  };
}

function limitsSentence({ limits, peak, surge, strings }: Report): string {
  const { ac_output, solar_charging, ac_charging, bank_conductor } = limits;
  const ends = (name: string, { figure_kW, limits: all }: typeof solar_charging, none: string): string =>
    figure_kW === null ? none : `${name} ends at ${kW(figure_kW)} (${limitWords(all[0]!)})`;
  const conflicts =
    peak.conflicts.length +
    surge.conflicts.length +
    bank_conductor.conflicts.length +
    strings.reduce((sum, check) => sum + check.conflicts.length, 0);
  // Strings were looked at only where the file has the data of their panels.
  const looked = strings.length === 0 ? 'peaks, starts and cable' : 'peaks, starts, cable and strings';
  return (
    `${ends('AC output', ac_output, 'there is no AC output')}, ${ends('solar charging', solar_charging, 'there is no array')}, ` +
    `${ends('AC charging', ac_charging, 'there is no AC charging')}; ` +
    `${conflicts === 0 ? `${looked} show no conflict in what was looked at` : `${looked} show ${conflicts === 1 ? 'a conflict' : `${conflicts} conflicts`}: see below`}.`
  );
}
