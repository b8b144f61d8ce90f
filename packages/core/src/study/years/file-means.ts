import { type Assumption, modelled } from '../../basis/notices.ts';
import { checkedScenario, type ReadScenario } from '../../scenario/read.ts';
import type { MonthlyMeansWeather } from '../../scenario/schema/schema.ts';
import type { PreparedYear } from '../../year.ts';

/** Monthly means of a weather file, as weather that years are drawn from. */
interface FileMeans {
  /** With seed 0: each drawn year has its own. */ readonly means: MonthlyMeansWeather;
  /** Which years they are of, and every default beside them. */ readonly assumptions: readonly Assumption[];
}

/**
 * Monthly means over whole years of a weather file: of a month's days in all years together. Light is given to Wh/m²,
 * air to hundredths of a degree, so that who writes them into a scenario plays the same years.
 *
 * @param years prepared from the file, at least one
 * @throws InputError if a scenario can't have such means
 */
export function meansOfYears(
  read: ReadScenario,
  weatherFile: string,
  years: readonly PreparedYear[],
): FileMeans {
  const ghi_kWh_m2 = new Float64Array(12);
  const air_C_h = new Float64Array(12);
  const hours = new Float64Array(12);
  for (const { clock, sky } of years)
    for (let i = 0; i < clock.steps; i++) {
      const m = clock.month[i]! - 1;
      ghi_kWh_m2[m]! += (sky.ghi_W_m2[i]! * clock.step_h) / 1000;
      air_C_h[m]! += sky.air_temperature_C[i]! * clock.step_h;
      hours[m]! += clock.step_h;
    }
  const mean = (sums: Float64Array, per: number, parts: number): number[] =>
    [...sums].map((sum, m) => Math.round((parts * per * sum) / hours[m]!) / parts);
  const { written, shelf } = read.source;
  const weather = {
    kind: 'monthly_means',
    ghi_kWh_m2_day: mean(ghi_kWh_m2, 24, 1000),
    air_temperature_C: mean(air_C_h, 1, 100),
    seed: 0,
  };
  const { scenario, assumptions } = checkedScenario(
    { ...written, data: { ...(written.data as object), weather } },
    shelf,
  );
  const ofYears = years.map(({ clock }) => clock.year);
  const which =
    ofYears.length === 1
      ? `the one year ${ofYears[0]}`
      : `${ofYears.length} years, ${ofYears[0]} to ${ofYears.at(-1)}`;
  return {
    means: scenario.weather as MonthlyMeansWeather,
    assumptions: [
      modelled(
        'model.drawn_years',
        `years are drawn from the monthly means of global light and air temperature of ${weatherFile}, over ${which}: ` +
          'light, runs of dull days, wind and haze of a drawn year are those of the model, not of the file',
        null,
        'verdict_most',
      ),
      ...assumptions.filter(({ path }) => path.startsWith('weather.')),
    ],
  };
}
