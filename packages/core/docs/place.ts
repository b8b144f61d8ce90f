/**
 * Computes the table of `src/place/table.ts` from monthly means that others published, and holds it against stations.
 * They lie beside the project where it is developed and are no part of it; `LONGNIGHT_NORMALS` names them elsewhere.
 *
 *     tsx --conditions=@longnight/source packages/core/docs/place.ts
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { inflateRawSync } from 'node:zlib';
import {
  aboveAir_kWh_m2,
  firstGuess,
  guessedSun_kWh_m2_day,
  LAPSE_K_per_m,
} from '../src/place/first-guess.ts';

const NORMALS = process.env.LONGNIGHT_NORMALS ?? resolve(import.meta.dirname, '../../../../shared/normals');
export const normalsThere = existsSync(NORMALS);
export const TABLE = join(import.meta.dirname, '../src/place/table.ts');

/** A letter a value: what stands in a string without an escape. */
const DIGITS = Array.from({ length: 126 - 35 + 1 }, (_, k) => String.fromCharCode(35 + k))
  .filter((sign) => !"'\\`".includes(sign))
  .join('');
/** Least value and step of the digits: 0 to 0.89, -60 to 46.8 °C, 0 to 5340 m. */
const SCALES = {
  clearness: { least: 0, step: 0.01 },
  air: { least: -60, step: 1.2 },
  height: { least: 0, step: 60 },
};
type Scale = (typeof SCALES)[keyof typeof SCALES];

/** Below this mean irradiation above the air, kWh/m² a day, a cell's clearness is that of the next one towards the equator. */
const NO_SUN_kWh_m2 = 0.4;

/** More than this, over inland ice that throws light back at the sky, is more than our cleanest sky lets through. */
const CLEAREST = 0.78;

/** A grid as published: `value(m, j, i)` at the middle of a cell. */
interface Published {
  readonly nlat: number;
  readonly nlon: number;
  readonly lat0: number;
  readonly lon0: number;
  readonly dlat: number;
  readonly dlon: number;
  readonly value: (m: number, j: number, i: number) => number;
}

function published(name: 'ghi' | 'temperature' | 'height'): Published {
  const grid = JSON.parse(readFileSync(join(NORMALS, 'grid-1deg.json'), 'utf8'))[name];
  const bytes = inflateRawSync(Buffer.from(grid.data, 'base64'));
  const values = Float64Array.from({ length: bytes.length / 2 }, (_, k) => bytes.readInt16LE(2 * k));
  // Each row of longitudes holds its first value and then differences.
  for (let k = 0; k < values.length; k++) if (k % grid.nlon !== 0) values[k]! += values[k - 1]!;
  return {
    ...grid,
    value: (m, j, i) => values[(m * grid.nlat + j) * grid.nlon + (i % grid.nlon)]! * grid.step,
  };
}

/** Bilinear between the middles of cells. */
function between(
  { nlat, nlon, lat0, lon0, dlat, dlon }: Published,
  value: (j: number, i: number) => number,
  latitude_deg: number,
  longitude_deg: number,
): number {
  const y = (latitude_deg - lat0) / dlat;
  const x = ((longitude_deg - lon0) / dlon + nlon) % nlon;
  const j = Math.max(0, Math.min(nlat - 2, Math.floor(y)));
  const i = Math.floor(x);
  const along = (row: number): number => value(row, i) + (x - i) * (value(row, i + 1) - value(row, i));
  return along(j) + (y - j) * (along(j + 1) - along(j));
}

/** Means over cells of `size_deg`, south to north, from points `fine_deg` apart in their middles. */
function coarse(
  size_deg: number,
  fine_deg: number,
  at: (latitude: number, longitude: number) => number,
): number[][] {
  const [rows, cells, n] = [180 / size_deg, 360 / size_deg, size_deg / fine_deg];
  const points = Array.from({ length: n }, (_, k) => (k + 0.5) * fine_deg);
  return Array.from({ length: rows }, (_, j) =>
    Array.from({ length: cells }, (__, i) => {
      const all = points.flatMap((y) =>
        points.map((x) => at(-90 + j * size_deg + y, -180 + i * size_deg + x)),
      );
      return all.reduce((sum, value) => sum + value, 0) / all.length;
    }),
  );
}

/** Light that reaches the ground over light above the air, 4 degrees a cell. */
function clearness(ghi: Published, m: number): number[][] {
  const light = coarse(4, 1, (lat, lon) => ghi.value(m, lat + 89.5, lon + 179.5));
  const above = coarse(4, 1, (lat) => aboveAir_kWh_m2(lat, m)).map(([row]) => row!);
  const shares = light.map((row, j) => row.map((value) => Math.min(CLEAREST, value / above[j]!)));
  const middle = shares.length / 2;
  const order = shares.map((_, j) => j).sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle));
  for (const j of order) if (above[j]! < NO_SUN_kWh_m2) shares[j] = shares[j < middle ? j + 1 : j - 1]!;
  return shares;
}

const digitsOf = ({ least, step }: Scale, rows: readonly (readonly number[])[]): string[] =>
  rows.map((row) =>
    row
      .map((value) => DIGITS[Math.max(0, Math.min(DIGITS.length - 1, Math.round((value - least) / step)))])
      .join(''),
  );

const grid = (scale: Scale, rows: number[][], indent: string): string =>
  [
    `{`,
    `  least: ${scale.least},`,
    `  step: ${scale.step},`,
    `  rows: [`,
    ...digitsOf(scale, rows).map((row) => `    '${row}',`),
    `  ],`,
    `}`,
  ].join(`\n${indent}`);

/** The text of the table's file. */
export function tableText(): string {
  const [ghi, temperature, height] = [published('ghi'), published('temperature'), published('height')];
  const months = Array.from({ length: 12 }, (_, m) => m);
  const land = (lat: number, lon: number): number =>
    between(height, (j, i) => height.value(0, j, i), lat, lon);
  const atSea = (m: number) => (lat: number, lon: number) =>
    between(temperature, (j, i) => temperature.value(m, j, i), lat, lon) + LAPSE_K_per_m * land(lat, lon);
  const each = (scale: Scale, rows: (m: number) => number[][]): string =>
    months.map((m) => `  ${grid(scale, rows(m), '  ')},`).join('\n');
  return `/**
 * Monthly means of the whole Earth on coarse grids, January first, one letter a value. Computed by \`docs/place.ts\`; don't
 * edit.
 *
 * Computed from figures of these, with thanks:
 * - Sun: NASA Surface meteorology and Solar Energy (SSE) release 6.0, 22-year monthly means, July 1983 to June 2005, 1
 *   degree. These data were obtained from the NASA Langley Research Center.
 * - Air: NCEP/NCAR Reanalysis 1, monthly long-term means 1981 to 2010, 2.5 degrees, provided by the NOAA Physical
 *   Sciences Laboratory (NOAA PSL), Boulder, Colorado, USA.
 * - Heights, for air at sea level and the land around a place: means of open terrain tiles.
 */

/** A map of the Earth: rows from south to north, cells from 180° W eastwards, a digit each. */
export interface Grid {
  /** What the first digit stands for, and by how much the next one is more. */
  readonly least: number;
  readonly step: number;
  readonly rows: readonly string[];
}

/** The digits, least first. */
export const DIGITS =
  '${DIGITS}';

/** Global horizontal irradiation over that above the air, of mid-month; 4 degrees a cell. */
export const CLEARNESS: readonly Grid[] = [
${each(SCALES.clearness, (m) => clearness(ghi, m))}
];

/** Air temperature brought down to the sea; 10 degrees a cell. */
export const AIR_C: readonly Grid[] = [
${each(SCALES.air, (m) => coarse(10, 1.25, atSea(m)))}
];

/** Mean height of the land, sea 0; 4 degrees a cell. */
export const LAND_HEIGHT_m: Grid = ${grid(SCALES.height, coarse(4, 1, land), '')};
`;
}

/** A place with twelve monthly means that were measured, or modelled hour by hour from measured clouds. */
interface Station {
  readonly name: string;
  readonly lat: number;
  readonly lon: number;
  readonly elev: number;
  readonly ghi: readonly number[];
  readonly t: readonly number[];
}

const stations = (): readonly Station[] => JSON.parse(readFileSync(join(NORMALS, 'stations.json'), 'utf8'));

const REGIONS: readonly (readonly [name: string, has: (station: Station) => boolean])[] = [
  ['all', () => true],
  ['45 to 53° N', ({ lat }) => lat >= 45],
  ['38 to 45° N', ({ lat }) => lat >= 38 && lat < 45],
  ['21 to 38° N', ({ lat }) => lat < 38],
  ['west of 115° W', ({ lon }) => lon < -115],
];
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const SPANS: readonly (readonly [name: string, months: readonly number[]])[] = [
  ...MONTHS.map((name, m) => [name, [m]] as const),
  ['all months', MONTHS.map((_, m) => m)],
];

/** Mean and root mean square of how far guesses stray. */
export interface Strays {
  readonly mean: number;
  readonly rms: number;
}

const strays = (apart: readonly number[]): Strays => ({
  mean: apart.reduce((sum, x) => sum + x, 0) / apart.length,
  rms: Math.sqrt(apart.reduce((sum, x) => sum + x * x, 0) / apart.length),
});

/** How far the table strays from the stations: sun by month and region in %, with the factor and without, years, air in K. */
export function judged() {
  const all = stations().map((station) => {
    const { lat, lon, elev, ghi, t } = station;
    const sun = [true, false].map((hasFactor) => guessedSun_kWh_m2_day(lat, lon, hasFactor));
    const air_C = firstGuess(lat, lon, elev).air_temperature_C;
    const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
    return {
      station,
      months: sun.map((guess) => guess.map((value, m) => 100 * (value / ghi[m]! - 1))),
      year: sun.map((guess) => 100 * (sum(guess) / sum(ghi) - 1)),
      air_K: air_C.map((value, m) => value - t[m]!),
    };
  });
  return REGIONS.map(([region, has]) => {
    const here = all.filter(({ station }) => has(station));
    const of = (k: number, months: readonly number[]): Strays =>
      strays(here.flatMap((one) => months.map((m) => one.months[k]![m]!)));
    return {
      region,
      stations: here.length,
      months: SPANS.map(([month, which]) => ({
        month,
        with_factor: of(0, which),
        without: of(1, which),
        air_K: strays(here.flatMap(({ air_K }) => which.map((m) => air_K[m]!))),
      })),
      year: {
        with_factor: strays(here.map(({ year }) => year[0]!)),
        without: strays(here.map(({ year }) => year[1]!)),
      },
    };
  });
}

if (process.argv[1] === import.meta.filename) {
  writeFileSync(TABLE, tableText());
  const said = ({ mean, rms }: Strays): string => `${mean.toFixed(1)} (${rms.toFixed(1)})`;
  for (const { region, stations: count, months, year } of judged()) {
    console.log(
      `\n${region}, ${count} stations: mean (rms) of sun with the factor, without it, %; of air, K`,
    );
    console.table(
      Object.fromEntries(
        months.map(({ month, with_factor, without, air_K }) => [
          month,
          { with: said(with_factor), without: said(without), air: said(air_K) },
        ]),
      ),
    );
    console.log('years', said(year.with_factor), said(year.without));
  }
}
