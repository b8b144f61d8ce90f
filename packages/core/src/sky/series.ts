import { InputError } from '../basis/errors.ts';
import { type Assumption, type Notice, notice } from '../basis/notices.ts';
import type { Clock } from '../clock/clock.ts';
import type { Site } from '../scenario/schema/schema.ts';
import { layOnClock } from '../series/grid.ts';
import { leapDayAssumptions } from '../series/leap-day.ts';
import { closeYear } from '../series/turn-of-year.ts';
import type { FileTexts, Series } from '../series/types.ts';
import type { SunYear } from '../sun/year.ts';
import { sunOverIntervals } from '../sun/year.ts';
import * as assume from './assumptions.ts';
import { compareSites } from './file-site.ts';
import { fillLights } from './fill-light.ts';
import { replaceImpossible } from './impossible.ts';
import { compareLight, lightIssues, lightNotices } from './light-check.ts';
import { type Fault, longRows, outOfRange, unphysicalLight } from './plausible.ts';
import { type FileWeather, weatherRows } from './rows.ts';
import { withinRows } from './within-rows.ts';

/** What a weather file holds, in our units on the clock; absent columns are undefined. */
interface SuppliedSky {
  readonly ghi_W_m2: Float64Array;
  readonly dni_W_m2: Float64Array | undefined;
  readonly dhi_W_m2: Float64Array | undefined;
  readonly air_temperature_C: Float64Array;
  readonly wind_m_s: Float64Array | undefined;
  /** All year, where there is no wind in the file. */
  readonly steady_wind_m_s: number;
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Reads a weather file, checks it against the sun and lays it on the clock.
 *
 * @param site of the plant; the sun there bounds what may be in the file
 * @returns means over the clock's steps, W/m², °C and m/s
 * @throws InputError if the file is missing, unreadable, of another place, has gaps that may not be filled, or holds
 *   rows that can't be true at this place; every kind of fault is reported with its rows. Where they are few they
 *   are taken as missing instead (`replaceImpossible`)
 */
export function suppliedSky(
  weather: FileWeather,
  site: Site,
  clock: Clock,
  sun: SunYear,
  files: FileTexts,
  scenarioFile: string,
): SuppliedSky {
  const rows = weatherRows(weather, clock.year, files, scenarioFile);
  const notices: Notice[] = [...rows.notices];
  if (rows.site !== null) notices.push(...compareSites(rows.site, site, clock, weather.file));
  const long = longRows(rows.series);
  if (long !== undefined) throw new InputError([long]);

  const closed = closeYear(rows.series, clock, 'weather');
  // Night offsets are zeroed in place below; the rows may be kept for another year.
  const series = ownValues(closed.series);
  notices.push(...closed.notices);
  const rowSun = areSteps(series, clock) ? sun : sunOverIntervals(series.start_ms, series.end_ms, site);
  const compared = () => compareLight(series, rowSun, site.longitude_deg, rows.clockKeys);
  const asWritten = compared();
  const { columns } = rows;
  const faults: Fault[] = LIGHTS.flatMap((quantity) => {
    const values = series.values.get(quantity);
    if (values === undefined) return [];
    return unphysicalLight(quantity, values, series, columns[quantity]!, rowSun, asWritten);
  });
  const air = series.values.get('air_temperature')!;
  const written = weather.kind === 'series' ? weather : undefined;
  const airUnit = written?.air_temperature.unit ?? 'C';
  faults.push(
    ...outOfRange('air_temperature', air, series, columns.air_temperature!, -90, 60, '°C', airUnit),
  );
  const wind = series.values.get('wind');
  const windUnit = written?.wind?.unit ?? 'm_s';
  if (wind) faults.push(...outOfRange('wind', wind, series, columns.wind!, 0, 100, 'm/s', windUnit));
  notices.push(...replaceImpossible(faults, series, rowSun, clock, weather.gaps));
  for (const quantity of LIGHTS) {
    const values = series.values.get(quantity);
    if (values !== undefined) notices.push(...zeroNightOffsets(values, columns[quantity]!));
  }
  const light = faults.length === 0 ? asWritten : compared();
  const issues = lightIssues(light, series, columns.ghi!, rows.site?.line ?? null);
  if (issues.length > 0) throw new InputError(issues);
  notices.push(...lightNotices(light, series, columns.ghi!));

  const gridded = layOnClock(series, clock, weather.gaps, 'weather', columns);
  const within = withinRows(gridded.values, series, clock, sun);
  fillLights({ values: within.light, filled: gridded.filled }, sun, clock);
  return {
    ghi_W_m2: within.light.get('ghi')!,
    dni_W_m2: within.light.get('dni'),
    dhi_W_m2: within.light.get('dhi'),
    air_temperature_C: gridded.values.get('air_temperature')!,
    wind_m_s: gridded.values.get('wind'),
    steady_wind_m_s: rows.wind_m_s,
    notices: [...notices, ...gridded.notices],
    assumptions: [
      ...(rows.convention === null ? [] : [assume.convention(weather.file, rows.convention)]),
      ...(series.as_of_year === null ? [] : [assume.typicalYear(series.as_of_year)]),
      ...leapDayAssumptions(series, 'weather'),
      ...(within.isShaped ? [assume.WITHIN_ROWS] : []),
    ],
  };
}

const LIGHTS = ['ghi', 'dni', 'dhi'] as const;

const ownValues = (series: Series): Series => ({
  ...series,
  values: new Map([...series.values].map(([name, column]) => [name, column.slice()])),
});

/** Whether the rows are the clock's steps; all rows of a series are of one length, so ends and number tell. */
function areSteps({ start_ms, end_ms }: Series, clock: Clock): boolean {
  const last = clock.steps - 1;
  return (
    start_ms.length === clock.steps &&
    start_ms[0] === clock.start_ms[0] &&
    start_ms[last] === clock.start_ms[last] &&
    end_ms[0] === clock.start_ms[1]
  );
}

/** Sets what is left below zero to zero in place; the plausibility check has let only small offsets through. */
function zeroNightOffsets(values: Float64Array, column: string): Notice[] {
  let count = 0;
  for (let r = 0; r < values.length; r++) {
    if (values[r]! >= 0 || Number.isNaN(values[r]!)) continue;
    values[r] = 0;
    count++;
  }
  if (count === 0) return [];
  return [
    notice('night-offset-zeroed', count)`column "${column}": ${count} rows slightly below zero were set to 0,
      as thermopiles read at night`,
  ];
}
