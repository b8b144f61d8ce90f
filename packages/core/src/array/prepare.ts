import type { Assumption } from '../basis/notices.ts';
import { radians } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { ArraySpec, Site } from '../scenario/schema.ts';
import type { SkyYear } from '../sky/types.ts';
import type { SunYear } from '../sun/types.ts';
import { cellTemperature_C, HEAT_LOSS } from './cell.ts';
import { groundAngle_deg, passedShare, skyAngle_deg } from './incidence.ts';
import { cosIncidence, darkPlane, planeView, type SunlitSky, sunlitPlane } from './plane.ts';
import { dcPower_kW_per_kWp } from './power.ts';
import type { ArrayYear } from './types.ts';

/**
 * One array over the year, per kWp.
 *
 * The sky's means over a step are laid on its sun-up part, where the sun stands at the middle of that part, and the
 * result is spread over the step again. Diffuse light beyond what the sun can have sent in the step is twilight and
 * comes evenly from the whole sky.
 *
 * @param spec tilt, azimuth, mounting, temperature coefficient, losses and albedo; its size is not used
 * @param site of the plant
 * @param clock steps of the year
 * @param sun `sunYear` of the same site and clock
 * @param sky `prepareSky` of the same
 * @returns columns of `clock.steps` entries
 *
 * Source: see `sunlitPlane`, `passedShare`, `cellTemperature_C` and `dcPower_kW_per_kWp`.
 */
export function prepareArray(
  spec: ArraySpec,
  site: Site,
  clock: Clock,
  sun: SunYear,
  sky: SkyYear,
): ArrayYear {
  const { steps } = clock;
  const plane_W_m2 = new Float64Array(steps);
  const cell_temperature_C = new Float64Array(steps);
  const dc_kW_per_kWp = new Float64Array(steps);
  const { tilt_deg } = spec;
  const view = planeView(tilt_deg, spec.azimuth_deg);
  const passedSky = passedShare(Math.cos(radians(skyAngle_deg(tilt_deg))));
  const passedGround = passedShare(Math.cos(radians(groundAngle_deg(tilt_deg))));
  const kept = keptShare(spec);
  const heatLoss = HEAT_LOSS[spec.mounting];
  const coefficient = spec.power_temperature_coefficient_per_K;
  const light = darkPlane();
  const lit: SunlitSky = {
    dni_W_m2: 0,
    dhi_W_m2: 0,
    ghi_W_m2: 0,
    altitude: 0,
    cosIncidence: 0,
    extraterrestrialNormal_W_m2: 0,
    airMass: 0,
  };

  for (let i = 0; i < steps; i++) {
    const ghi = sky.ghi_W_m2[i]!;
    const dhi = sky.dhi_W_m2[i]!;
    const air = sky.air_temperature_C[i]!;
    const up = sun.up_share[i]!;
    const altitude = radians(sun.altitude_deg[i]!);
    if (ghi <= 0 && dhi <= 0 && (sky.dni_W_m2[i]! <= 0 || up === 0)) {
      cell_temperature_C[i] = air;
      continue;
    }
    const albedo = typeof spec.albedo === 'number' ? spec.albedo : spec.albedo[clock.month[i]! - 1]!;
    let plane = 0;
    let effective = 0;
    let twilight = dhi;
    let groundLight = ghi;
    if (up > 0 && altitude > 0) {
      const above = sun.extraterrestrial_normal_W_m2[i]!;
      const fromSun = Math.min(dhi, sun.extraterrestrial_horizontal_W_m2[i]!);
      const cosine = cosIncidence(altitude, radians(sun.azimuth_deg[i]!), view);
      lit.dni_W_m2 = Math.min(sky.dni_W_m2[i]! / up, above);
      lit.dhi_W_m2 = fromSun / up;
      lit.ghi_W_m2 = ghi / up;
      lit.altitude = altitude;
      lit.cosIncidence = cosine;
      lit.extraterrestrialNormal_W_m2 = above;
      lit.airMass = sun.air_mass[i]!;
      sunlitPlane(lit, view, albedo, light);
      const straight = light.beam + light.circumsolar;
      const even = light.isotropic + light.horizon;
      plane = up * (straight + even + light.ground);
      effective = up * (straight * passedShare(cosine) + even * passedSky + light.ground * passedGround);
      twilight = dhi - fromSun;
      groundLight = 0;
    }
    const late = twilight * view.sky;
    const ground = albedo * groundLight * view.ground;
    plane += late + ground;
    effective += late * passedSky + ground * passedGround;
    const cell = cellTemperature_C(air, plane, sky.wind_m_s[i]!, heatLoss);
    plane_W_m2[i] = plane;
    cell_temperature_C[i] = cell;
    dc_kW_per_kWp[i] = kept * dcPower_kW_per_kWp(effective, cell, coefficient);
  }
  return {
    name: spec.name,
    plane_W_m2,
    cell_temperature_C,
    dc_kW_per_kWp,
    assumptions: arrayAssumptions(spec, site),
  };
}

/** Share of power left by dirt, mismatch, wires and ageing, one after the other. */
function keptShare(spec: ArraySpec): number {
  const { soiling_share, mismatch_share, wiring_share, ageing_share } = spec.losses;
  return (1 - soiling_share) * (1 - mismatch_share) * (1 - wiring_share) * (1 - ageing_share);
}

function arrayAssumptions(spec: ArraySpec, site: Site): Assumption[] {
  const model = (path: string, why: string): Assumption => ({ path, value: null, why, kind: 'model' });
  const { still_W_m2_K, perWind_W_s_m3_K } = HEAT_LOSS[spec.mounting];
  const source =
    spec.mounting === 'open_rack' ? 'Faiman 2008' : 'form of Faiman 2008, values common practice, no source';
  return [
    model(
      'model.array.plane',
      `nothing around ${site.name} or within the array shades it; diffuse light after Perez et al. 1990, ground light even in all directions`,
    ),
    model(
      'model.array.glass',
      'slanting light is lost at plain glass (Souka & Safwat 1966, Brandemuehl & Beckman 1980); no snow cover',
    ),
    model(
      `model.array.cell.${spec.mounting}`,
      `cells give off ${still_W_m2_K} W/(m² K) in still air and ${perWind_W_s_m3_K} more per m/s of wind (${source}), and follow sun and air at once`,
    ),
    model(
      'model.array.power',
      'power is proportional to light and linear in cell temperature (Evans 1981): no loss of efficiency in weak light, no colour of light; the tracker always finds the best point',
    ),
  ];
}
