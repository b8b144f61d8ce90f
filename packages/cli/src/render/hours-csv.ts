import { LEDGER_COLUMNS, type Ledger, type PreparedYear } from '@longnight/core';
import { stringify } from 'csv-stringify/sync';
import { stepTimes } from './step-times.ts';

/** A column of hours.csv beside the ledger's own. */
interface Beside {
  readonly name: string;
  readonly values: Float64Array;
}

/**
 * The whole ledger as RFC 4180 text, one row a step, lines ended by CRLF. Numbers carry every digit they have, so that
 * sums made in a spreadsheet are those of report.json.
 *
 * @returns the text; its header names each column with its unit
 */
export function hoursCsv(year: PreparedYear, ledger: Ledger): string {
  const beside = columnsBeside(year);
  const header = textRow([
    'time_local',
    'time_utc',
    ...beside.map((column) => column.name),
    ...LEDGER_COLUMNS.map((column) => column.name),
  ]);
  const columns = [
    ...beside.map((column) => column.values),
    ...LEDGER_COLUMNS.map((column) => ledger.columns[column.name]),
  ];
  const times = stepTimes(year.clock);
  let text = header;
  for (let i = 0; i < ledger.steps; i++) {
    text += times(i);
    for (const column of columns) text += `,${plainNumber(column[i]!)}`;
    text += '\r\n';
  }
  return text;
}

/** Weather and bank temperature of each step, and the loads of each tier where there are several. */
function columnsBeside(year: PreparedYear): Beside[] {
  const { sky, loads, clock } = year;
  const tiers = loads.tiers.length < 2 ? [] : loads.tiers;
  return [
    { name: 'ghi_W_m2', values: sky.ghi_W_m2 },
    { name: 'plane_W_m2', values: meanPlane_W_m2(year) },
    { name: 'air_temperature_C', values: sky.air_temperature_C },
    { name: 'bank_temperature_C', values: year.bank_temperature_C },
    ...tiers.map((tier, k) => ({
      name: `load_tier_${tier}_wanted_kWh`,
      values: loads.tier_kW[k]!.map((power_kW) => power_kW * clock.step_h),
    })),
  ];
}

/** Irradiance on the arrays' planes, weighted by their sizes: what the performance ratio is measured against. */
function meanPlane_W_m2(year: PreparedYear): Float64Array {
  const sizes = year.scenario.arrays.map((array) => array.size_kWp);
  const whole_kWp = sizes.reduce((sum, size) => sum + size, 0);
  const mean = new Float64Array(year.clock.steps);
  year.arrays.forEach((array, a) => {
    const weight = whole_kWp > 0 ? sizes[a]! / whole_kWp : 1 / sizes.length;
    for (let i = 0; i < mean.length; i++) mean[i]! += weight * array.plane_W_m2[i]!;
  });
  return mean;
}

/**
 * A number without an exponent, which spreadsheets read each in their own way. What is below 5e-19 in size is rounding
 * and becomes 0; so does minus zero.
 */
export function plainNumber(value: number): string {
  if (value === 0) return '0';
  if (!Number.isFinite(value)) throw new Error(`hours.csv: a column holds ${value}`);
  const size = Math.abs(value);
  if (size >= 1e-6 && size < 1e21) return String(value);
  if (size >= 1e21) return BigInt(value).toString();
  const digits = value.toFixed(18).replace(/0+$/, '');
  return /[1-9]/.test(digits) ? digits : '0';
}

/**
 * A row of text cells: quoted where RFC 4180 asks for it, and marked with an apostrophe where a spreadsheet would take
 * the cell for a formula.
 */
export function textRow(cells: readonly string[]): string {
  return stringify([[...cells]], { escape_formulas: true, record_delimiter: 'windows' });
}
