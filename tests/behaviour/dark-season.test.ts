import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { scenarioOf } from '@longnight/core';
import { darkSeasonsBelow } from '@longnight/core/study';
import { expect, test } from 'vitest';
import { parse } from 'yaml';

const data = parse(readFileSync(resolve(import.meta.dirname, '../../data/demo/short-of-bank.yaml'), 'utf8'));
const scenario = (weather: object) =>
  scenarioOf({ ...data, weather: { ...data.weather, ...weather } }, 'x').scenario;

test('winters with no spread are all as dark as the means, and none is darker', () => {
  const still = scenario({ month_spread_share: 0 });
  expect(darkSeasonsBelow(still, 1.001, true)).toEqual({ as_dark: 100, years: 100 });
  expect(darkSeasonsBelow(still, 0.999, true)).toEqual({ as_dark: 0, years: 100 });
  expect(darkSeasonsBelow(still, 1.001, false)).toEqual({ as_dark: 100, years: 100 });
});

test('with the spread of their days half of the winters lie below the means, and few a quarter below', () => {
  const { as_dark } = darkSeasonsBelow(scenario({}), 1, true)!;
  expect(as_dark).toBeGreaterThan(35);
  expect(as_dark).toBeLessThan(65);
  expect(darkSeasonsBelow(scenario({}), 0.75, true)!.as_dark).toBeLessThan(10);
});

test('it is the darkest season that is looked at: without any light no winter is darker, and each is as dark', () => {
  const ghi_kWh_m2_day = data.weather.ghi_kWh_m2_day.map((mean: number, m: number) =>
    [10, 11, 0].includes(m) ? 0 : mean,
  );
  const night = scenario({ month_spread_share: 0, ghi_kWh_m2_day });
  expect(darkSeasonsBelow(night, 0.5, true)).toEqual({ as_dark: 100, years: 100 });
});

test('a clear sky is not drawn', () => {
  const clear = { kind: 'clear-sky', turbidity_linke: 3, air_temperature_C: 5 };
  expect(darkSeasonsBelow(scenarioOf({ ...data, weather: clear }, 'x').scenario, 0.9, true)).toBeNull();
});
