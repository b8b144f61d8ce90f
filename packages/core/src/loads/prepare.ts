import { type Assumption, modelled } from '../basis/notices.ts';
import type { Clock } from '../clock/clock.ts';
import { byMonth } from '../clock/months.ts';
import { wallClock } from '../clock/wall.ts';
import { addWindows } from '../clock/windows.ts';
import type { Load, PlainLoad, Scenario, SeriesLoad } from '../scenario/schema/schema.ts';
import type { FileTexts } from '../series/types.ts';
import { addDaily } from './daily.ts';
import { flexibleYear, surplusYear } from './flexible.ts';
import { rowPeaks } from './rows.ts';
import { switchAllOn } from './running.ts';
import { meteredLoads, type PlacedLoad } from './series.ts';
import { addTemperature } from './temperature.ts';
import type { LoadEnergy, LoadYear } from './types.ts';
import { dayFactors, seedInYear } from './variation.ts';

/**
 * What the loads want in each step, summed by tier.
 *
 * @param air_temperature_C outside, mean of each step: some loads follow it
 * @param year_seed which year's days are drawn (`yearSeed`); null for the days of `variation_seed` itself
 * @returns mean powers over the steps, kW
 * @throws InputError if a file is missing or its series can't be used; the issues of all files together
 */
export function prepareLoads(
  loads: readonly Load[],
  clock: Clock,
  files: FileTexts,
  air_temperature_C: Float64Array,
  withRunning = false,
  year_seed: number | null = null,
): LoadYear {
  const wall = wallClock(clock);
  const plain = loads.filter(
    (load): load is PlainLoad => load.kind !== 'flexible' && load.kind !== 'surplus',
  );
  const tiers = [...new Set(plain.map((load) => load.tier))].sort((a, b) => a - b);
  const newTiers = () => new Map(tiers.map((tier) => [tier, new Float64Array(clock.steps)]));
  const byTier = newTiers();
  const dcByTier = plain.some((load) => load.bus === 'dc') ? newTiers() : null;
  const legs = Math.max(0, ...plain.map((load) => load.leg ?? 0));
  const legsByTier = Array.from({ length: legs }, newTiers);
  const byLoad: LoadEnergy[] = loads.map(({ name, kind }) => ({
    name,
    kind,
    tier: null,
    by_month_kWh: null,
  }));
  const put = (index: number, power_kW: Float64Array): void => {
    const load = loads[index] as PlainLoad;
    const by_month_kWh = byMonth(power_kW, clock).map((sum_kW) => sum_kW * load.scale * clock.step_h);
    byLoad[index] = { name: load.name, kind: load.kind, tier: load.tier, by_month_kWh };
    add(byTier.get(load.tier)!, power_kW, load.scale);
    if (load.bus === 'dc') add(dcByTier!.get(load.tier)!, power_kW, load.scale);
    else if (load.leg !== undefined) add(legsByTier[load.leg - 1]!.get(load.tier)!, power_kW, load.scale);
  };
  const assumptions: Assumption[] = [];
  const fromFiles: PlacedLoad<SeriesLoad>[] = [];
  const sum_kW = new Float64Array(clock.steps);
  for (const [index, load] of loads.entries()) {
    if (load.kind === 'flexible' || load.kind === 'surplus') continue;
    if (load.kind === 'series') {
      fromFiles.push({ index, load });
      continue;
    }
    sum_kW.fill(0);
    if (load.kind === 'appliance')
      addWindows(load, wall, (load.power_W * load.count * load.duty_share) / 1000, sum_kW);
    else if (load.kind === 'temperature') addTemperature(load, wall, air_temperature_C, sum_kW);
    else {
      addDaily(load, wall, sum_kW);
      if (load.shape === 'evening' || load.shape === 'working_day')
        assumptions.push(modelled(`loads[${index}].shape`, INVENTED_SHAPE, load.shape));
    }
    if (load.daily_variation_share > 0) {
      // check.ts asks for the seed.
      const seed = load.variation_seed!;
      const drawn = year_seed === null ? seed : seedInYear(seed, year_seed);
      const factors = dayFactors(clock.days, load.daily_variation_share, drawn);
      for (let i = 0; i < clock.steps; i++) sum_kW[i]! *= factors[clock.day[i]!]!;
      const path = `loads[${index}].daily_variation_share`;
      assumptions.push(modelled(path, VARIES, load.daily_variation_share));
    }
    if (load.kind === 'temperature') assumptions.push(modelled(`loads[${index}].slope_W_per_K`, FOLLOWS_AIR));
    put(index, sum_kW);
  }
  const metered = meteredLoads(fromFiles, clock, files);
  for (const { index, power_kW } of metered) put(index, power_kW);
  const flexible = loads.flatMap((load, index) => {
    if (load.kind !== 'flexible') return [];
    const year = flexibleYear(load, clock, wall);
    byLoad[index] = { ...byLoad[index]!, by_month_kWh: byMonth(year.asked_kWh, clock) };
    return [year];
  });
  const total_kW = new Float64Array(clock.steps);
  for (const tier_kW of byTier.values()) add(total_kW, tier_kW, 1);
  let running_kW: Float64Array | null = null;
  if (withRunning) {
    running_kW = total_kW.slice();
    for (const dc_kW of dcByTier?.values() ?? []) add(running_kW, dc_kW, -1);
    switchAllOn(loads, wall, running_kW);
  }
  return {
    by_load: byLoad,
    tiers,
    tier_kW: [...byTier.values()],
    total_kW,
    dc_tier_kW: dcByTier === null ? null : [...dcByTier.values()],
    leg_tier_kW: legs === 0 ? null : legsByTier.map((tier) => [...tier.values()]),
    running_kW,
    row_peaks: rowPeaks(
      metered.flatMap(({ index, short }) => (short === null ? [] : [{ index, short }])),
      loads,
      clock,
    ),
    flexible,
    surplus: loads.flatMap((load) => (load.kind === 'surplus' ? [surplusYear(load, clock, wall)] : [])),
    notices: metered.flatMap((load) => load.notices),
    assumptions: [
      ...assumptions,
      ...metered.flatMap((load) => load.assumptions),
      ...loads.flatMap((load, index) =>
        load.kind === 'flexible' ? [modelled(`loads[${index}].window`, WAITS, load.window)] : [],
      ),
    ],
  };
}

/** True if the weather decides what any of the loads wants: by its air, or by the year that it is of. */
export const followsWeather = (loads: readonly Load[]): boolean =>
  loads.some(
    (load) =>
      load.kind === 'temperature' || ('daily_variation_share' in load && load.daily_variation_share > 0),
  );

/** Which year's days the loads draw: the drawn year's, or the calendar's; null under a clear sky, which is of no year. */
export const yearSeed = ({ weather, run }: Scenario): number | null =>
  weather.kind === 'clear-sky' ? null : weather.kind === 'monthly_means' ? weather.seed : run.year;

const INVENTED_SHAPE =
  'the hours of this named shape are invented, measured nowhere; give 24 weights of your own';

const VARIES =
  'each local day draws a factor, log-normal with mean 1, independent of other days and of the weather, anew in every ' +
  'drawn or measured year; a step that midnight cuts has that of the day on which it begins';
const WAITS =
  'takes sun that the other loads leave, before the bank does; what is still to come when its window is only just ' +
  'long enough is asked for like any load, behind those of all tiers';
const FOLLOWS_AIR =
  'in proportion to the kelvins beyond the base temperature in each step: no sun through windows, no heat kept in ' +
  'walls, the same slope however cold it gets';

function add(sum: Float64Array, term: Float64Array, factor: number): void {
  for (let i = 0; i < sum.length; i++) sum[i]! += factor * term[i]!;
}
