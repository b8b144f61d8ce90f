import { LEDGER_COLUMNS, type Ledger, type PreparedYear } from '@longnight/core';
import { stringify } from 'csv-stringify/sync';
import { DecimalWriter } from './decimal-writer.ts';
import { stepTimes } from './step-times.ts';

/** A column of hours.csv beside the ledger's own. */
interface Beside {
  readonly name: string;
  readonly values: Float64Array;
}

/**
 * The whole ledger as RFC 4180 text, one row a step, lines ended by CRLF; sums made from it are those of report.json.
 *
 * @returns UTF-8; the header names each column with its unit
 */
export function hoursCsv(year: PreparedYear, ledger: Ledger): Uint8Array {
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
  const writer = new DecimalWriter(ledger.steps * columns.length * 12);
  writer.text(header);
  for (let i = 0; i < ledger.steps; i++) {
    writer.ascii(times(i));
    for (const column of columns) writer.cell(column[i]!);
    writer.ascii('\r\n');
  }
  return writer.bytes();
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
 * A row of text cells: quoted where RFC 4180 asks for it, and marked with an apostrophe where a spreadsheet would take
 * the cell for a formula.
 */
export function textRow(cells: readonly string[]): string {
  return stringify([[...cells]], { escape_formulas: true, record_delimiter: 'windows' });
}
