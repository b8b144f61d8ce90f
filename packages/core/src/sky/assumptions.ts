import { type Assumption, modelled as model } from '../basis/notices.ts';
import type { MonthlyMeansWeather, Site } from '../scenario/schema/schema.ts';
import { HIGHEST_m } from './clear-sky.ts';
import type { Decomposition } from './decompose.ts';

/** What the sky takes for granted, in the words of the report. */

export const SUN = model(
  'model.sun',
  'the sun shines from its true place, its light not bent by the air, and the sky is that of a flat horizon; position after Meeus 1998',
);

const FITS: Readonly<Record<Decomposition, string>> = {
  erbs: 'Erbs, Klein & Duffie 1982',
  orgill_hollands: 'Orgill & Hollands 1977',
};

export const splitBy = (decomposition: Decomposition): Assumption =>
  model(
    'model.sky.split',
    `global light is split into beam and diffuse by the clearness of each step (${FITS[decomposition]}, made for hours); snow and single clouds are not known to it`,
  );

export const DIFFUSE_BY_DIFFERENCE = model(
  'model.sky.split',
  'diffuse light is the global less the beam of the file; where that is below zero the beam is cut',
);

export const BEAM_BY_DIFFERENCE = model(
  'model.sky.split',
  'beam is the global less the diffuse light of the file, up to the beam above the air; the rest stays diffuse',
);

export const FILLED_LIGHT = model(
  'model.sky.gaps',
  'missing light is filled by its clearness, from the hours beside the gap: nights stay dark; missing temperature and wind run in a straight line, without a day in it',
);

export const TEMPERATURE = model(
  'model.sky.air_temperature',
  'air follows the monthly means (lines that keep them, Sheng & Zwiers 1998) and a daily wave with its peak at 15 h solar time; no cold or hot spells, and no link with the clouds of the day',
  null,
  'verdict_most',
);

export const STEADY_WIND = model('model.sky.wind', 'the wind blows at one speed all year');

export const clearSky = (site: Site): Assumption[] => [
  model(
    'model.sky.clear',
    'no cloud ever, so no forecast; the light is that of air as hazy as turbidity_linke says, and clearer air lets more through (Ineichen & Perez 2002, low sun Perez et al. 2002)',
    null,
    'verdict_most',
  ),
  ...(site.elevation_m > HIGHEST_m
    ? [model('model.sky.clear.elevation', `above ${HIGHEST_m} m the clear air of ${HIGHEST_m} m is used`)]
    : []),
];

export const drawnYear = (
  { persistence, least_clearness, month_spread_share, day_to_day_K }: MonthlyMeansWeather,
  month_shares: readonly number[],
): Assumption[] => [
  model(
    'model.sky.days',
    `each day's clearness is drawn from the mixture of dull and clear days that its month's mean implies (Bendt, Collares-Pereira & Rabl 1981), ${least_clearness === undefined ? 'the dullest by that mean too' : 'the dullest as stated'}`,
  ),
  model(
    'model.sky.order',
    `a day remembers the one before, ${persistence === undefined ? 'more so in brighter months (fitted to decades of days at three places; Graham, Hollands & Unny 1988 for the kind of process)' : 'as much as stated'}; months therefore stray from their long-term means as ${month_spread_share === undefined ? 'their days make them' : 'far as stated'}: of those means this drawn year has ${month_shares.map((share) => `${Math.round(100 * share)}`).join(', ')} %, January first`,
  ),
  model(
    'model.sky.checked',
    'drawn years were held against decades of measured days in the Netherlands and on Crete only; other climates (inland basins with weeks of fog, monsoons) may have longer dull spells: years of days measured there are worth more',
    null,
    'verdict_most',
  ),
  model(
    'model.sky.hours',
    'within a day the clouds are spread evenly: each hour has the same share of its clear sky (Ineichen & Perez 2002); the day as a whole says how much of it is diffuse (Erbs, Klein & Duffie 1982, for days)',
  ),
  model(
    'model.sky.warmth',
    `air follows the monthly means (lines that keep them, Sheng & Zwiers 1998) and a daily wave with its peak at 15 h solar time; a day strays from its month's mean by ${day_to_day_K === undefined ? '2 to 8 K, more in the cold and inland (fitted to days at seven places)' : 'as much as stated'}, one standard deviation; clear days are colder where the sun is low`,
  ),
];

/** How the stamps of an open format were read. */
export const convention = (file: string, why: string): Assumption =>
  model('weather.file', why, file.split(/[\\/]/).at(-1)!);

export const typicalYear = (year: number): Assumption =>
  model(
    'model.sky.typical_year',
    `the months of the file are read as of ${year}, with the sun of ${year}; a typical year is made of usual months and leaves out the worst ones, so it is no test of the worst conditions (NREL, summary of the TMY3 archive)`,
    null,
    'verdict_most',
  );

export const WITHIN_ROWS = model(
  'model.sky.within_rows',
  'within a row of the file that is longer than a step, the light follows the sun: each step has the same share of the light from space; clouds that come and go within it are not seen',
);
