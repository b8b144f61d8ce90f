import type { Output } from '../files/output-set.ts';
import { toPage } from '../render/document/to-page.ts';
import { chartFile } from '../render/drawing/sweep-charts.ts';
import { sweepDocument } from '../render/sweep/document.ts';
import type { SweepDigest } from './digest.ts';
import { sweepNames } from './folder.ts';
import type { SweepManifest } from './manifest.ts';

/**
 * Page and chart of a sweep, to be put in place with its rows. A part has neither.
 *
 * @returns also the names of all files of this sweep, and why there is no chart
 */
export function viewsOf(
  made: SweepManifest,
  digest: SweepDigest,
): {
  readonly views: readonly Output[];
  readonly names: readonly string[];
  readonly notes: readonly string[];
} {
  const { rows, manifest, chart, page } = sweepNames(made.part);
  if (made.part !== null) return { views: [], names: [rows, manifest], notes: [] };
  const svg = digest.grid.why === null ? chartFile(made, digest.grid) : null;
  const html = { name: page, text: toPage(sweepDocument(made, digest)) };
  if (svg !== null)
    return { views: [html, { name: chart, text: svg }], names: [rows, page, chart], notes: [] };
  const why = digest.grid.why ?? 'the figures it would show are the same in every design';
  return { views: [html], names: [rows, page], notes: [`no chart: ${why}`] };
}
