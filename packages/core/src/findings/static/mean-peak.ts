import type { Notice } from '../../basis/notices.ts';
import { localTime } from '../../clock/clock.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import { deratedRating_kW } from '../../plant/inverter.ts';
import { type StaticLimits, staticLimits } from './limits.ts';

/** The loads behind the inverter, as means over steps and over the rows of load files, against what it gives. */
export interface MeanPeak {
  /** Highest step of all that hangs behind the inverter, without loads on the DC side. */
  readonly ac_peak_kW: number;
  /** The same with loads from files at their highest row of the step; null where no rows are shorter than a step. */
  readonly rows: null | {
    readonly row_min: number;
    readonly peak_kW: number;
    readonly time: string;
    /** Step that would play them; of rows shorter than any step the shortest there is, which averages them still. */
    readonly step_min: number;
  };
  /** What heat leaves of the rating in the hottest step; null where it takes nothing in this year. */
  readonly hottest: { readonly rating_kW: number; readonly time: string } | null;
  /** Empty if none was found, which is no proof that there is none: steps are means. */
  readonly conflicts: readonly string[];
}

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
  const at = (step: number): string => localTime(clock, step).slice(0, 16).replace('T', ' ');
  const kW = (value: number): string => `${value.toFixed(2)} kW`;
  const conflicts: string[] = [];
  const { row_peaks } = loads;
  /** `in a step`, or `in a row of 15 min`. */
  const within = (step: number): string =>
    row_peaks !== null && row_peaks.ac_kW[step]! > SAME_kW
      ? `in a row of ${row_peaks.row_min} min at ${at(step)}`
      : 'in a step';

  const ac_peak_kW = ac_kW[highest(ac_kW)]!;
  if (row_peaks !== null) for (let i = 0; i < ac_kW.length; i++) ac_kW[i]! += row_peaks.ac_kW[i]!;
  const peak = highest(ac_kW);
  const gives_kW = limits.ac_output.after_inverter_loss_kW;
  if (ac_kW[peak]! > gives_kW + SAME_kW) {
    conflicts.push(
      `The loads want ${kW(ac_kW[peak]!)} ${within(peak)}, bank and inverter give ${kW(gives_kW)} without sun.`,
    );
  }
  let hottest: MeanPeak['hottest'] = null;
  if (derated_kW !== null) {
    const least = highest(derated_kW.map((given) => -given));
    if (derated_kW[least]! < rating_kW - SAME_kW)
      hottest = { rating_kW: derated_kW[least]!, time: at(least) };
    const worst = highest(ac_kW.map((wanted, i) => wanted - derated_kW[i]!));
    if (ac_kW[worst]! > derated_kW[worst]! + SAME_kW && derated_kW[worst]! < rating_kW - SAME_kW) {
      conflicts.push(
        `The loads want ${kW(ac_kW[worst]!)} at ${at(worst)}, when heat leaves ${kW(derated_kW[worst]!)} of the inverter's rating.`,
      );
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

  function legConflicts(): string[] {
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
      const gives = ratingAt(over) / legs;
      return wanted_kW > gives + SAME_kW
        ? [`Leg ${leg + 1} is asked for ${kW(wanted_kW)} at ${at(over)}; it gives ${kW(gives)}.`]
        : [];
    });
  }
}

/** Step with the highest value of a column. */
function highest(column: Float64Array): number {
  let at = 0;
  for (let i = 1; i < column.length; i++) if (column[i]! > column[at]!) at = i;
  return at;
}

/** What is said beside the verdict where steps average away what rows of load files reach. */
export function rowPeakNotices({ rows, ac_peak_kW }: MeanPeak, step_min: number): Notice[] {
  if (rows === null || rows.peak_kW <= ac_peak_kW + SAME_kW) return [];
  const still = rows.row_min < rows.step_min ? ', the shortest, would come closer' : ' would play them';
  const message = `rows of ${rows.row_min} min in load files bring the loads to ${rows.peak_kW.toFixed(2)} kW at ${rows.time}; played in means over ${step_min} min they reach ${ac_peak_kW.toFixed(2)} kW: run.step_min: ${rows.step_min}${still}`;
  return [{ id: 'row-peak', message, count: 1 }];
}
