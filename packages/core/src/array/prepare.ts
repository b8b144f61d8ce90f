import type { Assumption } from '../basis/notices.ts';
import { radians } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { ArraySpec, Site } from '../scenario/schema/schema.ts';
import { byMonth } from '../sky/mid-months.ts';
import type { SkyYear } from '../sky/types.ts';
import type { SunYear } from '../sun/year.ts';
import { arrayAssumptions } from './assumptions.ts';
import { cellTemperature_C, cellTemperatureFromNoct_C, HEAT_LOSS } from './cell.ts';
import { type HorizonLine, horizonLine, OPEN_SKY, skyLeft } from './horizon.ts';
import { groundAngle_deg, passedShare, skyAngle_deg } from './incidence.ts';
import { cosIncidence, darkPlane, type PlaneView, planeView, type SunlitSky, sunlitPlane } from './plane.ts';
import { dcPower_kW_per_kWp, lowLightShare } from './power.ts';

/** One array over the year, per kWp of its size. Arrays have `clock.steps` entries. */
export interface ArrayYear {
  /** As in the scenario. */ readonly name: string;
  /** Irradiance on the plane, all parts, before incidence losses, W/m². */ readonly plane_W_m2: Float64Array;
  /** Mean cell temperature in the step, °C. */ readonly cell_temperature_C: Float64Array;
  /** DC power offered to the tracker per kWp, after all array losses, kW. Never negative. */
  readonly dc_kW_per_kWp: Float64Array;
  /** What its models leave out. */ readonly assumptions: readonly Assumption[];
}

/**
 * One array over the year, per kWp.
 *
 * The sky's means over a step are laid on its sun-up part, where the sun stands at the middle of that part, and the
 * result is spread over the step again. Diffuse light beyond what the sun can have sent in the step is twilight and
 * comes evenly from the whole sky.
 *
 * Behind a horizon line the sun is up or down for the whole of a step's sun-up part, by where it stands at its middle;
 * the ground is lit by what the line leaves of beam and sky.
 *
 * @param spec tilt, azimuth, horizon, mounting, models, temperature coefficient, losses and albedo; not its size
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
  const points = spec.horizon ?? site.horizon;
  const line = points === undefined ? null : horizonLine(points);
  /** Share of an even sky that lights the ground. */
  const groundSky = line === null ? 1 : skyLeft(line, 0, 0).even;
  const planes = planesByMonth(spec, line);
  const kept = keptByMonth(spec);
  const albedos = byMonth(spec.albedo);
  const heatLoss = HEAT_LOSS[spec.mounting];
  const noct_C = spec.cell_model?.kind === 'noct' ? spec.cell_model.noct_C : null;
  const weakLoss = spec.low_light_loss_share;
  const b0 = spec.incidence_b0;
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
    const month = clock.month[i]! - 1;
    const { view, passedSky, passedGround } = planes[month]!;
    const albedo = albedos[month]!;
    const azimuth_deg = sun.azimuth_deg[i]!;
    const hidden = line !== null && sun.altitude_deg[i]! < line(azimuth_deg);
    const lightingGround =
      line === null ? ghi : groundSky * Math.min(ghi, dhi) + (hidden ? 0 : Math.max(0, ghi - dhi));
    let plane = 0;
    let effective = 0;
    let twilight = dhi;
    let groundLight = lightingGround;
    if (up > 0 && altitude > 0) {
      const above = sun.extraterrestrial_normal_W_m2[i]!;
      const fromSun = Math.min(dhi, sun.extraterrestrial_horizontal_W_m2[i]!);
      const cosine = hidden ? 0 : cosIncidence(altitude, radians(azimuth_deg), view);
      lit.dni_W_m2 = Math.min(sky.dni_W_m2[i]! / up, above);
      lit.dhi_W_m2 = fromSun / up;
      lit.ghi_W_m2 = lightingGround / up;
      lit.altitude = altitude;
      lit.cosIncidence = cosine;
      lit.extraterrestrialNormal_W_m2 = above;
      lit.airMass = sun.air_mass[i]!;
      sunlitPlane(lit, view, albedo, light, spec.sky_model);
      const straight = light.beam + light.circumsolar;
      const even = light.isotropic + light.horizon;
      plane = up * (straight + even + light.ground);
      effective = up * (straight * passedShare(cosine, b0) + even * passedSky + light.ground * passedGround);
      twilight = dhi - fromSun;
      groundLight = 0;
    }
    const late = twilight * view.sky;
    const ground = albedo * groundLight * view.ground;
    plane += late + ground;
    effective += late * passedSky + ground * passedGround;
    const cell =
      noct_C === null
        ? cellTemperature_C(air, plane, sky.wind_m_s[i]!, heatLoss)
        : cellTemperatureFromNoct_C(air, plane, noct_C);
    const weak = weakLoss > 0 ? lowLightShare(effective, weakLoss) : 1;
    plane_W_m2[i] = plane;
    cell_temperature_C[i] = cell;
    dc_kW_per_kWp[i] = kept[month]! * weak * dcPower_kW_per_kWp(effective, cell, coefficient);
  }
  return {
    name: spec.name,
    plane_W_m2,
    cell_temperature_C,
    dc_kW_per_kWp,
    assumptions: arrayAssumptions(spec, site),
  };
}

/** A plane as it stands in a month. */
interface MonthPlane {
  readonly view: PlaneView;
  /** Share of even light from sky and ground that passes the glass. */
  readonly passedSky: number;
  readonly passedGround: number;
}

/** The twelve planes of a year, each tilt worked out once. */
function planesByMonth(spec: ArraySpec, line: HorizonLine | null): readonly MonthPlane[] {
  const { azimuth_deg } = spec;
  const known = new Map<number, MonthPlane>();
  return byMonth(spec.tilt_deg).map((tilt_deg) => {
    const plane = known.get(tilt_deg) ?? {
      view: planeView(tilt_deg, azimuth_deg, line === null ? OPEN_SKY : skyLeft(line, tilt_deg, azimuth_deg)),
      passedSky: passedShare(Math.cos(radians(skyAngle_deg(tilt_deg))), spec.incidence_b0),
      passedGround: passedShare(Math.cos(radians(groundAngle_deg(tilt_deg))), spec.incidence_b0),
    };
    known.set(tilt_deg, plane);
    return plane;
  });
}

/** Share of power left in each month by what dims the light, the years, unequal panels and wires, one after the other. */
function keptByMonth({ losses }: ArraySpec): readonly number[] {
  const { mismatch_share, wiring_share, ageing_share } = losses;
  const all_year = (1 - mismatch_share) * (1 - wiring_share) * (1 - ageing_share);
  const snow = byMonth(losses.snow_share);
  return byMonth(losses.soiling_share).map((dirt, m) => (1 - dirt) * (1 - snow[m]!) * all_year);
}
