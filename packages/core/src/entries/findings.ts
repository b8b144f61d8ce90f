/** Figures of a report by name, and single findings. */

export type { Lack } from '../findings/figures/figure.ts';
export * from '../findings/figures/figures.ts';
export { figuresOfReport } from '../findings/figures/of-report.ts';
export { isUnmet } from '../findings/figures/unmet.ts';
export { dayOf } from '../findings/spell.ts';
export { type MeanPeak, meanPeak } from '../findings/static/mean-peak.ts';
