import type { WeatherReport, WeatherSpan } from '@longnight/core/sky';
import { clockTime, counted, fixed, hours, MONTHS } from '../document/figures.ts';
import type { Paint } from '../document/paint.ts';
import { plain, wrapped } from '../document/plain-text.ts';
import { placeWords, weatherWords } from '../document/words.ts';

const WIDTH = 80;

/** What the screen says beyond the weather itself. */
interface WeatherContext {
  readonly scenarioName: string;
  /** The files written and their folder as the user wrote it; null if none were asked for. */
  readonly written: { readonly folder: string; readonly names: readonly string[] } | null;
}

/** The weather of a year on one screen: months, gaps, clock, tests. */
export function weatherText(weather: WeatherReport, context: WeatherContext, paint: Paint): string {
  const { site, run, coverage } = weather;
  const lines: string[] = [];
  const say = (text: string, indent = 0): void => {
    lines.push(...wrapped(plain(text), WIDTH - indent).map((line) => ' '.repeat(indent) + line));
  };
  const bullet = (text: string): void => {
    const [first = '', ...rest] = wrapped(plain(text), WIDTH - 4);
    lines.push(`  - ${first}`, ...rest.map((line) => `    ${line}`));
  };
  const heading = (text: string): void => void lines.push('', paint.heading(text));

  lines.push(...wrapped(`${plain(site.name)}, ${placeWords(site)}`, WIDTH).map(paint.heading));
  say(`${run.year}, ${weatherWords(run)}`);
  say(
    `${context.scenarioName}: ${hours(coverage.hours)} from ${clockTime(coverage.from)} to ${clockTime(coverage.to)}, ` +
      `${counted(run.steps, 'step')} of ${run.step_min} min, each with a value.`,
  );

  heading('Month by month');
  lines.push(...monthLines(weather));

  heading('On the way in');
  const read = weather.notices.filter(({ id }) => !id.startsWith('quality-'));
  if (read.length === 0) say('Nothing was filled, cut or left out.', 2);
  for (const notice of read) bullet(notice.message);
  for (const { path, why, kind } of weather.assumptions)
    if (kind === 'model' && ON_THE_WAY.includes(path)) bullet(sentence(why));

  heading('Clock');
  for (const sentence of clockSentences(weather)) say(sentence, 2);

  const failed = weather.quality.filter((test) => test.failed_steps > 0);
  heading(
    `Quality tests: ${failed.length === 0 ? 'no conflict found' : `${counted(failed.length, 'test')} of ${weather.quality.length} found something`}`,
  );
  for (const { what, failed_steps, tested_steps, first_time } of failed)
    bullet(
      `${what}: ${fixed(failed_steps, 0)} of ${counted(tested_steps, 'step')}, first at ${clockTime(first_time!)}`,
    );
  say(
    'Physically possible and extremely rare values, closure and diffuse share after the tests that the Baseline ' +
      'Surface Radiation Network recommends (Long & Dutton 2002), made for minutes: an hour passes more easily. ' +
      'Rows of a file that can not be are refused before; what is counted here is used as it is.',
    2,
  );
  if (context.written !== null)
    lines.push(
      '',
      ...wrapped(plain(`Files: ${context.written.names.join(', ')} in ${context.written.folder}`), WIDTH),
    );
  return `${lines.join('\n')}\n`;
}

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

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

const HEAD = [
  ['', 'GHI', 'DNI', 'DHI', 'clear-', 'air', 'least', 'most', 'wind'],
  ['', 'kWh/m²', 'kWh/m²', 'kWh/m²', 'ness', '°C', '°C', '°C', 'm/s'],
] as const;

function monthLines({ months, year }: WeatherReport): string[] {
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
  const rows = [...HEAD, ...months.map((span, m) => row(MONTHS[m]!, span)), row('Year', year)];
  const widths = HEAD[0].map((_, k) => Math.max(...rows.map((cells) => cells[k]!.length)));
  return rows.map(
    (cells) =>
      `  ${cells.map((cell, k) => (k === 0 ? cell.padEnd(widths[k]!) : cell.padStart(widths[k]!))).join('  ')}`,
  );
}

function clockSentences({ clock, run }: WeatherReport): string[] {
  if (run.weather === 'normals' || run.weather === 'clear-sky')
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
