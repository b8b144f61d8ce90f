import * as z from 'zod';
import { assumed, key, kind, optional, positive, share } from './terms.ts';

const openCircuitPoint = z.strictObject({
  soc: key(z.number().min(0).max(1), 'State of charge, by charge: 0 empty, 1 full'),
  voltage_V: key(positive().max(1000), 'Voltage without current'),
});

/** How a bank loses energy, and what keeps it from giving all it holds at once. */
export const bankModel = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: kind(
      'fixed_efficiency',
      'The same share is lost at any current; the bank gives all that is above its floor',
    ),
  }),
  z.strictObject({
    kind: kind(
      'resistive',
      'For lithium: a voltage that rises with charge, behind a resistance; losses rise with current, and amps are worth less near empty',
    ),
    open_circuit: key(
      z.array(openCircuitPoint).min(2).max(50),
      'Voltage without current against state of charge, from 0 to 1',
    ),
    cells_series: assumed(
      z.int().min(1).max(500),
      'Cells of a module, if the points are of one cell',
      1,
      'voltages of open_circuit are those of a whole module',
    ),
    resistance_mOhm: key(z.number().min(0).max(10_000), 'Of one module, terminals and electronics included'),
    coulombic_efficiency_share: assumed(
      z.number().min(0.5).max(1),
      'Share of the amp-hours put in that comes out again',
      0.99,
      'share of the amp-hours put in that comes out again; common practice, no source',
    ),
  }),
  z.strictObject({
    kind: kind(
      'kinetic',
      'For lead-acid: a part of the charge is ready, the rest is bound and comes free at a finite rate; less comes out the harder it is drawn on, and some comes back after a rest. State of charge and floor_soc are then shares of what it would give drawn on ever so slowly, which is more than its rated capacity',
    ),
    capacity_20h_Ah: key(
      positive().max(100_000),
      'What one module gives at constant current in 20 hours; module.capacity_Ah is one of the three',
    ),
    capacity_10h_Ah: key(positive().max(100_000), 'What one module gives at constant current in 10 hours'),
    capacity_5h_Ah: key(positive().max(100_000), 'What one module gives at constant current in 5 hours'),
  }),
]);

export const olderModules = z.strictObject({
  modules: key(z.int().min(1).max(10_000), 'How many; they come on top of modules_parallel'),
  capacity_share: key(positive().max(1), 'Share of what a new module stores'),
  resistance_factor: optional(
    z.number().min(1).max(100),
    'Resistance over that of a new module; a resistive bank shares its current by it',
    'a resistive bank asks for it',
  ),
});

/** The temperature of a point of a curve. */
export const bankPoint_C = () => key(z.number().min(-60).max(60), 'Temperature of the bank');

export const chargeAtTemperature = z.strictObject({
  temperature_C: bankPoint_C(),
  max_charge_A: key(z.number().min(0).max(100_000), 'Most that one module takes'),
});

export const capacityAtTemperature = z.strictObject({
  temperature_C: bankPoint_C(),
  share: key(share(), 'Share of the capacity that can be drawn'),
});
