import { cellsOf, firstLines } from './table.ts';

/** Lines of a text that a format or a header is looked for in. */
const MOST_LINES = 80;

/** By which of its first lines a text of an open format is known. */
const MARKS = {
  epw: ([first = '']: readonly string[]) => /^\s*LOCATION\s*,/i.test(first),
  tmy3: ([, second = '']: readonly string[]) => second.includes('Date (MM/DD/YYYY)'),
  nsrdb: ([first = '']: readonly string[]) => /^\s*"?Source"?,\s*"?Location ID"?,/i.test(first),
  nasa_power: ([first = '']: readonly string[]) => /^-BEGIN HEADER-/i.test(first),
} as const;

/** An open format of weather files. */
export type FormatKind = keyof typeof MARKS;

/** Whether a text, by its first lines, is of a format. */
export const isOf = (kind: FormatKind, lines: readonly string[]): boolean => MARKS[kind](lines);

/**
 * What to do with a text that is not of the kind that was said: the kind that it is of; or its columns as weather of
 * kind series, to be pasted, where what no header can tell stands in capitals, which no scenario takes.
 */
export function otherwise(text: string, file: string): string {
  const lines = firstLines(text, MOST_LINES);
  const kind = (Object.keys(MARKS) as FormatKind[]).find((format) => isOf(format, lines));
  if (kind !== undefined) return `set weather.kind: ${kind}, which the file looks like`;
  const header = headerOf(lines);
  if (header === undefined) return 'check weather.kind; any table can be described as weather of kind series';
  const { cells, delimiter, line } = header;
  const skipped =
    line === 1 ? '' : `; take the ${line - 1} lines before its header out, or begin each with "#"`;
  return (
    `check weather.kind, or describe the table: its columns are ${cells.map((c) => `"${c}"`).join(', ')}${skipped}. ` +
    `Paste this and put what holds in place of the capitals, with label: start, middle or end:\n${block(cells, delimiter, file)}`
  );
}

/** The first line of words above two of figures, all of the same number of cells. */
function headerOf(lines: readonly string[]) {
  for (const [at, line] of lines.entries())
    for (const delimiter of [',', ';', '\t']) {
      const cells = cellsOf(line, delimiter).map((cell) => cell.trim());
      const below = lines.slice(at + 1, at + 3).map((row) => cellsOf(row, delimiter));
      const isBelow =
        below.length > 0 && below.every((row) => row.length === cells.length && row.some(isFigure));
      if (cells.length > 1 && isBelow && !cells.some(isFigure) && cells.some((cell) => cell !== ''))
        return { cells: cells.filter((cell) => cell !== ''), delimiter, line: at + 1 };
    }
  return undefined;
}

const isFigure = (cell: string): boolean => cell.trim() !== '' && Number.isFinite(Number(cell));

/** A quantity of `series`, the names its column has, and its units as headers write them; the first that fits. */
const QUANTITIES = [
  ['ghi', /ghi|glo?b|\bg\(?h|allsky_sfc_sw_dwn$/i, 'light'],
  ['dni', /dni|beam|direct.?normal/i, 'light'],
  ['dhi', /dhi|diff/i, 'light'],
  ['air_temperature', /t2m$|temp|dry.?bulb|t_?air|^ta$/i, 'air'],
  ['wind', /wind.?sp|wspd|^ws\d*m?$|^wind$/i, 'wind'],
] as const;
const UNITS = {
  light: [
    ['kWh_m2', /kWh/i],
    ['Wh_m2', /Wh/i],
    ['MJ_m2', /MJ/],
    ['kJ_m2', /kJ/],
    ['W_m2', /W ?\/ ?m|W_m|W m/i],
  ],
  air: [
    ['C', /\(°?C\)|°C|deg.?C|_C$/],
    ['F', /\(°?F\)|°F|deg.?F|_F$/],
    ['K', /\(K\)|_K$/],
  ],
  wind: [
    ['m_s', /m ?\/ ?s|m_s/],
    ['km_h', /km ?\/ ?h/],
  ],
} as const;
/** Parts of a date in several columns, with Luxon's letters. */
const PARTS = [
  ['yyyy', /^(year|yyyy|yr|y)$/i],
  ['M', /^(month|mo|mm|mon)$/i],
  ['d', /^(day|dy|dd)$/i],
  ['H', /^(hour|hr|hh)$/i],
  ['m', /^(minute|min|mi)$/i],
] as const;

function block(cells: readonly string[], delimiter: string, file: string): string {
  const named = (pattern: RegExp): string | undefined => cells.find((cell) => pattern.test(cell));
  const parts = PARTS.flatMap(([letters, pattern]) => {
    const column = named(pattern);
    return column === undefined ? [] : [{ letters, column }];
  });
  const whole = named(/time.?stamp|date.?time|^time$|^timestamp|utc/i);
  const [date, time] = [named(/date/i), named(/time|hour/i)];
  const stamps =
    parts.length >= 3
      ? { column: parts.map(({ column }) => column), format: parts.map(({ letters }) => letters).join(' ') }
      : date !== undefined && time !== undefined && date !== time
        ? { column: [date, time], format: 'FORMAT' }
        : { column: whole ?? date ?? time ?? 'TIME' };
  const quantities = QUANTITIES.flatMap(([name, pattern, of]) => {
    const column = named(pattern);
    if (column === undefined && name !== 'ghi' && name !== 'air_temperature') return [];
    const unit = UNITS[of].find(([, sign]) => sign.test(column ?? ''))?.[0] ?? 'UNIT';
    return [`  ${name}: { column: ${JSON.stringify(column ?? 'COLUMN')}, unit: ${unit} }`];
  });
  const column = [stamps.column].flat().map((name) => JSON.stringify(name));
  return [
    'weather:',
    '  kind: series',
    `  file: ${JSON.stringify(file)}`,
    ...(delimiter === ',' ? [] : [`  delimiter: ${JSON.stringify(delimiter)}`]),
    `  time: { column: ${column.length > 1 ? `[${column.join(', ')}]` : column[0]}, ${'format' in stamps ? `format: ${JSON.stringify(stamps.format)}, ` : ''}zone: ZONE, label: LABEL }`,
    ...quantities,
  ].join('\n');
}
