import * as z from 'zod';
import { expectArgument } from '../../basis/arguments.ts';
import { array } from './array.ts';
import { bank } from './bank.ts';
import { charger, inverter } from './inverter.ts';
import { key, leftOut, list, optional, text } from './key.ts';
import {
  type applianceLoad,
  type dailyLoad,
  type flexibleLoad,
  load,
  type seriesLoad,
  shedRule,
  type surplusLoad,
  type temperatureLoad,
} from './loads.ts';
import { money } from './money.ts';
import { otherSource, type seriesSource } from './other-sources.ts';
import { project } from './project.ts';
import { run } from './run.ts';
import { site } from './site.ts';
import { alternator, generator, shore } from './sources.ts';
import {
  type clearSky,
  type epw,
  type gaps,
  type monthlyMeans,
  type nasaPower,
  type nsrdb,
  type series,
  type seriesTime,
  type tmy3,
  weather,
} from './weather.ts';
import { wiring } from './wiring.ts';

/**
 * The scenario file. One schema checks it, types it and documents it: each key carries what is said of it (see
 * key.ts). It has no transforms, so that the checked value has the very shape of the file. Every default
 * carries its reason: the report lists each one used.
 */
export const scenarioSchema = z.strictObject({
  parts_files: optional(list(text(), 1, 50))`Files of parts, relative to the scenario file`,
  project: optional(project)`What stands at head and foot of the report; nothing of it is played`,
  site: key(site)`Where the plant stands`,
  weather: key(weather)`Where sun and air temperature come from`,
  arrays: key(list(array, 1, 20))`One entry for each array on a tracker input of its own`,
  bank: key(bank)`Battery bank: modules alike in parallel`,
  inverter: key(inverter)`Inverter; an all-in-one part brings charger and trackers`,
  charger: optional(charger)`AC charger, from generator or shore power into the bank | a generator carries
    loads and can not reach the bank`,
  generator: optional(generator)`Engine with an AC generator`,
  shore: optional(shore)`Power from a socket by the clock: at a quay, a site, a neighbour's; a step counts if
    it lies wholly in a window`,
  alternator: optional(alternator)`Current from a running engine into the bank, through a DC-DC
    charger`,
  other_sources: optional(
    list(otherSource, 1, 10),
  )`What else makes power by itself, whose output someone knows:
    a stream, a small wind turbine | none`,
  shedding: leftOut(list(shedRule, 0, 9), [])`Tiers of loads that are shed on purpose when the bank is low
    | no tier is shed on purpose`,
  loads: key(list(load, 1, 500))`Everything that draws power`,
  wiring: optional(wiring)`Cable between bank and inverter, for what check says of it; nothing of it is
    played`,
  money: optional(money)`What the plant costs, once every part has a price`,
  run: key(run)`The year that is played`,
});

/** A checked scenario with every default filled in. */
export type Scenario = z.output<typeof scenarioSchema>;
/** `project`, as checked. */
export type Project = NonNullable<Scenario['project']>;
/** `site`, as checked. */
export type Site = Scenario['site'];
/** `weather`, whatever its kind, as checked. */
export type Weather = Scenario['weather'];
/** `weather` of kind `clear-sky`, as checked. */
export type ClearSkyWeather = z.output<typeof clearSky>;
/** `weather` of kind `monthly_means`, as checked. */
export type MonthlyMeansWeather = z.output<typeof monthlyMeans>;
/** `weather` of kind `series`, as checked. */
export type SeriesWeather = z.output<typeof series>;
/** Weather in one of the open formats, which say themselves how they are to be read. */
export type OpenFormatWeather = z.output<typeof tmy3 | typeof epw | typeof nsrdb | typeof nasaPower>;
/** One of `arrays`, as checked. */
export type ArraySpec = Scenario['arrays'][number];
/** Data sheet of the panels of an array, as checked. */
export type PanelSpec = NonNullable<ArraySpec['panel']>;
/** Name of a model of diffuse light. */
export type SkyModel = ArraySpec['sky_model'];
/** A point of the line that hides the low sun, as checked. */
export type HorizonPoint = NonNullable<Site['horizon']>[number];
/** `bank`, as checked. */
export type BankSpec = Scenario['bank'];
/** `inverter`, as checked. */
export type InverterSpec = Scenario['inverter'];
/** `charger`, as checked. */
export type ChargerSpec = NonNullable<Scenario['charger']>;
/** `generator`, as checked. */
export type GeneratorSpec = NonNullable<Scenario['generator']>;
/** One of `other_sources`, as checked. */
export type OtherSourceSpec = NonNullable<Scenario['other_sources']>[number];
/** One of `other_sources` of kind `series`, as checked. */
export type SeriesSource = z.output<typeof seriesSource>;
/** `wiring`, as checked. */
export type WiringSpec = NonNullable<Scenario['wiring']>;
/** One of `loads`, whatever its kind, as checked. */
export type Load = Scenario['loads'][number];
/** A load of kind `appliance`, as checked. */
export type ApplianceLoad = z.output<typeof applianceLoad>;
/** A load of kind `daily`, as checked. */
export type DailyLoad = z.output<typeof dailyLoad>;
/** A load of kind `series`, as checked. */
export type SeriesLoad = z.output<typeof seriesLoad>;
/** A load of kind `flexible`, as checked. */
export type FlexibleLoad = z.output<typeof flexibleLoad>;
/** A load of kind `surplus`, as checked. */
export type SurplusLoad = z.output<typeof surplusLoad>;
/** Loads that are wanted when they are wanted. */
export type PlainLoad = Exclude<Load, { kind: 'flexible' } | { kind: 'surplus' }>;
/** A load of kind `temperature`, as checked. */
export type TemperatureLoad = z.output<typeof temperatureLoad>;
/** How time stamps of a CSV file are read, as checked. */
export type SeriesTime = z.output<typeof seriesTime>;
/** What is done where rows of a CSV file are missing, as checked. */
export type Gaps = z.output<typeof gaps>;

/** Names of the files that a scenario reads from, as it writes them, each once: weather first, then loads, then other sources. */
export function filesNamed(scenario: Scenario): readonly string[] {
  expectArgument('filesNamed', 'scenario', scenario, 'scenario');
  const files = new Set<string>();
  if ('file' in scenario.weather) files.add(scenario.weather.file);
  for (const one of [...scenario.loads, ...(scenario.other_sources ?? [])])
    if (one.kind === 'series') files.add(one.file);
  return [...files];
}
