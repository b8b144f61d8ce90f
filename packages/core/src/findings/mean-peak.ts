import { localTime } from '../clock/clock.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { deratedRating_kW } from '../plant/inverter.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import type { StaticLimits } from './report.ts';

/** The loads behind the inverter, as means over steps, against what it gives. */
export interface MeanPeak {
  /** Highest step of all that hangs behind the inverter, without loads on the DC side. */
  readonly ac_peak_kW: number;
  /** What heat leaves of the rating in the hottest step; null where it takes nothing in this year. */
  readonly hottest: { readonly rating_kW: number; readonly time: string } | null;
  /** Empty if none was found, which is no proof that there is none: steps are means. */
  readonly conflicts: readonly string[];
}

/** Figures this close are the same: rounding. */
const SAME_kW = 1e-9;

/**
 * Holds the mean power of each step against bank and inverter without sun, against the rating that heat leaves, and
 * leg by leg: a leg gives its share of the rating and no more.
 */
export function meanPeak(year: PreparedYear, plant: Plant, ledger: Ledger, limits: StaticLimits): MeanPeak {
  const { clock, loads, sky } = year;
  const { legs, rating_kW } = plant.inverter;
  const ac_kW = ledger.columns.load_wanted_kWh.map((kWh) => kWh / ledger.step_h);
  for (const dc_kW of loads.dc_tier_kW ?? []) for (let i = 0; i < ac_kW.length; i++) ac_kW[i]! -= dc_kW[i]!;
  const derated_kW = deratedRating_kW(plant.inverter, sky.air_temperature_C);
  const ratingAt = (step: number): number => derated_kW?.[step] ?? rating_kW;
  const at = (step: number): string => localTime(clock, step).slice(0, 16).replace('T', ' ');
  const kW = (value: number): string => `${value.toFixed(2)} kW`;
  const conflicts: string[] = [];

  const peak = highest(ac_kW);
  const gives_kW = limits.ac_output.after_inverter_loss_kW;
  if (ac_kW[peak]! > gives_kW + SAME_kW) {
    conflicts.push(
      `The loads want ${kW(ac_kW[peak]!)} in a step, bank and inverter give ${kW(gives_kW)} without sun.`,
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
  return { ac_peak_kW: ac_kW[peak]!, hottest, conflicts };

  function legConflicts(): string[] {
    // What hangs on no leg alone is shared by all.
    const own = Array.from({ length: legs }, () => new Float64Array(ac_kW.length));
    const shared = ac_kW.slice();
    (loads.leg_tier_kW ?? []).forEach((tiers, leg) => {
      for (const wanted of tiers) {
        for (let i = 0; i < shared.length; i++) {
          shared[i]! -= wanted[i]!;
          own[leg]![i]! += wanted[i]!;
        }
      }
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
