import { radians } from '../basis/units.ts';
import type { SkyModel } from '../scenario/schema/schema.ts';
import { OPEN_SKY, type SkyLeft } from './horizon.ts';
import { type SkyBrightness, skyBrightness } from './perez.ts';

/** How a plane looks at sky and ground. */
export interface PlaneView {
  readonly cosTilt: number;
  readonly sinTilt: number;
  /** Azimuth that the plane faces, clockwise from north, radians. */
  readonly azimuth: number;
  /** Share of an even sky's light that the plane receives. */
  readonly sky: number;
  /** What a horizon line leaves of it, and of the band along the horizon. */
  readonly left: SkyLeft;
  /** Share of an even ground's light that the plane receives. */
  readonly ground: number;
}

/**
 * View of a plane.
 *
 * @param tilt_deg from horizontal
 * @param azimuth_deg that it faces, clockwise from north
 * @param left what a horizon line leaves of the sky; all of it unless said
 *
 * Source: Liu & Jordan 1963, Solar Energy 7, 53-74.
 */
export function planeView(tilt_deg: number, azimuth_deg: number, left: SkyLeft = OPEN_SKY): PlaneView {
  const cosTilt = Math.cos(radians(tilt_deg));
  const sinTilt = Math.sin(radians(tilt_deg));
  return {
    cosTilt,
    sinTilt,
    azimuth: radians(azimuth_deg),
    sky: ((1 + cosTilt) / 2) * left.even,
    left,
    ground: (1 - cosTilt) / 2,
  };
}

/**
 * Cosine of the angle between the sun and the normal of a plane, below zero with the sun behind it.
 *
 * @param altitude of the sun, radians
 * @param azimuth of the sun, clockwise from north, radians
 * @param view of the plane
 *
 * Source: Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 1.6.3.
 */
export const cosIncidence = (altitude: number, azimuth: number, view: PlaneView): number =>
  Math.sin(altitude) * view.cosTilt + Math.cos(altitude) * view.sinTilt * Math.cos(azimuth - view.azimuth);

/** Light on a plane by where it comes from, W/m²: each part passes the glass at its own angle. */
interface PlaneLight {
  beam: number;
  circumsolar: number;
  isotropic: number;
  /** May be below zero, by no more than `isotropic`. */
  horizon: number;
  ground: number;
  /** How the diffuse light was spread over the sky; untouched if there is none, or by Hay & Davies. */
  readonly brightness: SkyBrightness;
}

/** A dark plane, to be overwritten by `sunlitPlane`. */
export const darkPlane = (): PlaneLight => ({
  beam: 0,
  circumsolar: 0,
  isotropic: 0,
  horizon: 0,
  ground: 0,
  brightness: { clearness: 1, circumsolar: 0, horizon: 0 },
});

/** Light of a moment, or mean over a time with the sun up. */
export interface SunlitSky {
  /** Facing the sun, W/m². */
  dni_W_m2: number;
  /** Diffuse on the horizontal, W/m². */
  dhi_W_m2: number;
  /** Global on the horizontal, W/m²; it is what the ground throws back. */
  ghi_W_m2: number;
  /** Altitude of the sun, above zero, radians. */
  altitude: number;
  /** Cosine of the angle of incidence on the plane. */
  cosIncidence: number;
  extraterrestrialNormal_W_m2: number;
  airMass: number;
}

/** Sine of 5 degrees: below it circumsolar light is held, or it would grow without bound on steep planes. */
const SIN_LOW_SUN = Math.sin(radians(5));

/**
 * Light on a plane with the sun up.
 *
 * Both models with one change: below 5 degrees, where the circumsolar light is held down, what it loses on the
 * horizontal goes to the even sky, so that a plane of tilt 0 gets exactly the horizontal irradiance at every altitude.
 *
 * Behind a horizon line the even sky counts by the share that the plane still sees. A bright band along the horizon
 * counts by what stands out of it; a dark one (the zenith is brighter) is scaled as the even sky.
 *
 * @param sky the light; see the fields
 * @param view of the plane
 * @param albedo share of light that the ground throws back, 0 to 1
 * @param out overwritten with W/m², so that a year of steps allocates nothing
 * @param model how the diffuse light is spread over the sky
 *
 * Source: Perez, Ineichen, Seals, Michalsky & Stewart 1990, Solar Energy 44, 271-289, eq. 9; Hay & Davies 1980;
 * ground: Liu & Jordan 1963, Solar Energy 7, 53-74.
 */
export function sunlitPlane(
  sky: SunlitSky,
  view: PlaneView,
  albedo: number,
  out: PlaneLight,
  model: SkyModel = 'perez',
): void {
  const { dni_W_m2, dhi_W_m2, altitude } = sky;
  const facing = Math.max(0, sky.cosIncidence);
  out.beam = dni_W_m2 * facing;
  out.ground = albedo * sky.ghi_W_m2 * view.ground;
  if (dhi_W_m2 <= 0) {
    out.circumsolar = 0;
    out.isotropic = 0;
    out.horizon = 0;
    return;
  }
  const above_W_m2 = sky.extraterrestrialNormal_W_m2;
  const sinAltitude = Math.sin(altitude);
  let around = 0;
  let horizon = 0;
  if (model === 'perez') {
    const { brightness } = out;
    skyBrightness(Math.PI / 2 - altitude, dni_W_m2, dhi_W_m2, above_W_m2, sky.airMass, brightness);
    around = brightness.circumsolar;
    horizon = brightness.horizon * (brightness.horizon > 0 ? view.left.band : view.left.even);
  } else {
    around = anisotropy(dni_W_m2, above_W_m2);
  }
  const perSine = around / Math.max(SIN_LOW_SUN, sinAltitude);
  out.circumsolar = dhi_W_m2 * perSine * facing;
  out.isotropic = dhi_W_m2 * (1 - perSine * sinAltitude) * view.sky;
  out.horizon = Math.max(-out.isotropic, dhi_W_m2 * horizon * view.sinTilt);
}

/**
 * Share of the diffuse light that comes from around the sun: the transmittance of the air for beam.
 *
 * @param dni_W_m2 beam facing the sun
 * @param extraterrestrialNormal_W_m2 above the air, facing the sun
 * @returns 0 to 1
 *
 * Source: Hay & Davies 1980, as Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 2.16.2 (recalled number).
 */
const anisotropy = (dni_W_m2: number, extraterrestrialNormal_W_m2: number): number =>
  Math.min(1, Math.max(0, dni_W_m2 / extraterrestrialNormal_W_m2));
