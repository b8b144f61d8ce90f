/**
 * Share of the diffuse light that comes from around the sun: the transmittance of the air for beam.
 *
 * @param dni_W_m2 beam facing the sun
 * @param extraterrestrialNormal_W_m2 above the air, facing the sun
 * @returns 0 to 1
 *
 * Source: Hay & Davies 1980, as Duffie & Beckman, Solar Engineering of Thermal Processes, eq. 2.16.2 (recalled number).
 */
export const anisotropy = (dni_W_m2: number, extraterrestrialNormal_W_m2: number): number =>
  Math.min(1, Math.max(0, dni_W_m2 / extraterrestrialNormal_W_m2));
