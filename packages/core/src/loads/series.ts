import { InputError, type Issue, placeText } from '../basis/errors.ts';
import { type Assumption, type Notice, notice } from '../basis/notices.ts';
import { rounded } from '../basis/rounding.ts';
import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';
import type { Clock } from '../clock/clock.ts';
import type { SeriesLoad, SeriesSource } from '../scenario/schema/schema.ts';
import { layOnClock } from '../series/grid.ts';
import { leapDayAssumptions } from '../series/leap-day.ts';
import { noText, readSeries } from '../series/read.ts';
import { RowIssues } from '../series/rows.ts';
import { closeYear } from '../series/turn-of-year.ts';
import { type FileTexts, placeOf, type Series } from '../series/types.ts';
import { type ShortRows, slotClock, slotOf } from './rows.ts';

/** A load, or another source, of a scenario with its place in the list. */
export interface PlacedLoad<L> {
  readonly index: number;
  readonly load: L;
}

/** What has its power in a file. */
type MeteredSpec = SeriesLoad | SeriesSource;

/** A metered power on the clock. */
interface Metered {
  readonly index: number;
  /** Mean power per step, kW. */
  readonly power_kW: Float64Array;
  /** Its rows, where they are shorter than a step. */
  readonly short: ShortRows | null;
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Reads powers from their files and lays them on the clock. Those from the same file are read in one go.
 *
 * @param list section of the scenario in which they stand
 * @throws InputError with the issues of all files: unreadable, negative, of another year, with gaps that may not be
 *   filled
 */
export function meteredPowers(
  loads: readonly PlacedLoad<MeteredSpec>[],
  clock: Clock,
  files: FileTexts,
  list = 'loads',
): Metered[] {
  const issues: Issue[] = [];
  const metered: Metered[] = [];
  const collect = (work: () => void): void => {
    try {
      work();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      issues.push(...error.issues);
    }
  };
  const sources = new Map<string, PlacedLoad<MeteredSpec>[]>();
  for (const placed of loads) {
    const { file, delimiter, decimal, comment, skip_rows, missing, time } = placed.load;
    const key = JSON.stringify([file, delimiter, decimal, comment, skip_rows, missing, time]);
    sources.set(key, [...(sources.get(key) ?? []), placed]);
  }
  for (const group of sources.values())
    collect(() => {
      const series = readGroup(group, files, list);
      for (const { index, load } of group)
        collect(() => {
          const path = `${list}[${index}]`;
          const power = new Map([['power', inKilowatts(series, load, index, NEGATIVE[list]!)]]);
          const closed = closeYear({ ...series, values: power }, clock, path);
          const gridded = layOnClock(closed.series, clock, load.gaps, path, {
            power: load.power.column,
          });
          metered.push({
            index,
            power_kW: gridded.values.get('power')!,
            short: shortRows(closed.series, clock, load, path),
            notices: [
              ...closed.notices,
              ...spikeNotices(closed.series, load.power.column, path),
              ...gridded.notices,
            ],
            assumptions: leapDayAssumptions(series, path),
          });
        });
    });
  if (issues.length > 0) throw new InputError(issues);
  return metered;
}

/** So many times the rows beside it, and so many times the highest of the others; our own limits, no source. */
const SPIKE = { beside: 100, highest: 10 } as const;
/** Where more rows than these are spikes, the load is like that. */
const MOST_SPIKES = 3;

/** A notice for a few rows that stick out of all others, as a slip of the decimal mark makes them. */
function spikeNotices(series: Series, column: string, path: string): Notice[] {
  const kW = series.values.get('power')!;
  const at = (r: number): number => kW[r] || 0;
  const doesStickOut = (r: number): boolean =>
    at(r) > 0 && at(r) >= SPIKE.beside * Math.max(at(r - 1), at(r + 1));
  const rows = [...kW.keys()].filter(doesStickOut);
  if (rows.length === 0 || rows.length > MOST_SPIKES) return [];
  const highest = kW.reduce((most, v, r) => (v > most && !rows.includes(r) ? v : most), 0);
  return rows
    .filter((r) => at(r) >= SPIKE.highest * highest)
    .map(
      (r) =>
        notice(
          'load-spike',
        )`${path}: ${rounded(at(r))} kW at ${placeText(placeOf(series, r, column))} is at least
        ${SPIKE.beside} times the rows beside it and ${SPIKE.highest} times any other; used as it is`,
    );
}

function shortRows(series: Series, clock: Clock, load: MeteredSpec, path: string): ShortRows | null {
  const slot_min = slotOf((series.end_ms[0]! - series.start_ms[0]!) / MINUTE_ms, clock.step_min);
  if (slot_min === null) return null;
  const { values } = layOnClock(series, slotClock(clock, slot_min), load.gaps, path);
  return { slot_min, power_kW: values.get('power')! };
}

function readGroup(group: readonly PlacedLoad<MeteredSpec>[], files: FileTexts, list: string): Series {
  const { load, index } = group[0]!;
  const text = files.get(load.file);
  if (text === undefined) throw noText(load.file, `${list}[${index}].file`);
  const columns = group.map((member) => ({ name: String(member.index), column: member.load.power.column }));
  return readSeries(text, load.file, load, columns);
}

/** A hundred megawatt are no load of a plant that stands alone: `rating_kW` of its inverter goes no further. */
const MOST_kW = 100_000;

/** What to do with a power below 0, by the section in which it is. */
const NEGATIVE: Readonly<Record<string, string>> = {
  loads: 'a load only takes power: take out what is fed in',
  other_sources: 'a source only gives power: write 0 where it stands still or draws',
};

/** An energy is spread over its row. A value below zero, or beyond any load, is an issue of its row. */
function inKilowatts(series: Series, load: MeteredSpec, index: number, fix: string): Float64Array {
  const { unit, column } = load.power;
  const issues = new RowIssues(series.file, series.given ? 'index' : 'line');
  const row_h = (series.end_ms[0]! - series.start_ms[0]!) / HOUR_ms;
  const kilo = unit === 'W' || unit === 'Wh' ? 1 / 1000 : 1;
  const factor = unit === 'Wh' || unit === 'kWh' ? kilo / row_h : kilo;
  const values = series.values.get(String(index))!;
  const power_kW = values.map((value, r) => {
    if (value < 0) {
      issues.add('negative-load', series.line[r]!, `${value} ${unit} is negative`, fix, column);
    }
    if (value * factor > MOST_kW) {
      const fix = 'check the row, and the unit of the column; leave the cell empty if the value is missing';
      const message = `${value} ${unit} is more than ${MOST_kW.toLocaleString('en')} kW`;
      issues.add('out-of-range', series.line[r]!, message, fix, column);
    }
    return value * factor;
  });
  if (!issues.isEmpty) throw new InputError(issues.list());
  return power_kW;
}
