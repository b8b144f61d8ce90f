/** Light on a tilted plane, losses at the glass, heat and power, against printed examples and published forms. */
import { describe, expect, it } from 'vitest';
import {
  cellTemperature_C,
  cellTemperatureFromNoct_C,
  HEAT_LOSS,
} from '../../packages/core/src/array/cell.ts';
import { groundAngle_deg, passedShare, skyAngle_deg } from '../../packages/core/src/array/incidence.ts';
import { type SkyBrightness, skyBrightness } from '../../packages/core/src/array/perez.ts';
import { cosIncidence, darkPlane, planeView, sunlitPlane } from '../../packages/core/src/array/plane.ts';
import { dcPower_kW_per_kWp, lowLightShare } from '../../packages/core/src/array/power.ts';
import { airMass } from '../../packages/core/src/sun/air-mass.ts';

const RAD = Math.PI / 180;
const cosine = (altitude: number, sunAzimuth: number, tilt: number, planeAzimuth: number): number =>
  cosIncidence(altitude * RAD, sunAzimuth * RAD, planeView(tilt, planeAzimuth));
/** Altitude and azimuth (from north) of the handbook's sun, from latitude, declination and hour angle, degrees. */
function handbookSun(latitude: number, declination: number, hourAngle: number): [number, number] {
  const [phi, delta, omega] = [latitude * RAD, declination * RAD, hourAngle * RAD];
  const sin = Math.sin(phi) * Math.sin(delta) + Math.cos(phi) * Math.cos(delta) * Math.cos(omega);
  const south = Math.atan2(
    Math.sin(omega),
    Math.cos(omega) * Math.sin(phi) - Math.tan(delta) * Math.cos(phi),
  );
  return [Math.asin(sin) / RAD, south / RAD + 180];
}
const cooper = (n: number): number => 23.45 * Math.sin((360 * RAD * (284 + n)) / 365);

describe('angle of incidence', () => {
  it('Reda & Andreas 2003, NREL/TP-560-34302: 25.187 degrees on a plane of 30 degrees turned 10 east of south', () => {
    const theta = Math.acos(cosine(90 - 50.111622, 194.340241, 30, 170)) / RAD;
    expect(Math.abs(theta - 25.187)).toBeLessThan(1e-4);
  });
  // ASHRAE Handbook Fundamentals 2017, chapter 14: sun at 68.62 degrees, 56.69 west of south.
  it('ASHRAE example 5: vertical, facing 60 degrees west of south: cos 0.364, 68.66 degrees', () => {
    const c = cosine(68.62, 180 + 56.69, 90, 240);
    expect(Math.abs(c - 0.364)).toBeLessThan(0.0006);
    expect(Math.abs(Math.acos(c) / RAD - 68.66)).toBeLessThan(0.01);
  });
  it('ASHRAE example 6: the same facing at a tilt of 30 degrees: cos 0.988, 8.74 degrees', () => {
    const c = cosine(68.62, 180 + 56.69, 30, 240);
    expect(Math.abs(c - 0.988)).toBeLessThan(0.0006);
    expect(Math.abs(Math.acos(c) / RAD - 8.74)).toBeLessThan(0.01);
  });
  it('Duffie & Beckman example 1.6.1: 43 N, February 13, 10:30 solar time, 45 degrees facing 15 west of south', () => {
    const [altitude, azimuth] = handbookSun(43, -14, -22.5);
    expect(Math.abs(cosine(altitude, azimuth, 45, 195) - 0.817)).toBeLessThan(0.0006);
  });
  it('Duffie & Beckman examples 1.8.1 and 1.8.2: beam on the plane over beam on the horizontal, 1.66 and 1.61', () => {
    const first = handbookSun(43, cooper(44), -22.5);
    const second = handbookSun(40, cooper(47), -37.5);
    const ratio = ([altitude, azimuth]: [number, number], tilt: number, facing: number): number =>
      cosine(altitude, azimuth, tilt, facing) / Math.sin(altitude * RAD);
    expect(Math.abs(ratio(first, 45, 195) - 1.66)).toBeLessThan(0.007);
    expect(Math.abs(ratio(second, 30, 180) - 1.61)).toBeLessThan(0.006);
  });
  it('Duffie & Beckman example 2.15.1: zenith 62.2, incidence 36.97 degrees, ratio 1.71 on 60 degrees facing south', () => {
    const [altitude, azimuth] = handbookSun(40, cooper(51), -37.5);
    expect(Math.abs(90 - altitude - 62.2)).toBeLessThan(0.006);
    const c = cosine(altitude, azimuth, 60, 180);
    expect(Math.abs(Math.acos(c) / RAD - 36.97)).toBeLessThan(0.006);
    expect(Math.abs(c / Math.sin(altitude * RAD) - 1.71)).toBeLessThan(0.005);
  });
});

describe('light on the plane', () => {
  it('ASHRAE example 7: beam 280 and ground 87.9 W/m² on a vertical plane', () => {
    const light = darkPlane();
    const sky = {
      dni_W_m2: 770,
      dhi_W_m2: 162,
      ghi_W_m2: 770 * Math.sin(68.62 * RAD) + 162,
      altitude: 68.62 * RAD,
      cosIncidence: Math.cos(68.66 * RAD),
      extraterrestrialNormal_W_m2: 1324,
      airMass: 1.073,
    };
    sunlitPlane(sky, planeView(90, 240), 0.2, light);
    expect(Math.abs(light.beam - 280)).toBeLessThan(0.5);
    expect(Math.abs(light.ground - 87.9)).toBeLessThan(0.05);
  });

  // Perez et al. 1990, one case a class: zenith 50, incidence 35, tilt 30, 1367 W/m², Kasten & Young air mass.
  // Diffuse, beam; then epsilon, F1, F2, diffuse on the plane.
  it.each([
    [200, 5, 1.01478, 0.07153, -0.06284, 185.203],
    [200, 30, 1.08866, 0.15345, -0.02931, 194.149],
    [200, 120, 1.35464, 0.24782, 0.01777, 205.299],
    [200, 230, 1.67972, 0.35306, 0.06224, 216.931],
    [150, 300, 2.18212, 0.49028, 0.14812, 176.165],
    [120, 400, 2.9702, 0.60378, 0.22464, 150.173],
    [100, 650, 4.84189, 0.5649, 0.25025, 125.097],
    [80, 800, 6.9106, 0.43011, 0.24986, 96.381],
  ])('Perez, diffuse %d and beam %d W/m²', (dhi, dni, epsilon, f1, f2, onPlane) => {
    const light = darkPlane();
    const sky = {
      dni_W_m2: dni,
      dhi_W_m2: dhi,
      ghi_W_m2: dhi + dni * Math.cos(50 * RAD),
      altitude: 40 * RAD,
      cosIncidence: Math.cos(35 * RAD),
      extraterrestrialNormal_W_m2: 1367,
      airMass: airMass(40),
    };
    sunlitPlane(sky, planeView(30, 180), 0.2, light);
    // The check values use 5.535e-6 per cubed degree, which is 1.04108 per cubed radian; the paper prints 1.041.
    expect(Math.abs(light.brightness.clearness / epsilon - 1)).toBeLessThan(4e-5);
    expect(Math.abs(light.brightness.circumsolar - f1)).toBeLessThan(6e-6);
    expect(Math.abs(light.brightness.horizon - f2)).toBeLessThan(6e-6);
    expect(Math.abs(light.circumsolar + light.isotropic + light.horizon - onPlane)).toBeLessThan(6e-4);
  });

  it('Perez on the data of Duffie & Beckman example 2.16.2: sky 0.7964, all 1.3704 MJ/m²', () => {
    const [altitude, azimuth] = handbookSun(40, cooper(51), -37.5);
    const sinAltitude = Math.sin(altitude * RAD);
    const normal = 1367 * (1 + 0.033 * Math.cos((360 * RAD * 51) / 365)) * 0.0036;
    const beam = 0.24389640376703614;
    const light = darkPlane();
    const sky = {
      dni_W_m2: beam / sinAltitude,
      dhi_W_m2: 1.04 - beam,
      ghi_W_m2: 1.04,
      altitude: altitude * RAD,
      cosIncidence: cosine(altitude, azimuth, 60, 180),
      extraterrestrialNormal_W_m2: normal,
      airMass: 1 / sinAltitude,
    };
    sunlitPlane(sky, planeView(60, 180), 0.6, light);
    const diffuse = light.circumsolar + light.isotropic + light.horizon;
    expect(Math.abs(light.brightness.clearness - 1.2818)).toBeLessThan(1e-4);
    expect(Math.abs(light.brightness.circumsolar - 0.2555)).toBeLessThan(6e-5);
    expect(Math.abs(light.brightness.horizon - 0.005)).toBeLessThan(6e-5);
    // The check values rest on an extraterrestrial irradiance 0.013 % higher than the handbook's equation gives.
    expect(Math.abs(diffuse - 0.7964)).toBeLessThan(1.5e-4);
    expect(Math.abs(light.beam + diffuse + light.ground - 1.3704)).toBeLessThan(1.5e-4);
  });

  // Computed from the published form on the data of the example; the book's own answer could not be opened.
  it('Hay & Davies on the data of Duffie & Beckman example 2.15.1: anisotropy 0.1045, all 1.2512 MJ/m²', () => {
    const [altitude, azimuth] = handbookSun(40, cooper(51), -37.5);
    const sinAltitude = Math.sin(altitude * RAD);
    // The example's anisotropy is beam over extraterrestrial on the horizontal, both of the hour: 0.2439 over 2.3338.
    const beam = 0.24389640376703614;
    const light = darkPlane();
    const sky = {
      dni_W_m2: beam / sinAltitude,
      dhi_W_m2: 1.04 - beam,
      ghi_W_m2: 1.04,
      altitude: altitude * RAD,
      cosIncidence: cosine(altitude, azimuth, 60, 180),
      extraterrestrialNormal_W_m2: beam / 0.104502655833932 / sinAltitude,
      airMass: 1 / sinAltitude,
    };
    sunlitPlane(sky, planeView(60, 180), 0.6, light, 'hay_davies');
    expect(light.horizon).toBe(0);
    const all = light.beam + light.circumsolar + light.isotropic + light.ground;
    // The check value rests on a beam ratio of 1.7135; the example's own declination and hour angle give 1.7133.
    expect(Math.abs(all - 1.2512)).toBeLessThan(1.5e-4);
    const ratio = cosine(altitude, azimuth, 60, 180) / sinAltitude;
    expect(Math.abs(ratio - 1.71325579)).toBeLessThan(1e-8);
    const sky_MJ = (1.04 - beam) * ((1 - 0.104502655833932) * 0.75 + 0.104502655833932 * ratio);
    expect(light.circumsolar + light.isotropic).toBeCloseTo(sky_MJ, 12);
  });

  it.each(['perez', 'hay_davies'] as const)(
    'a plane of tilt 0 gets the horizontal irradiance, down to a sun of 0.2 degrees, %s',
    (model) => {
      for (const altitude of [0.2, 1, 3, 5, 20, 60, 89.9])
        for (const [dni, dhi] of [
          [0, 100],
          [50, 150],
          [700, 80],
          [900, 0],
        ] as const) {
          const light = darkPlane();
          const ghi = dhi + dni * Math.sin(altitude * RAD);
          const sky = {
            dni_W_m2: dni,
            dhi_W_m2: dhi,
            ghi_W_m2: ghi,
            altitude: altitude * RAD,
            cosIncidence: cosine(altitude, 130, 0, 180),
            extraterrestrialNormal_W_m2: 1361,
            airMass: airMass(altitude),
          };
          sunlitPlane(sky, planeView(0, 180), 0.5, light, model);
          const all = light.beam + light.circumsolar + light.isotropic + light.horizon + light.ground;
          expect(all).toBeCloseTo(ghi, 10);
        }
    },
  );

  it('takes the class from its lower bound on: epsilon 1.065 is the second', () => {
    const out: SkyBrightness = { clearness: 0, circumsolar: 0, horizon: 0 };
    // Sun in the zenith: epsilon = (diffuse + beam) / diffuse.
    skyBrightness(0, 6.499, 100, 1e9, 1, out);
    expect(out.circumsolar).toBeCloseTo(0, 6);
    skyBrightness(0, 6.501, 100, 1e9, 1, out);
    expect(out.circumsolar).toBeCloseTo(0.13, 6);
  });
});

describe('glass', () => {
  it('Souka & Safwat 1966 / ASHRAE 93, b0 = 0.05 (recalled)', () => {
    const angles = [0, 30, 50, 60, 70, 80];
    const shares = [1, 0.992265, 0.972214, 0.95, 0.90381, 0.762061];
    for (const [k, angle] of angles.entries())
      expect(Math.abs(passedShare(Math.cos(angle * RAD)) - shares[k]!)).toBeLessThan(1e-6);
    expect(passedShare(1, 0.1)).toBe(1);
    expect(passedShare(0.5, 0.1)).toBeCloseTo(0.9, 12);
    expect(passedShare(Math.cos(88 * RAD))).toBe(0);
    expect(passedShare(-0.1)).toBe(0);
  });

  it('Brandemuehl & Beckman 1980: their angles pass what an even sky and ground pass, integrated over the plane', () => {
    // Light from everywhere a plane sees, by its angle from the normal; the equivalent angle is that of equal loss.
    const passedFrom = (tilt: number, sees: (up: number) => boolean): number => {
      const view = planeView(tilt, 180);
      let passed = 0;
      let all = 0;
      for (let h = -89.5; h < 90; h++)
        for (let az = 0.5; az < 360; az++) {
          if (!sees(h)) continue;
          const c = cosIncidence(h * RAD, az * RAD, view);
          if (c <= 0) continue;
          const weight = c * Math.cos(h * RAD);
          passed += weight * passedShare(c);
          all += weight;
        }
      return passed / all;
    };
    for (const tilt of [20, 40, 60, 90]) {
      const sky = passedFrom(tilt, (h) => h > 0);
      const ground = passedFrom(tilt, (h) => h < 0);
      expect(Math.abs(passedShare(Math.cos(skyAngle_deg(tilt) * RAD)) - sky)).toBeLessThan(0.012);
      if (tilt >= 40)
        expect(Math.abs(passedShare(Math.cos(groundAngle_deg(tilt) * RAD)) - ground)).toBeLessThan(0.03);
    }
  });
});

describe('heat and power', () => {
  it.each([
    [20, 800, 1, 45.1256],
    [25, 1000, 1, 56.407],
    [25, 1000, 0, 65],
    [25, 1000, 5, 41.8919],
  ])('Faiman 2008, 25 + 6.84 v: air %d °C, %d W/m², %d m/s', (air, sun, wind, cell) => {
    expect(Math.abs(cellTemperature_C(air, sun, wind, HEAT_LOSS.open_rack) - cell)).toBeLessThan(6e-5);
  });
  it.each([
    [20, 800, 45, 45],
    [35, 1000, 45, 66.25],
  ])('Ross 1976, IEC 61215: air %d °C, %d W/m², nominal cell temperature %d °C', (air, sun, noct, cell) => {
    expect(cellTemperatureFromNoct_C(air, sun, noct)).toBeCloseTo(cell, 9);
  });
  it('both models agree where a panel of 45 °C is tested: Faiman gives 45.13 there', () => {
    const faiman = cellTemperature_C(20, 800, 1, HEAT_LOSS.open_rack);
    expect(Math.abs(faiman - cellTemperatureFromNoct_C(20, 800, 45))).toBeLessThan(0.13);
  });
  it('weak light: the figure of the data sheet at 200 W/m² (EN 50380), nothing at 1000, even steps of the logarithm', () => {
    expect(lowLightShare(200, 0.04)).toBeCloseTo(0.96, 12);
    expect(lowLightShare(1000, 0.04)).toBe(1);
    expect(lowLightShare(1200, 0.04)).toBe(1);
    expect(lowLightShare(40, 0.04)).toBeCloseTo(0.92, 12);
    expect(lowLightShare(Math.sqrt(200 * 1000), 0.04)).toBeCloseTo(0.98, 12);
    expect(lowLightShare(1e-30, 0.3)).toBe(0);
    expect(lowLightShare(0, 0.3)).toBe(0);
  });
  it('close to a roof cells are 15 K hotter at 800 W/m² and 1 m/s, and hotter than on a rack in any wind', () => {
    const rack = cellTemperature_C(20, 800, 1, HEAT_LOSS.open_rack);
    expect(cellTemperature_C(20, 800, 1, HEAT_LOSS.close_roof) - rack).toBeCloseTo(14.87, 1);
    for (const wind of [0, 0.5, 2, 10, 30])
      expect(cellTemperature_C(20, 800, wind, HEAT_LOSS.close_roof)).toBeGreaterThan(
        cellTemperature_C(20, 800, wind, HEAT_LOSS.open_rack),
      );
  });
  it('Evans 1981 form (recalled): 800 W/m² at 45 °C and -0.4 %/K, 1000 W/m² at 65 °C and -0.35 %/K', () => {
    expect(dcPower_kW_per_kWp(800, 45, -0.004)).toBeCloseTo(0.736, 9);
    expect(dcPower_kW_per_kWp(1000, 65, -0.0035)).toBeCloseTo(0.86, 9);
    expect(dcPower_kW_per_kWp(1000, 500, -0.004)).toBe(0);
  });
});
