/**
 * Published ways to size a stand-alone plant against played years.
 *
 * What could be opened:
 * - Egido & Lorenzo 1992, Solar Energy Materials and Solar Cells 26, 51-69, first page: the loss of load probability LLP
 *   is energy deficit over energy demand over a long time; C_A is the mean production of the array over the mean load;
 *   their analytic model takes four coefficients a place.
 * - IEEE Std 1013-2000, definitions 3.1 (array-to-load ratio) and 3.3 (autonomy).
 * What could not: the pages with the coefficients of Madrid, Murcia and Santander, those of Klein & Beckman 1987, of
 * Bartoli et al. 1984, of Barra et al. 1984, of Sidrach de Cardona & Mora-López 1998 (first page only), and the worked
 * examples of IEEE 1013 and 1562. So no printed curve is compared here, only its form, recalled: C_A = f C_S^-u with
 * f = f1 + f2 log10 LLP and u = exp(u1 + u2 LLP), C_S being the usable bank over the mean daily load. The numerical
 * method that such curves are fitted to is a balance by days (recalled): what a day brings less what it takes, the bank
 * cut at full, what is missing below empty counted as deficit.
 *
 * Sites are invented, as are their monthly means; years are drawn from these. Every month of a drawn year has exactly its
 * mean, so years differ by the order of their days alone: measured years, dull months among them, would ask for more.
 */
import {
  findings,
  type Ledger,
  newReusedColumns,
  type Plant,
  type PreparedYear,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { openTracker, type Parts, plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

interface Place {
  readonly name: string;
  readonly latitude_deg: number;
  readonly tilt_deg: number;
  readonly ghi_kWh_m2_day: readonly number[];
  readonly air_temperature_C: readonly number[];
}

const PLACES: readonly Place[] = [
  {
    name: 'dry tropics, 12 N',
    latitude_deg: 12,
    tilt_deg: 15,
    ghi_kWh_m2_day: [5.3, 5.9, 6.3, 6.4, 6.1, 5.7, 5.2, 5.0, 5.3, 5.5, 5.3, 5.0],
    air_temperature_C: [25, 27, 29, 30, 30, 28, 27, 26, 27, 28, 27, 25],
  },
  {
    name: 'inland, 40 N',
    latitude_deg: 40,
    tilt_deg: 60,
    ghi_kWh_m2_day: [2.0, 3.0, 4.2, 5.2, 6.2, 7.0, 7.3, 6.4, 5.0, 3.3, 2.2, 1.7],
    air_temperature_C: [6, 7, 10, 12, 16, 21, 25, 24, 21, 15, 9, 6],
  },
  {
    name: 'lowland, 52 N',
    latitude_deg: 52,
    tilt_deg: 65,
    ghi_kWh_m2_day: [0.6, 1.2, 2.5, 4.0, 5.0, 5.3, 5.1, 4.4, 3.0, 1.6, 0.8, 0.45],
    air_temperature_C: [0, 1, 5, 9, 14, 17, 19, 19, 14, 10, 5, 1],
  },
];
const YEARS = 10;
const DAYS = 365 * YEARS;

/** Years of a place, seeds 1 to 10, with 1 kWh of load a day; efficiency of the array constant, as the relations have it. */
function yearsOf(place: Place): readonly PreparedYear[] {
  return Array.from({ length: YEARS }, (_, k) => {
    const text = `
site: { name: invented, latitude_deg: ${place.latitude_deg}, longitude_deg: 15, elevation_m: 300, time_zone: Etc/GMT-1 }
weather:
  kind: monthly_means
  ghi_kWh_m2_day: [${place.ghi_kWh_m2_day.join(', ')}]
  air_temperature_C: [${place.air_temperature_C.join(', ')}]
  seed: ${k + 1}
arrays:
  - name: a
    size_kWp: 1
    tilt_deg: ${place.tilt_deg}
    azimuth_deg: 180
    power_temperature_coefficient_per_K: 0
    mounting: open_rack
    losses: { soiling_share: 0, mismatch_share: 0, wiring_share: 0, ageing_share: 0 }
    tracker: { max_power_kW: 100, max_charge_A: 1000 }
bank:
  chemistry: lfp
  modules_parallel: 1
  module: { nominal_voltage_V: 50, capacity_Ah: 100, max_charge_A: 100, max_discharge_A: 100 }
  round_trip_efficiency_share: 1
  floor_soc: 0
  min_charge_temperature_C: -50
  temperature: { kind: indoors, temperature_C: 20 }
inverter: { rating_kW: 9, surge_kW: 9, idle_W: 0, efficiency: { loss_linear: 0, loss_quadratic: 0 } }
loads: [{ kind: daily, name: all, energy_kWh_day: 1, shape: flat }]
run: { year: 2025 }
`;
    return prepareYear(readScenario(text, 'place.yaml'), 'place.yaml', new Map());
  });
}

/** The same year with its load at other hours. */
const withLoad = (year: PreparedYear, load_kW: (hour: number) => number): PreparedYear => {
  const total_kW = Float64Array.from(year.loads.total_kW, (_, i) => load_kW(i % 24));
  return { ...year, loads: { ...year.loads, tier_kW: [total_kW], total_kW } };
};
const LOADS = {
  'last hour of the day': (hour: number) => (hour === 23 ? 1 : 0),
  'all day alike': () => 1 / 24,
  'nine to five': (hour: number) => (hour >= 9 && hour < 17 ? 1 / 8 : 0),
};

const desk = newReusedColumns(8760);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);

/** LLP of a plant over all years one behind the other, the bank handed on; `start` in days of load. */
function playedLLP(years: readonly PreparedYear[], size_kWp: number, days: number, start: number): number {
  let soc = start / days;
  let unmet = 0;
  let wanted = 0;
  for (const year of years) {
    const plant = plantWith({ ...LOSSLESS, size_kWp, capacity_Ah: 20 * days, initial_soc: soc });
    const { columns } = playYear(year, plant, desk);
    unmet += total(columns.unmet_kWh);
    wanted += total(columns.load_wanted_kWh);
    soc = columns.bank_soc[columns.bank_soc.length - 1]!;
  }
  return unmet / wanted;
}
/** A bank of 50 V, so that 20 Ah are 1 kWh, a day of load. */
const LOSSLESS: Parts = { voltage_V: 50, max_charge_A: 1e5, max_discharge_A: 1e5 };

/** LLP of the balance by days: `gain` in days of load a day, C_S as the bank's size, full to begin with. */
function dailyLLP(gains: Float64Array, c_a: number, c_s: number): number {
  let stock = c_s;
  let deficit = 0;
  for (const gain of gains) {
    const after = stock + c_a * gain - 1;
    if (after < 0) deficit -= after;
    stock = Math.min(c_s, Math.max(0, after));
  }
  return deficit / gains.length;
}

/** Smallest x of a falling figure that is at most `most`, by halves on a scale of ratios. */
function least(
  figure: (x: number) => number,
  most: number,
  from: number,
  to: number,
  halvings: number,
): number {
  let [low, high] = [from, to];
  for (let k = 0; k < halvings; k++) {
    const middle = Math.sqrt(low * high);
    if (figure(middle) <= most) high = middle;
    else low = middle;
  }
  return high;
}

/** Straight line through points, with its coefficient of determination. */
function line(xs: readonly number[], ys: readonly number[]) {
  const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;
  const [mx, my] = [mean(xs), mean(ys)];
  let [xy, xx, yy] = [0, 0, 0];
  xs.forEach((x, k) => {
    xy += (x - mx) * (ys[k]! - my);
    xx += (x - mx) ** 2;
    yy += (ys[k]! - my) ** 2;
  });
  return { slope: xy / xx, at0: my - (xy / xx) * mx, r2: xy ** 2 / (xx * yy) };
}

const LLPS = [0.1, 0.05, 0.02, 0.01];
const HELD_OUT = 0.03;
const STORES = [1, 1.5, 2, 3, 4, 5, 6, 8, 10];

describe.each(PLACES)('loss of load in the $name', (place) => {
  const years = yearsOf(place);
  const perDay = new Float64Array(DAYS);
  years.forEach((year, y) => {
    year.arrays[0]!.dc_kW_per_kWp.forEach((kW, i) => {
      perDay[y * 365 + Math.floor(i / 24)]! += kW;
    });
  });
  const mean_kWh = total(perDay) / DAYS;
  const gains = perDay.map((kWh) => kWh / mean_kWh);
  const curve = (llp: number): readonly number[] =>
    STORES.map((c_s) => least((c_a) => dailyLLP(gains, c_a, c_s), llp, 0.3, 30, 30));

  it('played hours are the balance by days, with one day more of bank, if all load comes at the end of the day', () => {
    // By day the bank must take what the night will take from it: min(C, y + g) - 1 is the balance by days of C - 1.
    const late = years.map((year) => withLoad(year, LOADS['last hour of the day']));
    for (const llp of [0.1, 0.01]) {
      for (const c_s of [1, 3, 8]) {
        const c_a = least((x) => dailyLLP(gains, x, c_s), llp, 0.3, 30, 30);
        const played = playedLLP(late, c_a / mean_kWh, c_s + 1, c_s);
        expect(Math.abs(played - dailyLLP(gains, c_a, c_s))).toBeLessThan(1e-9);
        expect(played).toBeCloseTo(llp, 4);
      }
    }
  });

  it('curves of equal LLP have the published form, and level out where the form does not', () => {
    const fits = LLPS.map((llp) => {
      const c_a = curve(llp);
      const { slope, at0, r2 } = line(STORES.map(Math.log), c_a.map(Math.log));
      const fit = { llp, f: Math.exp(at0), u: -slope };
      const misfits = c_a.map((x, k) => (fit.f * STORES[k]! ** -fit.u) / x - 1);
      const worst = Math.max(...misfits.map(Math.abs));
      console.log(
        `${place.name}, LLP ${llp}: C_A ${c_a.map((x, k) => `${x.toFixed(2)} at ${STORES[k]} d`).join(', ')}; f ${fit.f.toFixed(3)}, u ${fit.u.toFixed(3)}, R2 ${r2.toFixed(3)}, misfit up to ${(100 * worst).toFixed(1)} %`,
      );
      // More bank never asks for more array, and no bank makes up for an array that gives less than is served.
      c_a.forEach((x, k) => {
        if (k > 0) expect(x).toBeLessThanOrEqual(c_a[k - 1]! * (1 + 1e-8));
        expect(x).toBeGreaterThan(1 - llp - 10 / DAYS);
      });
      expect(fit.u).toBeGreaterThan(0);
      expect(r2).toBeGreaterThan(0.7);
      expect(worst).toBeLessThan(0.16);
      // A power falls for ever, a curve of equal LLP does not: it lies above the line at both ends and below it between.
      // To within a hundredth, which is what the drawn years leave open.
      expect(misfits[0]).toBeLessThan(0.01);
      expect(misfits.at(-1)).toBeLessThan(0.01);
      return fit;
    });
    const logs = fits.map(({ llp }) => Math.log10(llp));
    const f = line(
      logs,
      fits.map((fit) => fit.f),
    );
    const u = line(
      LLPS,
      fits.map((fit) => Math.log(fit.u)),
    );
    const ours = curve(HELD_OUT);
    const theirs = STORES.map(
      (c_s) => (f.at0 + f.slope * Math.log10(HELD_OUT)) * c_s ** -Math.exp(u.at0 + u.slope * HELD_OUT),
    );
    const off = theirs.map((x, k) => x / ours[k]! - 1);
    console.log(
      `${place.name}: f1 ${f.at0.toFixed(3)}, f2 ${f.slope.toFixed(3)}, u1 ${u.at0.toFixed(2)}, u2 ${u.slope.toFixed(1)}; at LLP ${HELD_OUT}, not fitted, C_A ${off.map((x) => `${(100 * x).toFixed(0)}`).join(', ')} % off`,
    );
    expect(f.slope).toBeLessThan(0);
    expect(u.slope).toBeLessThan(0);
    expect(f.r2).toBeGreaterThan(0.9);
    expect(u.r2).toBeGreaterThan(0.9);
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(0.15);
  });

  it('the hour of the load moves the curve by up to a day of bank, and no further', () => {
    for (const llp of [0.1, 0.01]) {
      const c_s = 3;
      const c_a = least((x) => dailyLLP(gains, x, c_s), llp, 0.3, 30, 30);
      const need = Object.entries(LOADS).map(([name, load_kW]) => {
        const moved = years.map((year) => withLoad(year, load_kW));
        // Bisected on the bank, as a practitioner would: 11 halvings of 2 to 5 days.
        return [name, least((days) => playedLLP(moved, c_a / mean_kWh, days, days), llp, 2, 5, 11)] as const;
      });
      console.log(
        `${place.name}, LLP ${llp}, C_A ${c_a.toFixed(2)}: C_S ${c_s} d by days; played ${need.map(([name, days]) => `${days.toFixed(2)} d (${name})`).join(', ')}`,
      );
      const [late, flat, daytime] = need.map(([, days]) => days) as [number, number, number];
      expect(late).toBeCloseTo(c_s + 1, 1);
      expect(flat).toBeGreaterThan(c_s);
      expect(flat).toBeLessThan(late);
      expect(daytime).toBeLessThan(flat);
    }
  });
});

describe('IEEE 1013 definitions', () => {
  /** Days of four hours of full sun and the same load every hour. */
  const square = (days: number, load_kW: number, sun: number): PreparedYear =>
    yearOf({
      load_kW: new Float64Array(24 * days).fill(load_kW),
      dc_kW_per_kWp: [
        Float64Array.from({ length: 24 * days }, (_, i) => (i % 24 >= 10 && i % 24 < 14 ? sun : 0)),
      ],
    });

  it('autonomy: 400 Ah to 0.8 with 80 Ah a day carry the load alone for 4 days', () => {
    const year = square(8, (80 * 0.05) / 24, 0);
    const plant = plantWith({ voltage_V: 50, capacity_Ah: 400, max_discharge_A: 1000, floor_soc: 0.2 });
    const ledger = playYear(year, plant);
    const { autonomy } = findings(ledger);
    expect(autonomy.nominal_days).toBeCloseTo(4, 12);
    const { unmet_kWh } = ledger.columns;
    expect(unmet_kWh.findIndex((kWh) => kWh > 1e-9)).toBe(4 * 24);
  });

  it('array-to-load ratio: 4 peak-sun hours at 10 A for 30 Ah a day are 1.333, and a quarter is left over', () => {
    const year = square(30, (30 * 0.05) / 24, 1);
    const plant = plantWith({ voltage_V: 50, capacity_Ah: 60, size_kWp: 10 * 0.05, max_discharge_A: 1000 });
    const { columns } = playYear(year, plant);
    const ratio = total(columns.array_available_kWh) / total(columns.load_wanted_kWh);
    expect(ratio).toBeCloseTo((4 * 10) / 30, 12);
    expect(total(columns.unmet_kWh)).toBe(0);
    // What is left over is all but the load: the bank starts and ends the day at the same charge but for the first.
    const lastDay = (column: Float64Array): number => total(column.slice(-24));
    expect(lastDay(columns.curtailed_kWh) / lastDay(columns.array_available_kWh)).toBeCloseTo(0.25, 12);
  });

  it('plants sized by the leanest month and days of autonomy: which hold, and why not', () => {
    const place = PLACES[1]!;
    const years = yearsOf(place);
    const inLeanest = (ledger: Ledger, year: PreparedYear, column: Float64Array): number => {
      let sum = 0;
      for (let i = 0; i < ledger.steps; i++) if (year.clock.month[i] === DARKEST) sum += column[i]!;
      return sum;
    };
    const DARKEST = 12;
    const days = 31;
    const psh = years.map(
      (year) =>
        year.arrays[0]!.plane_W_m2.reduce((sum, W, i) => sum + (year.clock.month[i] === DARKEST ? W : 0), 0) /
        1000 /
        days,
    );
    const held: string[] = [];
    for (const ratio of [0.8, 1.1, 1.3]) {
      const shares = [3, 5, 8].map((autonomy_days) => {
        let unmet = 0;
        let dark = 0;
        let soc = 1;
        years.forEach((year, k) => {
          // 1 kWh of load a day: the array that gives `ratio` of it at the month's peak-sun hours.
          const size_kWp = ratio / psh[k]!;
          const plant: Plant = plantWith({
            ...LOSSLESS,
            arrays: [openTracker(size_kWp)],
            capacity_Ah: (20 * autonomy_days) / 0.8,
            floor_soc: 0.2,
            initial_soc: soc,
          });
          const ledger = playYear(year, plant, desk);
          const { columns } = ledger;
          // A bank filled on every first of January would spare each winter its second half.
          soc = columns.bank_soc[ledger.steps - 1]!;
          // The definition counts what falls on the panels; slanting light loses some of it at the glass.
          const given = inLeanest(ledger, year, columns.array_available_kWh) / days;
          expect(given / ratio).toBeGreaterThan(0.98);
          expect(given / ratio).toBeLessThan(1);
          if (k === 0) expect(findings(ledger).autonomy.nominal_days).toBeCloseTo(autonomy_days, 9);
          const missing = inLeanest(ledger, year, columns.unmet_kWh);
          // What the month's sun and a full bank can't give is missing, whatever the order of its days.
          expect(missing).toBeGreaterThanOrEqual(days * (1 - given) - autonomy_days - 1e-9);
          // Amps and rating are wide: an empty bank is the only reason there is.
          expect(total(columns.unmet_bank_floor_kWh)).toBeCloseTo(total(columns.unmet_kWh), 9);
          unmet += total(columns.unmet_kWh) / 365 / YEARS;
          dark += missing / days / YEARS;
        });
        return { autonomy_days, unmet, dark };
      });
      console.log(
        `${place.name}, array-to-load ${ratio} in December: ${shares.map((s) => `${s.autonomy_days} d: unmet ${(100 * s.unmet).toFixed(2)} % of the year, ${(100 * s.dark).toFixed(1)} % of December`).join('; ')}`,
      );
      shares.forEach(({ unmet }, k) => {
        if (k > 0) expect(unmet).toBeLessThan(shares[k - 1]!.unmet);
      });
      held.push(...shares.filter(({ unmet }) => unmet <= 1e-3).map((s) => `${ratio}, ${s.autonomy_days} d`));
    }
    // Too little sun in the month fails with any of these banks. Enough of it on the mean still fails with a small bank:
    // dull days come in a row. Neither figure alone says that a plant holds.
    expect(held.filter((text) => text.startsWith('0.8') || text.endsWith(' 3 d'))).toEqual([]);
    expect(held).toEqual(expect.arrayContaining(['1.1, 8 d', '1.3, 8 d']));
  });
});
