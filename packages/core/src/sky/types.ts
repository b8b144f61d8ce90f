import type { Assumption, Notice } from '../basis/notices.ts';
import type { Series } from '../series/types.ts';
import type { FileSite } from '../series/weather-file.ts';

/** The rows of a weather file, in W/m², °C and m/s; not yet held against the sun. */
export interface WeatherRows {
  /** `ghi` and `air_temperature` always; `dni`, `dhi` and `wind` where the file has them. */
  readonly series: Series;
  /** What the file calls our columns. */
  readonly columns: Readonly<Record<string, string>>;
  /** Where the file says it is from; null for a table that says nothing. */
  readonly site: FileSite | null;
  /** How its format has stamps read; null where the scenario says it. */
  readonly convention: string | null;
  /** For a file without wind. */
  readonly wind_m_s: number;
  readonly notices: readonly Notice[];
  /** Where its clock is set, for messages. */
  readonly clockKeys: string;
}

/**
 * What the sky gives in each step of a clock, all means over the whole step. Arrays have `clock.steps` entries.
 * Invariant: ghi = dhi + dni * sin(altitude at the middle of the sun-up part), within the measurement if measured.
 */
export interface SkyYear {
  /** Global, on the horizontal. */ readonly ghi_W_m2: Float64Array;
  /** Beam, normal to the sun. */ readonly dni_W_m2: Float64Array;
  /** Diffuse, on the horizontal. */ readonly dhi_W_m2: Float64Array;
  /** Of the air. */ readonly air_temperature_C: Float64Array;
  /** Coldest step of a mean year, where cold days are drawn around one: the same for every seed. */
  readonly coldest_mean?: { readonly time: string; readonly air_C: number };
  /** Mean over the step. */ readonly wind_m_s: Float64Array;
  /** What happened while reading. */ readonly notices: readonly Notice[];
  /** What its models leave out. */ readonly assumptions: readonly Assumption[];
}
