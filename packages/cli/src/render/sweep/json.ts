import { DESIGN_FIGURES, digitsOf } from '@longnight/core/study';
import type { Io } from '../../io.ts';
import type { SweepManifest } from '../../sweep/manifest.ts';
import type { SweepRow } from '../../sweep/rows.ts';
import { json } from '../document/json.ts';

/** Prints a sweep as one JSON document, a line a design, while it is played: the names are those of sweep.csv. */
export function sweepJson(
  made: SweepManifest,
  io: Io,
): { design(index: number, row: SweepRow): void; end(): void } {
  let begun = false;
  // Nothing is printed before the first row is there: whatever is refused is refused with nothing on stdout.
  const begin = (): void => {
    const { site, currency, axes, set, sample, part, designs, cautions } = made;
    const about = {
      site,
      currency,
      axes,
      ...(set.length > 0 ? { set } : {}),
      sample,
      part,
      cautions,
      number_of_designs: designs,
    };
    const head = json('sweep', about);
    io.out(`${head.slice(0, -1)},"designs":[`);
    begun = true;
  };
  return {
    design(index, row) {
      const entry: Record<string, unknown> = { design: index + 1 };
      digitsOf(made.axes, index).forEach((digit, k) => {
        entry[made.axes[k]!.path] = made.axes[k]!.values[digit];
      });
      DESIGN_FIGURES.forEach(({ name }, f) => {
        entry[name] = Number.isNaN(row.figures[f]) ? null : row.figures[f];
      });
      entry.contradiction = row.contradiction;
      if (begun) io.out(',');
      else begin();
      io.out(`\n${json('sweep', entry)}`);
    },
    end() {
      if (!begun) begin();
      io.out('\n]}\n');
    },
  };
}
