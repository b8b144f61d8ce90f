import type { SweepManifest } from '../files/sweep-manifest.ts';
import { chartCurves } from './chart-curves.ts';
import type { ChartGrid } from './chart-grid.ts';
import { chartMap } from './chart-map.ts';

/**
 * sweep.svg: curves over one varied key, a map over two.
 *
 * @returns null if no figure differs between the designs
 */
export const sweepChart = (made: SweepManifest, grid: ChartGrid): string | null =>
  grid.keys.length === 1 ? chartCurves(made, grid) : chartMap(made, grid);
