import type { SweepManifest } from '../../sweep/manifest.ts';
import { counted } from '../document/figures.ts';
import { escaped } from '../document/html.ts';
import { plain, wrapped } from '../document/plain-text.ts';
import { drawingStyle } from '../document/style.ts';
import { curveCharts } from './curves.ts';
import type { ChartGrid, SweepCharts } from './grid.ts';
import { mapCharts } from './map.ts';
import { text } from './marks.ts';
import type { Drawing } from './page-svg.ts';
import { readingAid } from './words.ts';

/** Curves over one varied key, maps over two; none where no figure differs. */
export const sweepCharts = (made: SweepManifest, grid: ChartGrid): SweepCharts =>
  grid.keys.length === 1 ? curveCharts(made, grid) : mapCharts(made, grid);

const MARGIN = 24;

/**
 * The charts of a sweep in a file of their own, on white paper: curves below each other, maps side by side.
 *
 * @returns null if there is none
 */
export function chartFile(made: SweepManifest, grid: ChartGrid): string | null {
  const { charts, same } = sweepCharts(made, grid);
  if (charts.length === 0) return null;
  const besides = grid.keys.length === 2 ? charts.length : 1;
  const drawings = charts.map(({ draw }) => draw('wide'));
  const [{ width: each, height: tall }] = drawings as [Drawing];
  const captions = charts.map(({ caption }) => wrapped(caption, Math.floor(each / 6.4)));
  const head = 24 + 17 * Math.max(...captions.map(({ length }) => length));
  const [across, down] = [each + MARGIN, head + tall + MARGIN];
  const width = MARGIN + besides * across;
  const aid = [
    `${counted(made.designs, 'design')}, each played for a year.`,
    ...readingAid(made, grid),
    ...same,
  ];
  const lines = wrapped(aid.join(' '), Math.floor((width - 2 * MARGIN) / 6.4));
  const titles = wrapped(plain(made.site), Math.floor((width - 2 * MARGIN) / 10));
  const top = 34 + 22 * titles.length + 17 * lines.length;
  const height = top + Math.ceil(charts.length / besides) * down;
  const body = [
    '<g class="t-bold" style="font-size:18px">',
    ...titles.map((title, k) => text(MARGIN, 34 + 22 * k, title)),
    '</g>',
    ...lines.map((words, k) => text(MARGIN, 34 + 22 * titles.length + 17 * k, words, 't-faint')),
    ...charts.flatMap(({ heading }, k) => [
      `<g transform="translate(${MARGIN + (k % besides) * across} ${top + Math.floor(k / besides) * down})">`,
      text(0, 16, heading, 't-bold'),
      ...captions[k]!.map((words, n) => text(0, 34 + 17 * n, words, 't-faint')),
      `<g transform="translate(0 ${head})">`,
      ...drawings[k]!.body.filter((piece) => piece !== ''),
      '</g>',
      '</g>',
    ]),
  ].join('\n');
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img">`,
    `<title>${escaped(`${made.site}: ${charts.map(({ title }) => title).join('; ')}`)}</title>`,
    `<desc>${escaped([...charts.map(({ description }) => description), ...same].join(' '))}</desc>`,
    `<style>${drawingStyle(body)}</style>`,
    `<path fill="#fff" d="M0 0H${width}V${height}H0Z"/>`,
    body,
    '</svg>',
    '',
  ].join('\n');
}
