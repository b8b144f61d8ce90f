/** Possible years: which there are, what is drawn from a file, what a figure comes to over them, how many would tell. */

import {
  type Figures,
  prepareYear,
  readScenario,
  type StudyText,
  sizePlant,
  varyPlant,
} from '@longnight/core';
import {
  howSure,
  inYear,
  overYears,
  type PossibleYear,
  possibleYears,
  readAxes,
  readRequirement,
  refuseYearAxes,
  yearsToTell,
} from '@longnight/core/study';
import { describe, expect, it, test } from 'vitest';
import { keptYears } from '../../packages/core/src/study/size/requirement.ts';
import { epwRows, inventedSky } from '../support/weather-files.ts';

const SITE = { name: 'x', latitude_deg: 50, longitude_deg: 10, elevation_m: 200, time_zone: 'Etc/GMT-1' };
/** Invented: the share of the light above the air in each year. */
const SHARES: Readonly<Record<number, number>> = { 2022: 0.45, 2023: 0.6, 2024: 0.35 };

/** The rows of some years, the last of them only up to a day. */
function rowsOf(years: readonly number[], lastDays = 366): string[] {
  const texts = years.map((year) => epwRows(inventedSky(SITE, 1, year, SHARES[year]!), () => year));
  const rows = texts.flatMap((text, k) => {
    const all = text.slice(8).filter((row) => row !== '');
    return k < texts.length - 1 ? all : all.slice(0, 24 * lastDays);
  });
  return [...texts[0]!.slice(0, 8), ...rows];
}

const MEANS = `kind: monthly_means
  ghi_kWh_m2_day: [0.6, 1.2, 2.5, 4.0, 5.0, 5.3, 5.1, 4.4, 3.0, 1.6, 0.8, 0.45]
  air_temperature_C: [0, 1, 5, 9, 14, 17, 19, 19, 14, 10, 5, 1]
  seed: 5`;
const plant = (weather: string): string => `
site: { name: x, latitude_deg: 50, longitude_deg: 10, elevation_m: 200, time_zone: Etc/GMT-1 }
weather:
  ${weather}
arrays:
  - name: a
    panels: 4
    panel_kWp: 0.5
    price: 110
    tilt_deg: 60
    azimuth_deg: 180
    power_temperature_coefficient_per_K: -0.0035
    mounting: open_rack
    tracker: { max_power_kW: 900, max_charge_A: 90000, efficiency_share: 0.97, price: 0 }
bank:
  chemistry: lfp
  modules_parallel: 1
  price: 900
  module: { nominal_voltage_V: 48, capacity_Ah: 50, max_charge_A: 20, max_discharge_A: 40 }
  round_trip_efficiency_share: 0.9
  floor_soc: 0.1
  temperature: { kind: indoors, temperature_C: 20 }
inverter: { rating_kW: 9, surge_kW: 9, idle_W: 0, price: 0, efficiency: { loss_linear: 0.06, loss_quadratic: 0 } }
money: { currency: coins, years: 1, discount_share_per_year: 0 }
loads: [{ kind: daily, name: all, energy_kWh_day: 2.4, shape: flat }]
run: { year: 2022 }
`;
const EPW = 'kind: epw\n  file: years.epw\n  years: own';
const read = (weather: string) => readScenario(plant(weather), 'x.yaml');
const textsOf = (rows: readonly string[]): ReadonlyMap<string, string> =>
  new Map([['years.epw', rows.join('\n')]]);
const messageOf = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    return (error as Error).message;
  }
  return '';
};

describe('which years there are', () => {
  const rows = rowsOf([2022, 2023, 2024], 100);
  const texts = textsOf(rows);

  it('seeds follow the one of the scenario', () => {
    expect(possibleYears(read(MEANS), 'x.yaml', texts, { seeds: 3 }).years).toEqual([
      { kind: 'drawn', seed: 5 },
      { kind: 'drawn', seed: 6 },
      { kind: 'drawn', seed: 7 },
    ]);
    expect(possibleYears(read(MEANS), 'x.yaml', texts, {}).years).toEqual([]);
  });

  it('a file gives its whole years, drawn ones of its own means, or both', () => {
    const ask = (wanted: object) => possibleYears(read(EPW), 'x.yaml', texts, wanted);
    const { years, left_out, assumptions } = ask({ seeds: 2, every_year: true });
    expect(years.map((year) => (year.kind === 'drawn' ? year.seed : year.year))).toEqual([2022, 2023, 1, 2]);
    expect(left_out.map(({ year }) => year)).toEqual([2024]);
    expect(ask({ every_year: true }).years).toEqual(years.slice(0, 2));
    expect(ask({ seeds: 2 }).years).toEqual(years.slice(2));
    expect(assumptions[0]!.why).toContain('years.epw, over 2 years, 2022 to 2023');
    expect(assumptions.map(({ path }) => path)).toEqual(
      expect.arrayContaining(['weather.daily_swing_K', 'weather.wind_m_s', 'weather.turbidity_linke']),
    );
  });

  it('means are those of the rows of whole years, added up anew', () => {
    const drawn = possibleYears(read(EPW), 'x.yaml', texts, { seeds: 1 }).years[0]!;
    const sums = Array.from({ length: 12 }, () => ({ light_Wh: 0, air_C: 0, hours: 0 }));
    for (const row of rows.slice(8)) {
      const cells = row.split(',');
      if (Number(cells[0]) === 2024) continue;
      const month = sums[Number(cells[1]) - 1]!;
      month.air_C += Number(cells[6]);
      month.light_Wh += Number(cells[13]);
      month.hours++;
    }
    const { means } = drawn as Extract<PossibleYear, { kind: 'drawn' }>;
    sums.forEach(({ light_Wh, air_C, hours }, m) => {
      expect(means!.ghi_kWh_m2_day[m]).toBeCloseTo((24 * light_Wh) / hours / 1000, 2);
      expect(means!.air_temperature_C[m]).toBeCloseTo(air_C / hours, 1);
    });
  });

  it('a drawn year of a file is that of a scenario with its means written into it', () => {
    const base = read(EPW);
    const [, drawn] = possibleYears(base, 'x.yaml', texts, { seeds: 2 }).years;
    const { means } = drawn as Extract<PossibleYear, { kind: 'drawn' }>;
    const written = read(
      `kind: monthly_means\n  ghi_kWh_m2_day: [${means!.ghi_kWh_m2_day}]\n  air_temperature_C: [${means!.air_temperature_C}]\n  seed: 2`,
    );
    const year = prepareYear({ ...base, scenario: inYear(base.scenario, drawn) }, 'x.yaml', texts);
    expect(year.sky.ghi_W_m2).toEqual(prepareYear(written, 'x.yaml').sky.ghi_W_m2);
  });

  it('what the weather has not is refused', () => {
    const clear = read('kind: clear-sky\n  turbidity_linke: 3\n  air_temperature_C: 10');
    expect(messageOf(() => possibleYears(clear, 'x.yaml', texts, { seeds: 2 }))).toContain(
      'the same every year',
    );
    expect(messageOf(() => possibleYears(read(MEANS), 'x.yaml', texts, { every_year: true }))).toContain(
      'no file of two whole years',
    );
    const part = textsOf(rowsOf([2022], 100));
    expect(messageOf(() => possibleYears(read(EPW), 'x.yaml', part, { seeds: 2 }))).toContain(
      'holds no whole year',
    );
    expect(messageOf(() => inYear(read(EPW).scenario, { kind: 'drawn', seed: 1 }))).toContain('no means');
    const years: PossibleYear[] = [{ kind: 'drawn', seed: 5 }];
    const refused = (axis: string, weather: string) =>
      messageOf(() => refuseYearAxes(readAxes([axis]), read(weather).scenario, years));
    expect(refused('weather.seed=1,2', MEANS)).toContain('says itself which years');
    expect(refused('weather.file=a,b', EPW)).toContain('says itself which years');
    expect(refused('run.year=2022,2023', EPW)).toContain('says itself which years');
    expect(refused('run.year=2022,2023', MEANS)).toBe('');
    expect(refused('bank.modules_parallel=1,2', EPW)).toBe('');
  });
});

describe('a figure over years', () => {
  // Worked by hand after definition 7: rank 1 + (n - 1) p, on a straight line between neighbours.
  it('has quantiles by definition 7, worked by hand', () => {
    expect(overYears('unmet.energy_kWh', 'p50', [4, 1, 3, 2])).toBe(2.5);
    expect(overYears('unmet.energy_kWh', 'p25', [4, 1, 3, 2])).toBe(1.75);
    expect(overYears('unmet.energy_kWh', 'p95', [0, 0, 0, 10])).toBeCloseTo(8.5, 12);
  });

  it('has the same quantiles by code of its own, for any years', () => {
    let state = 3;
    const draw = (): number => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return state / 2 ** 32;
    };
    for (let n = 1; n < 40; n++) {
      const values = Array.from({ length: n }, () => Math.round(100 * draw()) / 10);
      const order = [...values].sort((a, b) => a - b);
      for (let p = 1; p < 100; p += 7) {
        const at = ((n - 1) * p) / 100;
        const below = Math.floor(at);
        const wanted = order[below]! * (1 - (at - below)) + (order[below + 1] ?? 0) * (at - below);
        expect(overYears('unmet.energy_kWh', `p${p}`, values)).toBeCloseTo(wanted, 9);
      }
      expect(overYears('unmet.energy_kWh', 'mean', values)).toBeCloseTo(
        values.reduce((sum, value) => sum + value, 0) / n,
        9,
      );
    }
  });

  it('has its worst where it is no better, and none where neither end is', () => {
    expect(overYears('unmet.energy_kWh', 'worst', [1, 3, 2])).toBe(3);
    expect(overYears('bank.lowest_soc', 'worst', [0.4, 0.2, 0.3])).toBe(0.2);
    expect(overYears('array.curtailed_share', 'worst', [0.1])).toBeNull();
  });

  it('counts as 0 what the plant lacks, and as nothing what nobody knows', () => {
    expect(overYears('generator.run_hours', 'p95', [null, null])).toBe(0);
    expect(overYears('money.total', 'mean', [1, null])).toBeNull();
  });
});

describe('a requirement on a statistic', () => {
  const names = ['unmet.energy_kWh', 'generator.run_hours', 'array.curtailed_share'];
  const readOver = (text: string) => readRequirement(text, names, names);

  it('is read by its last word', () => {
    expect(readOver('unmet.energy_kWh.p95<=2')).toMatchObject({
      name: 'unmet.energy_kWh',
      statistic: 'p95',
      bound: 2,
    });
    expect(readOver('generator.run_hours.mean < 100')).toMatchObject({ statistic: 'mean', relation: '<' });
    expect(readOver('unmet.energy_kWh<=2').statistic).toBeNull();
  });

  it.each([
    ['unmet.energy_kWh.p0<=2', /"p0" is no statistic of unmet.energy_kWh.*p1 to p99, mean or worst/],
    ['unmet.energy_kWh.p100<=2', /"p100" is no statistic/],
    ['unmet.energy_kWh.median<=2', /"median" is no statistic/],
    ['unmet.energy_kW.p95<=2', /did you mean "unmet.energy_kWh.p95"/],
    ['generator.run_hour.worst<=2', /did you mean "generator.run_hours.worst"/],
    ['array.curtailed_share.worst<=2', /neither end of array.curtailed_share is worse/],
  ])('%s is refused', (text, message) => {
    expect(messageOf(() => readOver(text))).toMatch(message);
  });

  it('is refused where one year is played', () => {
    expect(messageOf(() => readRequirement('unmet.energy_kWh.p95<=2', names))).toMatch(
      /over many years, and one is played[\s\S]*add --seeds N/,
    );
  });

  it('is kept over all years, the others jointly in each', () => {
    const years = [
      { u: 0, g: 10 },
      { u: 5, g: 0 },
      { u: 0, g: 0 },
    ].map(
      ({ u, g }) =>
        (name: string) =>
          name === 'unmet.energy_kWh' ? u : g,
    );
    const all = ['unmet.energy_kWh<=1', 'generator.run_hours<=5', 'unmet.energy_kWh.p50<=0'].map(readOver);
    expect(keptYears(all, years)).toEqual({ years_held: 1, statistics_hold: true });
    expect(keptYears([readOver('unmet.energy_kWh.mean<=1')], years)).toEqual({
      years_held: 3,
      statistics_hold: false,
    });
  });
});

describe('how many years would tell', () => {
  /** Every count of years one after the other, held against the limits themselves. */
  function byBrute(held: number, years: number, asked: number, most: number): number | null {
    const excludes = (k: number, n: number): boolean => {
      const { low, high } = howSure(k, n);
      return asked / years < low || asked / years > high;
    };
    for (let n = years + 1; n <= most; n++) {
      const exact = (held * n) / years;
      if (excludes(held > asked ? Math.floor(exact + 1e-9) : Math.ceil(exact - 1e-9), n)) return n;
    }
    return null;
  }

  it.each([
    [92, 100, 95],
    [98, 100, 95],
    [10, 10, 9],
    [5, 10, 6],
    [20, 20, 19],
    [7, 12, 9],
    [3, 7, 4],
    [1, 30, 3],
    [0, 10, 1],
  ])('%d of %d years, %d asked: as counting up one by one finds', (held, years, asked) => {
    const { told, years: enough } = yearsToTell(held, years, asked);
    expect(told).toBe(false);
    expect(enough).toBe(byBrute(held, years, asked, 1000));
    expect(enough).not.toBeNull();
  });

  it.each([
    [95, 100, 50],
    [50, 100, 95],
    [99, 100, 100],
    [1, 100, 0],
  ])('%d of %d years, %d asked: told already, as the limits say', (held, years, asked) => {
    const { low, high } = howSure(held, years);
    expect(asked / years < low || asked / years > high).toBe(true);
    expect(yearsToTell(held, years, asked)).toEqual({ told: true, years: null });
  });

  it('never, where the share is the one asked for or all years must hold, or beyond what is counted', () => {
    for (const [held, years, asked] of [
      [95, 100, 95],
      [100, 100, 100],
      [9501, 10_000, 9500],
    ] as const)
      expect(yearsToTell(held, years, asked)).toEqual({ told: false, years: null });
  });
});

test('the order of the years changes nothing that is chosen or kept', () => {
  const source: StudyText = { text: plant(MEANS), file: 'x.yaml', partsTexts: new Map() };
  const axes = readAxes(['arrays[0].panels=8,16,32', 'bank.modules_parallel=2,4,8']);
  const years: PossibleYear[] = [5, 6, 7, 8].map((seed) => ({ kind: 'drawn', seed }));
  const turned = [years[2]!, years[0]!, years[3]!, years[1]!];
  const names = ['unmet.energy_kWh', 'unmet.hours'];
  const ask = {
    holds: ['unmet.energy_kWh<=20', 'unmet.hours.p75<=200', 'unmet.energy_kWh.mean<=15'].map((text) =>
      readRequirement(text, names, names),
    ),
    least: 'money.capital',
    years_to_hold: 3,
  } as const;
  const [one, other] = [years, turned].map((these) => sizePlant(source, axes, ask, { years: these }));
  const plain = (answer: typeof one, these: readonly PossibleYear[]) => ({
    ...answer,
    tried: Array.from({ length: 9 }, (_, index) => {
      const { hardest_year, ...tried } = answer!.tried(index)!;
      return { ...tried, hardest: these[hardest_year] };
    }),
  });
  expect(plain(other, turned)).toEqual(plain(one, years));
  expect(one!.best).not.toBeNull();
  expect(one!.holding).toBeLessThan(9);
  const inOrder = (these: readonly PossibleYear[]): readonly Figures[] =>
    [...varyPlant(source, axes.slice(0, 1), { years: these })][0]!.figures!;
  expect(inOrder(turned)).toEqual([2, 0, 3, 1].map((k) => inOrder(years)[k]));
});
