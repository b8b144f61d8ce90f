import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { colourWanted } from '../../packages/cli/src/io.ts';
import { runProgram } from '../../packages/cli/src/program.ts';
import { memoryIo } from './support/memory-io.ts';
import { bundle, contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { noPosix } from './support/system.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const holds = join(DEMO, 'holds.yaml');

test('init, then check, then run', () => {
  const home = join(folder, 'home');
  mkdirSync(home);
  const made = longnight(['init'], home);
  expect(made).toMatchObject({ status: 0, stdout: 'scenario.yaml\n' });
  expect(longnight(['check', 'scenario.yaml'], home)).toMatchObject({ status: 0, stderr: '' });
  const ran = longnight(['run', 'scenario.yaml', '--out', 'out'], home);
  expect(ran).toMatchObject({ status: 0, stderr: '' });
  expect(Object.keys(contents(home))).toContain('out/report.md');
});

test('init overwrites nothing unless told to, and makes no folders', () => {
  const mine = join(folder, 'mine.yaml');
  writeFileSync(mine, 'mine\n');
  const refused = longnight(['init', 'mine.yaml'], folder);
  expect(refused.status).toBe(2);
  expect(refused.stderr).toMatch(/^mine\.yaml: the file is there already[\s\S]*--force/);
  expect(readFileSync(mine, 'utf8')).toBe('mine\n');
  expect(longnight(['init', 'mine.yaml', '--force'], folder).status).toBe(0);
  expect(readFileSync(mine, 'utf8')).toMatch(/^# A stand-alone solar plant/m);

  const nowhere = longnight(['init', 'nowhere/s.yaml'], folder);
  expect(nowhere).toMatchObject({ status: 2, stdout: '' });
  expect(nowhere.stderr).toMatch(/^nowhere: no such folder/);
  expect(existsSync(join(folder, 'nowhere'))).toBe(false);
});

test('the summary answers in the order a practitioner asks, within 80 columns', () => {
  const { stdout } = longnight(['run', holds]);
  const order = [
    'Does it hold?',
    'Leanest week',
    'Autonomy',
    'Gives out first',
    'Generator',
    'Array',
    'Bank',
    'Energy balance',
  ];
  const at = order.map((label) => stdout.indexOf(`\n${label}`));
  expect(at.every((place) => place > 0)).toBe(true);
  expect(at).toEqual([...at].sort((a, b) => a - b));
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
  expect(stdout).not.toMatch(/NaN|undefined/);
});

test('check says what sets each figure, prints the cautions and never calls anything safe', () => {
  const { stdout, status } = longnight(['check', holds]);
  expect(status).toBe(0);
  expect(stdout).toMatch(/AC output, continuous: [\d.]+ kW\n {2}set by /);
  expect(stdout).toMatch(/Solar charging: [\d.]+ kW\n {2}set by /);
  expect(stdout).toMatch(/AC charging: not possible/);
  expect(stdout).toMatch(/licensed\s+electrician/);
  expect(stdout).toMatch(/No conflict found/);
  expect(stdout).not.toMatch(/\bsafe/i);
  expect(stdout.split('\n').filter((line) => line.length > 80)).toEqual([]);
});

test('--lean-days changes the stretch that is asked about', () => {
  const { stdout } = longnight(['run', holds, '--lean-days', '3', '--json']);
  expect(JSON.parse(stdout).leanest_days.by_day.length).toBe(3);
});

test('a scenario may be JSON', () => {
  const bad = join(import.meta.dirname, 'bad/good-series.yaml');
  expect(existsSync(bad)).toBe(true);
  const plant = {
    site: {
      name: 'J',
      latitude_deg: -33,
      longitude_deg: 20,
      elevation_m: 9,
      time_zone: 'Africa/Johannesburg',
    },
    weather: { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 15 },
    arrays: [
      {
        name: 'a',
        size_kWp: 2,
        tilt_deg: 30,
        azimuth_deg: 0,
        power_temperature_coefficient_per_K: -0.004,
        mounting: 'close_roof',
        tracker: { max_power_kW: 2, max_charge_A: 60 },
      },
    ],
    bank: {
      chemistry: 'lfp',
      modules_parallel: 1,
      module: { nominal_voltage_V: 51.2, capacity_Ah: 100, max_charge_A: 50, max_discharge_A: 100 },
      round_trip_efficiency_share: 0.94,
      floor_soc: 0.1,
      min_charge_temperature_C: 0,
      temperature: { kind: 'outdoors' },
    },
    inverter: {
      rating_kW: 3,
      surge_kW: 6,
      idle_W: 20,
      efficiency: { loss_linear: 0.03, loss_quadratic: 0.03 },
    },
    loads: [{ kind: 'daily', name: 'all', energy_kWh_day: 2, shape: 'flat' }],
    run: { year: 2024 },
  };
  writeFileSync(join(folder, 'plant.json'), JSON.stringify(plant));
  const ended = longnight(['run', 'plant.json', '--json'], folder);
  expect(ended.stderr).toBe('');
  expect(JSON.parse(ended.stdout).run.steps).toBe(8784);
});

test('a name full of marks shows as text in every output', () => {
  const name = '=1+1|<b>\u001b[31m*x*`\n@y';
  const text = readFileSync(holds, 'utf8').replace(/name: Tolvmyr.*/, `name: ${JSON.stringify(name)}`);
  writeFileSync(join(folder, 'odd.yaml'), text);
  const ended = longnight(['run', 'odd.yaml', '--out', 'odd'], folder);
  expect(ended.status).toBe(0);
  expect(ended.stdout).not.toContain('\u001b');
  expect(readFileSync(join(folder, 'odd/report.md'), 'utf8')).toMatch(
    /^# =1\+1\\\|\\<b\\>\\\[31m\\\*x\\\*\\` @y: the year/,
  );
  expect(readFileSync(join(folder, 'odd/hours.csv'), 'utf8')).not.toMatch(/(^|,)"?[=@]/m);
  expect(JSON.parse(readFileSync(join(folder, 'odd/report.json'), 'utf8')).site.name).toBe(name);
});

test('colour needs a terminal and no NO_COLOR', async () => {
  expect(colourWanted({}, true)).toBe(true);
  expect(colourWanted({}, false)).toBe(false);
  expect(colourWanted({ NO_COLOR: '1' }, true)).toBe(false);
  expect(colourWanted({ NO_COLOR: '' }, true)).toBe(true);
  expect(colourWanted({ TERM: 'dumb' }, true)).toBe(false);
  const bright = memoryIo({ colour: true });
  const dull = memoryIo();
  expect(await runProgram(['run', holds], bright)).toBe(0);
  expect(await runProgram(['run', holds], dull)).toBe(0);
  expect(bright.printed).toContain('\u001b[32m');
  // biome-ignore lint/suspicious/noControlCharactersInRegex: colour codes are what is taken out
  expect(bright.printed.replace(/\u001b\[\d+m/g, '')).toBe(dull.printed);
});

test.skipIf(noPosix)('a reader that closes the pipe early is no failure', () => {
  // The year's every day makes more text than a pipe holds, and `true` reads none of it.
  const command = `{ "$0" "$1" run "$2" --json --lean-days 365; echo "code $?" >&2; } | true`;
  const ended = spawnSync('sh', ['-c', command, process.execPath, bundle(), holds], { encoding: 'utf8' });
  expect(ended.stderr).toBe('code 0\n');
});

test('what is our fault exits 1 with a short message; the stack only on request', async () => {
  const fail = () => {
    throw new TypeError('a screen that is not there');
  };
  const io = memoryIo({ out: fail });
  expect(await runProgram(['run', holds], io)).toBe(1);
  expect(io.said).toMatch(/^longnight: TypeError: a screen that is not there\n/);
  expect(io.said).toMatch(/fault of Longnight[\s\S]*report it/);
  expect(io.said).not.toMatch(/\n\s+at /);

  const debug = memoryIo({ out: fail, env: { LONGNIGHT_DEBUG: '1' } });
  expect(await runProgram(['run', holds], debug)).toBe(1);
  expect(debug.said).toMatch(/\n\s+at /);
});

test('help and version go to standard output and exit 0', () => {
  expect(longnight(['--help'])).toMatchObject({ status: 0, stderr: '' });
  expect(longnight(['run', '--help']).stdout).toMatch(/--lean-days/);
  expect(longnight(['--version']).stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
});
