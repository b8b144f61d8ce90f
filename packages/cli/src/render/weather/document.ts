import type { WeatherReport, WeatherSpan } from '@longnight/core/sky';
import { type Block, type Document, figureColumns } from '../document/document.ts';
import { clockTime, counted, fixed, hours, MONTHS } from '../document/figures.ts';
import { placeWords, sentenceCase, weatherWords } from '../document/words.ts';

/** What `longnight weather` says: months, what became of the light on its way in, clock, tests. */
export function weatherDocument(weather: WeatherReport, scenarioName: string): Document {
  const { site, run, coverage, notices, assumptions } = weather;
  const read = [
    ...besideSentences(weather),
    ...notices.filter(({ id }) => !id.startsWith('quality-')).map(({ message }) => message),
    ...assumptions
      .filter(({ path, kind }) => kind === 'model' && ON_THE_WAY.includes(path))
      .map(({ why }) => sentence(why)),
  ];
  const failed = weather.quality.filter((test) => test.failed_steps > 0);
  return {
    title: `${site.name}, ${placeWords(site)}`,
    about: [
      `${run.year}, ${weatherWords(run)}`,
      `${scenarioName}: ${hours(coverage.hours)} from ${clockTime(coverage.from)} to ${clockTime(coverage.to)}, ` +
        `${counted(run.steps, 'step')} of ${run.step_min} min, each with a value.`,
    ],
    sections: [
      { id: 'months', title: 'Month by month', blocks: [monthTable(weather)] },
      {
        id: 'read',
        title: 'On the way in',
        blocks: [
          read.length === 0
            ? { kind: 'text', text: 'Nothing was filled, cut or left out.' }
            : { kind: 'list', items: read },
        ],
      },
      {
        id: 'clock',
        title: 'Clock',
        blocks: clockSentences(weather).map((text) => ({ kind: 'text', text })),
      },
      {
        id: 'quality',
        title: `Quality tests: ${failed.length === 0 ? 'no conflict found' : `${counted(failed.length, 'test')} of ${weather.quality.length} found something`}`,
        blocks: [
          {
            kind: 'list',
            items: failed.map(
              ({ what, failed_steps, tested_steps, first_time }) =>
                `${what}: ${fixed(failed_steps, 0)} of ${counted(tested_steps, 'step')}, first at ${clockTime(first_time!)}`,
            ),
          },
          {
            kind: 'text',
            text:
              'Physically possible and extremely rare values, closure and diffuse share after the tests that the Baseline ' +
              'Surface Radiation Network recommends (Long & Dutton 2002), made for minutes: an hour passes more easily. ' +
              'Rows of a file that can not be are refused before; what is counted here is used as it is.',
          },
        ],
      },
    ],
    foot: '',
  };
}

/** How monthly means compare with a first guess of the place, unless they are one. */
function besideSentences({ beside_guess, assumptions }: WeatherReport): string[] {
  if (beside_guess === null || assumptions.some(({ path }) => path === 'weather.source')) return [];
  const shares = beside_guess.own_share.filter((share) => share !== null);
  const [least, most] = [Math.min(...shares), Math.max(...shares)];
  return [
    `Its monthly means are ${fixed(least, 2)} to ${fixed(most, 2)} of a first guess for these coordinates, a coarse table from ` +
      'satellites that strays from stations by 12 % in a month, one standard deviation.',
  ];
}

const sentence = (text: string): string => `${sentenceCase(text)}.`;

/** Model statements that say what became of the light on its way in. */
const ON_THE_WAY: readonly string[] = [
  'weather.file',
  'weather.leap_day',
  'model.sky.typical_year',
  'model.sky.within_rows',
  'model.sky.split',
  'model.sky.gaps',
  'model.sky.wind',
];

const monthTable = ({ months, year }: WeatherReport): Block => {
  const row = (name: string, span: WeatherSpan): string[] => [
    name,
    fixed(span.ghi_kWh_m2, 1),
    fixed(span.dni_kWh_m2, 1),
    fixed(span.dhi_kWh_m2, 1),
    fixed(span.clearness, 2),
    fixed(span.air_temperature_mean_C, 1),
    fixed(span.air_temperature_least_C, 1),
    fixed(span.air_temperature_most_C, 1),
    fixed(span.wind_mean_m_s, 1),
  ];
  return {
    kind: 'table',
    caption: 'Light, air and wind by month',
    columns: [
      { title: '' },
      ...figureColumns(
        ['GHI', 'kWh/m²'],
        ['DNI', 'kWh/m²'],
        ['DHI', 'kWh/m²'],
        ['clearness'],
        ['air', '°C'],
        ['least', '°C'],
        ['most', '°C'],
        ['wind', 'm/s'],
      ),
    ],
    rows: months.map((span, m) => row(MONTHS[m]!, span)),
    sums: row('Year', year),
  };
};

function clockSentences({ clock, run }: WeatherReport): string[] {
  if (run.weather === 'monthly_means' || run.weather === 'clear-sky')
    return ['The light is made with the sun of the site: it tells nothing of a wrong longitude or zone.'];
  const { late_min, late_clearest_min, clearest_days, is_shifted } = clock;
  if (late_min === null) return ['There is no light to tell it by.'];
  const way = (value_min: number): string =>
    Math.abs(value_min) < 0.5
      ? 'with the sun'
      : `${fixed(Math.abs(value_min), 0)} min ${value_min > 0 ? 'later' : 'earlier'} in the day than the sun`;
  const clear =
    late_clearest_min === null
      ? 'no day is clear enough to be looked at on its own'
      : `${way(late_clearest_min)} on the ${counted(clearest_days, 'clearest day')}`;
  return [
    `The light comes ${way(late_min)} over the year; ${clear}.`,
    is_shifted
      ? `Shifted: check the label and the zone of the stamps, and site.longitude_deg. Clouds alone rarely shift a year by more than 20 min, or clear days by more than 15 min.`
      : 'No conflict found with the label and zone of the stamps and with the longitude.',
  ];
}
