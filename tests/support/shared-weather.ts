import { existsSync } from 'node:fs';
import { resolve } from 'node:path';

/**
 * Weather that others published, beside the project where it is developed and no part of it. Tests of it are skipped
 * without the folder; a checkout elsewhere names it in LONGNIGHT_WEATHER.
 */
export const WEATHER_FOLDER =
  process.env.LONGNIGHT_WEATHER ?? resolve(import.meta.dirname, '../../../shared/weather');
export const weatherThere = existsSync(WEATHER_FOLDER);

/** Files as public archives hand them out, beside it. */
export const FORMATS_FOLDER = resolve(WEATHER_FOLDER, '../formats');
export const formatsThere = existsSync(FORMATS_FOLDER);
