import * as z from 'zod';
import {
  amps,
  assumed,
  between,
  byMonth,
  crucial,
  key,
  kind,
  ofFigures,
  optional,
  positive,
  rating_kW,
  share,
  volts,
  whole,
} from './key.ts';
import { CHARGE_CURRENT, horizon, life_years, name, part, price } from './terms.ts';

const tracker = z.strictObject({
  part,
  price: price(),
  life_years: life_years(),
  max_power_kW: key(rating_kW())`Highest input power that it takes from the array`,
  max_charge_A: optional(amps())`${CHARGE_CURRENT} | an array on the AC side has none`,
  max_output_kW: optional(rating_kW())`For an array on the AC side: AC power of its inverter, in place of
    max_charge_A | an array on the DC side has none`,
  efficiency_share: assumed(between(0.5, 1), 0.97)`Output over input | conversion from array to bank voltage;
    common practice, no source`,
  max_input_V: optional(volts(2000))`Highest voltage that its input stands, at open circuit too`,
  min_input_V: optional(volts(2000))`Lower end of the voltages at which it takes power`,
  max_input_A: optional(positive(2000))`Highest short-circuit current that its input stands`,
  max_operating_A: optional(positive(2000))`Highest current that its input works at; what the panels could
    give beyond it is lost`,
  built_in: optional(z.boolean())`One of the trackers of an all-in-one inverter, under its limits | it stands
    in a case of its own`,
});

const coefficient_per_K = () => between(-0.01, 0);
const panel = z.strictObject({
  voc_V: key(volts(500))`Voltage at open circuit`,
  vmp_V: key(volts(500))`Voltage at the point of most power`,
  isc_A: key(positive(100))`Current in short circuit`,
  imp_A: key(positive(100))`Current at the point of most power`,
  voc_temperature_coefficient_per_K: key(coefficient_per_K())`Change of the open-circuit voltage with cell
    temperature, as a share of it`,
  vmp_temperature_coefficient_per_K: optional(coefficient_per_K())`Change of the voltage at most power with
    cell temperature, as a share of it | as many volts per kelvin as at open circuit`,
});

const cellModel = z.discriminatedUnion('kind', [
  z.strictObject({ kind: kind('faiman')`Heat loss of the mounting by wind` }),
  z.strictObject({
    kind: kind('noct')`By the data sheet's test; for open racks only`,
    noct_C: key(between(30, 80))`Nominal operating cell temperature of the data sheet`,
  }),
]);

/**
 * Given in part, the rest has its defaults: each loss is reported on its own. By cause, from the light to the tracker:
 * light, years, panels, wires.
 */
const losses = z.strictObject({
  snow_share: crucial(byMonth(share()), 0)`Light: power lost under snow that lies on the panels | no snow lies
    on the panels; how long it does depends on tilt and place, and no rule of it is built in`,
  soiling_share: crucial(byMonth(share()), 0.04)`Light: dirt on the panels | dirt on the panels takes 3 to 4 %
    at least of all solar power, cleaned as it pays (Ilse et al. 2019, Joule 3)`,
  ageing_share: crucial(share(), 0.05)`Years: output lost since the panels were new | panels lose 0.5 % a
    year, the median of some 2000 measured (Jordan & Kurtz 2013, Progress in Photovoltaics 21), here over ten years`,
  // Only the abstract was seen, which gives no figure: 1 % is ours, on the safe side of it.
  mismatch_share: crucial(share(), 0.01)`Panels: unequal ones in a string | unequal panels cost very little in
    an array of forty (Lorente et al. 2014, Solar Energy 100); 1 % is taken, as panels age apart`,
  wiring_share: crucial(share(), 0.03)`Wires: up to the tracker | wires drop 3 % at full light, as much as DTI
    2006, Photovoltaics in Buildings, 2.1.4.1, lets them; played at all light`,
});

export const array = z.strictObject({
  name,
  part,
  panels: optional(whole(0, 100_000))`Number of panels of panel_kWp each, instead of size_kWp`,
  panel_kWp: optional(positive(10))`Size of one panel at standard test conditions`,
  panel: optional(panel)`One panel's data sheet at standard test conditions, for strings`,
  panels_in_series: optional(whole(1, 100))`Panels of one string; hours in which it works outside the
    tracker's voltages are played as lost`,
  strings_parallel: optional(whole(1, 10_000))`Strings side by side on the tracker's input | panels over
    panels_in_series`,
  size_kWp: key(between(0, 100_000))`Size at standard test conditions; panels times panel_kWp where those are
    given instead`,
  price: price('one panel where panels are counted, of the whole array elsewhere'),
  life_years: life_years(),
  tilt_deg: key(byMonth(between(0, 90)))`From horizontal; twelve for a rack set anew by month`,
  azimuth_deg: key(between(0, 360))`Clockwise from north: 90 east, 180 south, 270 west`,
  power_temperature_coefficient_per_K: key(coefficient_per_K())`Power gained per kelvin above 25 °C, so
    negative`,
  ageing_share_per_year: ofFigures(between(0, 0.2), 0.005)`Output lost from year to year | the median of some
    2000 measured rates (Jordan & Kurtz 2013, Progress in Photovoltaics 21), played by run --years only`,
  mounting: key(z.enum(['open_rack', 'close_roof']))`On an open rack, or close to a roof, where cells get
    hotter`,
  coupling: optional(z.enum(['dc', 'ac']))`Behind a tracker on the DC side, or behind an inverter of its own
    on the AC side; that one follows the plant's AC side and stands still without it | dc`,
  cell_model: assumed(cellModel, { kind: 'faiman' })`How hot cells get | heat loss of the mounting by wind
    (Faiman 2008), which needs no figure of the data sheet`,
  sky_model: assumed(z.enum(['perez', 'hay_davies']), 'perez')`How diffuse light is spread over the sky |
    diffuse light by Perez et al. 1990, which knows a bright horizon beside the ring around the sun`,
  horizon: optional(horizon())`What this array has before it | the horizon of site`,
  incidence_b0: assumed(between(0, 0.2), 0.05)`How much slanting light is lost at the glass; a share of 1 - b0
    (1/cos - 1) passes | slanting light is lost as at plain glass (Souka & Safwat 1966, ASHRAE Standard 93)`,
  low_light_loss_share: assumed(between(0, 0.3), 0)`Efficiency lost at 200 W/m² against 1000 W/m², from the
    data sheet (EN 50380); spread by the logarithm of the light | efficiency in weak light is that of full
    light: the figure at 200 W/m² of the data sheet (EN 50380) is not given`,
  losses: key(losses.prefault({}))`Losses between sun and tracker, shares of the output`,
  albedo: assumed(byMonth(share()), 0.2)`Share of light that the ground gives back; fresh snow 0.8 | bare
    ground and grass all year, no snow brightening; Liu & Jordan 1963 as cited by the handbooks`,
  tracker: key(tracker)`Charge controller of the array`,
});
