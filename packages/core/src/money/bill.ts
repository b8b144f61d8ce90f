/** One line of the bill of materials. Prices are in the scenario's currency, whatever it is. */
export interface BillLine {
  /** What is bought. */ readonly item: string;
  /** Section of the scenario that it is bought for; null for a line of `money`. */ readonly path:
    | string
    | null;
  /** How many of it. */ readonly count: number;
  /** Null where the scenario names no price. */ readonly price_each: number | null;
  /** Price of the line; null without one. */ readonly total: number | null;
  /** What wears it out; null for things that last as long as the plant. */ readonly life: Life | null;
}

/** How long a part lasts: whichever end comes first. */
export interface Life {
  readonly years: number | null;
  /** Equivalent full cycles, for the bank. */
  readonly cycles: number | null;
  /** True if cycles against their depth wear it, for a bank that states them: then `cycles` does not count. */
  readonly by_depth?: true;
  /** Run-hours, for the generator. */
  readonly run_h: number | null;
}

/** A bill of materials with its sum. */
export interface Bill {
  /** In the order of the scenario. */ readonly lines: readonly BillLine[];
  /** Null if any line has no price: a sum with holes in it would be taken for the price of the plant. */
  readonly capital: number | null;
  /** Items without a price: then there is no total. */ readonly unpriced: readonly string[];
}

/** Adds up a bill. */
export function billOf(lines: readonly BillLine[]): Bill {
  const unpriced = lines.filter((line) => line.total === null).map((line) => line.item);
  return {
    lines,
    capital: unpriced.length > 0 ? null : lines.reduce((sum, line) => sum + line.total!, 0),
    unpriced,
  };
}
