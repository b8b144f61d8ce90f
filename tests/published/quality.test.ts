/**
 * Limits of Long & Dutton 2002, BSRN Global Network recommended QC tests V2.0, after public copies (the report
 * itself could not be opened): each is worked out by hand for one sun, and a value just below passes where one just
 * above fails.
 */
import { describe, expect, it } from 'vitest';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import { type QualityId, qualityNotices, skyQuality } from '../../packages/core/src/sky/quality.ts';
import type { SunYear } from '../../packages/core/src/sun/year.ts';

const HOURS = 5;
const MIDDLE = 2;

/** Five hours: the middle one has the sun at a height, the others at the horizon's other side unless said. */
function sunAt(altitude_deg: number, up = 1, beside = 0): SunYear {
  const at = (middle: number, others: number) =>
    Float64Array.from({ length: HOURS }, (_, i) => (i === MIDDLE ? middle : others));
  return {
    up_share: at(up, beside),
    altitude_deg: at(altitude_deg, -20),
    azimuth_deg: at(180, 180),
    extraterrestrial_normal_W_m2: at(1361, 1361),
    extraterrestrial_horizontal_W_m2: at(up * 1361 * Math.sin((altitude_deg * Math.PI) / 180), 0),
    air_mass: at(2, 0),
  };
}

interface Light {
  readonly ghi?: number;
  readonly dni?: number;
  readonly dhi?: number;
}
const at = (value = 0) => Float64Array.from({ length: HOURS }, (_, i) => (i === MIDDLE ? value : 0));
const failing = ({ ghi, dni, dhi }: Light, sun: SunYear): QualityId[] =>
  skyQuality({ ghi_W_m2: at(ghi), dni_W_m2: at(dni), dhi_W_m2: at(dhi) }, sun)
    .filter((result) => result.failed_steps > 0)
    .map((result) => {
      expect(result).toMatchObject({ failed_steps: 1, first_step: MIDDLE });
      return result.id;
    });

describe('limits at 1361 W/m²', () => {
  it.each([
    // Sun's height, quantity, possible, extremely rare: share x 1361 x sin(height)^power + offset.
    [30, 'ghi', 988.614, 760.891],
    [30, 'dni', 1361, 1135.58],
    [30, 'dhi', 612.789, 474.307],
    [10, 'ghi', 349.778, 249.822],
    [10, 'dni', 1361, 920.995],
    [10, 'dhi', 208.193, 154.889],
  ] as const)('sun at %d degrees, %s', (height, quantity, possible, rare) => {
    const sun = sunAt(height);
    const found = (value: number) => failing({ [quantity]: value }, sun);
    expect(found(possible - 0.01)).not.toContain(`possible_${quantity}`);
    expect(found(possible + 0.01)).toContain(`possible_${quantity}`);
    expect(found(rare - 0.01)).not.toContain(`rare_${quantity}`);
    expect(found(rare + 0.01)).toContain(`rare_${quantity}`);
  });

  it('belong to the lit part of a step: half an hour of sun gives half of the beam', () => {
    expect(failing({ dni: 681 }, sunAt(30, 0.5))).toContain('possible_dni');
    expect(failing({ dni: 680 }, sunAt(30, 0.5))).not.toContain('possible_dni');
  });
});

describe('global light against diffuse plus beam', () => {
  // 200 + 600 x sin 30 = 500 W/m²: 8 % with the sun above 15 degrees, 15 % below.
  it.each([
    [30, 200, 600, 461, []],
    [30, 200, 600, 459, ['closure']],
    [30, 200, 600, 539, []],
    [30, 200, 600, 541, ['closure']],
    // 60 + 200 sin 14 = 108.384
    [14, 60, 200, 93, []],
    [14, 60, 200, 92, ['closure']],
    [14, 60, 200, 124, []],
    [14, 60, 200, 125, ['closure']],
    // At 50 W/m² and less nothing is compared.
    [14, 49, 0, 25, []],
  ])('sun at %d degrees, diffuse %d, beam %d, global %d', (height, dhi, dni, ghi, ids) => {
    expect(failing({ dhi, dni, ghi }, sunAt(height))).toEqual(ids);
  });
  it.each([
    [30, 100, 104, []],
    [30, 100, 106, ['diffuse_share']],
    [14, 100, 109, []],
    [14, 100, 111, ['diffuse_share']],
  ])('sun at %d degrees, global %d, diffuse %d', (height, ghi, dhi, ids) => {
    expect(failing({ ghi, dhi }, sunAt(height))).toEqual(ids);
  });
});

describe('hours of light (our own limits, no source)', () => {
  it('light with the sun down for more than a step on either side', () => {
    expect(failing({ ghi: 9, dhi: 9 }, sunAt(-20, 0))).toEqual([]);
    expect(failing({ ghi: 11, dhi: 11 }, sunAt(-20, 0))).toEqual(['night_light']);
    // Next to sunrise it may be twilight.
    expect(failing({ ghi: 11, dhi: 11 }, sunAt(-20, 0, 0.5))).toEqual([]);
  });
  it('no light with the sun above 10 degrees', () => {
    expect(failing({ ghi: 0.9, dhi: 0.9 }, sunAt(11))).toEqual(['dark_day']);
    expect(failing({ ghi: 1.1, dhi: 1.1 }, sunAt(11))).toEqual([]);
    expect(failing({ ghi: 0.9, dhi: 0.9 }, sunAt(9))).toEqual([]);
  });
});

it('a notice says how many steps fail, of how many, and when the first', () => {
  const clock = buildClock(2025, 'Etc/UTC', 60);
  const [notice, ...more] = qualityNotices(
    skyQuality({ ghi_W_m2: at(459), dni_W_m2: at(600), dhi_W_m2: at(200) }, sunAt(30)),
    clock,
  );
  expect(more).toEqual([]);
  expect(notice).toEqual({
    id: 'quality-closure',
    message:
      'weather: global light that is not diffuse plus beam, in 1 of 1 steps, first at 2025-01-01 02:00; used as it is',
    count: 1,
  });
});
