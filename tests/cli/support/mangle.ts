import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { scenarioSchema } from '@longnight/core/scenario';
import { parse, stringify } from 'yaml';
import { numberRange } from '../../../packages/core/src/scenario/text/expected.ts';
import { type Path, valueAt } from '../../../packages/core/src/scenario/text/path.ts';
import { schemaAt } from '../../../packages/core/src/scenario/text/shape.ts';
import { stream } from '../../support/random.ts';
import { ROOT } from './process.ts';
import { weatherCsv, weatherRows } from './weather.ts';

/** Something that somebody might hand to the program: files in a folder, and a command. */
export interface Mangled {
  readonly files: ReadonlyMap<string, string>;
  readonly args: readonly string[];
}

type Draw = () => number;
const oneOf = <T>(draw: Draw, from: readonly T[]): T => from[Math.floor(draw() * from.length)]!;

const read = (name: string): string => readFileSync(join(ROOT, name), 'utf8');
const SOUND = ['data/demo', 'data/plants'].flatMap((folder) =>
  readdirSync(join(ROOT, folder))
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => read(`${folder}/${name}`)),
);
const PARTS = readdirSync(join(ROOT, 'data/parts')).map(
  (name) => [name, read(`data/parts/${name}`)] as const,
);
/** A scenario whose weather and one of whose loads stand in files. */
const ON_FILES = read('tests/cli/bad/good-series.yaml').replace(
  /^loads:\n/m,
  `loads:
  - kind: series
    name: metered
    file: load.csv
    time: { column: time, zone: UTC, label: start }
    power: { column: kW, unit: kW }
`,
);
const WEATHER = weatherCsv(weatherRows());
const LOAD = `time,kW\n${Array.from(
  { length: 8760 },
  (_, h) => `${new Date(Date.UTC(2024, 11, 31, 23 + h)).toISOString().slice(0, 16)}Z,${0.2 + (h % 7) / 10}`,
).join('\n')}\n`;

/** Figures at which something might break, and their neighbours. */
const FIGURES = [
  ...[0, -1, 1, 2, 0.5, 0.99, 1e-9, 1e-3, 100, 1e5, 1e9, 1e308, 5e-324, -1e308, 2 ** 53, 12, 24, 366],
  ...[Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
];
const OTHERS = [
  null,
  '',
  'x',
  '1',
  '12,5',
  '5 kW',
  true,
  [],
  {},
  [1],
  { kind: 'x' },
  [[]],
  'ø',
  '=1+1',
  '../x',
  '<b>',
];

type Tree = Record<string | number, unknown>;

/** Every path of a tree. */
function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  const inside = Object.entries(value).flatMap(([key, one]) =>
    pathsOf(one, [...path, Array.isArray(value) ? Number(key) : key]),
  );
  return path.length === 0 ? inside : [path, ...inside];
}

const holderOf = (tree: unknown, path: Path): Tree => valueAt(tree, path.slice(0, -1)) as Tree;

/** One thing of a scenario changed, in place. */
function mangleTree(tree: unknown, draw: Draw): void {
  const paths = pathsOf(tree);
  if (paths.length < 2) return;
  const path = oneOf(draw, paths);
  const holder = holderOf(tree, path);
  const key = path.at(-1)!;
  const value = holder[key];
  const ways: (() => void)[] = [
    () => {
      if (Array.isArray(holder)) holder.splice(Number(key), 1);
      else delete holder[key];
    },
    () => {
      if (Array.isArray(holder)) holder.push(...Array(oneOf(draw, [1, 1, 60])).fill(value));
      else holder[`${key}2`] = value;
    },
    () => {
      holder[key] = oneOf(draw, OTHERS);
    },
    () => {
      holder[key] = oneOf(draw, FIGURES);
    },
    () => {
      const other = oneOf(draw, paths);
      if (pathsOf(value).length + pathsOf(valueAt(tree, other)).length > 200) return;
      holder[key] = structuredClone(valueAt(tree, other));
    },
    ...Array(4).fill(() => {
      // The ends of what a key takes, and a factor of ten: these are mostly played.
      if (typeof value !== 'number') return;
      const schema = schemaAt(scenarioSchema, tree, path);
      const range = schema && numberRange(schema);
      holder[key] = oneOf(draw, [range?.min ?? 0, range?.max ?? 1, value * 10, value / 10, -value]);
    }),
  ];
  oneOf(draw, ways)();
}

const SIGNS = [
  ...'"\'\t:{}[]#&*!|>%@`-,;\\\u2028\u0000\uFEFF\r ',
  'é',
  '\n',
  '- ',
  '<<: ',
  '---\n',
  'a: b: c',
];

/** A text with one sign put in, one line taken out or doubled, or cut off. */
function mangleText(text: string, draw: Draw): string {
  const at = Math.floor(draw() * text.length);
  const from = text.lastIndexOf('\n', at) + 1;
  const to = (text.indexOf('\n', at) + 1 || text.length + 1) as number;
  const line = text.slice(from, to);
  switch (Math.floor(draw() * 5)) {
    case 0:
      return text.slice(0, from) + text.slice(to);
    case 1:
      return text.slice(0, to) + line + text.slice(to);
    case 2:
      return text.slice(0, at);
    default:
      return text.slice(0, at) + oneOf(draw, SIGNS) + text.slice(at + Math.floor(draw() * 2));
  }
}

const CELLS = [
  '',
  '0',
  '-1',
  '1e308',
  '1e5',
  '9999',
  '12,5',
  '"',
  '"5',
  'x',
  '-',
  '1e-320',
  '24:00',
  '0x10',
  '"1""',
];

const withCell = (row: string, column: number, cell: string): string =>
  row
    .split(',')
    .map((one, c) => (c === column ? cell : one))
    .join(',');

/** Rows of a table with a cell, a row or a column changed. */
function mangleCsv(text: string, draw: Draw): string {
  const rows = text.split('\n');
  const at = draw() < 0.3 ? Math.floor(draw() * 4) : Math.floor(draw() * rows.length);
  const cells = rows[at]!.split(',');
  const column = Math.floor(draw() * cells.length);
  const cell = oneOf(draw, CELLS);
  switch (Math.floor(draw() * 7)) {
    case 0:
      return rows.map((row, r) => (r === 0 ? row : withCell(row, column, cell))).join('\n');
    case 1:
      return rows.toSpliced(at, oneOf(draw, [1, 1, 3, 100, 5000])).join('\n');
    case 2:
      return rows.toSpliced(at, 0, rows[at]!).join('\n');
    case 3:
      return rows.with(at, oneOf(draw, ['', ',', ',,,,', 'x', rows[at]!.replaceAll(',', ';')])).join('\n');
    case 4:
      return mangleText(text, draw);
    default:
      return rows.with(at, withCell(rows[at]!, column, cell)).join('\n');
  }
}

/** What options are given, fitting or not. */
const GIVEN = [
  '0',
  '1',
  '2',
  '-1',
  '',
  '1e9',
  '366',
  'x',
  '0.5',
  'NA',
  '2026-12-20',
  '2026-02-30',
  '1/2',
  '3/2',
];
const BOUNDS = [
  'unmet.share<=0.01',
  'unmet.share<=',
  'x>=1',
  'bank.cycles<1e308',
  'unmet.share<=x',
  '<=',
  'unmet',
];
const AXES = [
  ...[
    'bank.modules_parallel=1,2',
    'arrays[0].size_kWp=1:3:1',
    'arrays[0].size_kWp=3:1:1',
    'x=1',
    'run.year=2026,x',
  ],
  ...[
    'bank.floor_soc=0:1:1e-9',
    'bank.floor_soc=0.1,,0.2',
    '=1',
    'bank.module=1',
    'loads[0].scale=1e308',
    'a[999]=1',
  ],
];
const PLACES = ['60,10', '91,0', '0,0', '-90,180', '44.5N 71.3W', '60', 'x', '60,10,5'];

const COMMANDS: readonly ((draw: Draw) => readonly string[])[] = [
  ...Array<() => string[]>(6).fill(() => ['check', 'plant.yaml']),
  ...Array<() => string[]>(4).fill(() => ['run', 'plant.yaml', '--json']),
  () => ['run', 'plant.yaml', '--out', 'out'],
  () => ['run', 'plant.yaml'],
  () => ['weather', 'plant.yaml', '--json'],
  () => ['week', 'plant.yaml', '--json'],
  () => ['improve', 'plant.yaml', '--json'],
  () => ['parts', 'plant.yaml'],
  () => ['compare', 'plant.yaml', 'other.yaml', '--json'],
  (draw) => [
    'run',
    'plant.yaml',
    oneOf(draw, ['--years', '--seeds', '--lean-days']),
    oneOf(
      draw,
      GIVEN.filter((g) => g !== '1e9' && g !== '366'),
    ),
  ],
  (draw) => ['run', 'plant.yaml', '--require', oneOf(draw, BOUNDS)],
  (draw) => ['week', 'plant.yaml', oneOf(draw, ['--days', '--start', '--soc']), oneOf(draw, GIVEN)],
  (draw) => ['sweep', 'plant.yaml', '--vary', oneOf(draw, AXES), '--threads', '1', '--json'],
  (draw) => [
    'size',
    'plant.yaml',
    '--vary',
    oneOf(draw, AXES),
    '--require',
    oneOf(draw, BOUNDS),
    '--threads',
    '1',
  ],
  (draw) => [
    'sweep',
    'plant.yaml',
    '--vary',
    oneOf(draw, AXES),
    '--threads',
    '1',
    oneOf(draw, ['--sample', '--hour-worth', '--part']),
    oneOf(draw, GIVEN),
  ],
  (draw) => [
    'init',
    'new.yaml',
    '--at',
    oneOf(draw, PLACES),
    oneOf(draw, ['--array-kWp', '--daily-kWh', '--panels', '--modules', '--array-tilt']),
    oneOf(draw, GIVEN),
  ],
  (draw) => [
    'init',
    'new.yaml',
    oneOf(draw, ['--weather', '--loads']),
    oneOf(draw, ['year.csv', 'load.csv', 'plant.yaml', 'none']),
  ],
  (draw) => ['explain', oneOf(draw, [...GIVEN, 'outage', 'unmet.share', 'bank', '__proto__', 'constructor'])],
];

/** The case of a number: always the same. */
export function mangled(seed: number): Mangled {
  const draw = stream(seed + 1);
  const isOnFiles = draw() < 0.35;
  const sound = isOnFiles ? ON_FILES : oneOf(draw, SOUND);
  const files = new Map<string, string>([['other.yaml', oneOf(draw, SOUND)]]);
  if (isOnFiles) {
    const which = draw();
    files.set('year.csv', which < 0.4 ? mangleCsv(WEATHER, draw) : WEATHER);
    files.set('load.csv', which >= 0.4 && which < 0.7 ? mangleCsv(LOAD, draw) : LOAD);
  }
  let text = sound;
  if (!isOnFiles || draw() < 0.4) {
    if (draw() < 0.2) text = mangleText(text, draw);
    else {
      const tree = parse(text);
      for (let k = 0; k <= Math.floor(draw() * 3); k++) mangleTree(tree, draw);
      text = stringify(tree, { aliasDuplicateObjects: false });
    }
  }
  files.set('plant.yaml', text);
  for (const [name, part] of PARTS) if (/parts_files/.test(text)) files.set(name, part);
  return { files, args: oneOf(draw, COMMANDS)(draw) };
}
