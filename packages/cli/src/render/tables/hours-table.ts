import {
  type Clock,
  LEDGER_COLUMNS,
  type Ledger,
  type LedgerColumn,
  overPeriods,
  type Period,
  type PreparedYear,
  periodStarts,
} from '@longnight/core';
import { BESIDE_COLUMNS, TIME_COLUMNS, tierColumn } from '@longnight/core/ledger';

/** A column of the year with its values, one a row. */
export interface TableColumn extends Omit<LedgerColumn, 'kind'> {
  readonly kind: LedgerColumn['kind'] | 'start';
  readonly values: Float64Array;
}

/** The year as a table, for hours.csv and all that is made from the same rows. */
export interface HoursTable {
  readonly clock: Clock;
  /** First step of each row, and the number of steps behind the last. */
  readonly starts: Uint32Array;
  /** When each row begins: by the wall clock and in UTC, epoch ms, and the minutes between the two. */
  readonly times: readonly TableColumn[];
  readonly columns: readonly TableColumn[];
}

/** Weather, bank temperature, loads by tier and the ledger, one row a period. */
export function hoursTable(ledger: Ledger, every: Period = 'step'): HoursTable {
  const { year } = ledger;
  const { clock } = year;
  const starts = periodStarts(clock, every);
  const utc_ms = Float64Array.from(starts.subarray(0, -1), (step) => clock.start_ms[step]!);
  const offset_min = Float64Array.from(starts.subarray(0, -1), (step) => clock.offset_min[step]!);
  const local_ms = utc_ms.map((at_ms, row) => at_ms + offset_min[row]! * 60_000);
  const columns = [
    ...columnsBeside(year),
    ...LEDGER_COLUMNS.map((column) => ({ ...column, values: ledger.columns[column.name] })),
  ];
  return {
    clock,
    starts,
    times: [local_ms, offset_min, utc_ms].map((values, k) => ({ ...TIME_COLUMNS[k]!, values })),
    columns:
      every === 'step'
        ? columns
        : columns.map((column) => ({ ...column, values: overPeriods(column.values, column.kind, starts) })),
  };
}

/** Weather and bank temperature of each step, and the loads of each tier where there are several. */
function columnsBeside(year: PreparedYear): (LedgerColumn & TableColumn)[] {
  const { sky, loads, clock } = year;
  const values: Record<(typeof BESIDE_COLUMNS)[number]['name'], Float64Array> = {
    ghi_W_m2: sky.ghi_W_m2,
    plane_W_m2: meanPlane_W_m2(year),
    air_temperature_C: sky.air_temperature_C,
    bank_temperature_C: year.bank_temperature_C,
  };
  const tiers = loads.tiers.length < 2 ? [] : loads.tiers;
  return [
    ...BESIDE_COLUMNS.map((column) => ({ ...column, values: values[column.name] })),
    ...tiers.map((tier, k) => ({
      ...tierColumn(tier),
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
