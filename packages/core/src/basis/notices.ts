/**
 * Things the reader of a report must know and that are not errors: values. Core returns them, the edge prints them.
 */

import { atBar } from './bar.ts';

/** Something that happened while reading or preparing: hours filled, values clipped. */
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
}

/** What the model takes for granted, and the value that it goes with, if any. */
export const modelled = (path: string, why: string, value: Assumption['value'] = null): Assumption => ({
  path,
  value,
  why,
  kind: 'model',
});
