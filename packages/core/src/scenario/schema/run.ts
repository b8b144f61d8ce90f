import * as z from 'zod';
import { assumed, between, key, leftOut, optional, share, whole } from './key.ts';

const step = z.union([z.literal(60), z.literal(30), z.literal(15), z.literal(10), z.literal(5)]);

/** Steps that a year may be played in, minutes, longest first. */
export const STEPS_min: readonly number[] = step.options.map(({ value }) => value);

export const run = z.strictObject({
  year: key(whole(1950, 2150))`Local calendar year`,
  initial_soc: optional(share())`State of charge of the bank when the year begins | the year closes: it begins
    with the state it ends with`,
  load_factor: leftOut(between(0, 1000), 1)`Factor on all loads, on top of the scale of each | the loads are
    as they are described`,
  step_min: assumed(step, 60)`Length of a step | steps of an hour; loads and sun are means over it, so peaks
    within the hour are not seen`,
});
