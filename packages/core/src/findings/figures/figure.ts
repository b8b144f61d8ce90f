/** What a null in the place of a figure stands for. */
export type Lack =
  /** The plant has none of it, no generator or no socket: it counts as 0. */
  | 'none'
  /** A price is missing: not known, and not 0. */
  | 'unpriced'
  /** Nothing that is stated or played tells it: not known, and not 0. */
  | 'unknown';

/** What is told of a figure beside its name, unit, meaning and formula. */
interface Facts {
  /** Where a definition comes from; null for our own. */
  readonly source: string | null;
  /** Which end is better for whoever owns the plant; null where neither is. */
  readonly better: 'less' | 'more' | null;
  /** What a null stands for; null where the figure is always there. */
  readonly lack: Lack | null;
  /** The object of the report without which there is no such figure at all, as nobody asked for it: `ensemble`. */
  readonly within: string | null;
}

/** One figure of report.json: the one place that describes it. */
export interface Figure<Name extends string = string> extends Facts {
  /** Dotted name as in report.json, by which it is read there; what stands in a list has the name without its place. */
  readonly name: Name;
  /** `1` for shares and counts, `money` for the currency; `text`, `time` and `flag` (true or false) are no numbers. */
  readonly unit: string;
  /** In a few words. */ readonly meaning: string;
  /** How it is made, from columns of hours.csv, other figures or keys of the scenario; null where it is only told. */
  readonly formula: string | null;
  /** True if it stands in a list: there are many of it, or none. */ readonly list: boolean;
}

/** One line of the tables beside this file. */
export type Line = readonly [unit: string, meaning: string, formula?: string | null, facts?: Partial<Facts>];

/** A name without the `[]` behind what is a list. */
type Plain<Name extends string> = Name extends `${infer Before}[]${infer After}`
  ? Plain<`${Before}${After}`>
  : Name;

const NOTHING_MORE: Facts = { source: null, better: null, lack: null, within: null };

/** One figure; `[]` in its name stands behind what is a list. */
export const figure = <const Name extends string>(
  name: Name,
  [unit, meaning, formula = null, facts]: Line,
  all?: Partial<Facts>,
): Figure<Plain<Name>> => ({
  name: name.replaceAll('[]', '') as Plain<Name>,
  unit,
  meaning,
  formula,
  list: name.includes('[]'),
  ...NOTHING_MORE,
  ...all,
  ...facts,
});

/** Tells the figures of sections of which all is so, where a line says nothing else. */
export const sectionWith =
  (all: Partial<Facts>) =>
  <const Section extends string, const Key extends string>(
    name: Section,
    lines: Readonly<Record<Key, Line>>,
  ): readonly Figure<Plain<`${Section}.${Key}`>>[] =>
    (Object.keys(lines) as Key[]).map((key) => figure(`${name}.${key}` as const, lines[key], all));

/** The figures of a section by their names within it. */
export const section = sectionWith({});

export const LESS = { better: 'less' } as const;
export const MORE = { better: 'more' } as const;
export const NONE = { lack: 'none' } as const;
export const UNKNOWN = { lack: 'unknown' } as const;
