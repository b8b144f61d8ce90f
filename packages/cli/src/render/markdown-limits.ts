import type { StaticLimits } from '@longnight/core';
import { fixed, kW, kWh } from './figures.ts';
import { escaped, table } from './markdown-text.ts';
import { staticFigures } from './static-figures.ts';

/** The static figures: for each the limits in ascending order, the first of which sets it. */
export function limits(limits: StaticLimits): string {
  const rows = staticFigures(limits).flatMap(({ title, figure, none }) =>
    figure.limits.length === 0
      ? [[title, none, 'n/a']]
      : figure.limits.map((limit, k) => [
          k === 0 ? title : '',
          k === 0 ? `**${escaped(limit.what)}**` : escaped(limit.what),
          fixed(limit.limit_kW, 2),
        ]),
  );
  return [
    `The bank stores ${kWh(limits.capacity_kWh)}, of which ${kWh(limits.usable_kWh)} may be used. The limit in bold sets ` +
      `each figure; of the AC output, ${kW(limits.ac_output.after_inverter_loss_kW)} reach the loads. ` +
      'A charging limit caps what goes into the bank; load served in the same hour comes on top of it.',
    table([{ title: 'figure' }, { title: 'limit' }, { title: 'kW', figures: true }], rows),
  ].join('\n\n');
}
