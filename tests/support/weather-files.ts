/**
 * Weather files with invented values in the two open formats: our own clear sky, dimmed, at an invented place. Nothing
 * in them was measured.
 */
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import type { Site } from '../../packages/core/src/scenario/schema/schema.ts';
import { prepareSky } from '../../packages/core/src/sky/prepare.ts';
import type { SkyYear } from '../../packages/core/src/sky/types.ts';
import { sunYear } from '../../packages/core/src/sun/year.ts';

export interface InventedSky {
  readonly site: Site;
  /** Hours of local standard time. */
  readonly sky: SkyYear;
  readonly offset_h: number;
  readonly year: number;
}

/** A year at 60 % of the clear sky, by the hours of a fixed zone. */
export function inventedSky(site: Site, offset_h: number, year: number, share = 0.6): InventedSky {
  const zone = `Etc/GMT${offset_h > 0 ? '-' : '+'}${Math.abs(offset_h)}`;
  const clock = buildClock(year, zone, 60);
  const clear = {
    kind: 'clear-sky',
    turbidity_linke: 3,
    air_temperature_C: 11,
    daily_swing_K: 8,
    wind_m_s: 2,
  };
  const sky = prepareSky(clear as never, site, clock, sunYear(clock, site), new Map(), 'invented.yaml');
  const dim = (column: Float64Array): Float64Array => column.map((x) => share * x);
  const dimmed = {
    ...sky,
    ghi_W_m2: dim(sky.ghi_W_m2),
    dni_W_m2: dim(sky.dni_W_m2),
    dhi_W_m2: dim(sky.dhi_W_m2),
  };
  return { site, sky: dimmed, offset_h, year };
}

/** An hour of a file: its calendar day, the hour 1 to 24 that it ends with, and its place in the year. */
interface Hour {
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly i: number;
}

export function hoursOf({ year, sky }: InventedSky): Hour[] {
  return Array.from(sky.ghi_W_m2, (_, i) => {
    const at = new Date(Date.UTC(year, 0, 1) + i * 3_600_000);
    return { month: at.getUTCMonth() + 1, day: at.getUTCDate(), hour: at.getUTCHours() + 1, i };
  });
}

const two = (n: number): string => String(n).padStart(2, '0');
const figures = ({ sky }: InventedSky, i: number): readonly string[] =>
  [sky.ghi_W_m2, sky.dni_W_m2, sky.dhi_W_m2, sky.air_temperature_C, sky.wind_m_s].map((c) =>
    c[i]!.toFixed(3),
  );

/** Years that the months of an invented typical year come from. */
export const MONTH_YEARS = [1991, 1987, 1996, 1979, 2003, 1988, 1992, 1984, 2001, 1990, 1983, 1999];

/** TMY3 with the columns that are read and a few beside them; `yearOf` gives each month's year. */
export function tmy3Rows(from: InventedSky, yearOf = (month: number) => MONTH_YEARS[month - 1]!): string[] {
  const { site } = from;
  const head = [
    '999999',
    `"${site.name}, A"`,
    'XX',
    from.offset_h.toFixed(1),
    site.latitude_deg,
    site.longitude_deg,
    site.elevation_m,
  ];
  return [
    head.join(','),
    'Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),GHI source,DNI (W/m^2),DHI (W/m^2),Dry-bulb (C),Wspd (m/s)',
    ...hoursOf(from).map(({ month, day, hour, i }) => {
      const [ghi, dni, dhi, air, wind] = figures(from, i);
      return `${two(month)}/${two(day)}/${yearOf(month)},${two(hour)}:00,0,${ghi},9,${dni},${dhi},${air},${wind}`;
    }),
  ];
}

/** EPW; `minute` is written into each row's fifth cell. */
export function epwRows(from: InventedSky, yearOf = (month: number) => MONTH_YEARS[month - 1]!): string[] {
  const { site, offset_h } = from;
  return [
    `LOCATION,${site.name},XX,XXX,invented,999999,${site.latitude_deg},${site.longitude_deg},${offset_h.toFixed(1)},${site.elevation_m}`,
    'DESIGN CONDITIONS,0',
    'TYPICAL/EXTREME PERIODS,0',
    'GROUND TEMPERATURES,0',
    'HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0',
    'COMMENTS 1,"invented, not measured"',
    'COMMENTS 2,none',
    'DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31',
    ...hoursOf(from).map(({ month, day, hour, i }) => epwRow(from, i, yearOf(month), month, day, hour, 0)),
  ];
}

export function epwRow(
  from: InventedSky,
  i: number,
  year: number,
  month: number,
  day: number,
  hour: number,
  minute: number,
): string {
  const [ghi, dni, dhi, air, wind] = figures(from, i);
  const sun = `9999,9999,9999,${ghi},${dni},${dhi},999999,999999,999999,9999`;
  return `${year},${month},${day},${hour},${minute},flags,${air},99.9,999,999999,${sun},999,${wind},99,99,9999,99999,9,999999999,999,.999,999,99,999,999,99`;
}

/** How the rows of an archive's table are written: the order of its columns, and the hour of each row. */
const table = (
  columns: readonly (readonly [name: string, cell: (hour: Hour) => string])[],
  from: InventedSky,
) => [
  columns.map(([name]) => name).join(','),
  ...hoursOf(from).map((hour) => columns.map(([, cell]) => cell(hour)).join(',')),
];

/** CSV of the NSRDB, columns in no usual order, hours stamped in their middle; without its head if `head` is false. */
export function nsrdbRows(from: InventedSky, { head = true, year = from.year } = {}): string[] {
  const { site, offset_h } = from;
  const cells = [
    ['Source', 'NSRDB'],
    ['Location ID', '999999'],
    ['City', '-'],
    ['Latitude', site.latitude_deg],
    ['Longitude', site.longitude_deg],
    ['Time Zone', offset_h],
    ['Elevation', site.elevation_m],
    ['Local Time Zone', offset_h],
    ['GHI Units', 'w/m2'],
    ['Temperature Units', 'c'],
    ['Wind Speed', 'm/s'],
  ];
  const rows = table(
    [
      ['Month', ({ month }) => `${month}`],
      ['GHI', ({ i }) => figures(from, i)[0]!],
      ['Year', () => `${year}`],
      ['Clearsky GHI', () => '0'],
      ['Minute', () => '30'],
      ['Temperature', ({ i }) => figures(from, i)[3]!],
      ['DHI', ({ i }) => figures(from, i)[2]!],
      ['Day', ({ day }) => `${day}`],
      ['Hour', ({ hour }) => `${hour - 1}`],
      ['Wind Speed', ({ i }) => figures(from, i)[4]!],
      ['DNI', ({ i }) => figures(from, i)[1]!],
    ],
    from,
  );
  if (!head) return rows;
  return [0, 1].map((k) => cells.map((cell) => cell[k]).join(',')).concat(rows.map((row) => `${row},,`));
}

/** Hourly CSV of NASA POWER: hours of UTC, stamped at their start. */
export function nasaPowerRows(from: InventedSky): string[] {
  const { site, year } = from;
  return [
    '-BEGIN HEADER-',
    'NASA/POWER Source Native Resolution Hourly Data (invented)',
    `Dates (month/day/year): 01/01/${year} through 12/31/${year} in UTC`,
    `Location: Latitude  ${site.latitude_deg}   Longitude ${site.longitude_deg} `,
    `Elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = ${site.elevation_m} meters`,
    'The value for missing source data that cannot be computed or is outside of the sources availability range: -999 ',
    'Parameter(s): ',
    'T2M                   MERRA-2 Temperature at 2 Meters (C) ',
    'WS10M                 MERRA-2 Wind Speed at 10 Meters (m/s) ',
    'ALLSKY_SFC_SW_DWN     CERES SYN1deg All Sky Surface Shortwave Downward Irradiance (Wh/m^2) ',
    '-END HEADER-',
    ...table(
      [
        ['YEAR', () => `${year}`],
        ['MO', ({ month }) => `${month}`],
        ['DY', ({ day }) => `${day}`],
        ['HR', ({ hour }) => `${hour - 1}`],
        ['WS10M', ({ i }) => figures(from, i)[4]!],
        ['ALLSKY_SFC_SW_DWN', ({ i }) => figures(from, i)[0]!],
        ['T2M', ({ i }) => figures(from, i)[3]!],
      ],
      from,
    ),
  ];
}
