import { refusal } from '../../basis/errors.ts';
import { nearest } from '../../basis/nearest.ts';
import { countsAs } from '../../findings/figures/figures.ts';

/** A bound on one figure of the report. */
export interface Requirement {
  /** As it was written. */ readonly text: string;
  /** Dotted name as in report.json: `unmet.share`. */ readonly name: string;
  /** Of figure to bound. */ readonly relation: '<=' | '>=' | '<' | '>';
  /** In the figure's unit. */ readonly bound: number;
}

const HOLD = /^\s*([A-Za-z_][\w.]*)\s*(<=|>=|<|>)\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*$/;

/** More names than this are no help in a message. */
const NAMED = 24;

/**
 * Reads a bound such as `unmet.share<=0.001`.
 *
 * @param known names that can be bound
 * @throws InputError naming the nearest known name
 */
export function readRequirement(text: string, known: readonly string[]): Requirement {
  const match = HOLD.exec(text);
  if (match === null) {
    throw refusal(
      'hold',
      `--require ${text}`,
      'is not a requirement',
      'quote it for the shell: --require "unmet.share<=0.001"',
      'NAME<=NUMBER, or with >=, < or >',
    );
  }
  const [, name, relation, bound] = match;
  if (!known.includes(name!)) {
    const near = nearestFigure(name!, known);
    const some = known.filter((figure) => !/^(longnight|site|run)\./.test(figure));
    throw refusal(
      'hold',
      `--require ${text}`,
      `there is no figure "${name}" here`,
      near === undefined ? 'take a name from this list' : `did you mean "${near}"?`,
      near === undefined
        ? `one of ${some.slice(0, NAMED).join(', ')}${some.length > NAMED ? ' and more' : ''}`
        : 'a figure by its dotted name',
    );
  }
  return {
    text: text.trim(),
    name: name!,
    relation: relation as Requirement['relation'],
    bound: Number(bound),
  };
}

/** The figure that is most likely meant: by spelling, or by its last words where the section was left out or is wrong. */
export function nearestFigure(name: string, known: readonly string[]): string | undefined {
  const near = nearest(name, known);
  if (near !== undefined) return near;
  const last = (dotted: string): string => dotted.slice(dotted.lastIndexOf('.') + 1);
  const meant = nearest(last(name), known.map(last));
  const sharing = known.filter((dotted) => last(dotted) === meant);
  return sharing.length === 1 ? sharing[0] : undefined;
}

/**
 * True if the figure is within the bound.
 *
 * A figure that the plant does not have (null) counts as 0: a plant without a generator runs it for no hours, which
 * keeps every cap and misses every floor above 0. What is not known, a price or a life that nobody stated, is not
 * nothing, and keeps no bound.
 *
 * @param figure in the unit of the figure that the bound names
 */
export function holds({ name, relation, bound }: Requirement, figure: number | null): boolean {
  const value = countsAs(name, figure);
  if (value === null) return false;
  switch (relation) {
    case '<=':
      return value <= bound;
    case '>=':
      return value >= bound;
    case '<':
      return value < bound;
    case '>':
      return value > bound;
  }
}
