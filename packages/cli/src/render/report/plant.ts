import type { Report } from '@longnight/core';
import { type Block, FILES, figures, type Section, tableOf, textsOf } from '../document/document.ts';
import { fixed, kW } from '../document/figures.ts';
import { conductorSentences, surgeSentences } from './conductor.ts';
import { limitWords } from './limit-words.ts';
import { noticeText } from './notice-words.ts';
import { peakSentences } from './peak.ts';
import { staticFigures } from './static-figures.ts';
import { NO_PANEL_DATA, stringSentences, stringsTitle } from './strings.ts';

interface ShownLimit {
  readonly title: string;
  readonly said: string;
  readonly limit_kW: number | null;
}
/** What the plant can do before an hour is played, and what stands against each other. */
export function limitsSection(report: Report): Section {
  const { limits, surge, strings } = report;
  const said = (title: string, items: readonly string[]): Block[] => [
    { kind: 'heading', text: title },
    { kind: 'list', items },
  ];
  const shown = staticFigures(limits).flatMap(({ title, figure, none }): ShownLimit[] =>
    figure.limits.length === 0
      ? [{ title, said: none, limit_kW: null }]
      : figure.limits.map((limit, k) => ({
          title: k === 0 ? title : '',
          said: `${k === 0 ? 'set by' : 'then'} ${limitWords(limit)}`,
          limit_kW: limit.limit_kW,
        })),
  );
  return {
    id: 'limits',
    title: 'What limits the plant',
    on: FILES,
    sentence: limitsSentence(report),
    blocks: [
      tableOf('Limits in ascending order: the first sets the figure', shown, [
        ['figure', ({ title }) => title],
        ['limit', ({ said }) => said],
        [figures('kW'), ({ limit_kW }) => fixed(limit_kW, 2)],
      ]),
      ...textsOf([
        `Of the AC output ${kW(limits.ac_output.after_inverter_loss_kW)} reach the loads. A charging limit caps what goes into ` +
          'the bank; load served in the same hour comes on top of it.',
      ]),
      ...said('What the loads can ask for at once', [...peakSentences(report), ...surgeSentences(surge)]),
      ...said('Cable between bank and inverter', conductorSentences(limits.bank_conductor)),
      ...strings.flatMap((check) => said(stringsTitle(check), stringSentences(check))),
      ...(strings.length === 0 && report.array.size_kWp > 0 ? said('Strings', [NO_PANEL_DATA]) : []),
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

/** What was filled or clipped on the way in, and what looks odd. */
export const noticesSection = ({ notices }: Report): Section => ({
  id: 'notices',
  title: 'Notices',
  on: FILES,
  blocks: [
    notices.length === 0
      ? { kind: 'text', text: 'None: nothing was filled or clipped on the way in, and nothing looks odd.' }
      : { kind: 'list', items: notices.map(noticeText) },
  ],
});
