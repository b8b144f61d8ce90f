import * as z from 'zod';
import { assumed, byMonth, life_years, name, part, positive, price, share } from './terms.ts';

const tracker = z.strictObject({
  part,
  price,
  life_years,
  /** Highest input power the tracker takes from the array. */
  max_power_kW: positive(),
  /** Highest current it puts out, at the bank's nominal voltage. Not for an array on the AC side. */
  max_charge_A: positive().optional(),
  /** Highest AC power it puts out: for an array on the AC side. */
  max_output_kW: positive().optional(),
  efficiency_share: assumed(
    z.number().min(0.5).max(1),
    0.97,
    'conversion from array to bank voltage; common practice, no source',
  ),
});

/** Given in part, the rest has its defaults: each loss is reported on its own. */
const losses = z
  .strictObject({
    soiling_share: assumed(share(), 0.03, 'dirt on the panels; common practice, no source'),
    mismatch_share: assumed(share(), 0.02, 'unequal panels; common practice, no source'),
    wiring_share: assumed(share(), 0.02, 'wires up to the tracker; common practice, no source'),
    ageing_share: assumed(
      share(),
      0.03,
      'first-light loss and ageing up to mid-life; common practice, no source',
    ),
  })
  .prefault({});

export const array = z.strictObject({
  name: name(),
  part,
  /** Counted panels of `panel_kWp` each give `size_kWp`; or give the size itself. */
  panels: z.int().min(0).max(100_000).optional(),
  panel_kWp: positive().max(10).optional(),
  size_kWp: z.number().min(0).max(100_000),
  /** Of one panel where panels are counted, of the whole array elsewhere. */
  price,
  life_years,
  /** From horizontal. */
  tilt_deg: z.number().min(0).max(90),
  /** Clockwise from north: 90 east, 180 south. */
  azimuth_deg: z.number().min(0).max(360),
  power_temperature_coefficient_per_K: z.number().min(-0.01).max(0),
  /** Counts where several years are played. */
  ageing_share_per_year: assumed(
    z.number().min(0).max(0.2),
    0.005,
    'output lost from year to year, played by run --years only; common practice, no source',
  ),
  mounting: z.enum(['open_rack', 'close_roof']),
  /** Behind a tracker on the DC side, or behind an inverter of its own that follows the plant's AC side. Left out: dc. */
  coupling: z.enum(['dc', 'ac']).optional(),
  losses,
  albedo: assumed(
    byMonth(share()),
    0.2,
    'bare ground and grass all year, no snow brightening; Liu & Jordan 1963 as cited by the handbooks',
  ),
  tracker,
});
