/** Decades of days at one place, from ../shared/series where it is there: global irradiation and mean air temperature. */
import { existsSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';

const FOLDER = resolve(import.meta.dirname, '../../../shared/series');
export const seriesThere = existsSync(FOLDER);

export interface DailyYears {
  readonly name: string;
  readonly latitude_deg: number;
  readonly longitude_deg: number;
  readonly elevation_m: number;
  /** Whole years without a gap longer than a few days, 365 days each: 29 February is left out. */
  readonly years: readonly { readonly ghi_kWh_m2: Float64Array; readonly air_C: Float64Array }[];
}

const KNMI = 'Royal Netherlands Meteorological Institute, open data, CC BY 4.0';
export const PLACES = [
  {
    name: 'Hoogeveen',
    source: KNMI,
    file: 'KNMI_279_Hoogeveen_daily_1989-2026.csv',
    at: [52.75, 6.57, 16],
  },
  { name: 'Hupsel', source: KNMI, file: 'KNMI_283_Hupsel_daily_1989-2026.csv', at: [52.07, 6.66, 29] },
  {
    name: 'Crete',
    source: 'NASA POWER, satellite, CC0',
    file: 'POWER_Point_Daily_19840101_20201231_035d0309N_024d8335E_LST.csv',
    at: [35.03, 24.83, 250],
  },
] as const;

export function dailyYears({ name, file, at }: (typeof PLACES)[number]): DailyYears {
  const byYear = new Map<string, { ghi: number[]; air: number[] }>();
  for (const line of readFileSync(resolve(FOLDER, file), 'utf8').split(/\r?\n/)) {
    const cells = line.split(',');
    const knmi = /^\d{4}-\d\d-\d\d$/.test(cells[0]!);
    if (!knmi && !(/^\d{4}$/.test(cells[0]!) && cells.length === 8)) continue;
    const [year, month, day] = knmi ? cells[0]!.split('-') : cells;
    if (Number(month) === 2 && Number(day) === 29) continue;
    const [ghi, air] = knmi ? [cells[1], cells[2]] : [cells[7], cells[5]];
    const row = byYear.get(year!) ?? { ghi: [], air: [] };
    byYear.set(year!, row);
    row.ghi.push(ghi === '' || Number(ghi) < -900 ? Number.NaN : Number(ghi));
    row.air.push(air === '' ? Number.NaN : Number(air));
  }
  const years = [...byYear.values()]
    .filter(({ ghi }) => ghi.length === 365 && ghi.filter(Number.isNaN).length <= 10)
    .map(({ ghi, air }) => ({ ghi_kWh_m2: filled(ghi), air_C: filled(air) }));
  const [latitude_deg, longitude_deg, elevation_m] = at;
  return { name, latitude_deg, longitude_deg, elevation_m, years };
}

/** A day that is missing has the value of the day before it. */
function filled(values: readonly number[]): Float64Array {
  const out = Float64Array.from(values);
  for (let d = 0; d < out.length; d++)
    if (Number.isNaN(out[d]!)) out[d] = out[d - 1] ?? values.find((v) => v >= 0)!;
  return out;
}
