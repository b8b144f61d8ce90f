/** A size of copper conductor, stranded and uncoated. */
export interface CopperSize {
  /** `2/0 AWG` or `70 mm²`. */
  readonly name: string;
  /** Continuous current at 75 °C, in a raceway or cable with at most three of them, in air of 30 °C. */
  readonly ampacity_A: number;
  /** Largest fuse or breaker that protects it by the general rule: the ampacity, less for small sizes. */
  readonly protection_A: number;
  /** Direct current, at 75 °C. */
  readonly resistance_ohm_per_km: number;
  /** False for sizes that may not be laid in parallel. */
  readonly parallel: boolean;
}

const FEET_PER_m = 3.280_84;

/**
 * Size, ampacity in A, largest protection in A, resistance in ohm per 1000 ft.
 *
 * Source: ampacity of NEC Table 310.16, copper, 75 °C column; resistance of NEC Chapter 9 Table 8, stranded uncoated
 * copper, direct current, 75 °C; protection of 14, 12 and 10 AWG by NEC 240.4(D) (all read in secondary copies).
 */
const AWG: readonly (readonly [number | string, number, number, number])[] = [
  [14, 20, 15, 3.14],
  [12, 25, 20, 1.98],
  [10, 35, 30, 1.24],
  [8, 50, 50, 0.778],
  [6, 65, 65, 0.491],
  [4, 85, 85, 0.308],
  [3, 100, 100, 0.245],
  [2, 115, 115, 0.194],
  [1, 130, 130, 0.154],
  ['1/0', 150, 150, 0.122],
  ['2/0', 175, 175, 0.0967],
  ['3/0', 200, 200, 0.0766],
  ['4/0', 230, 230, 0.0608],
];

/**
 * American sizes, smallest first.
 *
 * Source for laying in parallel from 1/0 on: NEC 310.10(G), 310.10(H) before 2020 (read as quoted by others).
 */
export const AWG_SIZES: readonly CopperSize[] = AWG.map(([size, ampacity_A, protection_A, ohm_per_kft]) => ({
  name: `${size} AWG`,
  ampacity_A,
  protection_A,
  resistance_ohm_per_km: ohm_per_kft * FEET_PER_m,
  parallel: typeof size === 'string',
}));

/**
 * Cross section in mm² and largest resistance in ohm/km at 20 °C.
 *
 * Source: IEC 60228:2004, Table 2, class 2, plain annealed copper (read in a secondary copy).
 */
const METRIC: readonly (readonly [number, number])[] = [
  [2.5, 7.41],
  [4, 4.61],
  [6, 3.08],
  [10, 1.83],
  [16, 1.15],
  [25, 0.727],
  [35, 0.524],
  [50, 0.387],
  [70, 0.268],
  [95, 0.193],
  [120, 0.153],
];

/** From 20 to 75 °C: IEC 60228 Annex A, 1 + 0.004 (t - 20). */
const WARMER = 1 + 0.004 * (75 - 20);

/** Cross sections of the sizes of AWG_SIZES, mm². Source: the definition of the gauge, ASTM B258 (recalled). */
const AREAS_mm2 = AWG.map((_, k) => {
  // 14, 12, 10, 8, 6, 4 go by twos, then 3, 2, 1, and 0, -1, -2, -3 for 1/0 to 4/0.
  const gauge = k <= 5 ? 14 - 2 * k : 8 - k + 1;
  return 0.012_668 * 92 ** ((36 - gauge) / 19.5);
});

/**
 * Metric sizes, smallest first. The ampacity tables at hand are of American sizes: each has what the largest of those
 * with no more copper has, which is on the low side (common practice, no source).
 */
export const METRIC_SIZES: readonly (CopperSize & { readonly area_mm2: number })[] = METRIC.map(
  ([area_mm2, at20C_ohm_per_km]) => {
    const lender = AWG_SIZES[AREAS_mm2.findLastIndex((area) => area <= area_mm2)]!;
    return {
      name: `${area_mm2} mm²`,
      area_mm2,
      ampacity_A: lender.ampacity_A,
      protection_A: lender.protection_A,
      resistance_ohm_per_km: at20C_ohm_per_km * WARMER,
      parallel: area_mm2 >= AREAS_mm2[9]!,
    };
  },
);

/** The size that a scenario names. */
export const awgSize = (size: number | string): CopperSize =>
  AWG_SIZES.find(({ name }) => name === `${size} AWG`)!;
export const metricSize = (mm2: number): CopperSize => METRIC_SIZES.find(({ area_mm2 }) => area_mm2 === mm2)!;

/**
 * Standard ratings of fuses and breakers up to what a bank of this kind asks for, A.
 *
 * Source: NEC 240.6(A), Table 240.6(A) (read in secondary copies); fuses below 15 A left out.
 */
export const STANDARD_RATINGS_A: readonly number[] = [
  15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450,
  500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000,
];
