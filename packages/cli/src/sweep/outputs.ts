import { existsSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { writeOutputs } from '../files/write.ts';
import { toPage } from '../render/document/to-page.ts';
import { chartFile } from '../render/drawing/sweep-charts.ts';
import { sweepDocument } from '../render/sweep/document.ts';
import type { SweepDigest } from './digest.ts';
import { sweepNames } from './folder.ts';
import type { SweepManifest } from './manifest.ts';

/**
 * Writes page and chart beside the rows, or takes away a chart of an earlier sweep that these rows have none to replace:
 * a chart of other rows beside them would be read as theirs. A part has neither.
 *
 * @returns names of the files of this sweep, and why there is no chart
 */
export function placeViews(
  cwd: string,
  folder: string,
  made: SweepManifest,
  digest: SweepDigest,
): { readonly names: readonly string[]; readonly note: string | null } {
  const { rows, manifest, chart, page } = sweepNames(made.part);
  if (made.part !== null) return { names: [rows, manifest], note: null };
  const svg = digest.grid.why === null ? chartFile(made, digest.grid) : null;
  const html = { name: page, text: toPage(sweepDocument(made, digest)) };
  if (svg !== null) {
    writeOutputs(cwd, folder, [html, { name: chart, text: svg }]);
    return { names: [rows, page, chart], note: null };
  }
  writeOutputs(cwd, folder, [html]);
  const why = digest.grid.why ?? 'the figures it would show are the same in every design';
  const stale = join(resolve(cwd, folder), chart);
  const gone = existsSync(stale);
  rmSync(stale, { force: true });
  return {
    names: [rows, page],
    note: `no chart: ${why}${gone ? `; the ${chart} of an earlier sweep was removed` : ''}`,
  };
}
