import type { DesignFigureName } from '@longnight/core';
import { DESIGN_FIGURES } from '@longnight/core/study';
import { figureText } from '../render/document/figure-words.ts';
import type { NamedAxis } from '../render/document/key-words.ts';
import { type ChartGrid, chartGrid } from '../render/drawing/grid.ts';
import type { DesignList } from '../workers/designs.ts';
import { FrontKeeper } from './front.ts';
import { Growing } from './growing.ts';
import {
  columnsOf,
  figure,
  type NumberedRow,
  placeOf,
  type RowYears,
  type SweepRow,
  YEARS_HELD,
} from './rows.ts';
import { evenly, spreadDesigns } from './spread.ts';

/** Most rows of the table on the terminal. */
const SHOWN = 20;

/** A figure of a row as text. */
export function cellOf(row: SweepRow, name: DesignFigureName): string {
  const value = figure(row, name);
  return Number.isNaN(value) ? 'n/a' : figureText(name, value);
}

/** Least and most of a figure over the designs played, and for how many there was one. */
export interface Range {
  readonly least: number;
  readonly most: number;
  readonly count: number;
}

/**
 * What the table and the chart of a sweep show, gathered row by row in the order of the file: memory does not grow with
 * the number of designs. It sees rows as they stand in the file, so that it makes no difference whether they were
 * played a moment ago, before an interruption or on another machine.
 */
export class SweepDigest {
  readonly list: DesignList;
  readonly grid: ChartGrid;
  readonly growing: Growing;
  played = 0;
  /** Designs that leave nothing unmet, in none of their years, and are no danger. */
  holding = 0;
  contradictory = 0;
  /** Designs that are a danger: counted, and never named as the best of anything. */
  dangerous = 0;
  firstDangerous: NumberedRow | null = null;
  firstContradiction: NumberedRow | null = null;
  cheapest: NumberedRow | null = null;
  smallestArray: NumberedRow | null = null;
  smallestBank: NumberedRow | null = null;
  /** Least over the years of those that leave nothing unmet. */
  leastTotal: NumberedRow | null = null;
  /** Leaves least unmet; of many years, holds in most of them. */
  leastUnmet: NumberedRow | null = null;
  readonly #spread: ReadonlySet<number>;
  readonly #spreadRows: NumberedRow[] = [];
  readonly #front = new FrontKeeper<NumberedRow>();
  readonly #least = new Float64Array(DESIGN_FIGURES.length).fill(Number.POSITIVE_INFINITY);
  readonly #most = new Float64Array(DESIGN_FIGURES.length).fill(Number.NEGATIVE_INFINITY);
  readonly #count = new Uint32Array(DESIGN_FIGURES.length);

  readonly #heldAt: number;

  /** @param years that each design is played in; null for the scenario's own */
  constructor(axes: readonly NamedAxis[], list: DesignList, years: RowYears | null = null) {
    this.#heldAt = columnsOf(years).findIndex(({ header }) => header === YEARS_HELD);
    this.list = list;
    this.grid = chartGrid(axes, list);
    this.growing = new Growing(axes);
    this.#spread = spreadDesigns(axes, list, SHOWN);
  }

  /** In how many of its years a design leaves nothing unmet; NaN where one is played. */
  yearsHeld = (row: SweepRow): number => row.columns[this.#heldAt] ?? Number.NaN;

  take(index: number, row: SweepRow): void {
    const kept = { ...row, index };
    if (this.#spread.has(index)) this.#spreadRows.push(kept);
    this.grid.take(index, row);
    if (row.contradiction !== null) {
      this.contradictory++;
      this.firstContradiction ??= kept;
      return;
    }
    this.played++;
    row.figures.forEach((value, f) => {
      if (Number.isNaN(value)) return;
      this.#count[f]!++;
      if (value < this.#least[f]!) this.#least[f] = value;
      if (value > this.#most[f]!) this.#most[f] = value;
    });
    if (figure(row, 'dangers') > 0) {
      this.dangerous++;
      this.firstDangerous ??= kept;
      return;
    }
    this.growing.take(kept);
    const capital = figure(row, 'money.capital');
    if (!Number.isNaN(capital)) {
      const unmet = figure(row, 'unmet.energy_kWh');
      this.#front.take(capital, [thousandths(unmet), figure(row, 'generator.run_hours') || 0], kept);
    }
    const more = this.leastUnmet === null ? 0 : this.yearsHeld(kept) - this.yearsHeld(this.leastUnmet);
    if (more > 0) this.leastUnmet = kept;
    // Equal, or one year alone.
    else if (!(more < 0))
      this.leastUnmet = lesser(this.leastUnmet, kept, ['unmet.energy_kWh', 'bank.usable_kWh']);
    if (row.holds) {
      if (!Number.isNaN(figure(row, 'money.total')))
        this.leastTotal = lesser(this.leastTotal, kept, ['money.total']);
      this.holding++;
      if (!Number.isNaN(capital)) this.cheapest = lesser(this.cheapest, kept, ['money.capital']);
      this.smallestArray = lesser(this.smallestArray, kept, ['array.size_kWp', 'bank.usable_kWh']);
      this.smallestBank = lesser(this.smallestBank, kept, ['bank.usable_kWh', 'array.size_kWp']);
    }
  }

  range(name: DesignFigureName): Range {
    const f = placeOf[name];
    return { least: this.#least[f]!, most: this.#most[f]!, count: this.#count[f]! };
  }

  /** True if there is one value of the figure and every design played has it, or none has any. */
  same(name: DesignFigureName): boolean {
    const { least, most, count } = this.range(name);
    return count === 0 || (count === this.played && least === most);
  }

  /**
   * The designs that no other beats for its price, cheapest first.
   *
   * @param most rows at most: more are thinned evenly
   * @returns also how many there are before thinning; null if a design has no price or all cost the same
   */
  front(most: number): { readonly rows: readonly NumberedRow[]; readonly of: number } | null {
    if (this.range('money.capital').count < this.played || this.same('money.capital')) return null;
    return { rows: thinned(this.#front.items(), most), of: this.#front.met };
  }

  /**
   * The rows that the table shows: all if they are few; else those that no other beats for its price, if every design
   * is priced; else an even spread.
   *
   * @returns also how many there are by that rule, before thinning
   */
  shown(): { readonly rows: readonly NumberedRow[]; readonly rule: 'all' | 'front' | 'spread'; of: number } {
    if (this.list.count <= SHOWN) return { rows: this.#spreadRows, rule: 'all', of: this.list.count };
    const front = this.front(SHOWN);
    if (front !== null) return { rows: front.rows, rule: 'front', of: front.of };
    return { rows: this.#spreadRows, rule: 'spread', of: this.#spreadRows.length };
  }
}

/** Rounded so that the dust of sums does not decide between designs. */
const thousandths = (energy_kWh: number): number => Math.round(energy_kWh * 1e3) / 1e3;

/** The row with the smaller figures, the first of them deciding before the second; the earlier row if they are equal. */
function lesser(before: NumberedRow | null, now: NumberedRow, by: readonly DesignFigureName[]): NumberedRow {
  if (before === null) return now;
  for (const name of by) {
    const difference = figure(now, name) - figure(before, name);
    if (difference !== 0) return difference < 0 ? now : before;
  }
  return before;
}

const thinned = (rows: readonly NumberedRow[], most: number): readonly NumberedRow[] =>
  evenly(rows.length, most).map((k) => rows[k]!);
