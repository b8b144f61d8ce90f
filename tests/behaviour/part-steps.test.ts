/** Windows beside the steps of the clock: what is lost of them, or barred beside them, and the step that plays them. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { buildClock } from '../../packages/core/src/clock/clock.ts';
import { wallClock } from '../../packages/core/src/clock/wall.ts';
import { windowShare } from '../../packages/core/src/clock/windows.ts';
import { partStepNotices } from '../../packages/core/src/loads/part-steps.ts';
import { readScenario } from '../../packages/core/src/scenario/read.ts';
import { prepareYear } from '../../packages/core/src/year.ts';

const EVERY_MONTH = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
const WEEK = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const said = (windows: string[], step_min: number, zone = 'Europe/Oslo', part: 'lost' | 'taken' = 'lost') =>
  partStepNotices(
    'shore.windows',
    { windows, days: WEEK, months: EVERY_MONTH },
    buildClock(2025, zone, step_min),
    part,
  );

describe('a socket', () => {
  it.each([
    [
      'half an hour of two steps',
      ['07:30-08:30'],
      60,
      '1 h a day of 07:30-08:30',
      '(365 h in the year)',
      'run.step_min: 30 plays it',
    ],
    ['a quarter', ['07:15-09:00'], 60, '0.75 h a day', '(273.8 h in the year)', 'run.step_min: 15 plays it'],
    [
      'a quarter at half hours',
      ['07:15-09:00'],
      30,
      '0.25 h a day',
      '(91.3 h in the year)',
      'run.step_min: 15 plays it',
    ],
    [
      'ten minutes',
      ['07:10-09:00'],
      30,
      '0.33 h a day',
      '(121.7 h in the year)',
      'run.step_min: 10 plays it',
    ],
    [
      'a third and a quarter',
      ['07:20-09:00', '10:15-11:00'],
      60,
      '1.42 h a day',
      'h in the year',
      'run.step_min: 5 plays it',
    ],
    [
      'no step at all',
      ['07:33-09:00'],
      60,
      '0.45 h a day',
      'h in the year)',
      'no step plays it as written: run.step_min: 5 comes closest',
    ],
    [
      'no step, at the finest',
      ['07:33-09:00'],
      5,
      '0.03 h a day',
      'h in the year',
      'no step plays it as written: move its ends',
    ],
  ] as const)('%s', (_about, windows, step_min, a_day, year, finer) => {
    const notices = said([...windows], step_min);
    expect(notices).toHaveLength(1);
    expect(notices[0]!.message).toContain(`shore.windows: at steps of ${step_min} min ${a_day}`);
    expect(notices[0]!.message).toContain(year);
    expect(notices[0]!.message).toContain(finer);
  });

  it('on the steps nothing is said: full hours, all day, past midnight, and in zones of :30 and :45', () => {
    for (const zone of ['Europe/Oslo', 'Asia/Kolkata', 'Asia/Kathmandu', 'Australia/Adelaide'])
      expect(said(['00:00-24:00', '22:00-06:00', '07:00-09:00'], 60, zone)).toEqual([]);
    expect(said(['07:30-08:30'], 30, 'Asia/Kathmandu')).toEqual([]);
  });

  it('where clocks move by half an hour, full hours lie beside the steps for a half of the year', () => {
    const [notice] = said(['07:00-09:00'], 60, 'Australia/Lord_Howe');
    expect(notice!.message).toMatch(
      /^shore\.windows: at steps of 60 min 1 h a day .*run\.step_min: 30 plays it/,
    );
    expect(said(['07:00-09:00'], 30, 'Australia/Lord_Howe')).toEqual([]);
  });

  it('the step that is named plays the windows with no part of a step left', () => {
    for (const [window, zone] of [
      ['07:30-08:30', 'Europe/Oslo'],
      ['05:50-23:10', 'Asia/Kathmandu'],
      ['22:45-06:15', 'Australia/Lord_Howe'],
    ] as const) {
      const step = Number(/run\.step_min: (\d+) plays/.exec(said([window], 60, zone)[0]!.message)![1]);
      const timetable = { windows: [window], days: WEEK, months: EVERY_MONTH };
      const share = windowShare(timetable, wallClock(buildClock(2025, zone, step)));
      expect(share.every((s) => s < 1e-9 || s > 1 - 1e-9)).toBe(true);
      expect(said([window], step, zone)).toEqual([]);
    }
  });
});

it('quiet hours bar the whole step that they touch: what is barred beside them is said', () => {
  const [notice] = said(['22:30-06:15'], 60, 'Europe/Oslo', 'taken');
  // 22:00 to 22:30 and 06:15 to 07:00.
  expect(notice!.message).toMatch(
    /1\.25 h a day beside 22:30-06:15 are barred too .*run\.step_min: 15 plays it/,
  );
});

it('a plant says so for its socket and its generator, and no more at the step that is named', () => {
  const text = readFileSync(
    resolve(import.meta.dirname, '../../data/demo/holds-with-generator.yaml'),
    'utf8',
  );
  const year = (step_min: number) => {
    const plant = text
      .replace(/^run:\n/m, `run:\n  step_min: ${step_min}\n`)
      .replace(/^generator:\n/m, 'generator:\n  quiet_windows: ["22:30-06:00"]\n')
      .concat('\nshore: { max_A: 10, voltage_V: 230, windows: ["07:30-08:30"] }\n');
    return prepareYear(readScenario(plant, 'x.yaml'), 'x.yaml', new Map());
  };
  const words = (step_min: number) =>
    year(step_min).notices.filter(({ id }) => id.startsWith('window-part-steps'));
  expect(words(60).map(({ id }) => id)).toEqual(['window-part-steps-taken', 'window-part-steps-lost']);
  expect(year(60).timetables.shore_there!.every((there) => there === 0)).toBe(true);
  expect(words(30)).toEqual([]);
  expect(year(30).timetables.shore_there!.reduce((sum, there) => sum + there, 0)).toBe(2 * 365);
});
