import { radians } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { Gridded } from '../series/types.ts';
import type { SunYear } from '../sun/year.ts';

/** How long each of the steps, or rows, is. */
type StepLength = Pick<Clock, 'step_h'>;

/** Lit hours beside a gap that tell the clearness at its edge: as many as are missing, within these bounds. */
const EDGE_h = { least: 1, most: 12 } as const;
/** How far from the gap they may lie. */
const REACH_h = 48;

/**
 * Fills missing light by its clearness: the share of what the sun sends runs in a straight line over a gap, from that
 * of the lit hours before it to that of those after it; at an end of the file one of the two is held. So nights
 * stay dark and noons bright, where a straight line through the light itself would shine at midnight.
 *
 * @param light_W_m2 means of each step; what `filled` marks is overwritten
 * @param filled 1 for each step of which a part was missing
 * @param above_W_m2 what the sun sends onto the same surface, mean of each step
 *
 * Source: linear interpolation of a clearness index over gaps is common practice; how many hours at each edge and
 * the limit of the share at 1 are our own, no source.
 */
export function fillLight(
  light_W_m2: Float64Array,
  filled: Uint8Array,
  above_W_m2: Float64Array,
  { step_h }: StepLength,
): void {
  const steps = light_W_m2.length;
  const edge = (from: number, way: 1 | -1, edge_h: number): number | undefined => {
    let lit_h = 0;
    let light = 0;
    let above = 0;
    for (
      let i = from;
      i >= 0 && i < steps && lit_h < edge_h && Math.abs(i - from) * step_h < REACH_h;
      i += way
    ) {
      if (filled[i] === 1 || above_W_m2[i] === 0) continue;
      lit_h += step_h;
      light += light_W_m2[i]!;
      above += above_W_m2[i]!;
    }
    return above > 0 ? Math.min(1, light / above) : undefined;
  };
  for (let from = 0; from < steps; from++) {
    if (filled[from] === 0) continue;
    let to = from + 1;
    while (to < steps && filled[to] === 1) to++;
    const edge_h = Math.min(EDGE_h.most, Math.max(EDGE_h.least, (to - from) * step_h));
    const left = edge(from - 1, -1, edge_h);
    const right = edge(to, 1, edge_h);
    const first = left ?? right ?? 0;
    const last = right ?? first;
    for (let i = from; i < to; i++) {
      const along = (i - from + 1) / (to - from + 1);
      light_W_m2[i] = (first + (last - first) * along) * above_W_m2[i]!;
    }
    from = to;
  }
}

/**
 * The same for beam, by what it gives on the horizontal: near the horizon there is little of it, and its share says
 * little of noon. Held below what is extremely rare in measurements (`skyQuality`), as the air near the horizon does.
 *
 * @param dni_W_m2 facing the sun, means of each whole step; what `filled` marks is overwritten
 */
export function fillBeam(dni_W_m2: Float64Array, filled: Uint8Array, sun: SunYear, clock: StepLength): void {
  const horizontal_W_m2 = dni_W_m2.map((dni, i) => dni * sine(sun, i));
  fillLight(horizontal_W_m2, filled, sun.extraterrestrial_horizontal_W_m2, clock);
  for (let i = 0; i < filled.length; i++) {
    if (filled[i] === 0) continue;
    const mu = sine(sun, i);
    const most = 0.95 * mu ** 0.2 * sun.up_share[i]! * sun.extraterrestrial_normal_W_m2[i]!;
    dni_W_m2[i] = mu > 0 ? Math.min(most, horizontal_W_m2[i]! / mu) : 0;
  }
}

/** Sine of the sun's height while it is up, else 0. */
const sine = (sun: SunYear, i: number): number =>
  sun.up_share[i]! > 0 ? Math.max(0, Math.sin(radians(sun.altitude_deg[i]!))) : 0;

/**
 * Where diffuse light was missing beside global light and beam, it is what the beam leaves of the global light; filled
 * on their own the three would contradict each other while the sun is low.
 *
 * @param dni_W_m2 cut where it would be more than the global light
 * @param dhi_W_m2 overwritten where `filled` is 1
 */
export function closeFilled(
  ghi_W_m2: Float64Array,
  dni_W_m2: Float64Array,
  dhi_W_m2: Float64Array,
  filled: Uint8Array,
  sun: SunYear,
): void {
  for (let i = 0; i < filled.length; i++) {
    if (filled[i] === 0) continue;
    const mu = sine(sun, i);
    if (dni_W_m2[i]! * mu > ghi_W_m2[i]!) dni_W_m2[i] = ghi_W_m2[i]! / mu;
    dhi_W_m2[i] = Math.max(0, ghi_W_m2[i]! - dni_W_m2[i]! * mu);
  }
}

/** Lays light over what was filled by straight lines, in place. */
export function fillLights(
  { values, filled }: Omit<Gridded, 'notices'>,
  sun: SunYear,
  clock: StepLength,
): void {
  const [ghi, dni, dhi] = [values.get('ghi')!, values.get('dni'), values.get('dhi')];
  const [noGhi, noDni, noDhi] = [filled.get('ghi'), filled.get('dni'), filled.get('dhi')];
  if (noGhi) fillLight(ghi, noGhi, sun.extraterrestrial_horizontal_W_m2, clock);
  if (dni && noDni) fillBeam(dni, noDni, sun, clock);
  if (dhi && noDhi) {
    if (dni) closeFilled(ghi, dni, dhi, noDhi, sun);
    else fillLight(dhi, noDhi, sun.extraterrestrial_horizontal_W_m2, clock);
  }
}
