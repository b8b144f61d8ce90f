import { type Assumption, modelled as model } from '../basis/notices.ts';
import type { Site } from '../scenario/schema/schema.ts';
import { HIGHEST_m } from './clear-sky.ts';
import type { Decomposition } from './decompose.ts';
import { DAY_TO_DAY } from './persistence.ts';

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

export const drawnYear = (daysHeld: number): Assumption[] => [
  model(
    'model.sky.days',
    `each month has the mixture of dull and clear days that its mean implies (Bendt, Collares-Pereira & Rabl 1981; Knight, Klein & Duffie 1991) and that mean exactly, so a month is never duller than the table; ${daysHeld} days were held at the cleanest possible sky`,
  ),
  model(
    'model.sky.order',
    `the seed orders the days within each month, and a day remembers the one before with a correlation of ${DAY_TO_DAY} (Graham, Hollands & Unny 1988, recalled); longer runs of dull weather than that makes are not drawn`,
    null,
    'verdict_most',
  ),
  model(
    'model.sky.hours',
    'within a day the clouds are spread evenly: each hour has the same share of its clear sky (Ineichen & Perez 2002)',
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
