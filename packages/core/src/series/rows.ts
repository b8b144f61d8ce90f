import type { Issue, Place } from '../basis/errors.ts';

/** How many rows of one kind are named before the rest is only counted. */
const NAMED = 5;

/** Gathers what is wrong with the rows of a series: the first few of each kind by line, the rest as a number. */
export class RowIssues {
  readonly #file: string;
  readonly #counted: 'line' | 'index';
  readonly #byKind = new Map<string, { readonly named: Issue[]; readonly fix: string; count: number }>();

  /** @param counted what rows are told by: lines of a file, or places in numbers that were handed over */
  constructor(file: string, counted: 'line' | 'index' = 'line') {
    this.#file = file;
    this.#counted = counted;
  }

  /**
   * @param kind one trouble, `code` or `code` and column: its rows are counted together
   * @param line line of the file, header is line 1; or place in the numbers, from 0
   * @param field name of the CSV column, where one cell is to blame
   */
  add(code: string, line: number, message: string, fix: string, field?: string): void {
    const kind = `${code} ${field ?? ''} ${fix}`;
    let group = this.#byKind.get(kind);
    if (!group) {
      group = { named: [], fix, count: 0 };
      this.#byKind.set(kind, group);
    }
    group.count++;
    if (group.named.length >= NAMED) return;
    const place: Place = {
      file: this.#file,
      [this.#counted]: line,
      ...(field === undefined ? {} : { field }),
    };
    group.named.push({ code, path: '', message, fix, place });
  }

  get isEmpty(): boolean {
    return this.#byKind.size === 0;
  }

  /** Issues in file order, each kind's count behind its rows. */
  list(): Issue[] {
    const line = ({ place }: Issue) => place?.line ?? place?.index ?? 0;
    const groups = [...this.#byKind.values()].sort((a, b) => line(a.named[0]!) - line(b.named[0]!));
    return groups.flatMap(({ named, count, fix }) => {
      if (count <= NAMED) return named;
      const { code } = named[0]!;
      const message = `${(count - NAMED).toLocaleString('en')} more like these, ${count.toLocaleString('en')} in all`;
      return [...named, { code, path: '', message, fix, place: { file: this.#file } }];
    });
  }
}
