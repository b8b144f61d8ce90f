import * as z from 'zod';
import { assumed, positive } from './terms.ts';

/** A point of the open-circuit voltage; state of charge by charge, 0 empty, 1 full. */
const openCircuitPoint = z.strictObject({
  soc: z.number().min(0).max(1),
  voltage_V: positive().max(1000),
});

/** How a bank loses energy, and what keeps it from giving all it holds at once. */
export const bankModel = z.discriminatedUnion('kind', [
  /** The same share is lost at any current: `bank.round_trip_efficiency_share`. */
  z.strictObject({ kind: z.literal('fixed_efficiency') }),
  /** Losses rise with current: the voltage behind a resistance. */
  z.strictObject({
    kind: z.literal('resistive'),
    open_circuit: z.array(openCircuitPoint).min(2).max(50),
    cells_series: assumed(z.int().min(1).max(500), 1, 'voltages of open_circuit are those of a whole module'),
    /** Of one module, its terminals and electronics included. */
    resistance_mOhm: z.number().min(0).max(10_000),
    coulombic_efficiency_share: assumed(
      z.number().min(0.5).max(1),
      0.99,
      'share of the amp-hours put in that comes out again; common practice, no source',
    ),
  }),
  /** Charge that is bound comes free at a finite rate: the harder the bank is drawn on, the less it gives. */
  z.strictObject({
    kind: z.literal('kinetic'),
    /** What one module gives at constant current within so many hours. */
    capacity_20h_Ah: positive().max(100_000),
    capacity_10h_Ah: positive().max(100_000),
    capacity_5h_Ah: positive().max(100_000),
  }),
]);

/** Modules bought earlier, in parallel with those of `modules_parallel`. */
export const olderModules = z.strictObject({
  modules: z.int().min(1).max(10_000),
  /** Of what a new one stores. */
  capacity_share: positive().max(1),
  /** Resistance over that of a new one; asked for by a resistive bank. */
  resistance_factor: z.number().min(1).max(100).optional(),
});

/** Most that one module takes at a temperature of the bank, ascending; between points on a straight line. */
export const chargeAtTemperature = z.strictObject({
  temperature_C: z.number().min(-60).max(60),
  max_charge_A: z.number().min(0).max(100_000),
});
