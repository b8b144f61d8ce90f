import type * as z from 'zod';
import { refusal } from '../basis/errors.ts';
import type { scenarioSchema } from './schema/schema.ts';

/** A series handed over as numbers, where a file would have a text: it has neither stamps nor a zone. */
export interface GivenSeries {
  /** Start of the first interval, UTC epoch ms. */
  readonly start_utc_ms: number;
  /** Length of each interval, minutes. */
  readonly step_min: number;
  /** One value an interval, NaN where it is missing; by the name of its column where there are several. */
  readonly values: Float64Array | Readonly<Record<string, Float64Array>>;
}

/** What tells how a text is read. */
const OF_FILES = ['file', 'time', 'delimiter', 'decimal', 'comment', 'skip_rows', 'missing'] as const;

/** A section of kind `series` with numbers in the place of its file. */
type Numbers<S> = { readonly series: GivenSeries } & {
  [K in keyof S as K extends (typeof OF_FILES)[number] ? never : K]: WithoutColumn<S[K]>;
};
type WithoutColumn<V> = V extends { column: string } ? Omit<V, 'column'> : V;
type OrNumbers<S> = S | Numbers<Extract<S, { kind: 'series' }>>;
type Written = z.input<typeof scenarioSchema>;

/**
 * A scenario as it is written: what has a default may be left out. Weather and loads of kind `series` may have numbers
 * (`series`) in the place of `file` and `time`; their columns are then called as the keys are, `ghi` or `power`.
 */
export type ScenarioInput = Omit<Written, 'weather' | 'loads'> & {
  /** Where sun and air temperature come from. */ weather: OrNumbers<Written['weather']>;
  /** Everything that draws power. */ loads: OrNumbers<Written['loads'][number]>[];
};

/**
 * Takes the numbers out of a scenario and names a file in their place, `weather.series` or `loads[3].series`.
 *
 * @returns the scenario as a text might say it, and the numbers by those names
 * @throws InputError if a series of numbers has keys that tell how a text is read
 */
export function withoutNumbers(input: unknown): {
  readonly written: unknown;
  readonly series: ReadonlyMap<string, GivenSeries>;
} {
  const series = new Map<string, GivenSeries>();
  const take = (section: unknown, path: string): unknown => {
    if (!isMapping(section) || section.kind !== 'series' || !isMapping(section.series)) return section;
    const rest: Record<string, unknown> = { ...section };
    delete rest.series;
    for (const key of OF_FILES)
      if (rest[key] !== undefined)
        throw refusal(
          'unknown-key',
          `${path}.${key}`,
          'tells how a text is read, and the series is handed over as numbers',
          'take it out, or give a file and no series',
        );
    const file = `${path}.series`;
    series.set(file, section.series as unknown as GivenSeries);
    for (const [key, value] of Object.entries(rest))
      if (isMapping(value) && 'unit' in value) rest[key] = { column: key, ...value };
    // Never read: numbers have no stamps.
    return { ...rest, file, delimiter: ',', time: { column: 'start_utc_ms', zone: 'UTC', label: 'start' } };
  };
  if (!isMapping(input)) return { written: input, series };
  const { weather, loads } = input;
  const written: Record<string, unknown> = { ...input };
  if (weather !== undefined) written.weather = take(weather, 'weather');
  if (Array.isArray(loads)) written.loads = loads.map((load, k) => take(load, `loads[${k}]`));
  return { written: series.size === 0 ? input : written, series };
}

const isMapping = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
