import { type Notice, notice } from '../basis/notices.ts';
import { radians } from '../basis/units.ts';
import { type Clock, localTime } from '../clock/clock.ts';
import type { SunYear } from '../sun/year.ts';
import type { SkyYear } from './types.ts';

/**
 * Quality tests of a sky that is ready to be played, whichever weather it came from. What a file must not hold is put
 * in or refused before (impossible.ts); these count what is left, step by step, and change nothing.
 *
 * Source of the limits: Long & Dutton 2002, BSRN Global Network recommended QC tests V2.0. The report itself could not
 * be opened; the figures are those of two public copies, which agree (a third prints 100 where these have 50 for
 * possible diffuse light). They were made for means of a minute, so means of an hour pass them more easily.
 */

/** Tests of the quality of prepared weather. */
export const QUALITY_TESTS = [
  { id: 'possible_ghi', what: 'global light above what is physically possible' },
  { id: 'possible_dni', what: 'beam above what is physically possible' },
  { id: 'possible_dhi', what: 'diffuse light above what is physically possible' },
  { id: 'rare_ghi', what: 'global light that is extremely rare' },
  { id: 'rare_dni', what: 'beam that is extremely rare' },
  { id: 'rare_dhi', what: 'diffuse light that is extremely rare' },
  { id: 'closure', what: 'global light that is not diffuse plus beam' },
  { id: 'diffuse_share', what: 'more diffuse than global light' },
  { id: 'night_light', what: 'light with the sun down, more than a step from sunrise or sunset' },
  { id: 'dark_day', what: 'no light with the sun high' },
] as const;

/** Name of a quality test. */
export type QualityId = (typeof QUALITY_TESTS)[number]['id'];

/** What one test found. */
interface QualityResult {
  readonly id: QualityId;
  /** What a step that fails shows, in words. */
  readonly what: string;
  /** Steps that the test can be asked of. */
  tested_steps: number;
  failed_steps: number;
  /** The first step that fails; null if none does. */
  first_step: number | null;
}

/** An upper limit of an irradiance: share of the light above the air x mu^power + offset, W/m². */
interface Limit {
  readonly share: number;
  readonly power: number;
  readonly offset_W_m2: number;
}

const LIMITS: Readonly<Record<'possible' | 'rare', Readonly<Record<'ghi' | 'dni' | 'dhi', Limit>>>> = {
  possible: {
    ghi: { share: 1.5, power: 1.2, offset_W_m2: 100 },
    dni: { share: 1, power: 0, offset_W_m2: 0 },
    dhi: { share: 0.95, power: 1.2, offset_W_m2: 50 },
  },
  rare: {
    ghi: { share: 1.2, power: 1.2, offset_W_m2: 50 },
    dni: { share: 0.95, power: 0.2, offset_W_m2: 10 },
    dhi: { share: 0.75, power: 1.2, offset_W_m2: 30 },
  },
};

/** Below this the parts of the light are not compared with each other. Same source. */
const LEAST_COMPARED_W_m2 = 50;
/** Sun's zenith angle at which the tolerances widen, and up to which the parts are compared. Same source. */
const ZENITH = { low_deg: 75, high_deg: 93 } as const;
/** Global over diffuse plus beam may be off by so much. Same source. */
const CLOSURE = { high_sun: 0.08, low_sun: 0.15 } as const;
/** Diffuse over global. Same source. */
const DIFFUSE = { high_sun: 1.05, low_sun: 1.1 } as const;

/** Twilight and the offset of an instrument stay below; our own limit, no source. */
const NIGHT_W_m2 = 10;
/** A thunderstorm lets more through with the sun above `HIGH_SUN_deg`; our own limits, no source. */
const DARK_W_m2 = 1;
const HIGH_SUN_deg = 10;

/** Rounding of a beam that was cut to the sun's own. */
const ROUNDING_W_m2 = 1e-6;

/**
 * Puts every step of a sky to the tests. Limits of a step in which the sun rises or sets are those of its lit part,
 * spread over the step.
 *
 * @returns one result for each of `QUALITY_TESTS`, in that order
 */
export function skyQuality(
  sky: Pick<SkyYear, 'ghi_W_m2' | 'dni_W_m2' | 'dhi_W_m2'>,
  sun: SunYear,
): readonly Readonly<QualityResult>[] {
  const { ghi_W_m2, dni_W_m2, dhi_W_m2 } = sky;
  const steps = ghi_W_m2.length;
  const results = new Map(QUALITY_TESTS.map((test) => [test.id, newResult(test)]));
  const put = (id: QualityId, step: number, passes: boolean): void => {
    const result = results.get(id)!;
    result.tested_steps++;
    if (passes) return;
    result.failed_steps++;
    result.first_step ??= step;
  };
  for (let i = 0; i < steps; i++) {
    const ghi = ghi_W_m2[i]!;
    const dni = dni_W_m2[i]!;
    const dhi = dhi_W_m2[i]!;
    const up = sun.up_share[i]!;
    const before = i > 0 ? sun.up_share[i - 1]! : 0;
    const after = i + 1 < steps ? sun.up_share[i + 1]! : 0;
    if (before + up + after === 0) put('night_light', i, Math.max(ghi, dni) <= NIGHT_W_m2);
    if (up === 0 && ghi === 0 && dni === 0 && dhi === 0) {
      // Half the year is dark nights, which pass: their limits are the offsets alone, and need no powers.
      for (const rank of RANKS) for (const name of LIGHTS) put(`${rank}_${name}`, i, true);
      continue;
    }
    const mu = up > 0 ? Math.max(0, Math.sin(radians(sun.altitude_deg[i]!))) : 0;
    const above = up * sun.extraterrestrial_normal_W_m2[i]!;
    for (const rank of RANKS) {
      put(`${rank}_ghi`, i, ghi <= limit_W_m2(LIMITS[rank].ghi, above, mu));
      put(`${rank}_dni`, i, dni <= limit_W_m2(LIMITS[rank].dni, above, mu));
      put(`${rank}_dhi`, i, dhi <= limit_W_m2(LIMITS[rank].dhi, above, mu));
    }
    const zenith_deg = 90 - sun.altitude_deg[i]!;
    const sum = dhi + dni * mu;
    if (zenith_deg < ZENITH.high_deg) {
      const sunIs = zenith_deg < ZENITH.low_deg ? 'high_sun' : 'low_sun';
      if (sum > LEAST_COMPARED_W_m2) put('closure', i, Math.abs(ghi / sum - 1) <= CLOSURE[sunIs]);
      if (ghi > LEAST_COMPARED_W_m2) put('diffuse_share', i, dhi / ghi < DIFFUSE[sunIs]);
    }
    if (up === 1 && sun.altitude_deg[i]! > HIGH_SUN_deg) put('dark_day', i, ghi >= DARK_W_m2);
  }
  return [...results.values()];
}

const newResult = ({ id, what }: Pick<QualityResult, 'id' | 'what'>): QualityResult => ({
  id,
  what,
  tested_steps: 0,
  failed_steps: 0,
  first_step: null,
});

const RANKS = ['possible', 'rare'] as const;
const LIGHTS = ['ghi', 'dni', 'dhi'] as const;

const limit_W_m2 = ({ share, power, offset_W_m2 }: Limit, above_W_m2: number, mu: number): number =>
  share * above_W_m2 * mu ** power + offset_W_m2 + ROUNDING_W_m2;

/** One notice for each test that any step fails. */
export function qualityNotices(results: readonly Readonly<QualityResult>[], clock: Clock): Notice[] {
  const failing = results.filter((result) => result.failed_steps > 0);
  return failing.map(({ id, what, failed_steps, tested_steps, first_step }) => {
    const first = localTime(clock, first_step!).slice(0, 16).replace('T', ' ');
    return notice(`quality-${id.replaceAll('_', '-')}`, failed_steps)`weather: ${what}, in
      ${failed_steps.toLocaleString('en')} of ${tested_steps.toLocaleString('en')} steps, first at ${first};
      used as it is`;
  });
}
