/**
 * What a command says, before it is known how it is shown: made once from findings, written by `to-screen`,
 * `to-markdown` and `to-page`, the only files that know a format. All text is plain text; writers escape it.
 */

/** The three that show a document. */
type Medium = 'screen' | 'markdown' | 'page';

/** What a sentence means beyond its words: colour on a terminal, a border on a page, never the only sign of it. */
export type Tone = 'good' | 'bad';

export interface Column {
  readonly title: string;
  /** Of its figures, said once over the column. */
  readonly unit?: string;
  /** Figures stand to the right; code is the name of a key or file; words want room to run in. Short text unless said. */
  readonly holds?: 'figures' | 'code' | 'words';
}

export interface Table {
  readonly kind: 'table';
  readonly caption: string;
  readonly columns: readonly Column[];
  /** The first cell of each is its heading, unless it is empty: then the row goes on with the one before. */
  readonly rows: readonly (readonly string[])[];
  /** A last row that sums the others. */
  readonly sums?: readonly string[];
  /** On a page it opens when asked for; `till_printed` on paper as well. */
  readonly folded?: true | 'till_printed';
}

export type Block = (
  | { readonly kind: 'text'; readonly text: string }
  /** Over what follows it within its section. */
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  /** A short question or subject, and what is said of it. */
  | { readonly kind: 'answers'; readonly answers: readonly Answer[] }
  /** Figures by name, each in a word or two. */
  | { readonly kind: 'terms'; readonly terms: readonly (readonly [term: string, said: string])[] }
  | Table
  /** Something to type. */
  | { readonly kind: 'command'; readonly text: string }
  /** Bars and marks of a terminal, ready to print. */
  | { readonly kind: 'strip'; readonly lines: readonly string[] }
  /** HTML made by `drawing/`, and only if it is shown. */
  | { readonly kind: 'drawing'; readonly draw: () => readonly string[] }
) & {
  /** Where it is shown; unless said, wherever its section is. */
  readonly on?: readonly Medium[];
};

export type Answer = readonly [asked: string, told: string, tone?: Tone];

/** One question: a heading, a sentence that answers it, and what shows it. */
export interface Section {
  /** Its anchor on a page. */
  readonly id: string;
  /** Empty where nothing stands over it. */
  readonly title: string;
  /** Stands beside the sentence on a terminal, at most 16 characters; the title unless said. */
  readonly label?: string;
  readonly sentence?: string;
  /** Stands in the place of the sentence on a terminal, where one line is enough. */
  readonly brief?: string;
  readonly tone?: Tone;
  /** Where it is shown; everywhere unless said. */
  readonly on?: readonly Medium[];
  readonly blocks: readonly Block[];
}

export interface Document {
  readonly title: string;
  /** What can destroy or burn: it stands before all else. */
  readonly dangers?: readonly Section[];
  /** What was played and asked, under the title. */
  readonly about: readonly string[];
  readonly sections: readonly Section[];
  readonly foot: string;
}

/** Those of some sections or blocks that a medium shows. */
export const shownOn = <S extends { readonly on?: readonly Medium[] }>(
  all: readonly S[],
  medium: Medium,
): readonly S[] => all.filter(({ on }) => on === undefined || on.includes(medium));

/** What there is of things that are only told if. */
export const present = <T>(all: readonly (T | null | undefined | false | '')[]): T[] =>
  all.filter((one): one is T => one !== null && one !== undefined && one !== false && one !== '');

/** What a terminal has no room for. */
export const FILES = ['markdown', 'page'] as const;

/** Blocks where there is something to say, none otherwise. */
export const textsOf = (texts: readonly (string | null | false)[], on?: readonly Medium[]): Block[] =>
  present(texts).map((text) => ({ kind: 'text', text, ...(on === undefined ? {} : { on }) }));

/** What stands over a column where there is one line for it. */
export const columnTitle = ({ title, unit }: Column): string =>
  unit === undefined ? title : `${title}, ${unit}`;

/** A column of figures. */
export const figures = (title: string, unit = ''): Column => ({
  title,
  holds: 'figures',
  ...(unit === '' ? {} : { unit }),
});

/** A column, or the title of one of short text, and what stands in it in each row. */
export type ColumnOf<Row> = readonly [column: string | Column, cell: (row: Row, k: number) => string];

/** Columns of figures, each a title and its unit. */
export const figureColumns = (...titled: readonly (readonly [title: string, unit?: string])[]): Column[] =>
  titled.map(([title, unit]) => figures(title, unit));

/** A table by its columns; those that are false are not in it. */
export function tableOf<Row>(
  caption: string,
  rows: readonly Row[],
  columns: readonly (ColumnOf<Row> | false)[],
  more: Pick<Table, 'sums' | 'folded'> & Pick<Block, 'on'> = {},
): Table & Pick<Block, 'on'> {
  const told = present(columns);
  return {
    kind: 'table',
    caption,
    columns: told.map(([column]) => (typeof column === 'string' ? { title: column } : column)),
    rows: rows.map((row, k) => told.map(([, cell]) => cell(row, k))),
    ...more,
  };
}

/** One for who asks for it. */
export const asideOf = <Row>(
  caption: string,
  rows: readonly Row[],
  columns: readonly (ColumnOf<Row> | false)[],
): Table & Pick<Block, 'on'> => tableOf(caption, rows, columns, { on: FILES, folded: true });

/** A section whose table stands with it in files, and at the end of a terminal. */
export interface LateTable {
  readonly said: readonly Section[];
  readonly table: readonly Section[];
}

/** Tells `section` with `table` behind it, on a terminal at the end; nothing where there is none. */
export const lateTable = (section: Section, table: Table): LateTable => ({
  said: [{ ...section, blocks: [{ ...table, on: FILES }, ...section.blocks] }],
  table: [{ id: `${section.id}-table`, title: '', on: ['screen'], blocks: [table] }],
});

export const NO_TABLE: LateTable = { said: [], table: [] };
