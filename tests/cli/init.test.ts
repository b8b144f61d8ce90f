/** What `init` is told, by options and by answers, and the file that it makes of it. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { scenarioJsonSchema } from '@longnight/core';
import { afterAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { readHeight_m, readPlace } from '../../packages/cli/src/commands/init/coordinates.ts';
import { STARTER } from '../../packages/cli/src/commands/init/starter/starter.ts';
import { runProgram } from '../../packages/cli/src/program.ts';
import { inventedSky, tmy3Rows } from '../support/weather-files.ts';
import { memoryIo } from './support/memory-io.ts';
import { contents, longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const GHI = '0.28,0.92,2.23,3.74,4.83,5.21,4.81,3.71,2.30,1.11,0.37,0.15';
const AIR = '-9.5 -9 -5 0 5.5 10 12.5 11 6.5 1.5 -4.5 -8.5';
const SITE = [
  ...['--site-name', 'Bog: hut', '--at', '61.3,-11.8'],
  ...['--elevation-m', '690', '--time-zone', 'Europe/Oslo'],
];
const FACING = ['--array-tilt', '70', '--array-azimuth', '180'];
const WEATHER = ['--ghi', GHI, '--air-temperature', AIR];

const TOLVMYR = {
  name: 'Tolvmyr',
  latitude_deg: 61.3,
  longitude_deg: 11.8,
  elevation_m: 690,
  time_zone: 'Europe/Oslo',
};

let made = 0;
/** An empty folder of its own for each test. */
function home(): string {
  const path = join(folder, `home-${made++}`);
  mkdirSync(path);
  return path;
}

/** Runs `init` in process, answering questions from a list. */
async function asked(answers: string[] | null, args: string[] = [], cwd = home()) {
  const questions: string[] = [];
  const ask = async (question: string): Promise<string> => {
    questions.push(question);
    const answer = answers?.shift();
    if (answer === undefined) throw new Error(`no answer left for: ${question}`);
    return answer;
  };
  const io = memoryIo({ cwd, ...(answers === null ? {} : { ask }) });
  const status = await runProgram(['init', ...args], io);
  const file = join(cwd, 'scenario.yaml');
  const text = existsSync(file) ? readFileSync(file, 'utf8') : '';
  return {
    status,
    io,
    questions,
    cwd,
    text,
    data: parse(text) as ReturnType<typeof parse>,
    left: answers ?? [],
  };
}

/** `check` has nothing against the file. */
async function expectClean(cwd: string): Promise<void> {
  const io = memoryIo({ cwd });
  expect(await runProgram(['check', 'scenario.yaml'], io), io.said).toBe(0);
}

test('without options, away from a terminal, the starter is written as it is with its schema beside it', () => {
  const cwd = home();
  const ended = longnight(['init'], cwd);
  expect(ended).toMatchObject({ status: 0, stdout: 'scenario.yaml\n' });
  const files = contents(cwd);
  expect(Object.keys(files)).toEqual(['scenario.schema.json', 'scenario.yaml']);
  const [first, ...rest] = readFileSync(join(cwd, 'scenario.yaml'), 'utf8').split('\n');
  expect(first).toBe('# yaml-language-server: $schema=scenario.schema.json');
  expect(rest.join('\n')).toBe(STARTER);
  expect(JSON.parse(files['scenario.schema.json']!.toString())).toMatchObject({
    title: scenarioJsonSchema().title,
  });
});

test('a file with the name of the schema that is not ours is left alone, and that is said', () => {
  const cwd = home();
  writeFileSync(join(cwd, 'scenario.schema.json'), '{"mine": 1}\n');
  const ended = longnight(['init', '--force'], cwd);
  expect(ended.status).toBe(0);
  expect(ended.stderr).toMatch(/scenario\.schema\.json is not ours/);
  expect(readFileSync(join(cwd, 'scenario.schema.json'), 'utf8')).toBe('{"mine": 1}\n');
});

describe('options', () => {
  test('site, weather, loads and sizes end up in the file, and it checks clean', async () => {
    const sizes = ['--daily-kWh', '5.2', '--array-kWp', '6', '--modules', '4'];
    const { status, io, data, cwd, text } = await asked(null, [...SITE, ...WEATHER, ...FACING, ...sizes]);
    expect(io.said).not.toMatch(/note|fix/);
    expect(status).toBe(0);
    expect(data.site).toEqual({
      name: 'Bog: hut',
      latitude_deg: 61.3,
      longitude_deg: -11.8,
      elevation_m: 690,
      time_zone: 'Europe/Oslo',
    });
    expect(data.weather.ghi_kWh_m2_day[11]).toBe(0.15);
    expect(data.weather.air_temperature_C).toEqual([
      -9.5, -9, -5, 0, 5.5, 10, 12.5, 11, 6.5, 1.5, -4.5, -8.5,
    ]);
    expect(data.arrays[0]).toMatchObject({ size_kWp: 6, tilt_deg: 70, azimuth_deg: 180 });
    expect(data.bank.modules_parallel).toBe(4);
    expect(data.loads).toEqual([{ kind: 'daily', name: 'all loads', energy_kWh_day: 5.2, shape: 'evening' }]);
    expect(Object.keys(data)).not.toContain('generator');
    expect(Object.keys(data)).not.toContain('charger');
    // Comments of the keys that were not touched are still there, and the head says what is invented.
    expect(text).toMatch(/^ {2}idle_W: 45 +# Drawn from the bank/m);
    expect(text).toMatch(
      /^# Given when this file was written: site, weather, array, number of modules, loads\.$/m,
    );
    await expectClean(cwd);
  });

  test('named parts lend their values, from files that are found from where the scenario stands', async () => {
    const cwd = home();
    mkdirSync(join(cwd, 'plans'));
    const shelf = ['panels', 'modules', 'inverters', 'generators'];
    for (const name of shelf)
      writeFileSync(join(cwd, `${name}.yaml`), readFileSync(join(ROOT, 'data/parts', `${name}.yaml`)));
    const parts = shelf.flatMap((name) => ['--parts', `${name}.yaml`]);
    const named = ['--panel', 'panel-430W', '--panels', '14', '--module', 'module-5kWh', '--modules', '4'];
    const machines = ['--inverter', 'all-in-one-5kW', '--generator', 'diesel-4kW'];
    const io = memoryIo({ cwd });
    const status = await runProgram(['init', 'plans/a.yaml', ...parts, ...named, ...machines], io);
    expect(io.said).not.toMatch(/fix/);
    expect(status).toBe(0);
    const data = parse(readFileSync(join(cwd, 'plans/a.yaml'), 'utf8'));
    expect(data.parts_files).toEqual(shelf.map((name) => `../${name}.yaml`));
    expect(data.bank).toEqual({
      part: 'module-5kWh',
      modules_parallel: 4,
      temperature: { kind: 'indoors', temperature_C: 12 },
    });
    expect(data.inverter).toEqual({ part: 'all-in-one-5kW' });
    // The all-in-one brings both.
    expect(data.charger).toBeUndefined();
    expect(data.arrays[0].tracker).toBeUndefined();
    expect(data.arrays[0]).toMatchObject({ part: 'panel-430W', panels: 14 });
    expect(data.generator).toEqual({ part: 'diesel-4kW', start_soc: 0.2, stop_soc: 0.7 });
    const checked = memoryIo({ cwd });
    expect(await runProgram(['check', 'plans/a.yaml'], checked)).toBe(0);
  });

  const BAD: [what: string, args: string[], said: RegExp][] = [
    ['a site without its place', ['--site-name', 'High hut'], /--at: --site-name is of a place/],
    ['sun of a place that is not told', WEATHER, /--at: --ghi is of a place/],
    ['half its weather', [...SITE, '--ghi', GHI], /--air-temperature: it is missing/],
    ['one coordinate', ['--at', '44.5'], /no pair of latitude and longitude[\s\S]*44°30'N 71°18'W/],
    ['turned coordinates', ['--at', '-111.3,44.5'], /is no latitude[\s\S]*Latitude comes first/],
    ['a height in fathoms', ['--at', '44.5,-71.3', '--elevation-m', '9 fathoms'], /no height[\s\S]*1200ft/],
    [
      'eleven months',
      [...SITE, ...FACING, '--ghi', '1 2 3', '--air-temperature', AIR],
      /12 figures are needed, found 3/,
    ],
    [
      'a word for a figure',
      [...SITE, ...FACING, '--ghi', GHI, '--air-temperature', 'mild'],
      /"mild" is no number/,
    ],
    ['panels without a kind', ['--panels', '4'], /--panel and --panels go together/],
    ['a latitude of no place', [...WEATHER, ...FACING, ...SITE.with(3, '96,11')], /96 is no latitude/],
    ['an unknown part', ['--module', 'tin'], /bank\.part: no part is named "tin"/],
    [
      'a December of the tropics far north',
      [...SITE, ...FACING, '--ghi', '5 '.repeat(12), '--air-temperature', AIR],
      /ghi/,
    ],
    ['a file of parts that is not there', ['--parts', 'no.yaml'], /no\.yaml: no such file/],
  ];
  test.each(BAD)('%s is refused and nothing is written', async (_, args, said) => {
    const { status, io, cwd } = await asked(null, args);
    expect(io.said).toMatch(said);
    expect(io.said).toMatch(/fix: /);
    expect(status).toBe(2);
    expect(contents(cwd)).toEqual({});
  });

  test('a clear sky is written and warned of', async () => {
    const { status, io, data, cwd } = await asked(null, [
      ...SITE,
      ...FACING,
      '--clear-sky',
      '--air-temperature',
      '4',
    ]);
    expect(status).toBe(0);
    expect(io.said).toMatch(/no forecast: decide nothing by it/);
    expect(data.weather).toEqual({ kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 4 });
    await expectClean(cwd);
  });
});

describe('a place by its coordinates alone', () => {
  const SIZES = ['--daily-kWh', '6', '--array-kWp', '5', '--modules', '3'];

  test('gets a file that plays, and the report says that its sky is a first guess', async () => {
    const { status, io, data, text, cwd } = await asked(null, ['--at', '44.5,-71.3', ...SIZES]);
    expect(status, io.said).toBe(0);
    expect(data.site).toMatchObject({
      latitude_deg: 44.5,
      longitude_deg: -71.3,
      time_zone: 'America/New_York',
    });
    expect(data.weather).toMatchObject({ kind: 'monthly_means', source: 'first_guess' });
    // Twelve of each, rounded as the YAML has them, and said as it wants them.
    expect(data.weather.ghi_kWh_m2_day).toHaveLength(12);
    expect(io.said).toContain(`ghi_kWh_m2_day: [${data.weather.ghi_kWh_m2_day.join(', ')}]`);
    expect(data.weather.ghi_kWh_m2_day[6]).toBeGreaterThan(3 * data.weather.ghi_kWh_m2_day[11]);
    expect(data.arrays[0]).toMatchObject({ size_kWp: 5, tilt_deg: 60, azimuth_deg: 180 });
    expect(text).toMatch(/^ {2}elevation_m: \d+ +# assumed/m);
    expect(text).toContain('# Given when this file was written: site, array, number of modules, loads.');
    expect(io.said).toMatch(/national weather service/);
    const run = memoryIo({ cwd });
    expect(await runProgram(['run', 'scenario.yaml', '--out', 'out'], run), run.said).toBe(0);
    expect(run.said).toMatch(/note: weather: sun and air are a first guess/);
    const report = JSON.parse(readFileSync(join(cwd, 'out/report.json'), 'utf8'));
    expect(report.assumptions).toContainEqual(
      expect.objectContaining({ path: 'weather.source', value: 'first_guess', moves: 'verdict_most' }),
    );
    const page = readFileSync(join(cwd, 'out/report.md'), 'utf8');
    expect(page.indexOf('| `weather.source`')).toBeGreaterThan(0);
    expect(page.indexOf('| `weather.source`')).toBeLessThan(page.indexOf('losses.snow_share'));
    // What is in the file is what the table says: nothing to tell of.
    const weather = memoryIo({ cwd });
    expect(await runProgram(['weather', 'scenario.yaml'], weather)).toBe(0);
    expect(weather.said).not.toMatch(/first_guess, and the figures|by a first guess of the place/);
  });

  test('south of the equator it faces north, and January is summer', async () => {
    const { data } = await asked(null, ['--at', '34°36′S 58°23′W', '--elevation-m', '100ft', ...SIZES]);
    expect(data.site).toMatchObject({ latitude_deg: -34.6, longitude_deg: -58.3833, elevation_m: 30 });
    expect(data.site.time_zone).toBe('America/Argentina/Buenos_Aires');
    expect(data.arrays[0]).toMatchObject({ tilt_deg: 50, azimuth_deg: 0 });
    expect(data.weather.ghi_kWh_m2_day[0]).toBeGreaterThan(2 * data.weather.ghi_kWh_m2_day[5]);
    expect(data.weather.air_temperature_C[0]).toBeGreaterThan(data.weather.air_temperature_C[6] + 8);
  });

  test.each([
    ['44.5 -71.3', [44.5, -71.3]],
    ['44.5N,71.3W', [44.5, -71.3]],
    ['71.3W 44.5N', [44.5, -71.3]],
    ['N44.5 W71.3', [44.5, -71.3]],
    ['44,5 -71,3', [44.5, -71.3]],
    ['44,5; -71,3', [44.5, -71.3]],
    ["44°30'N 71°18'W", [44.5, -71.3]],
    ['44° 30\' 0" N, 71° 18\' 0" W', [44.5, -71.3]],
    ['-1,36', [-1, 36]],
    ['44.5N', null],
    ['44.5N -71.3W', null],
    ['44.5N 71.3', null],
    ["44°75'N 71°18'W", null],
    ['91,0', null],
    ['0,181', null],
    ['here', null],
  ])('%s', (text, place) => {
    const read = readPlace(text);
    if (place === null) expect(read).toMatch(/; write 44\.5,-71\.3/);
    else expect(read).toEqual({ latitude_deg: place[0], longitude_deg: place[1] });
  });

  test.each([
    ['366', 366],
    ['366 m', 366],
    ['1200ft', 366],
    ['1200 feet', 366],
    ['-20', -20],
  ])('%s is %d m high', (text, height_m) => {
    expect(readHeight_m(text)).toBe(height_m);
  });

  test('a weather file says where it is', async () => {
    const cwd = home();
    writeFileSync(join(cwd, 'hut.csv'), tmy3Rows(inventedSky(TOLVMYR, 1, 2025)).join('\n'));
    const { status, io, data } = await asked(null, ['--weather', 'hut.csv', ...SIZES], cwd);
    expect(status, io.said).toBe(0);
    expect(data.site).toMatchObject({ name: 'Tolvmyr, A', latitude_deg: 61.3, elevation_m: 690 });
    expect(data.weather).toEqual({ kind: 'tmy3', file: 'hut.csv' });
    await expectClean(cwd);
    const both = await asked(null, ['--weather', 'hut.csv', ...WEATHER, '--force'], cwd);
    expect(both.io.said).toMatch(/--weather: --ghi is given too/);
  });

  test('a table of loads is named as its head says, or refused with its columns', async () => {
    const cwd = home();
    const rows = Array.from({ length: 8760 }, (_, h) => {
      const stamp = new Date(Date.UTC(2025, 0, 1, h)).toISOString().slice(0, 16);
      return `${stamp};0.2`;
    });
    writeFileSync(join(cwd, 'meter.csv'), ['time;house_kW', ...rows].join('\n'));
    const at = ['--at', '51.5,0', '--time-zone', 'UTC', ...SIZES.slice(2)];
    const { status, io, data } = await asked(null, [...at, '--loads', 'meter.csv'], cwd);
    expect(status, io.said).toBe(0);
    expect(data.loads).toEqual([
      {
        kind: 'series',
        name: 'all loads',
        file: 'meter.csv',
        delimiter: ';',
        time: { column: 'time', zone: 'UTC', label: 'start' },
        power: { column: 'house_kW', unit: 'kW' },
      },
    ]);
    expect(data.run.year).toBe(2025);
    expect(io.said).toMatch(/stamps of meter\.csv are taken as local time/);
    writeFileSync(join(cwd, 'odd.csv'), 'time,house,shed\n2025-01-01 00:00,1,2\n');
    const odd = await asked(null, [...at, '--loads', 'odd.csv', '--force'], cwd);
    expect(odd.status).toBe(2);
    expect(odd.io.said).toMatch(/the columns are "time", "house", "shed"[\s\S]*load_kW/);
  });
});

describe('questions', () => {
  test('are asked on a terminal only, and not once an option has said something', async () => {
    const { questions, text } = await asked([], ['--example']);
    expect(questions).toEqual([]);
    expect(text).toContain(STARTER);
    expect((await asked([], ['--modules', '3'])).questions).toEqual([]);
    // Without a terminal there is nobody to ask: `ask` is not even there.
    expect((await asked(null)).status).toBe(0);
  });

  test('Enter to all of them gives the starter', async () => {
    const { status, text, questions } = await asked(Array(20).fill(''));
    expect(status).toBe(0);
    expect(text).toBe(`# yaml-language-server: $schema=scenario.schema.json\n${STARTER}`);
    expect(questions.length).toBeLessThanOrEqual(8);
  });

  test('a site is asked for whole, wrong answers again', async () => {
    const { status, io, data, cwd, questions, left } = await asked([
      ...['High hut', 'north', '', '96 11', '61,3 11,8', 'high', '690', 'Europe/Olso', 'Europe/Oslo'],
      ...['1 2 3', GHI, AIR, '0', '5.2', 'no-such.yaml', ''],
      ...['6', '70', '180', '4', 'perhaps', 'no'],
    ]);
    expect(status).toBe(0);
    expect(left).toEqual([]);
    expect(questions.filter((question) => question.startsWith('Latitude')).length).toBe(4);
    expect(io.said).toMatch(
      /no pair[\s\S]*no latitude[\s\S]*no height[\s\S]*unknown IANA time zone[\s\S]*found 3/,
    );
    expect(io.said).toMatch(/no-such\.yaml: no such file/);
    expect(data.site).toMatchObject({ name: 'High hut', latitude_deg: 61.3, time_zone: 'Europe/Oslo' });
    expect(data.loads).toHaveLength(1);
    expect(data.arrays[0]).toMatchObject({ size_kWp: 6, tilt_deg: 70, azimuth_deg: 180 });
    expect(data.bank.modules_parallel).toBe(4);
    expect(data.generator).toBeUndefined();
    await expectClean(cwd);
  });

  test('Enter takes height, zone, sun and air from the coordinates', async () => {
    const { status, data, io, left } = await asked(['Sea hut', '-41.3 174.8', ...Array(11).fill('')]);
    expect(status, io.said).toBe(0);
    expect(left.length).toBeLessThan(4);
    expect(data.site).toMatchObject({ name: 'Sea hut', time_zone: 'Pacific/Auckland' });
    expect(data.weather.source).toBe('first_guess');
    expect(data.arrays[0].azimuth_deg).toBe(0);
  });

  test('parts are chosen by name from the file that was given', async () => {
    const cwd = home();
    writeFileSync(join(cwd, 'shelf.yaml'), readFileSync(join(ROOT, 'data/parts/modules.yaml')));
    const { status, data, questions } = await asked(
      ['', '', 'shelf.yaml', '', '', '', 'tin', 'module-10kWh', '3', ''],
      [],
      cwd,
    );
    expect(status).toBe(0);
    expect(questions.filter((question) => question.includes('module-5kWh, module-10kWh')).length).toBe(2);
    expect(data.bank).toMatchObject({ part: 'module-10kWh', modules_parallel: 3 });
    expect(data.bank.module).toBeUndefined();
    await expectClean(cwd);
  });

  test('a file that is there already is refused before anything is asked', async () => {
    const cwd = home();
    writeFileSync(join(cwd, 'scenario.yaml'), 'mine\n');
    const { status, questions, text } = await asked([], [], cwd);
    expect({ status, questions, text }).toEqual({ status: 2, questions: [], text: 'mine\n' });
  });
});
