/** Reading labelled tables and laying them on a clock. All series are invented. */

import { InputError, type Issue } from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import type { Gaps } from '@longnight/core/scenario';
import { DateTime } from 'luxon';
import { describe, expect, it } from 'vitest';
import { layOnClock } from '../../packages/core/src/series/grid.ts';
import type { Layout } from '../../packages/core/src/series/layout.ts';
import { readSeries } from '../../packages/core/src/series/read.ts';

const HOUR_ms = 3_600_000;
const REFUSE: Gaps = { fill: 'refuse', longest_h: 0 };
const fillUpTo = (longest_h: number): Gaps => ({ fill: 'interpolate', longest_h });

type Label = 'start' | 'middle' | 'end';
interface Spec {
  readonly zone?: string;
  readonly label?: Label;
  readonly format?: string;
  readonly year?: number;
  readonly delimiter?: string;
}
function read(text: string, { zone = 'UTC', label = 'start', format, year, delimiter = ',' }: Spec = {}) {
  const time = { column: 'time', zone, label, format, year };
  return readSeries(text, 'f.csv', { delimiter, time }, [{ name: 'x', column: 'x' }]);
}

function issuesOf(work: () => unknown): readonly Issue[] {
  try {
    work();
  } catch (error) {
    if (error instanceof InputError) return error.issues;
    throw error;
  }
  return [];
}
/** `code line column` of each issue. */
const brief = (issues: readonly Issue[]): string[] =>
  issues.map((i) => `${i.code} ${i.place?.line ?? '-'} ${i.place?.field ?? ''}`.trim());

const table = (rows: readonly string[], header = 'time,x'): string => `${[header, ...rows].join('\n')}\n`;
const iso = (at_ms: number): string => new Date(at_ms).toISOString().slice(0, 16);

/** Rows of `step_min` from an instant on, stamped in UTC. */
const rowsFrom = (
  from_ms: number,
  count: number,
  step_min: number,
  value: (i: number) => number | '',
): string[] => Array.from({ length: count }, (_, i) => `${iso(from_ms + i * step_min * 60_000)},${value(i)}`);

const year = (y: number): number => Date.UTC(y, 0, 1);

describe('the text of a table', () => {
  const rows = ['2025-01-01T00:00,1', '2025-01-01T01:00,2.5', '2025-01-01T02:00,', '2025-01-01T03:00,-4e-1'];

  it('gives rows, lines and values; an empty cell is a missing value', () => {
    const series = read(table(rows));
    expect([...series.start_ms]).toEqual([0, 1, 2, 3].map((h) => year(2025) + h * HOUR_ms));
    expect([...series.line]).toEqual([2, 3, 4, 5]);
    expect([...series.values.get('x')!]).toEqual([1, 2.5, Number.NaN, -0.4]);
  });

  it('reads the same with quotes, blanks, empty lines, a byte order mark, any delimiter and any line ending', () => {
    const plain = read(table(rows));
    const same = (text: string, spec?: Spec) => {
      const { start_ms, values } = read(text, spec);
      expect([...start_ms]).toEqual([...plain.start_ms]);
      expect([...values.get('x')!]).toEqual([...plain.values.get('x')!]);
    };
    const text = table(rows);
    same(`\uFEFF${text}`);
    same(text.replaceAll('\n', '\r\n'));
    same(text.replaceAll('\n', '\r'));
    same(text.replaceAll('\n', '\n\n'));
    same(text.replaceAll(',', ';'), { delimiter: ';' });
    same(text.replaceAll(',', '\t'), { delimiter: '\t' });
    same(text.replaceAll(',', ' , '));
    same(text.trimEnd());
    same(table(rows.map((row) => row.replace(/^([^,]*)/, '"$1"'))));
    same(table(rows.map((row) => row.replace(/^([^,]*)/, '"$1"'))).replaceAll('\n', '\r\n'));
    same(
      table(
        rows.map((row) => `"a ""word"", or two",${row}`),
        'note,time,x',
      ),
    );
  });

  describe('laid out another way', () => {
    const columns = [{ name: 'x', column: 'x' }];
    const time = { column: 'time', zone: 'UTC', label: 'start' } as const;
    const laid = (text: string, layout: Partial<Layout>) =>
      readSeries(text, 'f.csv', { delimiter: ',', time, ...layout }, columns);
    const values = (text: string, layout: Partial<Layout>) => [...laid(text, layout).values.get('x')!];
    const stamped = (cells: readonly string[]) =>
      cells.map((cell, h) => `2025-01-01T0${h}:00;${cell}`).join('\n');

    it('has decimal commas, in quotes too where the comma is the delimiter', () => {
      const text = `time;x\n${stamped(['1', '2,5', '', '-4,5e-1', ',5'])}\n`;
      expect(values(text, { delimiter: ';', decimal: 'comma' })).toEqual([1, 2.5, Number.NaN, -0.45, 0.5]);
      const quoted = 'time,x\n2025-01-01T00:00,"1,5"\n2025-01-01T01:00,2\n';
      expect(values(quoted, { decimal: 'comma' })).toEqual([1.5, 2]);
      expect(brief(issuesOf(() => laid(text, { delimiter: ';' })))).toEqual([
        'not-a-number 3 x',
        'not-a-number 5 x',
        'not-a-number 6 x',
      ]);
    });

    it.each(['1.5', '1.234,5', '1,234,5', '1 234,5'])('has no decimal comma in "%s"', (cell) => {
      const text = `time;x\n${stamped(['1', cell])}\n`;
      const issues = issuesOf(() => laid(text, { delimiter: ';', decimal: 'comma' }));
      expect(brief(issues)).toEqual(['not-a-number 3 x']);
    });

    it('says of a stray quote where it stands, and not where the next one closes it', () => {
      const stray = (from: string) => [
        `time,x\n2025-01-01T00:00,1\n${from}\n2025-01-01T02:00,3\n2025-01-01T03:00,4",\n`,
        'a quoted cell runs over several lines',
      ];
      for (const [text, message] of [stray('2025-01-01T01:00,"2'), stray('"2025-01-01T01:00,2')])
        expect(issuesOf(() => laid(text!, {}))[0]).toMatchObject({ place: { line: 3 }, message });
    });

    it('has comments before, below and among the rows, plain or in quotes', () => {
      for (const quote of ['', '"']) {
        const text = `# one, two\n#\ntime,${quote}x${quote}\n# units\n2025-01-01T00:00,1\n # late\n2025-01-01T01:00,2\n`;
        const series = laid(text, { comment: '#' });
        expect([...series.line]).toEqual([5, 7]);
        expect([...series.values.get('x')!]).toEqual([1, 2]);
      }
    });

    it('has rows of units below the header', () => {
      const text = 'time,x\nUTC,kW\n-,-\n2025-01-01T00:00,1\n2025-01-01T01:00,2\n';
      expect([...laid(text, { skip_rows: 2 }).line]).toEqual([4, 5]);
      const [first, ...rest] = issuesOf(() => laid(text, { skip_rows: 1 }));
      expect(brief([first!])).toEqual(['second-header 3']);
      expect(first!.fix).toBe('set skip_rows: 2');
      expect(rest).toEqual([]);
    });

    it('has codes and words for what is missing', () => {
      const text = `time;x\n${stamped(['-9999', '9999', 'NA', '-9999.0', '99990'])}\n`;
      const missing = [-9999, 9999, 'NA'];
      expect(values(text, { delimiter: ';', missing })).toEqual([NaN, NaN, NaN, NaN, 99990]);
      const issues = issuesOf(() => laid(text, { delimiter: ';' }));
      expect(brief(issues)).toEqual(['not-a-number 4 x']);
      expect(issues[0]!.fix).toContain('list what stands there under missing');
    });
  });

  it('keeps the line numbers of the file where lines are empty', () => {
    expect([...read('time,x\n\n2025-01-01T00:00,1\n\n\n2025-01-01T01:00,2\n').line]).toEqual([3, 6]);
    expect([...read('"time",x\n\n2025-01-01T00:00,1\n\n\n2025-01-01T01:00,2\n').line]).toEqual([3, 6]);
  });

  it.each<[text: string, issues: string[], words: RegExp]>([
    ['', ['too-few-rows -'], /empty/],
    ['time,x\n', ['too-few-rows -'], /two rows/],
    ['time,x\n2025-01-01T00:00,1\n', ['too-few-rows -'], /two rows/],
    [table(rows, 'time,y'), ['missing-column 1'], /"x".*"time", "y"/],
    [table(rows, 'tiem,x'), ['missing-column 1'], /did you mean "tiem"/],
    [table(rows, 'a,b'), ['missing-column 1', 'missing-column 1'], /"time"[\s\S]*"x"/],
    [
      table(
        rows.map((r) => `${r},1`),
        'time,x, x',
      ),
      ['duplicate-column 1'],
      /two columns/,
    ],
    [table(rows).replaceAll(',', ';'), ['wrong-delimiter 1'], /set delimiter: ";"/],
    [table(rows).replaceAll(',', '\t'), ['wrong-delimiter 1'], /set delimiter: "\\t"/],
    [table(rows.with(1, '2025-01-01T01:00')), ['ragged-row 3'], /1 cells where the header has 2/],
    [table(rows.with(1, '2025-01-01T01:00,2,5')), ['ragged-row 3'], /3 cells/],
    [table(rows.with(1, '2025-01-01T01:00,"2')), ['quotes 3'], /quote/],
    [table(rows.with(1, '2025-01-01T01:00,"2" kW')), ['quotes 3'], /quote/],
    [table(rows.with(1, '2025-01-01T01:00, "2"')), ['quotes 3'], /quote/],
    [
      table(rows.with(1, '2025-01-01T01:00,NaN')),
      ['not-a-number 3 x'],
      /leave the cell empty and set gaps\.fill/,
    ],
    [table(rows.with(1, '2025-01-01T01:00,-')), ['not-a-number 3 x'], /leave the cell empty/],
    [table(rows.with(1, '2025-01-01T01:00,Infinity')), ['not-a-number 3 x'], /leave the cell empty/],
    [table(rows.with(1, '2025-01-01T01:00,0x10')), ['not-a-number 3 x'], /0x10/],
    [table(rows.with(1, '2025-01-01T01:00,"2,5"')), ['not-a-number 3 x'], /decimal point/],
    [table(rows.with(1, 'yesterday,2')), ['bad-stamp 3 time'], /time\.format/],
    [table(rows.with(1, ',2')), ['bad-stamp 3 time'], /time\.format/],
    [table(rows.with(1, ',2'), '"time",x'), ['bad-stamp 3 time'], /time\.format/],
    [table(rows.with(1, '2025-02-30T01:00,2')), ['bad-stamp 3 time'], /2025-02-30/],
    [table(rows.with(1, '2025-01-01T24:30,2')), ['bad-stamp 3 time'], /24:30/],
    [table(rows.with(1, '0025-01-01T01:00,2')), ['bad-stamp 3 time'], /1900 to 2200/],
    [table(rows.with(1, rows[0]!)), ['duplicate-stamp 3'], /remove one/],
    [table([rows[1]!, rows[0]!, ...rows.slice(2)]), ['wrong-order 3'], /sort/],
    [table(rows.with(2, '2024-01-01T02:00,')), ['wrong-order 4'], /typical year/],
    [
      table(['2025-01-01T22:00,1', '2025-01-01T23:00,1', '2025-01-01T00:00,1', '2025-01-02T01:00,1']),
      ['wrong-order 4'],
      /midnight.*24:00/,
    ],
    [
      table([...rows.with(1, '2025-01-01T01:07,2'), '2025-01-01T04:00,1']),
      ['uneven 3', 'uneven 4'],
      /67 min after.*series of 60 min/,
    ],
  ])('%# is refused by line', (text, expected, words) => {
    const issues = issuesOf(() => read(text));
    expect(brief(issues)).toEqual(expected);
    expect(new InputError(issues).message).toMatch(words);
    expect(issues.every((issue) => issue.fix && issue.place?.file === 'f.csv')).toBe(true);
  });

  it('names five rows of each kind and counts the rest', () => {
    const bad = rowsFrom(year(2025), 40, 60, (i) => i).map((row, i) =>
      i % 2 ? row : row.replace(/,.*/, ',n/a'),
    );
    const issues = issuesOf(() => read(table(bad.with(3, 'noon,3'))));
    expect(brief(issues)).toEqual([
      'not-a-number 2 x',
      'not-a-number 4 x',
      'not-a-number 6 x',
      'not-a-number 8 x',
      'not-a-number 10 x',
      'not-a-number -',
      'bad-stamp 5 time',
    ]);
    expect(issues[5]!.message).toBe('15 more like these, 20 in all');
    const five = rowsFrom(year(2025), 8, 60, (i) => i).map((row, i) =>
      i < 5 ? row.replace(/,.*/, ',n/a') : row,
    );
    expect(issuesOf(() => read(table(five))).length).toBe(5);
  });
});

describe('stamps', () => {
  const at = (stamps: string[], spec: Spec): string[] =>
    Array.from(read(table(stamps.map((stamp) => `"${stamp}",1`)), spec).start_ms, (ms) =>
      new Date(ms).toISOString().slice(0, 16),
    );

  it('label the start, the middle or the end of an interval', () => {
    const stamps = ['2025-01-01T01:00', '2025-01-01T02:00'];
    expect(at(stamps, { label: 'start' })[0]).toBe('2025-01-01T01:00');
    expect(at(stamps, { label: 'middle' })[0]).toBe('2025-01-01T00:30');
    expect(at(stamps, { label: 'end' })[0]).toBe('2025-01-01T00:00');
    const { start_ms, end_ms } = read(table(stamps.map((s) => `${s},1`)), { label: 'middle' });
    expect([...end_ms]).toEqual([...start_ms].map((start) => start + HOUR_ms));
  });

  it.each([
    ['2025-07-01T02:00', 'UTC', '2025-07-01T02:00'],
    ['2025-07-01 02:00:00', '+01:00', '2025-07-01T01:00'],
    ['2025-07-01T02:00:00.000', 'Asia/Kolkata', '2025-06-30T20:30'],
    ['2025-07-01T02:00', 'Europe/Oslo', '2025-07-01T00:00'],
    ['2025-07-01T02:00Z', 'UTC', '2025-07-01T02:00'],
    ['2025-07-01T02:00:00+02:00', 'Europe/Oslo', '2025-07-01T00:00'],
    ['2025-07-01T02:00-0330', '-03:30', '2025-07-01T05:30'],
    ['2025-07-01T02:00+01', '+01:00', '2025-07-01T01:00'],
    ['2025-06-30T24:00', 'UTC', '2025-07-01T00:00'],
    ['2025-07-01', 'UTC', '2025-07-01T00:00'],
  ])('%s in %s', (stamp, zone, utc) => {
    const later = '2025-07-02T00:00';
    const offset = /(Z|[+-]\d\d(:?\d\d)?)$/.exec(stamp.slice(10))?.[0] ?? '';
    const issues = issuesOf(() => expect(at([stamp, later + offset], { zone })[0]).toBe(utc));
    expect(issues).toEqual([]);
  });

  it.each([
    ['dd.MM.yyyy HH:mm', '01.07.2025 02:00', '02.07.2025 00:00', '2025-07-01T02:00'],
    ['M/d/yyyy h:mm a', '7/1/2025 2:00 PM', '7/2/2025 0:00 AM', '2025-07-01T14:00'],
    ['yyyyMMddHHmm', '202507010200', '202507020000', '2025-07-01T02:00'],
    ['MM/dd/yyyy HH:mm', '06/30/2025 24:00', '07/02/2025 00:00', '2025-07-01T00:00'],
    ["yyyy-MM-dd'T'HHmmZZZ", '2025-07-01T0200+0000', '2025-07-02T0000+0000', '2025-07-01T02:00'],
    ['f', '7/1/2025, 2:00 AM', '7/2/2025, 12:00 AM', '2025-07-01T02:00'],
  ])('of the form %s', (format, stamp, later, utc) => {
    expect(at([stamp, later], { format })[0]).toBe(utc);
  });

  it('of a form with an offset of their own are held to the zone', () => {
    const stamps = ['01.07.2025 02:00 +02:00', '01.07.2025 03:00 +02:00'];
    const format = 'dd.MM.yyyy HH:mm ZZ';
    expect(at(stamps, { format, zone: 'Europe/Oslo' })[0]).toBe('2025-07-01T00:00');
    expect(brief(issuesOf(() => at(stamps, { format }))).length).toBe(2);
  });

  it('must be dates of the calendar', () => {
    const next = '2200-12-31T00:00';
    for (const right of ['2024-02-29', '2000-02-29', '2025-12-31', '2025-04-30', '1900-01-01'])
      expect(at([`${right}T00:00`, next], {})[0], right).toBe(`${right}T00:00`);
    const wrong = [
      '2025-02-29',
      '2100-02-29',
      '2025-04-31',
      '2025-06-31',
      '2025-09-31',
      '2025-11-31',
      '2025-12-32',
    ];
    for (const date of [...wrong, '2025-13-01', '2025-00-10', '2025-01-00', '1899-12-31'])
      expect(brief(issuesOf(() => at([`${date}T00:00`, next], {}))), date).toEqual(['bad-stamp 2 time']);
    for (const time of ['25:00', '12:60', '12:00:60', '24:00:01', '1:00'])
      expect(brief(issuesOf(() => at([`2025-01-01T${time}`, next], {}))), time).toEqual(['bad-stamp 2 time']);
  });

  it('that are not of the form are refused', () => {
    const format = 'dd.MM.yyyy';
    for (const bad of ['32.01.2025', '2025-01-02', '', '02.01.1825', '02.01.2825']) {
      const issues = issuesOf(() => at(['01.01.2025', bad, '03.01.2025'], { format }));
      expect(brief(issues), bad).toEqual(['bad-stamp 3 time']);
      expect(issues[0]!.fix).toMatch(/time\.format/);
    }
  });

  describe('of a typical year', () => {
    // January of 2009, February of the leap year 2004, and so on: 8,760 hours in all.
    const months = [9, 4, 7, 1, 12, 6, 2, 11, 5, 0, 8, 3].map((y, m) => [2000 + y, m] as const);
    const stamps = (label: Label): string[] =>
      months.flatMap(([y, m]) => {
        const days = m === 1 ? 28 : new Date(Date.UTC(2025, m + 1, 0)).getUTCDate();
        const first = label === 'start' ? 0 : 1;
        return Array.from({ length: days * 24 }, (_, h) => iso(Date.UTC(y, m, 1, h + first)));
      });
    const hourly = Array.from({ length: 8760 }, (_, h) => iso(year(2025) + h * HOUR_ms));

    it('are read as of one year if that is said, and refused if not', () => {
      expect(at(stamps('start'), { year: 2025 })).toEqual(hourly);
      const issues = issuesOf(() => at(stamps('start'), {}));
      expect(issues[0]!.code).toBe('wrong-order');
      expect(issues[0]!.fix).toMatch(/set time\.year/);
    });

    it('play 28 February twice in a leap year, whichever end of their rows is stamped', () => {
      const rows = stamps('start').map((stamp, h) => `${stamp},${h}`);
      for (const label of ['start', 'end', 'middle'] as const) {
        const shift = label === 'middle' ? HOUR_ms / 2 : 0;
        const text = (label === 'middle' ? stamps('start') : stamps(label)).map(
          (stamp, h) => `${new Date(Date.parse(`${stamp}Z`) + shift).toISOString().slice(0, 16)},${h}`,
        );
        const series = read(table(text), { year: 2028, label });
        expect(series.leap_day).toBe('repeated');
        expect([...series.start_ms]).toEqual(
          Array.from({ length: 8784 }, (_, h) => year(2028) + h * HOUR_ms),
        );
        const x = series.values.get('x')!;
        expect([...x.slice(59 * 24, 60 * 24)]).toEqual([...x.slice(58 * 24, 59 * 24)]);
        expect([...x.slice(60 * 24)]).toEqual(Array.from({ length: 306 * 24 }, (_, h) => 59 * 24 + h));
      }
      expect(read(table(rows), { year: 2025 }).leap_day).toBe('as_filed');
      expect(read(table(rows.slice(0, 900)), { year: 2028 }).leap_day).toBe('as_filed');
    });

    it('may close the year with its first instant', () => {
      const [end] = [stamps('end').with(8759, '2031-01-01T00:00')];
      // A month's last stamp is the first instant of the next one, in whatever year that month is of.
      expect(at(end, { year: 2025, label: 'end' })).toEqual(hourly);
    });

    it('may have no year at all', () => {
      const form = (h: number) =>
        `${hourly[h]!.slice(5, 7)}/${hourly[h]!.slice(8, 10)} ${hourly[h]!.slice(11)}`;
      const start = hourly.map((_, h) => form(h));
      expect(at(start, { year: 2025, format: 'MM/dd HH:mm' })).toEqual(hourly);
      const end = start.map((stamp, h) => (h % 24 === 0 ? '' : stamp)).slice(1);
      const closed = [...end, ''].map((stamp, h) => (stamp === '' ? `${form(h).slice(0, 5)} 24:00` : stamp));
      expect(at(closed, { year: 2025, label: 'end', format: 'MM/dd HH:mm' })).toEqual(hourly);
      expect(() => at(start, { format: 'MM/dd HH:mm' })).toThrow(RangeError);
      expect(
        issuesOf(() => at(['02/29 00:00', '03/01 00:00'], { year: 2025, format: 'MM/dd HH:mm' }))[0]!.code,
      ).toBe('bad-stamp');
      expect(at(['02/29 00:00', '03/01 00:00'], { year: 2024, format: 'MM/dd HH:mm' })[0]).toBe(
        '2024-02-29T00:00',
      );
    });
  });

  it('take the two runs of a doubled hour in turn', () => {
    const local = ['01:00', '01:30', '02:00', '02:30', '02:00', '02:30', '03:00'].map(
      (t) => `2025-10-26T${t}`,
    );
    expect(at(local, { zone: 'Europe/Oslo' })).toEqual(
      ['25T23:00', '25T23:30', '26T00:00', '26T00:30', '26T01:00', '26T01:30', '26T02:00'].map(
        (t) => `2025-10-${t}`,
      ),
    );
  });

  it.each(['Europe/Oslo', 'Australia/Lord_Howe', 'America/Santiago', 'America/New_York'])(
    'of a whole year on the wall clock of %s come back as the instants they were',
    (zone) => {
      const from_ms = DateTime.fromObject({ year: 2025 }, { zone }).toMillis();
      const rows = Array.from({ length: 2 * 8760 }, (_, i) => {
        const local = DateTime.fromMillis(from_ms + (i * HOUR_ms) / 2, { zone });
        return `${local.toFormat("yyyy-MM-dd'T'HH:mm")},${i}`;
      });
      const { start_ms } = read(table(rows), { zone });
      for (let i = 0; i < rows.length; i++)
        if (start_ms[i] !== from_ms + (i * HOUR_ms) / 2)
          expect(start_ms[i], rows[i]).toBe(from_ms + (i * HOUR_ms) / 2);
      expect(start_ms.length).toBe(rows.length);
    },
  );

  it('that never came are refused, with a word on loggers that keep standard time', () => {
    const rows = ['00:00', '01:00', '02:00', '03:00'].map((t) => `2025-03-30T${t},1`);
    const issues = issuesOf(() => read(table(rows), { zone: 'Europe/Oslo' }));
    expect(brief(issues)).toEqual(['skipped-hour 4']);
    expect(issues[0]!.fix).toMatch(/\+01:00/);
    expect(read(table(rows), { zone: '+01:00' }).start_ms[2]).toBe(Date.UTC(2025, 2, 30, 1));
  });

  it('with an offset that the zone does not have are refused', () => {
    const rows = ['2025-07-01T00:00+01:00,1', '2025-07-01T01:00+01:00,1'];
    expect(brief(issuesOf(() => read(table(rows), { zone: 'Europe/Oslo' })))).toEqual([
      'other-offset 2',
      'other-offset 3',
    ]);
    expect(issuesOf(() => read(table(rows), { zone: '+01:00' }))).toEqual([]);
  });

  it('in a zone that is none are the caller’s fault', () => {
    expect(() => read(table([]), { zone: 'Europe/Olso' })).toThrow(RangeError);
  });
});

describe('a series on a clock', () => {
  const utc = buildClock(2025, 'UTC', 60);
  const wave = (i: number): number => Number((Math.sin(i / 7) * 3 + (i % 5)).toFixed(3)) + 0;
  const onto = (text: string, clock = utc, gaps: Gaps = REFUSE, spec: Spec = {}) =>
    layOnClock(read(text, spec), clock, gaps, 'weather');
  const x = (text: string, clock = utc, gaps: Gaps = REFUSE, spec: Spec = {}) =>
    onto(text, clock, gaps, spec).values.get('x')!;
  const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);

  it('of the same steps is taken over value by value', () => {
    const rows = rowsFrom(year(2025), 8760, 60, wave);
    const { values, notices } = onto(table(rows));
    expect([...values.get('x')!]).toEqual(Array.from({ length: 8760 }, (_, i) => wave(i)));
    expect(notices).toEqual([]);
  });

  it('says the same labelled by start, middle or end', () => {
    const shifted = (minutes: number) => rowsFrom(year(2025) + minutes * 60_000, 8760, 60, wave);
    const start = x(table(shifted(0)));
    expect(x(table(shifted(30)), utc, REFUSE, { label: 'middle' })).toEqual(start);
    expect(x(table(shifted(60)), utc, REFUSE, { label: 'end' })).toEqual(start);
  });

  it.each([
    ['finer', 15, 0],
    ['coarser', 180, 0],
    ['shifted by half an hour', 60, 30],
    ['shifted by a third', 60, 20],
    ['of another beat', 7, 3],
  ])('that is %s keeps its energy', (_, step_min, shift_min) => {
    // Rows from before the year to after it; the energy in the year is the sum over the parts of rows within.
    const from_ms = year(2025) - 7 * 24 * HOUR_ms + shift_min * 60_000;
    const count = Math.ceil((380 * 24 * 60) / step_min);
    const rows = rowsFrom(from_ms, count, step_min, wave);
    let energy = 0;
    for (let i = 0; i < count; i++) {
      const start = from_ms + i * step_min * 60_000;
      const within = Math.min(start + step_min * 60_000, year(2026)) - Math.max(start, year(2025));
      if (within > 0) energy += (wave(i) * within) / HOUR_ms;
    }
    expect(sum(x(table(rows)))).toBeCloseTo(energy, 6);
  });

  it('that is shifted by half an hour is averaged step by step', () => {
    const rows = rowsFrom(year(2025) - HOUR_ms / 2, 8761, 60, wave);
    const hours = x(table(rows));
    expect(hours[0]).toBeCloseTo((wave(0) + wave(1)) / 2, 12);
    expect(hours[5000]).toBeCloseTo((wave(5000) + wave(5001)) / 2, 12);
  });

  it('that is coarser than the steps says so', () => {
    const { notices, values } = onto(table(rowsFrom(year(2025), 2920, 180, wave)));
    expect(notices.map((n) => [n.id, n.count])).toEqual([['coarse-series', 8760]]);
    expect([...values.get('x')!.subarray(3, 7)]).toEqual([wave(1), wave(1), wave(1), wave(2)]);
  });

  it('on another wall clock covers its own year', () => {
    const clock = buildClock(2025, 'Europe/Oslo', 60);
    const rows = rowsFrom(year(2025) - HOUR_ms, 8760, 60, wave);
    expect(x(table(rows), clock)[0]).toBe(wave(0));
    // Stamped in UTC the same year lacks the site's first hour, and its last row is of the next year.
    const late = rowsFrom(year(2025), 8760, 60, wave);
    const [issue] = issuesOf(() => x(table(late), clock));
    expect(issue!.message).toContain('2025-01-01 00:00 to 2025-01-01 01:00');
    expect(issue!.fix).toContain('longest_h: 1');
    const filled = onto(table(late), clock, fillUpTo(1));
    expect(filled.values.get('x')![0]).toBe(wave(0));
    expect(filled.notices.map((n) => [n.id, n.count])).toEqual([
      ['gap-filled', 1],
      ['rows-outside-year', 1],
    ]);
  });

  describe('with gaps', () => {
    const rows = rowsFrom(year(2025), 8760, 60, (i) => i);
    const without = (...missing: [from: number, to: number][]): string =>
      table(rows.filter((_, i) => !missing.some(([from, to]) => i >= from && i < to)));

    it('is refused: which hours, how many, after which line', () => {
      const issues = issuesOf(() => x(without([100, 103], [5000, 5001])));
      expect(brief(issues)).toEqual(['gap 101']);
      expect(issues[0]!.message).toContain(
        '4 h missing in 2 gaps: 2025-01-05 04:00 to 2025-01-05 07:00, 2025-07-28 08:00',
      );
      expect(issues[0]!.fix).toContain('gaps: { fill: interpolate, longest_h: 3 }');
    });

    it('treats an empty cell as it treats a missing row', () => {
      const empty = table(rows.map((row, i) => (i >= 100 && i < 103 ? row.replace(/,.*/, ',') : row)));
      const [a] = issuesOf(() => x(empty));
      const [b] = issuesOf(() => x(without([100, 103])));
      expect(a!.message).toBe(b!.message);
      expect(x(empty, utc, fillUpTo(3))).toEqual(x(without([100, 103]), utc, fillUpTo(3)));
    });

    it('one hour short at either end is refused', () => {
      expect(issuesOf(() => x(without([8759, 8760])))[0]!.message).toContain(
        '1 h missing in one gap: 2025-12-31 23:00',
      );
      expect(issuesOf(() => x(without([0, 1])))[0]!.message).toContain(
        '1 h missing in one gap: 2025-01-01 00:00',
      );
    });

    it('is filled by straight lines up to the length allowed, and says so', () => {
      const { values, notices } = onto(without([100, 103], [5000, 5001]), utc, fillUpTo(3));
      expect([...values.get('x')!]).toEqual(Array.from({ length: 8760 }, (_, i) => expect.closeTo(i, 9)));
      expect(notices.map((n) => [n.id, n.count])).toEqual([['gap-filled', 4]]);
      const issues = issuesOf(() => x(without([100, 104], [5000, 5001]), utc, fillUpTo(3)));
      expect(issues[0]!.message).toContain('4 h missing in one gap');
      expect(issues[0]!.fix).toContain('raise gaps.longest_h to 4');
    });

    it('holds the nearest value at the ends of the file', () => {
      const values = x(without([0, 2], [8757, 8760]), utc, fillUpTo(3));
      expect([values[0], values[1], values[2]]).toEqual([2, 2, 2]);
      expect([values[8756], values[8757], values[8759]]).toEqual([8756, 8756, 8756]);
    });

    it('sees a gap whole that begins before the year', () => {
      // 30 hours missing, of which the year sees two: longer than allowed all the same.
      const all = rowsFrom(year(2025) - 100 * HOUR_ms, 8960, 60, (i) => i);
      const text = table(all.filter((_, i) => i < 72 || i >= 102));
      expect(issuesOf(() => x(text, utc, fillUpTo(5)))[0]!.fix).toContain('longest_h to 30');
      expect(issuesOf(() => x(text, utc, fillUpTo(30)))).toEqual([]);
      const longer = table(all.filter((_, i) => i < 10 || i >= 102));
      expect(issuesOf(() => x(longer, utc, fillUpTo(5)))[0]!.fix).toContain('nothing longer than 72 h');
    });

    it('sees a gap whole that ends after the year, wherever the file ends then', () => {
      for (let length = 68; length < 80; length++) {
        const text = table([
          ...rows.slice(0, 8758),
          ...rowsFrom(year(2025) + (8758 + length) * HOUR_ms, 2, 60, (i) => i),
        ]);
        expect(brief(issuesOf(() => x(text, utc, fillUpTo(5)))), `${length} h`).toEqual(['gap 8759']);
      }
    });

    it('does not mind what is missing just outside of the year', () => {
      const all = rowsFrom(year(2025) - 10 * HOUR_ms, 8780, 60, (i) => i);
      const text = table(all.filter((_, i) => i < 5 || (i >= 10 && i < 8770) || i > 8775));
      expect(x(text)[0]).toBe(10);
    });

    it('holds the half row that a shifted series leaves open at either end, and says so; a whole one is a gap', () => {
      for (const [shift_h, step] of [
        [0.5, 0],
        [-0.5, 8759],
      ] as const) {
        const { values, notices } = onto(table(rowsFrom(year(2025) + shift_h * HOUR_ms, 8760, 60, wave)));
        const end = step === 0 ? 0 : 8759;
        expect(values.get('x')![step]).toBeCloseTo(wave(end), 12);
        expect(notices.map(({ id, count }) => [id, count])).toContainEqual(['gap-filled', 1]);
      }
      const late = table(rowsFrom(year(2025) + 1.5 * HOUR_ms, 8760, 60, wave));
      expect(issuesOf(() => x(late))[0]!.message).toContain('in one gap: 2024-12-31 23:30');
    });

    it('is filled before the year begins from a row outside of it', () => {
      const all = rowsFrom(year(2025) - 2 * HOUR_ms, 8762, 60, (i) => i);
      expect(x(table(all.toSpliced(2, 1)), utc, fillUpTo(1))[0]).toBe(2);
    });

    it('in one column of two names that column', () => {
      const two = ['time,x,y', ...rows.map((row, i) => `${row},${i === 9 ? '' : i}`)].join('\n');
      const time = { column: 'time', zone: 'UTC', label: 'start' as const };
      const columns = ['x', 'y'].map((name) => ({ name, column: name }));
      const series = readSeries(two, 'f.csv', { delimiter: ',', time }, columns);
      expect(issuesOf(() => layOnClock(series, utc, REFUSE, 'weather'))[0]!.path).toBe('weather.y');
      const both = readSeries(two.replace(/\n.*,9,\n/, '\n'), 'f.csv', { delimiter: ',', time }, columns);
      expect(issuesOf(() => layOnClock(both, utc, REFUSE, 'weather')).map((i) => i.path)).toEqual([
        'weather',
      ]);
    });
  });

  it('of another year says which year to run', () => {
    const issues = issuesOf(() => x(table(rowsFrom(year(2016), 8784, 60, wave))));
    expect(brief(issues)).toEqual(['wrong-year -']);
    expect(issues[0]!.message).toBe('the file covers 2016, the run is for 2025');
    expect(issues[0]!.fix).toBe('set run.year: 2016');
  });

  it('of several years uses the one that is run', () => {
    const { notices, values } = onto(table(rowsFrom(year(2024), 8784 + 2 * 8760, 60, (i) => i)));
    expect(values.get('x')![0]).toBe(8784);
    expect(notices.map((n) => [n.id, n.count])).toEqual([['rows-outside-year', 8784 + 8760]]);
  });

  it('never holds anything but numbers', () => {
    const rows = rowsFrom(year(2025), 8760, 60, (i) => (i % 50 === 7 ? '' : i));
    expect(x(table(rows), buildClock(2025, 'Asia/Kathmandu', 60), fillUpTo(6)).every(Number.isFinite)).toBe(
      true,
    );
  });
});
