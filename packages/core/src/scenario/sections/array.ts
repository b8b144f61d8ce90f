import * as z from 'zod';
import { assumed, byMonth, horizon, life_years, name, part, positive, price, share } from './terms.ts';

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
  /** Highest voltage that its input stands, at open circuit too. */
  max_input_V: positive().max(2000).optional(),
  /** Lower end of the voltages at which it takes power. */
  min_input_V: positive().max(2000).optional(),
  /** Highest short-circuit current that its input stands. */
  max_input_A: positive().max(2000).optional(),
  /** Highest current that it works at: what panels could give beyond it is lost. */
  max_operating_A: positive().max(2000).optional(),
  /** One of the trackers of an all-in-one inverter, under its limits. Left out: it stands in a case of its own. */
  built_in: z.boolean().optional(),
});

/** One panel's data sheet, for strings: at standard test conditions. */
const panel = z.strictObject({
  /** At open circuit. */
  voc_V: positive().max(500),
  /** At the point of most power. */
  vmp_V: positive().max(500),
  /** In short circuit. */
  isc_A: positive().max(100),
  imp_A: positive().max(100),
  /** Change with cell temperature as a share of the voltage. */
  voc_temperature_coefficient_per_K: z.number().min(-0.01).max(0),
  /** Without it, as many volts per kelvin as at open circuit. */
  vmp_temperature_coefficient_per_K: z.number().min(-0.01).max(0).optional(),
});

/** How hot cells get: by heat loss of the mounting, or by the data sheet's test on an open rack. */
const cell_model = assumed(
  z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('faiman') }),
    z.strictObject({ kind: z.literal('noct'), noct_C: z.number().min(30).max(80) }),
  ]),
  { kind: 'faiman' },
  'heat loss of the mounting by wind (Faiman 2008), which needs no figure of the data sheet',
);

/** Given in part, the rest has its defaults: each loss is reported on its own. */
const losses = z
  .strictObject({
    soiling_share: assumed(byMonth(share()), 0.03, 'dirt on the panels; common practice, no source'),
    snow_share: assumed(
      byMonth(share()),
      0,
      'no snow lies on the panels; how long it does depends on tilt and place, and no rule of it is built in',
    ),
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
  panel: panel.optional(),
  /** Panels of one string, and strings side by side on the tracker's input. */
  panels_in_series: z.int().min(1).max(100).optional(),
  strings_parallel: z.int().min(1).max(10_000).optional(),
  size_kWp: z.number().min(0).max(100_000),
  /** Of one panel where panels are counted, of the whole array elsewhere. */
  price,
  life_years,
  /** From horizontal; twelve for a rack that is set anew by month. */
  tilt_deg: byMonth(z.number().min(0).max(90)),
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
  cell_model,
  sky_model: assumed(
    z.enum(['perez', 'hay_davies']),
    'perez',
    'diffuse light by Perez et al. 1990, which knows a bright horizon beside the ring around the sun',
  ),
  /** In place of the site's: what this array has before it. */
  horizon,
  incidence_b0: assumed(
    z.number().min(0).max(0.2),
    0.05,
    'slanting light is lost as at plain glass (Souka & Safwat 1966, ASHRAE Standard 93)',
  ),
  low_light_loss_share: assumed(
    z.number().min(0).max(0.3),
    0,
    'efficiency in weak light is that of full light: the figure at 200 W/m² of the data sheet (EN 50380) is not given',
  ),
  losses,
  albedo: assumed(
    byMonth(share()),
    0.2,
    'bare ground and grass all year, no snow brightening; Liu & Jordan 1963 as cited by the handbooks',
  ),
  tracker,
});
