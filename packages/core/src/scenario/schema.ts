import * as z from 'zod';
import { array } from './sections/array.ts';
import { bank } from './sections/bank.ts';
import { charger, inverter } from './sections/inverter.ts';
import {
  type applianceLoad,
  type dailyLoad,
  load,
  type seriesLoad,
  shedRule,
  type surplusLoad,
  type temperatureLoad,
  type waitingLoad,
} from './sections/loads.ts';
import { money } from './sections/money.ts';
import { run } from './sections/run.ts';
import { site } from './sections/site.ts';
import { engine_charging, generator, shore } from './sections/sources.ts';
import { assumed, name } from './sections/terms.ts';
import {
  type clearSky,
  type epw,
  type gaps,
  type normals,
  type series,
  type seriesTime,
  type tmy3,
  weather,
} from './sections/weather.ts';
import { wiring } from './sections/wiring.ts';

/**
 * The scenario file. One schema checks it, types it and (through JSON Schema) documents it. It has no transforms, so
 * that the checked value has the very shape of the file. Every default carries `why`: the report lists each one used.
 */
export const scenarioSchema = z.strictObject({
  /** Files of parts, relative to the scenario file. */
  parts_files: z.array(name()).min(1).optional(),
  site,
  weather,
  arrays: z.array(array).min(1).max(20),
  bank,
  inverter,
  charger: charger.optional(),
  generator: generator.optional(),
  shore: shore.optional(),
  engine_charging: engine_charging.optional(),
  shedding: assumed(z.array(shedRule).max(9), [], 'no tier is shed on purpose'),
  loads: z.array(load).min(1).max(500),
  wiring: wiring.optional(),
  money: money.optional(),
  run,
});

/** A checked scenario with every default filled in. */
export type Scenario = z.output<typeof scenarioSchema>;
export type Site = Scenario['site'];
export type Weather = Scenario['weather'];
export type ClearSkyWeather = z.output<typeof clearSky>;
export type NormalsWeather = z.output<typeof normals>;
export type SeriesWeather = z.output<typeof series>;
/** Weather in one of the open formats, which say themselves how they are to be read. */
export type OpenFormatWeather = z.output<typeof tmy3> | z.output<typeof epw>;
export type ArraySpec = Scenario['arrays'][number];
export type PanelSpec = NonNullable<ArraySpec['panel']>;
export type SkyModel = ArraySpec['sky_model'];
export type HorizonPoint = NonNullable<Site['horizon']>[number];
export type BankSpec = Scenario['bank'];
export type InverterSpec = Scenario['inverter'];
export type ChargerSpec = z.output<typeof charger>;
export type GeneratorSpec = z.output<typeof generator>;
export type ShoreSpec = z.output<typeof shore>;
export type EngineChargingSpec = z.output<typeof engine_charging>;
export type ShedRule = z.output<typeof shedRule>;
export type WiringSpec = z.output<typeof wiring>;
export type MoneySpec = z.output<typeof money>;
export type Load = Scenario['loads'][number];
export type ApplianceLoad = z.output<typeof applianceLoad>;
export type DailyLoad = z.output<typeof dailyLoad>;
export type SeriesLoad = z.output<typeof seriesLoad>;
export type WaitingLoad = z.output<typeof waitingLoad>;
export type SurplusLoad = z.output<typeof surplusLoad>;
/** Loads that are wanted when they are wanted. */
export type PlainLoad = Exclude<Load, { kind: 'waiting' } | { kind: 'surplus' }>;
export type TemperatureLoad = z.output<typeof temperatureLoad>;
export type SeriesTime = z.output<typeof seriesTime>;
export type Gaps = z.output<typeof gaps>;
