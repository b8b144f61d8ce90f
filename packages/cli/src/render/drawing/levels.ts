import { scaleLinear } from 'd3-scale';

/** Lines that a panel has room for. */
const MOST = 9;
/** A range wider than this many times its least value is cut in steps of 1, 2, 5 instead of equal ones. */
const WIDE = 12;
/** Towards nothing, lines below this part of the most only crowd its border. */
const DEEP = 150;
/** Anything above it is something: sums of a year carry dust far below. */
export const NOTHING = 1e-6;

/** Where the contours of a field lie. */
interface Levels {
  /** True if some designs have nothing of the figure and others something: their border is a line of its own. */
  readonly border: boolean;
  /** Ascending, between least and most. */
  readonly lines: readonly number[];
}

/**
 * Values whose contours tell a field well: equal steps where it spans little, 1-2-5 steps where a few designs have a
 * hundred times what others have.
 */
export function levelsOf(values: Float64Array): Levels {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let nothing = false;
  for (const value of values) {
    if (Number.isNaN(value)) continue;
    if (value <= NOTHING) nothing = true;
    else least = Math.min(least, value);
    most = Math.max(most, value);
  }
  if (!(most > NOTHING)) return { border: false, lines: [] };
  const lowest = nothing ? most / DEEP : least;
  const within = (line: number): boolean => line > lowest && line < most;
  if (!nothing && most < WIDE * least)
    return {
      border: false,
      lines: scaleLinear([least, most], [0, 1])
        .ticks(MOST - 2)
        .filter(within),
    };
  // The finer series where the coarse one would leave the field bare.
  const [coarse, fine] = [
    [1, 2, 5],
    [1, 1.5, 2, 3, 5, 7],
  ].map((digits) => seriesBelow(most, digits, MOST).filter(within)) as [number[], number[]];
  const reaches = fine.length < MOST || fine[0]! <= 2 * lowest;
  return { border: nothing, lines: coarse.length < FEW && reaches ? fine : coarse };
}

/** Fewer lines than this tell little. */
const FEW = 5;

/** The numbers of a series of digits, decade after decade, that lie below a value: the largest `count`, ascending. */
function seriesBelow(most: number, digits: readonly number[], count: number): number[] {
  const found: number[] = [];
  for (let decade = Math.floor(Math.log10(most)); found.length < count; decade--)
    for (const digit of [...digits].reverse()) {
      const value = Number(`${digit}e${decade}`);
      if (value < most && found.length < count) found.unshift(value);
    }
  return found;
}
