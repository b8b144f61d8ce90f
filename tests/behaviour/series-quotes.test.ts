/** Rows with quotes, against csv-parse, a parser of RFC 4180 that isn't ours. */
import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cellsOf, eachRow } from '../../packages/core/src/series/table.ts';

type Row = readonly [line: number, cells: readonly string[]];

function ours(text: string, delimiter: string, comment?: string): Row[] {
  const rows: Row[] = [];
  eachRow(text, { delimiter, comment }, 'f.csv', (cells, line) => rows.push([line, [...cells]]));
  return rows;
}

const quoted = (cell: string): string => `"${cell.replaceAll('"', '""')}"`;
const awkward = fc.string({ unit: fc.constantFrom('a', '5', ' ', ',', ';', '"', '\n', 'é'), maxLength: 6 });
const plain = fc.string({ unit: fc.constantFrom('a', '5', '.', 'é', '-'), maxLength: 4 });
const cell = fc.oneof(awkward.map(quoted), plain);

describe('rows with quotes', () => {
  it.each([',', ';', '\t'])('are those another parser reads, split by %j', (delimiter) => {
    const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 6 });
    const ends = fc.constantFrom('\n', '\r\n');
    fc.assert(
      fc.property(table, ends, fc.boolean(), (rows, lineEnd, isClosed) => {
        const text = rows.map((cells) => cells.join(delimiter)).join(lineEnd) + (isClosed ? lineEnd : '');
        const theirs = parse(text, { delimiter, relax_column_count: true, skip_empty_lines: true });
        // A line of blanks and tabs alone is no row here.
        const isBlank = (cells: readonly string[]) => delimiter === '\t' && cells.join('').trim() === '';
        fc.pre(!theirs.some(isBlank));
        expect(ours(text, delimiter).map(([, cells]) => cells)).toEqual(theirs);
      }),
      { numRuns: 500, seed: 4180 },
    );
  });

  it('stand at their first line, breaks within cells counted', () => {
    const text = 'time,"a\nnote"\n1,"x\r\ny\n"\r\n# "left open\n2,z\n';
    expect(ours(text, ',', '#')).toEqual([
      [1, ['time', 'a\nnote']],
      [3, ['1', 'x\r\ny\n']],
      [7, ['2', 'z']],
    ]);
  });

  it.each(['"a', 'a"', '"a"b,c', ' "a"', '"a""', '"a,b\nc'])(
    'are refused where quotes do not match: %j',
    (row) => {
      expect(() => parse(row)).toThrow();
      expect(() => ours(row, ',')).toThrow(/quotes of a cell do not match/);
    },
  );

  it('are kept as they are in a head line of a weather file', () => {
    expect(cellsOf('LOCATION,"A, or B",5', ',')).toEqual(['LOCATION', 'A, or B', '5']);
    expect(cellsOf('LOCATION,5" pipe,"x', ',')).toEqual(['LOCATION', '5" pipe', '"x']);
  });
});
