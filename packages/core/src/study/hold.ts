import { InputError } from '../basis/errors.ts';
import { nearest } from '../scenario/nearest.ts';

/** A bound on one figure of the report. */
export interface Hold {
  readonly text: string;
  /** Dotted name as in report.json: `unmet.share`. */
  readonly name: string;
  readonly relation: '<=' | '>=' | '<' | '>';
  readonly bound: number;
}

const HOLD = /^\s*([A-Za-z_][\w.]*)\s*(<=|>=|<|>)\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*$/;

/**
 * Reads a bound such as `unmet.share<=0.001`.
 *
 * @param known names that can be bound
 * @throws InputError naming the nearest known name
 */
export function readHold(text: string, known: readonly string[]): Hold {
  const match = HOLD.exec(text);
  if (match === null) {
    throw new InputError([
      {
        code: 'hold',
        path: text,
        message: 'is not a bound',
        expected: 'NAME<=NUMBER, or with >=, < or >',
        fix: 'quote it for the shell: --hold "unmet.share<=0.001"',
      },
    ]);
  }
  const [, name, relation, bound] = match;
  if (!known.includes(name!)) {
    const near = nearest(name!, known);
    throw new InputError([
      {
        code: 'hold',
        path: text,
        message: `there is no figure "${name}" here`,
        expected: `one of ${known.join(', ')}`,
        fix: near === undefined ? 'take a name from this list' : `did you mean "${near}"?`,
      },
    ]);
  }
  return { text: text.trim(), name: name!, relation: relation as Hold['relation'], bound: Number(bound) };
}

/** True if the figure is within the bound. A figure that the plant does not have (null) misses no upper bound. */
export function holds(hold: Hold, figure: number | null): boolean {
  // A plant without a generator runs it for no hours; a floor on what it lacks is missed.
  const value = figure ?? 0;
  switch (hold.relation) {
    case '<=':
      return value <= hold.bound;
    case '>=':
      return value >= hold.bound;
    case '<':
      return value < hold.bound;
    case '>':
      return value > hold.bound;
  }
}
