/**
 * Things the reader of a report must know and that are not errors: values. Core returns them, the edge prints them.
 */

import { atBar } from './bar.ts';

/** Something that happened while reading or preparing: hours filled, values clipped. Made where value and place are known. */
export interface Notice {
  /** Stable, kebab-case, e.g. `gap-filled`. */
  readonly id: string;
  /** One sentence with the figures in it. */
  readonly message: string;
  /** How many steps, rows or values it concerns. */
  readonly count: number;
}

/** A notice with its sentence behind it: `notice('gap-filled', 3)`weather: 3 h were filled``. */
export const notice =
  (id: string, count = 1) =>
  (text: TemplateStringsArray, ...values: readonly unknown[]): Notice => ({
    id,
    message: atBar(text, values)[0],
    count,
  });

/** One thing the answer rests on that the scenario did not say, or that the model assumes. */
export interface Assumption {
  /** Scenario path of a default that was used (`array[0].albedo`), or the name of the model part (`model.sky`). */
  readonly path: string;
  /** The value used, or null where the assumption is a statement about the model. */
  readonly value: number | string | boolean | null;
  /** Why this value, or what the model leaves out; with the source where there is one. */
  readonly why: string;
  /** A default of the scenario, or a statement about a model. */ readonly kind: 'default' | 'model';
  /** What it could change, were it otherwise. */ readonly moves: Moves;
}

/** What an assumption could change, were it otherwise; what matters most to who answers for a plant stands first. */
export type Moves =
  /** Whether the plant holds, and by much. */
  | 'verdict_most'
  /** Whether the plant holds, where it does by little. */
  | 'verdict'
  /** Hours, starts and fuel of a generator. */
  | 'run_hours'
  /** What is bought and when. */
  | 'money'
  /** Figures beside the answer. */
  | 'figures'
  /** Nothing but the meaning of what is left out: one of it, all day, none. */
  | 'nothing';

/** What the model takes for granted, and the value that it goes with, if any. */
export const modelled = (
  path: string,
  why: string,
  value: Assumption['value'] = null,
  moves: Moves = 'verdict',
): Assumption => ({ path, value, why, kind: 'model', moves });

/** One of several things that may be found, by their ids, with the values that belong to each. */
export type OneOf<Values> = {
  readonly [Id in keyof Values]: { readonly id: Id } & Readonly<Values[Id]>;
}[keyof Values];

/** A notice of what was found in a plant or its year: its values, and no message. */
export type FoundIn<Values> = {
  readonly [Id in keyof Values]: { readonly id: Id; readonly values: Readonly<Values[Id]> };
}[keyof Values];
