import { InputError, type Issue } from '../basis/errors.ts';
import type { Notice } from '../basis/notices.ts';
import type { Clock } from '../clock/clock.ts';
import type { SeriesWeather, Site } from '../scenario/schema.ts';
import { layOnClock } from '../series/grid.ts';
import { readSeries } from '../series/read.ts';
import type { FileTexts, Gridded, Series } from '../series/types.ts';
import type { SunYear } from '../sun/types.ts';
import { sunOverIntervals } from '../sun/year.ts';
import { closeFilled, fillBeam, fillLight } from './fill-light.ts';
import { compareLight, lightNotices } from './light-check.ts';
import { longRows, outOfRange, unphysicalLight } from './plausible.ts';

/** What a weather file holds, in our units on the clock; absent columns are undefined. */
export interface SuppliedSky {
  readonly ghi_W_m2: Float64Array;
  readonly dni_W_m2: Float64Array | undefined;
  readonly dhi_W_m2: Float64Array | undefined;
  readonly air_temperature_C: Float64Array;
  readonly wind_m_s: Float64Array | undefined;
  readonly notices: readonly Notice[];
}

type IrradianceUnit = SeriesWeather['ghi']['unit'];

/** Joules in the unit of an irradiation, per m². */
const JOULES: Readonly<Record<Exclude<IrradianceUnit, 'W_m2'>, number>> = {
  kJ_m2: 1e3,
  MJ_m2: 1e6,
  Wh_m2: 3600,
  kWh_m2: 3.6e6,
};

/**
 * Reads a weather file, checks it against the sun and lays it on the clock.
 *
 * @param weather what the scenario says about the file
 * @param site of the plant; the sun there bounds what may be in the file
 * @param clock steps of the year
 * @param sun the sun over them
 * @param files texts of the scenario's files, by the name it uses
 * @param scenarioFile for messages about the scenario itself
 * @returns means over the clock's steps, W/m², °C and m/s
 * @throws InputError if the file is missing, unreadable, has gaps that may not be filled, or holds rows that can't be
 *   true at this place; every kind of fault is reported, the first five rows of each
 */
export function suppliedSky(
  weather: SeriesWeather,
  site: Site,
  clock: Clock,
  sun: SunYear,
  files: FileTexts,
  scenarioFile: string,
): SuppliedSky {
  const text = files.get(weather.file);
  if (text === undefined) throw new InputError([missingFile(weather.file, scenarioFile)]);
  const columns = [
    { name: 'ghi', column: weather.ghi.column },
    ...(weather.dni ? [{ name: 'dni', column: weather.dni.column }] : []),
    ...(weather.dhi ? [{ name: 'dhi', column: weather.dhi.column }] : []),
    { name: 'air_temperature', column: weather.air_temperature.column },
    ...(weather.wind ? [{ name: 'wind', column: weather.wind.column }] : []),
  ];
  const { delimiter, time } = weather;
  const raw = readSeries(text, weather.file, { delimiter, time }, columns);
  const long = longRows(raw);
  if (long !== undefined) throw new InputError([long]);

  const series = inOurUnits(raw, weather);
  const rowSun = areSteps(series, clock) ? sun : sunOverIntervals(series.start_ms, series.end_ms, site);
  const light = compareLight(series, rowSun, site.longitude_deg);
  const issues: Issue[] = [];
  const notices: Notice[] = [...lightNotices(light)];
  for (const quantity of ['ghi', 'dni', 'dhi'] as const) {
    const source = weather[quantity];
    if (source === undefined) continue;
    const values = series.values.get(quantity)!;
    issues.push(...unphysicalLight(quantity, values, series, source.column, rowSun, light));
    const offsets = zeroNightOffsets(values);
    if (offsets > 0) notices.push(nightOffsets(source.column, offsets));
  }
  const air = { values: series.values.get('air_temperature')!, source: weather.air_temperature };
  issues.push(...outOfRange('weather.air_temperature', air.values, series, air.source.column, -90, 60, '°C'));
  if (weather.wind)
    issues.push(
      ...outOfRange('weather.wind', series.values.get('wind')!, series, weather.wind.column, 0, 100, 'm/s'),
    );
  if (issues.length > 0) throw new InputError(issues);

  const gridded = layOnClock(series, clock, weather.gaps, 'weather');
  fillLights(gridded, sun, clock);
  return {
    ghi_W_m2: gridded.values.get('ghi')!,
    dni_W_m2: gridded.values.get('dni'),
    dhi_W_m2: gridded.values.get('dhi'),
    air_temperature_C: gridded.values.get('air_temperature')!,
    wind_m_s: gridded.values.get('wind'),
    notices: [...notices, ...gridded.notices],
  };
}

/** Lays light over what was filled by straight lines, in place. */
function fillLights({ values, filled }: Gridded, sun: SunYear, clock: Clock): void {
  const [ghi, dni, dhi] = [values.get('ghi')!, values.get('dni'), values.get('dhi')];
  const [noGhi, noDni, noDhi] = [filled.get('ghi'), filled.get('dni'), filled.get('dhi')];
  if (noGhi) fillLight(ghi, noGhi, sun.extraterrestrial_horizontal_W_m2, clock);
  if (dni && noDni) fillBeam(dni, noDni, sun, clock);
  if (dhi && noDhi) {
    if (dni) closeFilled(ghi, dni, dhi, noDhi, sun);
    else fillLight(dhi, noDhi, sun.extraterrestrial_horizontal_W_m2, clock);
  }
}

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

/**
 * The series in W/m², °C and m/s; missing values stay missing. An energy is spread over the length of its row.
 */
function inOurUnits(raw: Series, weather: SeriesWeather): Series {
  const values = new Map<string, Float64Array>();
  for (const name of ['ghi', 'dni', 'dhi'] as const) {
    const column = raw.values.get(name);
    const unit = weather[name]?.unit;
    if (column === undefined || unit === undefined) continue;
    values.set(name, unit === 'W_m2' ? column.slice() : meanPower(column, JOULES[unit], raw));
  }
  const air = raw.values.get('air_temperature')!;
  const airUnit = weather.air_temperature.unit;
  values.set(
    'air_temperature',
    air.map((t) => (airUnit === 'K' ? t - 273.15 : airUnit === 'F' ? (t - 32) / 1.8 : t)),
  );
  const wind = raw.values.get('wind');
  if (wind && weather.wind)
    values.set('wind', weather.wind.unit === 'km_h' ? wind.map((v) => v / 3.6) : wind.slice());
  return { ...raw, values };
}

function meanPower(column: Float64Array, joules: number, rows: Series): Float64Array {
  const out = new Float64Array(column.length);
  for (let r = 0; r < out.length; r++) {
    const length_s = (rows.end_ms[r]! - rows.start_ms[r]!) / 1000;
    out[r] = (column[r]! * joules) / length_s;
  }
  return out;
}

/** Sets what is left below zero to zero in place; the plausibility check has let only small offsets through. */
function zeroNightOffsets(values: Float64Array): number {
  let count = 0;
  for (let r = 0; r < values.length; r++) {
    if (values[r]! < 0) {
      values[r] = 0;
      count++;
    }
  }
  return count;
}

const nightOffsets = (column: string, count: number): Notice => ({
  id: 'night-offset-zeroed',
  message: `column "${column}": ${count} rows slightly below zero were set to 0, as thermopiles read at night`,
  count,
});

const missingFile = (file: string, scenarioFile: string): Issue => ({
  code: 'missing-file',
  path: 'weather.file',
  message: `no text was given for "${file}"`,
  expected: 'a readable CSV file',
  fix: 'check the path; it is taken from the folder of the scenario file',
  place: { file: scenarioFile },
});
