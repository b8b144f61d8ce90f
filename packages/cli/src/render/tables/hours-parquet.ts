import { parquetWriteBuffer, schemaFromColumnData } from 'hyparquet-writer';
import { written } from '../document/written.ts';
import type { HoursTable } from './hours-table.ts';

/**
 * The table as Parquet: times as timestamps, those of the wall clock marked as local, its offset from UTC in whole
 * minutes, the rest as doubles.
 */
export function hoursParquet({ times, columns }: HoursTable): Uint8Array {
  const columnData = [
    ...times.map(({ name, unit, values }) => ({
      name,
      data: unit === 'time' ? BigInt64Array.from(values, BigInt) : Int32Array.from(values),
    })),
    ...columns.map(({ name, values }) => ({
      name,
      data: values.map(written),
      type: 'DOUBLE' as const,
      nullable: false,
    })),
  ];
  const timestamp = (name: string, isAdjustedToUTC: boolean) => ({
    name,
    type: 'INT64' as const,
    repetition_type: 'REQUIRED' as const,
    // For readers that know no logical types; there is no such word for a local time.
    ...(isAdjustedToUTC ? { converted_type: 'TIMESTAMP_MILLIS' as const } : {}),
    logical_type: { type: 'TIMESTAMP' as const, isAdjustedToUTC, unit: 'MILLIS' as const },
  });
  const schema = schemaFromColumnData({
    columnData,
    schemaOverrides: {
      time_local: timestamp('time_local', false),
      time_utc: timestamp('time_utc', true),
    },
  });
  const buffer = parquetWriteBuffer({
    columnData: columnData.map(({ name, data }) => ({ name, data })),
    schema,
    // Zeros go into a dictionary all the same; packing the rest takes three times as long for a quarter less.
    codec: 'UNCOMPRESSED',
    statistics: false,
    kvMetadata: [...times, ...columns].map(({ name, unit, kind, meaning }) => ({
      key: `column.${name}`,
      value: `${unit}, ${kind}: ${meaning}`,
    })),
  });
  return new Uint8Array(buffer);
}
