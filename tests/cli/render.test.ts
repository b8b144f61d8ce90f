import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import { amount, fixed, hours, kWh, percent } from '../../packages/cli/src/render/document/figures.ts';
import { json, reportJson } from '../../packages/cli/src/render/document/json.ts';
import { escaped, table } from '../../packages/cli/src/render/document/markdown-text.ts';
import { plain, wrapped } from '../../packages/cli/src/render/document/plain-text.ts';
import { written } from '../../packages/cli/src/render/document/written.ts';
import { DecimalWriter } from '../../packages/cli/src/render/tables/decimal-writer.ts';
import { textRow } from '../../packages/cli/src/render/tables/hours-csv.ts';

test('a share that is not all or nothing is never rounded to it', () => {
  expect(percent(0)).toBe('0 %');
  expect(percent(1)).toBe('100 %');
  expect(percent(0.99999)).toBe('99.999 %');
  expect(percent(0.9999999)).toBe('over 99.999 %');
  expect(percent(0.00004)).toBe('0.004 %');
  expect(percent(1e-9)).toBe('under 0.001 %');
  expect(percent(0.123)).toBe('12 %');
  expect(percent(0.0456)).toBe('4.6 %');
  expect(percent(2.5)).toBe('250 %');
  expect(percent(null)).toBe('n/a');
});

test('amounts carry three digits or all whole ones, and are 0 only when they are', () => {
  expect([0, 0.004, 0.5, 9.994, 9.996, 99.96, 1234.5, 12_345.6, 1e6].map(amount)).toEqual([
    '0',
    'under 0.01',
    '0.50',
    '9.99',
    '10.0',
    '100',
    '1235',
    '12,346',
    '1,000,000',
  ]);
  expect(kWh(null)).toBe('n/a');
  expect(fixed(-0.001, 2)).toBe('0.00');
  expect(fixed(-1234.567, 1)).toBe('-1234.6');
  expect(hours(31)).toBe('31 h');
  expect(hours(31.25)).toBe('31.3 h');
});

/** A number as a cell of hours.csv. */
function cell(value: number): string {
  const writer = new DecimalWriter(0);
  writer.cell(value);
  return new TextDecoder().decode(writer.bytes()).slice(1);
}

test('numbers in hours.csv have no exponent, no minus zero, and twelve decimals', () => {
  const cells: [number, string][] = [
    [0, '0'],
    [-0, '0'],
    [-1e-15, '0'],
    [7, '7'],
    [-12, '-12'],
    [0.1 + 0.2, '0.3'],
    [0.1234567890123, '0.123456789012'],
    [1.5e-7, '0.00000015'],
    [-2e-10, '-0.0000000002'],
    [0.9999999999999, '1'],
    [9.9999999999999, '10'],
    [1234.000001, '1234.000001'],
    [123_456_789.25, '123456789.25'],
    [5e9 + 0.5, '5000000000.5'],
    [-5e9, '-5000000000'],
    [2 ** 80, '1208925819614629174706176'],
  ];
  expect(cells.map(([value]) => cell(value))).toEqual(cells.map(([, text]) => text));
  for (const broken of [Number.NaN, Number.POSITIVE_INFINITY])
    expect(() => cell(broken)).toThrow(/hours\.csv/);
});

/** Of every size; a plain `fc.double` is hardly ever between 0.001 and 1000. */
const sized = fc
  .tuple(fc.double({ min: -10, max: 10, noNaN: true }), fc.integer({ min: -13, max: 11 }))
  .map(([value, power]) => value * 10 ** power);

test.prop([sized])('a number is written with twelve digits, alike in cells and in JSON', (value) => {
  const rounded = written(value);
  const size = Math.abs(value);
  // Half of the twelfth digit, or of the twelfth decimal below 1, and the double's own last digit.
  const grain = size < 1 ? 1e-12 : 10 ** (Math.floor(Math.log10(size)) - 11);
  expect(Math.abs(rounded - value)).toBeLessThanOrEqual(0.5001 * grain + size * Number.EPSILON);
  if (size >= 1) expect(rounded).toBe(Number(rounded.toPrecision(12)));
  expect(Object.is(rounded, -0)).toBe(false);
  expect(cell(value)).toMatch(/^-?\d+(\.\d*[1-9])?$/);
  expect(Number(cell(value))).toBe(rounded);
  expect(JSON.parse(json('x', [value]))).toEqual([rounded]);
});

test('what engines differ by is not written: last digits go, whole numbers and instants stay', () => {
  // 10 ** -0.3 and its neighbour; a sum in another order; the noise of a balance.
  expect(json('x', [0.501187233627272, 0.5011872336272724])).toBe('[0.501187233627,0.501187233627]');
  expect(json('x', [0.1 + 0.2 + 0.3, 0.1 + (0.2 + 0.3)])).toBe('[0.6,0.6]');
  expect(json('x', [3.524958103184872e-15, -3.49e-15, -0])).toBe('[0,0,0]');
  const whole = [0, 1, -8760, 1_767_225_600_123, 2 ** 53];
  expect(JSON.parse(json('x', whole))).toEqual(whole);
  expect(json('x', { a: [19_253.12345678901], b: 'text', c: null })).toBe(
    '{"a":[19253.1234568],"b":"text","c":null}',
  );
  for (const broken of [Number.NaN, Number.POSITIVE_INFINITY]) expect(written(broken)).toBe(broken);
});

test('what is written before the writer grows stays', () => {
  const writer = new DecimalWriter(0);
  writer.text('°C|');
  for (let k = 0; k < 1000; k++) writer.cell(k + 0.5);
  const [first, ...cells] = new TextDecoder().decode(writer.bytes()).split(',');
  expect(first).toBe('°C|');
  expect(cells.map(Number)).toEqual(Array.from({ length: 1000 }, (_, k) => k + 0.5));
});

test('a text cell can not become a formula, nor break out of its cell', () => {
  for (const start of ['=', '+', '-', '@', '\t', '\r']) {
    const cell = textRow([`${start}1+1`, 'b']);
    expect(cell.replace(/^"/, '')[0]).toBe("'");
  }
  expect(textRow(['a,b', 'say "x"', 'plain'])).toBe('"a,b","say ""x""",plain\r\n');
});

test('a figure that is none does not get into report.json', () => {
  const broken = { unmet: { energy_kWh: Number.NaN } } as unknown as Parameters<typeof reportJson>[0];
  expect(() => reportJson(broken)).toThrow(/energy_kWh is NaN/);
});

test('text from a file shows as text: in Markdown and on a terminal', () => {
  expect(escaped('a|b <i>*x*</i> `c` [d](e) # &amp;')).toBe(
    'a\\|b \\<i\\>\\*x\\*\\</i\\> \\`c\\` \\[d\\](e) \\# \\&amp;',
  );
  expect(escaped('two\nlines')).toBe('two lines');
  expect(plain('red \u001b[31mname\u009b0m\u202e')).toBe('red [31mname0m');
  const pipes = table([{ title: 'a' }, { title: 'n', figures: true }], [[escaped('x|y'), '1']]).split('\n');
  expect(new Set(pipes.map((line) => line.length)).size).toBe(1);
});

test('lines are broken at spaces and never beyond the width', () => {
  const text = 'the quick brown fox jumps over the lazy dog';
  const lines = wrapped(text, 12);
  expect(lines.join(' ')).toBe(text);
  expect(lines.every((line) => line.length <= 12)).toBe(true);
  expect(wrapped('extraordinarily long', 5)).toEqual(['extraordinarily', 'long']);
});
