/**
 * Figures of four stations whose weather others published, so that a bare clone is held to real places too. The rows
 * themselves are no part of the project: a script apart from it (no code shared; the sun by the Astronomical Almanac's
 * low-precision formula, planes after Hay & Davies 1980) added these up from them, and the single hours are copied.
 *
 * Boston and Golden: NREL's TMY3 725090 and 724666; Melbourne: CSIRO Data61's typical year of the Bureau of Meteorology's
 * minutes at 086282, its diffuse light being what is left of the global; Lyngby: the roof of DTU, 2016, hourly means.
 */
export interface MeasuredStation {
  readonly name: string;
  readonly latitude_deg: number;
  readonly longitude_deg: number;
  readonly elevation_m: number;
  /** Standard time of the rows. */
  readonly time_zone: string;
  /** Played as; the months of a typical year come from years of their own. */
  readonly year: number;
  /** On the horizontal, kWh/m², January first: measured, and with no air at 1367 W/m² in the year it is played as. */
  readonly ghi_kWh_m2: readonly number[];
  readonly above_air_kWh_m2: readonly number[];
  /** Of the year. */
  readonly dhi_kWh_m2: number;
  /** Of the year on planes towards the equator, by the hours' own beam and diffuse light, albedo 0.2. */
  readonly planes_kWh_m2: readonly (readonly [tilt_deg: number, sum: number])[];
  /** Hours that begin at a UTC time: global, beam and diffuse light, W/m²; clear beside clear hours, overcast if dull. */
  readonly hours: readonly (readonly [
    sky: 'clear' | 'low sun' | 'dull',
    start_utc: string,
    ghi: number,
    dni: number,
    dhi: number,
  ])[];
  /** Whether its diffuse light was measured, and not what is left of the global. */
  readonly closes_by_itself: boolean;
}

// biome-ignore format: tables are read by rows
export const MEASURED_STATIONS: readonly MeasuredStation[] = [
  {
    name: 'Boston', latitude_deg: 42.367, longitude_deg: -71.017, elevation_m: 6, time_zone: 'Etc/GMT+5', year: 2025,
    ghi_kWh_m2: [55.5, 77.7, 111.9, 135.4, 172.7, 172.9, 188.1, 165.8, 127.7, 92.5, 60.2, 47.4],
    above_air_kWh_m2: [121.0, 152.0, 232.7, 286.8, 341.6, 348.4, 348.5, 309.4, 243.2, 185.8, 127.0, 106.2],
    dhi_kWh_m2: 651.8,
    planes_kWh_m2: [[20, 1579], [40, 1612], [90, 1100]],
    hours: [
      ['clear', '1976-01-22T16:00Z', 445, 736, 105],
      ['clear', '1990-04-23T16:00Z', 885, 825, 173],
      ['clear', '1981-07-09T16:00Z', 984, 822, 213],
      ['clear', '1986-10-07T16:00Z', 698, 921, 77],
      ['low sun', '1978-05-20T10:00Z', 124, 407, 43],
      ['dull', '1978-05-26T20:00Z', 221, 0, 221],
    ],
    closes_by_itself: true,
  },
  {
    name: 'Golden', latitude_deg: 39.742, longitude_deg: -105.179, elevation_m: 1829, time_zone: 'Etc/GMT+7', year: 2025,
    ghi_kWh_m2: [71.8, 85.4, 145.7, 170.6, 189.5, 187.9, 191.4, 182.7, 147.9, 107.9, 86.4, 52.7],
    above_air_kWh_m2: [135.0, 163.9, 243.1, 292.8, 343.5, 348.1, 349.3, 313.8, 251.5, 197.7, 140.0, 120.1],
    dhi_kWh_m2: 577.9,
    planes_kWh_m2: [[20, 1836], [40, 1883], [90, 1267]],
    hours: [
      ['clear', '1999-01-28T19:00Z', 585, 1019, 46],
      ['clear', '2004-04-27T18:00Z', 1006, 986, 123],
      ['clear', '2004-07-01T19:00Z', 1004, 935, 112],
      ['clear', '1998-10-06T18:00Z', 770, 986, 75],
      ['low sun', '1991-06-28T12:00Z', 103, 509, 26],
      ['dull', '1991-06-14T19:00Z', 279, 0, 279],
    ],
    closes_by_itself: true,
  },
  {
    name: 'Melbourne', latitude_deg: -37.6655, longitude_deg: 144.8321, elevation_m: 113, time_zone: 'Etc/GMT-10', year: 2025,
    ghi_kWh_m2: [218.5, 158.6, 143.9, 97.6, 65.9, 51.8, 63.7, 88.3, 120.7, 154.5, 183.3, 201.9],
    above_air_kWh_m2: [371.5, 298.0, 268.0, 193.6, 147.1, 119.0, 133.6, 176.3, 230.8, 304.5, 345.6, 382.1],
    dhi_kWh_m2: 658.1,
    planes_kWh_m2: [[20, 1690], [40, 1679], [90, 1055]],
    hours: [
      ['clear', '2010-01-04T02:00Z', 1068.8, 1031.7, 74.2],
      ['clear', '2001-04-03T02:00Z', 780.3, 954.3, 84.3],
      ['clear', '2000-07-23T02:00Z', 522.4, 860.5, 64.4],
      ['clear', '2009-10-31T02:00Z', 952.8, 938.1, 99.4],
      ['low sun', '2000-07-02T22:00Z', 94.4, 387.5, 40.5],
      ['dull', '2004-08-05T03:00Z', 156.5, 3, 154.9],
    ],
    closes_by_itself: false,
  },
  {
    name: 'Lyngby', latitude_deg: 55.79064, longitude_deg: 12.52505, elevation_m: 50, time_zone: 'Etc/UTC', year: 2016,
    ghi_kWh_m2: [15.2, 31.8, 64.3, 100.6, 184.5, 170.4, 150.1, 128.3, 96.6, 36.1, 22.1, 10.2],
    above_air_kWh_m2: [50.4, 91.6, 173.4, 249.0, 324.8, 343.9, 337.6, 278.4, 192.5, 119.7, 59.8, 38.2],
    dhi_kWh_m2: 507.5,
    planes_kWh_m2: [[20, 1144], [40, 1183], [90, 858]],
    hours: [
      ['clear', '2016-04-22T11:00Z', 780.9, 948.5, 79.3],
      ['clear', '2016-07-22T11:00Z', 789.4, 887.1, 76.9],
      ['clear', '2016-10-04T10:00Z', 482.6, 894.9, 50.8],
      ['low sun', '2016-07-21T04:00Z', 133.2, 427.4, 45.6],
      ['dull', '2016-06-17T13:00Z', 216.1, 0.9, 217.3],
    ],
    closes_by_itself: true,
  },
];
