import * as z from 'zod';
import { assumed, key, optional, share } from './terms.ts';

const step = z.union([z.literal(60), z.literal(30), z.literal(15), z.literal(10), z.literal(5)]);

/** Steps that a year may be played in, minutes, longest first. */
export const STEPS_min: readonly number[] = step.options.map(({ value }) => value);

export const run = key(
  z.strictObject({
    year: key(z.int().min(1950).max(2150), 'Local calendar year'),
    initial_soc: optional(
      share(),
      'State of charge of the bank when the year begins',
      'the year closes: it begins with the state it ends with',
    ),
    step_min: assumed(
      step,
      'Length of a step',
      60,
      'steps of an hour; loads and sun are means over it, so peaks within the hour are not seen',
    ),
  }),
  'The year that is played',
);
