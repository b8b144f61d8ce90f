import type { Comparison } from '@longnight/core';
import { plain } from '../document/plain-text.ts';
import { DecimalWriter } from '../tables/decimal-writer.ts';
import { textRow } from '../tables/hours-csv.ts';
import { ASKED_WORDS } from './rows.ts';

/** compare.csv: RFC 4180, one row a figure, one column a plant; empty where a plant has no such figure. */
export function compareCsv({ plants, rows, asked, currency }: Comparison): Uint8Array {
  const labels = plants.map((plant) => plain(plant.label));
  const writer = new DecimalWriter(rows.length * 160);
  writer.text(textRow(['figure', 'unit', 'meaning', ...labels, 'best']));
  const priced = asked.rows.map((row) => ({
    ...row,
    unit: `money/${row.per}`,
    meaning: ASKED_WORDS[row.name],
  }));
  for (const row of [...rows, ...priced]) {
    const unit = plain(row.unit.replace('money', currency ?? 'money'));
    writer.text(textRow([row.name, unit, row.meaning]).slice(0, -'\r\n'.length));
    for (const value of row.values) {
      if (value === null) writer.ascii(',');
      else writer.cell(value);
    }
    writer.text(`,${textRow([row.winners.map((k) => labels[k]!).join(', ')])}`);
  }
  return writer.bytes();
}
