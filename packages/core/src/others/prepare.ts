import type { Assumption, Notice } from '../basis/notices.ts';
import type { Clock } from '../clock/clock.ts';
import { meteredPowers } from '../loads/series.ts';
import type { OtherSourceSpec, SeriesSource } from '../scenario/schema/schema.ts';
import type { FileTexts } from '../series/types.ts';

/** What one other source offers over the year, at its own terminals. */
export interface OtherSourceYear {
  /** As in the scenario. */ readonly name: string;
  /** Mean power of each step, kW; never negative. */ readonly power_kW: Float64Array;
}

/** Other sources over the year, in the order of the scenario. */
export interface OtherSources {
  readonly years: readonly OtherSourceYear[];
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Lays other sources on the clock: the power of the local month, or rows of a file as those of a metered load.
 *
 * @throws InputError if a file is missing or its series can't be used
 */
export function prepareOthers(
  sources: readonly OtherSourceSpec[],
  clock: Clock,
  files: FileTexts,
): OtherSources {
  const isSeries = (placed: { index: number; load: OtherSourceSpec }): placed is Placed =>
    placed.load.kind === 'series';
  const placed = sources.map((load, index) => ({ index, load })).filter(isSeries);
  const metered = meteredPowers(placed, clock, files, 'other_sources');
  const years = sources.map((source, index) => ({
    name: source.name,
    power_kW:
      source.kind === 'series'
        ? metered.find((one) => one.index === index)!.power_kW
        : Float64Array.from(clock.month, (month) => powerIn_W(source.power_W, month) / 1000),
  }));
  return {
    years,
    notices: metered.flatMap(({ notices }) => notices),
    assumptions: metered.flatMap(({ assumptions }) => assumptions),
  };
}

type Placed = { readonly index: number; readonly load: SeriesSource };

const powerIn_W = (power_W: number | readonly number[], month: number): number =>
  typeof power_W === 'number' ? power_W : power_W[month - 1]!;
