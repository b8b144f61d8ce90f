import type { FoundIn, OneOf } from '../../basis/notices.ts';
import { localTime } from '../../clock/clock.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import { deratedRating_kW } from '../../plant/inverter.ts';
import { highest } from '../totals.ts';
import { type StaticLimits, staticLimits } from './limits.ts';

/** The loads behind the inverter, as means over steps and over the rows of load files, against what it gives. */
export interface MeanPeak {
  /** Highest step of all that hangs behind the inverter, without loads on the DC side. */
  readonly ac_peak_kW: number;
  /** The same with loads from files at their highest row of the step; null where no rows are shorter than a step. */
  readonly rows: null | {
    /** Shortest rows of load files, where they are shorter than a step. */ readonly row_min: number;
    /** The same with loads from files at the highest row of each step. */ readonly peak_kW: number;
    /** When that is, local time. */ readonly time: string;
    /** Step that would play them; of rows shorter than any step the shortest there is, which averages them still. */
    readonly step_min: number;
  };
  /** What heat leaves of the rating in the hottest step; null where it takes nothing in this year. */
  readonly hottest: { readonly rating_kW: number; readonly time: string } | null;
  /** Empty if none was found, which is no proof that there is none: steps are means. */
  readonly conflicts: readonly PeakConflict[];
}

/** What the loads want and is not given, at a local time. */
export type PeakConflict = {
  readonly wanted_kW: number;
  readonly gives_kW: number;
  readonly time: string;
} & OneOf<{
  /** By bank and inverter without sun; in a row of a load file of that length, null in the mean of a step. */
  over_output: { row_min: number | null };
  /** By the inverter at the rating that heat leaves. */
  over_hot_rating: object;
  /** By a leg at its share of the rating; legs count from 1. */
  over_leg: { leg: number };
}>;

/** Steps average away what rows of load files reach. */
export type RowPeakNotice = FoundIn<{
  'row-peak': NonNullable<MeanPeak['rows']> & { played_peak_kW: number; played_step_min: number };
}>;

/** Figures this close are the same: rounding. */
const SAME_kW = 1e-9;

/** Steps that a year can be played in, min, longest first. */
const STEPS_min = [30, 15, 10, 5] as const;

/**
 * Holds the mean power of each step against bank and inverter without sun, against the rating that heat leaves, and
 * leg by leg: a leg gives its share of the rating and no more. Loads from files count at the highest row of each step.
 */
export function meanPeak(ledger: Ledger, limits: StaticLimits = staticLimits(ledger.plant)): MeanPeak {
  const { plant } = ledger;
  const { clock, loads, sky } = ledger.year;
  const { legs, rating_kW } = plant.inverter;
  const ac_kW = ledger.columns.load_wanted_kWh.map((kWh) => kWh / ledger.step_h);
  for (const dc_kW of loads.dc_tier_kW ?? []) for (let i = 0; i < ac_kW.length; i++) ac_kW[i]! -= dc_kW[i]!;
  const derated_kW = deratedRating_kW(plant.inverter, sky.air_temperature_C);
  const ratingAt = (step: number): number => derated_kW?.[step] ?? rating_kW;
  const at = (step: number): string => localTime(clock, step);
  const conflicts: PeakConflict[] = [];
  const { row_peaks } = loads;

  const ac_peak_kW = ac_kW[highest(ac_kW)]!;
  if (row_peaks !== null) for (let i = 0; i < ac_kW.length; i++) ac_kW[i]! += row_peaks.ac_kW[i]!;
  const peak = highest(ac_kW);
  const gives_kW = limits.ac_output.after_inverter_loss_kW;
  if (ac_kW[peak]! > gives_kW + SAME_kW) {
    const inRow = row_peaks !== null && row_peaks.ac_kW[peak]! > SAME_kW;
    conflicts.push({
      id: 'over_output',
      wanted_kW: ac_kW[peak]!,
      gives_kW,
      time: at(peak),
      row_min: inRow ? row_peaks.row_min : null,
    });
  }
  let hottest: MeanPeak['hottest'] = null;
  if (derated_kW !== null) {
    const least = highest(derated_kW.map((given) => -given));
    if (derated_kW[least]! < rating_kW - SAME_kW)
      hottest = { rating_kW: derated_kW[least]!, time: at(least) };
    const worst = highest(ac_kW.map((wanted, i) => wanted - derated_kW[i]!));
    if (ac_kW[worst]! > derated_kW[worst]! + SAME_kW && derated_kW[worst]! < rating_kW - SAME_kW) {
      conflicts.push({
        id: 'over_hot_rating',
        wanted_kW: ac_kW[worst]!,
        gives_kW: derated_kW[worst]!,
        time: at(worst),
      });
    }
  }
  if (legs > 1) conflicts.push(...legConflicts());
  const rows =
    row_peaks === null
      ? null
      : {
          row_min: row_peaks.row_min,
          peak_kW: ac_kW[peak]!,
          time: at(peak),
          step_min: STEPS_min.find((step_min) => row_peaks.row_min % step_min === 0) ?? STEPS_min.at(-1)!,
        };
  return { ac_peak_kW, rows, hottest, conflicts };

  function legConflicts(): PeakConflict[] {
    // What hangs on no leg alone is shared by all.
    const own = Array.from({ length: legs }, () => new Float64Array(ac_kW.length));
    const shared = ac_kW.slice();
    if (row_peaks !== null)
      for (let i = 0; i < shared.length; i++) shared[i]! += row_peaks.shared_kW[i]! - row_peaks.ac_kW[i]!;
    (loads.leg_tier_kW ?? []).forEach((tiers, leg) => {
      for (const wanted of tiers) {
        for (let i = 0; i < shared.length; i++) {
          shared[i]! -= wanted[i]!;
          own[leg]![i]! += wanted[i]!;
        }
      }
    });
    row_peaks?.leg_kW.forEach((above, leg) => {
      for (let i = 0; i < above.length; i++) own[leg]![i]! += above[i]!;
    });
    return own.flatMap((wanted, leg) => {
      const over = highest(wanted.map((x, i) => x + shared[i]! / legs - ratingAt(i) / legs));
      const wanted_kW = wanted[over]! + shared[over]! / legs;
      const gives_kW = ratingAt(over) / legs;
      return wanted_kW > gives_kW + SAME_kW
        ? [{ id: 'over_leg', leg: leg + 1, wanted_kW, gives_kW, time: at(over) }]
        : [];
    });
  }
}

/** Says so where steps average away what rows of load files reach. */
export function rowPeakNotices({ rows, ac_peak_kW }: MeanPeak, step_min: number): RowPeakNotice[] {
  if (rows === null || rows.peak_kW <= ac_peak_kW + SAME_kW) return [];
  return [{ id: 'row-peak', values: { ...rows, played_peak_kW: ac_peak_kW, played_step_min: step_min } }];
}
