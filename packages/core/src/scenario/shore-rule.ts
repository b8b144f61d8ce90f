import type { ShoreSpec } from './schema.ts';

/**
 * What the socket carries while it is there: `all` the loads; those that are left `after_sun` that the bank can't take;
 * or nothing until the bank is down to `at_soc`, and then until it is back at `until_soc`.
 */
export type ShoreRule = NonNullable<ShoreSpec['carries']>;

/** Left out, the sun comes first where socket and inverter can carry loads at once. */
export const shoreRule = ({ carries, connection }: Pick<ShoreSpec, 'carries' | 'connection'>): ShoreRule =>
  carries ?? { kind: connection === 'parallel' ? 'after_sun' : 'all' };
