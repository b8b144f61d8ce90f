import * as z from 'zod';
import { assumed, share } from './terms.ts';

const step = z.union([z.literal(60), z.literal(30), z.literal(15), z.literal(10), z.literal(5)]);

/** Steps that a year may be played in, minutes, longest first. */
export const STEPS_min: readonly number[] = step.options.map(({ value }) => value);

export const run = z.strictObject({
  year: z.int().min(1950).max(2150),
  initial_soc: share().optional(),
  step_min: assumed(
    step,
    60,
    'steps of an hour; loads and sun are means over it, so peaks within the hour are not seen',
  ),
});
