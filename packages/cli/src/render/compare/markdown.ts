import { titleOf } from '../document/figure-words.ts';
import { bullets, escaped, table } from '../document/markdown-text.ts';
import { weatherWords } from '../document/words.ts';
import { billTable, notPriced } from '../report/bill.ts';
import { noticeText } from '../report/notice-words.ts';
import { dearerSentences } from './dearer-words.ts';
import { type CompareShown, cellText, compareCautions, compareDangers, sectionsOf, setBy } from './rows.ts';

const figures = true as const;

/** compare.md: the tables, what sets the limits, the sentences, the bills. CommonMark with pipe tables. */
export function compareMarkdown({ comparison, scenario }: CompareShown): string {
  const { plants, currency, notices } = comparison;
  const sentences = dearerSentences(comparison);
  const labels = plants.map((plant) => escaped(plant.label));
  const { weather, run, site } = scenario;
  const seed = weather.kind === 'normals' ? weather.seed : null;
  const side = sectionsOf(comparison).map(([title, rows]): [string, string] => [
    escaped(title),
    table(
      [{ title: 'figure' }, ...labels.map((title) => ({ title, figures }))],
      rows.map((row) => [
        titleOf(row.name),
        ...row.values.map((value, k) => {
          const text = cellText(row.name, value);
          return row.winners.includes(k) ? `**${text}** \\*` : text;
        }),
      ]),
    ),
  ]);
  const limits = plants.flatMap(({ limits }, k) =>
    setBy(limits).map(([title, what]) => `${labels[k]}: ${title} by ${escaped(what)}`),
  );
  const sections: [string, string][] = [
    ...side,
    ['What sets it', bullets(limits)],
    ...(sentences.length === 0
      ? []
      : [['What the dearer one buys', bullets(sentences.map(escaped))] as [string, string]]),
    ...(currency === null
      ? []
      : plants.map(({ bill }, k): [string, string] => [
          `Bill of materials of ${labels[k]}, ${escaped(currency)}`,
          billTable(bill.lines, bill.capital) +
            (bill.capital === null ? `\n\n${escaped(notPriced(bill.unpriced))}` : ''),
        ])),
    ['Cautions', bullets(compareCautions(comparison).map(escaped))],
  ];
  const told = [...compareDangers(comparison), ...notices.map(noticeText)];
  const head = [
    `# ${escaped(site.name)}: ${labels.join(', ')}`,
    '',
    `All are played over the hours of ${labels[0]}: its site, weather, loads and year ${run.year}. Weather: ` +
      `${weatherWords({ weather: weather.kind, seed })}. A \\* marks the best of a row, where one end is better and not all are alike.`,
    '',
    ...(told.length === 0 ? [] : [bullets(told.map((text) => `**${escaped(text)}**`)), '']),
  ];
  return `${[...head, ...sections.flatMap(([title, body]) => [`## ${title}`, '', body, ''])].join('\n').trimEnd()}\n`;
}
