import type { GivenSeries } from '../scenario/given.ts';
import type { SeriesWeather } from '../scenario/schema/schema.ts';
import { readSeries } from '../series/read.ts';
import type { Series } from '../series/types.ts';
import type { WeatherRows } from './types.ts';

type IrradianceUnit = SeriesWeather['ghi']['unit'];

/** Joules in the unit of an irradiation, per m². */
const JOULES: Readonly<Record<Exclude<IrradianceUnit, 'W_m2'>, number>> = {
  kJ_m2: 1e3,
  MJ_m2: 1e6,
  Wh_m2: 3600,
  kWh_m2: 3.6e6,
};

/** Rows of a table whose columns and stamps the scenario describes, or numbers that were handed over in its place. */
export function mappedRows(weather: SeriesWeather, text: string | GivenSeries): WeatherRows {
  const columns = [
    { name: 'ghi', column: weather.ghi.column },
    ...(weather.dni ? [{ name: 'dni', column: weather.dni.column }] : []),
    ...(weather.dhi ? [{ name: 'dhi', column: weather.dhi.column }] : []),
    { name: 'air_temperature', column: weather.air_temperature.column },
    ...(weather.wind ? [{ name: 'wind', column: weather.wind.column }] : []),
  ];
  const raw = readSeries(text, weather.file, weather, columns);
  return {
    series: inOurUnits(raw, weather),
    columns: Object.fromEntries(columns.map(({ name, column }) => [name, column])),
    site: null,
    convention: null,
    wind_m_s: weather.wind_m_s,
    notices: [],
    clockKeys: raw.given ? 'weather.series.start_utc_ms' : 'weather.time.label, weather.time.zone',
  };
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
    values.set(name, unit === 'W_m2' ? column : meanPower(column, JOULES[unit], raw));
  }
  const air = raw.values.get('air_temperature')!;
  const airUnit = weather.air_temperature.unit;
  values.set(
    'air_temperature',
    air.map((t) => (airUnit === 'K' ? t - 273.15 : airUnit === 'F' ? (t - 32) / 1.8 : t)),
  );
  const wind = raw.values.get('wind');
  if (wind && weather.wind)
    values.set('wind', weather.wind.unit === 'km_h' ? wind.map((v) => v / 3.6) : wind);
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
