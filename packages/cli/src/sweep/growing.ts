import type { Axis } from '@longnight/core';
import { digitsOf, type GrownDesign } from '@longnight/core/study';
import { figure, type NumberedRow } from './rows.ts';
import { evenly } from './spread.ts';

/** Keys that make an array larger. */
const SIZES = /^arrays\[(?:\d+|\*)\]\.(panels|size_kWp|strings_parallel)$/;
/** Sizes and values of the other key that are kept at most. */
const MOST = { sizes: 60, rules: 6 } as const;

/** Designs that differ in the size of their arrays alone, smallest first. */
export interface Row {
  /** The value that the other varied key has in all of them; null where no other key varies. */
  readonly rule: number | string | null;
  readonly designs: readonly (GrownDesign & { readonly index: number })[];
}

/** Keeps of a sweep over the size of one array, and at most one key beside it, what a further kWp brings. */
export class Growing {
  /** Places of the two among the axes; null where there is no such key. */
  readonly size: number | null;
  readonly rule: number | null;
  readonly #axes: readonly Axis[];
  readonly #kept: ReadonlySet<number>[];
  readonly #rows = new Map<number, NumberedRow[]>();

  constructor(axes: readonly Axis[]) {
    this.#axes = axes;
    const varied = axes.map((_, k) => k).filter((k) => axes[k]!.values.length > 1);
    const sizes = varied.filter((k) => SIZES.test(axes[k]!.path));
    this.size = varied.length <= 2 && sizes.length === 1 ? sizes[0]! : null;
    this.rule = this.size === null ? null : (varied.find((k) => k !== this.size) ?? null);
    this.#kept = axes.map(
      ({ values }, k) => new Set(evenly(values.length, k === this.size ? MOST.sizes : MOST.rules)),
    );
  }

  /** Takes a design that was played and is no danger; one without a generator saves no hours. */
  take(row: NumberedRow): void {
    if (this.size === null || Number.isNaN(figure(row, 'generator.run_hours'))) return;
    const digits = digitsOf(this.#axes, row.index);
    if (digits.some((digit, k) => !this.#kept[k]!.has(digit))) return;
    const rule = this.rule === null ? 0 : digits[this.rule]!;
    this.#rows.set(rule, [...(this.#rows.get(rule) ?? []), row]);
  }

  /** One for each value of the other key, in its order; none where no array grows, or the generator runs alike in all. */
  rows(): readonly Row[] {
    const rows = [...this.#rows].sort(([a], [b]) => a - b);
    const ran = new Set(rows.flatMap(([, kept]) => kept.map((row) => figure(row, 'generator.run_hours'))));
    if (ran.size < 2) return [];
    return rows
      .map(([rule, kept]) => ({
        rule: this.rule === null ? null : this.#axes[this.rule]!.values[rule]!,
        designs: kept
          .map(grown)
          .sort((a, b) => a.size_kWp - b.size_kWp)
          .filter(({ size_kWp }, k, all) => k === 0 || size_kWp > all[k - 1]!.size_kWp),
      }))
      .filter(({ designs }) => designs.length > 1);
  }
}

const grown = (row: NumberedRow): Row['designs'][number] => ({
  index: row.index,
  size_kWp: figure(row, 'array.size_kWp'),
  run_hours: figure(row, 'generator.run_hours'),
  fuel_L: figure(row, 'generator.fuel_L'),
  unmet_kWh: figure(row, 'unmet.energy_kWh'),
  capital: orNull(figure(row, 'money.capital')),
  total: orNull(figure(row, 'money.total')),
});

const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);
