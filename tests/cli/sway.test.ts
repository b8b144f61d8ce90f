import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { readScenario, type Sway } from '@longnight/core';
import type { Swayed, Turn } from '@longnight/core/study';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, test } from 'vitest';
import {
  answerWords,
  dangerWords,
  holdingValue,
  nowWords,
  turnSentences,
} from '../../packages/cli/src/render/sway/words.ts';
import { contents, DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

const file = join(DEMO, 'holds.yaml');
const text = readFileSync(file, 'utf8');
const { scenario } = readScenario(text, 'holds.yaml');

describe('longnight sway', () => {
  const ran = longnight(['sway', file, '--out', 'out'], folder);
  const json = JSON.parse(readFileSync(join(folder, 'out/sway.json'), 'utf8'));
  const guess = (key: string): Swayed => json.guesses.find((one: Swayed) => one.key === key);

  test('says what turns the verdict, within 80 columns, and writes its files', () => {
    expect(ran).toMatchObject({ status: 0, stderr: '' });
    for (const line of ran.stdout.split('\n')) expect([...line].length, line).toBeLessThanOrEqual(80);
    expect(ran.stdout).toMatch(/It holds until the loads are [\d.]+ % larger\./);
    expect(ran.stdout).not.toMatch(/NaN|undefined|null/);
    expect(Object.keys(contents(join(folder, 'out')))).toEqual([
      'sway.csv',
      'sway.html',
      'sway.json',
      'sway.md',
      'sway.sha256',
    ]);
  });

  test('typed into the file, the value at which it holds does hold, and the one beyond does not', () => {
    const [{ holds_at, fails_at }] = guess('bank.module.capacity_Ah').turns as [Turn];
    const unmetWith = (capacity_Ah: number): number => {
      writeFileSync(
        join(folder, 'moved.yaml'),
        text.replace('capacity_Ah: 100\n', `capacity_Ah: ${capacity_Ah}\n`),
      );
      return JSON.parse(longnight(['run', 'moved.yaml', '--json'], folder).stdout).unmet.hours;
    };
    expect(unmetWith(holds_at)).toBe(0);
    expect(unmetWith(fails_at)).toBeGreaterThan(0);
    expect(unmetWith(holdingValue(guess('bank.module.capacity_Ah'), { holds_at, fails_at, reach: 1 }))).toBe(
      0,
    );
  });

  test('its files say the same, and the same each time', () => {
    const rows: Record<string, string>[] = parse(readFileSync(join(folder, 'out/sway.csv'), 'utf8'), {
      columns: true,
    });
    const load = guess('load');
    expect(
      rows
        .filter(({ key }) => key === 'load')
        .map((row) => [Number(row.value), Number(row['unmet.energy_kWh'])]),
    ).toEqual(load.plays.map(({ value, figures }) => [value, figures['unmet.energy_kWh']]));
    const markdown = readFileSync(join(folder, 'out/sway.md'), 'utf8');
    for (const row of rows) expect(markdown).toContain(row.guess!);
    expect(markdown).toContain('Pelland 2013');
    const page = readFileSync(join(folder, 'out/sway.html'), 'utf8');
    expect(page).toMatch(/<svg class="narrow".*aria-labelledby="swings-0-chart-narrow/);
    expect(longnight(['sway', file, '--json'], folder).stdout).toBe(
      readFileSync(join(folder, 'out/sway.json'), 'utf8'),
    );
  });

  test('marks what the file does not state, and what it does', () => {
    expect([guess('arrays[*].losses.snow_share').stated, guess('inverter.idle_W').stated]).toEqual([
      false,
      true,
    ]);
    expect(guess('load').stated).toBeNull();
    expect(ran.stdout).toMatch(/light lost to snow \*/);
    expect(ran.stdout).not.toMatch(/idle draw of the inverter \*/);
  });

  test.each([
    [['sway', 'nowhere.yaml'], 'nowhere.yaml'],
    [['sway', file, '--move', 'lod=0.9:1.1'], '--move lod=0.9:1.1: is no key of this scenario'],
    [['sway', file, '--move', 'load=1.1:0.9'], 'write load=0.9:1.1'],
    [['sway', file, '--require', 'unmet.shre<=0'], 'did you mean "unmet.share"?'],
    [['sway', file, '--move', ''], 'expected a name'],
    [['sway'], "missing required argument 'file'"],
  ])('refuses %j with exit code 2', (args, said) => {
    const { status, stdout, stderr } = longnight(args, folder);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain(said);
    expect(stderr).toContain('fix: ');
  });
});

describe('its sentences', () => {
  const figures = {
    'unmet.hours': 0,
    'unmet.energy_kWh': 0,
    'generator.run_hours': null,
    'bank.lowest_soc': 0.22,
    dangers: 0,
  };
  const swayed = (own: object): Swayed =>
    ({
      key: 'load',
      paths: [],
      scale: 'factor',
      today: 1,
      stated: null,
      to: [0.8, 1.2],
      is_range: true,
      plays: [],
      turns: [],
      turned_by: [],
      swing: {},
      ...own,
    }) as unknown as Swayed;
  const shown = (holds: boolean, guesses: readonly Swayed[] = [], own: object = {}) => ({
    sway: { holds, requirements: [], now: figures, guesses, idle: [], ...own } as unknown as Sway,
    scenario,
    moves: [],
  });
  const sentences = (holds: boolean, own: object): readonly string[] =>
    turnSentences(shown(holds), swayed(own));
  const turn = (holds_at: number, fails_at: number, reach = 0.5) => ({
    turns: [{ holds_at, fails_at, reach }],
  });
  const floor = {
    key: 'bank.floor_soc',
    paths: ['bank.floor_soc'],
    scale: 'value',
    today: 0.1,
    to: [0, 0.2],
    stated: true,
  };

  test.each<[boolean, object, string]>([
    // Rounded to the side on which it holds, so never up here and never down below.
    [true, turn(1.1169, 1.117), 'It holds until the loads are 11.6 % larger.'],
    [false, turn(0.9161, 0.9162), 'It would hold if the loads were 8.4 % smaller.'],
    [
      true,
      { ...turn(1.5, 1.51, 2.5) },
      'It holds until the loads are 50 % larger (beyond its range, −20 % to +20 %).',
    ],
    [true, { key: 'sun', to: [0.87, 1.13], ...turn(0.9, 0.899) }, 'It holds until the sun is 10 % weaker.'],
    [
      false,
      { key: 'panels', to: [0.94, 1.06], ...turn(1.05, 1.04) },
      'It would hold if the panels gave 5 % more.',
    ],
    [
      true,
      { key: 'air', scale: 'added', today: 0, to: [-3, 3], ...turn(-2.1, -2.2) },
      'It holds until the air is 2.1 K colder.',
    ],
    [true, { ...floor, ...turn(0.1449, 0.145) }, 'Floor of the bank: it holds up to 14.4 % (today 10 %).'],
    [
      false,
      { ...floor, stated: false, ...turn(0.0551, 0.0552) },
      'Floor of the bank: it would hold at 5.5 % (today 10 %; a default of ours).',
    ],
    [
      true,
      {
        ...floor,
        key: 'inverter.idle_W',
        paths: ['inverter.idle_W'],
        today: 30,
        to: [21, 45],
        ...turn(61.04, 61.05, 2.07),
      },
      'Idle draw of the inverter: it holds up to 61 W (today 30 W; beyond its range, 21 W to 45 W).',
    ],
    [
      true,
      {
        key: 'arrays[*].albedo',
        paths: ['arrays[0].albedo'],
        scale: 'added',
        today: 0,
        to: [-0.1, 0.2],
        ...turn(-0.05, -0.06),
      },
      'Light that the ground gives back: it holds down to −0.05.',
    ],
    [
      true,
      {
        key: 'arrays[*].sky_model',
        paths: ['arrays[0].sky_model'],
        scale: 'value',
        today: 'perez',
        stated: false,
        to: ['hay_davies'],
        is_range: false,
        turned_by: ['hay_davies'],
      },
      'Sky model, lower ground row, south: it does not hold at hay_davies (today perez; a default of ours).',
    ],
    [
      false,
      { ...floor, is_range: false, to: [0.05], turned_by: [0.05] },
      'Floor of the bank: it would hold at 5 % (today 10 %).',
    ],
  ])('%s %j', (holds, own, said) => expect(sentences(holds, own)).toEqual([said]));

  test('how it stands', () => {
    expect(nowWords(shown(true))).toBe(
      'It holds. Nothing is unmet; no generator; lowest state of charge 22 %.',
    );
    const now = { ...figures, 'unmet.hours': 7, 'unmet.energy_kWh': 3, 'generator.run_hours': 99 };
    expect(nowWords(shown(false, [], { now }))).toBe(
      'It does not hold. 3.00 kWh unmet in 7 h; the generator runs 99 h; lowest state of charge 22 %.',
    );
    const requirements = [{ text: 'unmet.share<=0.01' }];
    expect(nowWords(shown(true, [], { requirements }))).toMatch(
      /^It keeps what is required \(unmet.share<=0.01\)\. Nothing/,
    );
    expect(nowWords(shown(false, [], { requirements }))).toMatch(/^It misses what is required/);
  });

  test('how many guesses turn it', () => {
    const [near, far] = [swayed(turn(1.1, 1.2, 0.5)), swayed(turn(1.4, 1.5, 2))];
    const said = (...guesses: readonly Swayed[]) => answerWords(shown(true, guesses));
    expect(said(near, far)).toBe('One guess alone turns the verdict within its range.');
    expect(said(near, near)).toBe('Each of 2 guesses alone turns the verdict within its range.');
    expect(said(far)).toBe('No single guess turns the verdict within its range; some do farther off.');
    expect(said(swayed({}))).toBe(
      'No single guess turns the verdict, in its range or up to three times as far off. Several that are wrong together may.',
    );
  });

  test('a value that would make the plant a danger is told above all else', () => {
    const cold = { key: 'air', scale: 'added', today: 0, to: [-3, 3] };
    const plays = [
      { value: -3, figures: { ...figures, dangers: 1 } },
      { value: 3, figures },
    ];
    expect(dangerWords(shown(true, [swayed({ ...cold, plays })]))).toMatch(
      /^The plant would be a danger that it is not as described with air temperature at −3 K\./,
    );
    expect(dangerWords(shown(true, [swayed({ ...cold, plays: [plays[1]] })]))).toBeNull();
  });
});
