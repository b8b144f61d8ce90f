/** What one figure of report.json means. */
export interface Meaning {
  /** Dotted name as in report.json; what stands in a list has the name without its place. */
  readonly name: string;
  /** `1` for shares and counts, `text` and `time` for what is no number, `money` for the scenario's currency. */
  readonly unit: string;
  readonly meaning: string;
  /** How it is made, from columns of hours.csv, other figures or keys of the scenario; null where it is only told. */
  readonly formula: string | null;
  /** Where a definition comes from; null for our own. */
  readonly source: string | null;
}

/** The meanings of a section: its figures by their names within it. */
export function section(
  name: string,
  figures: Readonly<
    Record<string, readonly [unit: string, meaning: string, formula?: string | null, source?: string]>
  >,
): readonly Meaning[] {
  return Object.entries(figures).map(([key, [unit, meaning, formula = null, source = null]]) => ({
    name: `${name}.${key}`,
    unit,
    meaning,
    formula,
    source,
  }));
}
