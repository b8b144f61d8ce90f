/** Figures of a report by name, and single findings. */

export type { Lack } from '../findings/figures/figure.ts';
export { FIGURES, type FigureName, figureNamed } from '../findings/figures/figures.ts';
export { figuresOfReport } from '../findings/figures/of-report.ts';
export { isUnmet } from '../findings/figures/unmet.ts';
export { dayOf } from '../findings/leanest.ts';
export type { LimitReason } from '../findings/static/limits.ts';
export type { MeanPeak, PeakConflict } from '../findings/static/mean-peak.ts';
export type { SurgeConflict } from '../findings/static/surge.ts';
