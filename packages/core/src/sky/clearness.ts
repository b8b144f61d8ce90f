/**
 * How the clearness of single days spreads around a month's mean. Clearness is global irradiation of a day over the
 * extraterrestrial one, both on the horizontal.
 */

/** Parameters of the distribution of a month's daily clearness. */
interface ClearnessSpread {
  readonly least: number;
  readonly most: number;
  /** Steepness of the truncated exponential density; below zero in dull months. */
  readonly steepness: number;
}

/**
 * Spread of daily clearness for a month's mean.
 *
 * The fits were made for means of 0.3 to 0.7. Below 0.2 and above 0.85 they would put the clearest day near or under
 * the mean; there the clearest day is held a little above it (our own choice, no source).
 *
 * @param mean monthly mean clearness, above 0
 *
 * Source: least 0.05 and most: Hollands & Huget 1983, Solar Energy 30, 195-209; steepness: Herzog 1985 as Duffie &
 * Beckman, Solar Engineering of Thermal Processes, eq. 2.9.5 to 2.9.6.
 */
export function clearnessSpread(mean: number): ClearnessSpread {
  const least = Math.min(0.05, mean / 2);
  const fitted = 0.6313 + 0.267 * mean - 11.9 * (mean - 0.75) ** 8;
  const most = Math.max(fitted, mean < 0.2 ? 1.5 * mean : 1.02 * mean);
  const xi = (most - least) / (most - mean);
  const steepness = -1.498 + (1.184 * xi - 27.182 * Math.exp(-1.5 * xi)) / (most - least);
  return { least, most, steepness };
}

/**
 * Clearness of each day of a typical month, dullest first: the middles of equal shares of the distribution.
 *
 * @param mean monthly mean clearness, above 0
 * @returns ascending; their mean is within 0.003 of `mean` for means of 0.3 to 0.7
 *
 * Source: distribution of Bendt, Collares-Pereira & Rabl 1981, Solar Energy 27, 1-5; its use for the days of one month:
 * Knight, Klein & Duffie 1991, Solar Energy 46, 109-120.
 */
export function clearnessDays(mean: number, days: number): Float64Array {
  const { least, most, steepness } = clearnessSpread(mean);
  const width = most - least;
  const grown = Math.expm1(steepness * width);
  const out = new Float64Array(days);
  for (let k = 0; k < days; k++) {
    const share = (k + 0.5) / days;
    out[k] =
      Math.abs(steepness * width) < 1e-9
        ? least + share * width
        : least + Math.log1p(share * grown) / steepness;
  }
  return out;
}
