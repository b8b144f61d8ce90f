import { InputError, issueText } from '@longnight/core';
import { type PartKind, scenarioSchema } from '@longnight/core/scenario';
import { type FoundPart, readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import { plain } from '../../render/document/plain-text.ts';
import type { Answers, Named } from './starter/filled.ts';

/** Asks one question; empty for Enter alone. */
type Ask = (question: string) => Promise<string>;

/** What a value is held against: the same schema that the file will be read by. */
interface Check {
  safeParse(value: unknown): {
    readonly error?: { readonly issues: readonly { readonly message: string }[] } | undefined;
  };
}

const { site, arrays, bank } = scenarioSchema.shape;
const array = arrays.element.shape;

/**
 * Asks what a scenario can't be without: where the plant stands, its sun, its loads, its parts. Enter keeps the
 * example's figure wherever that is not of another place.
 */
export async function askForAnswers(ask: Ask, io: Io): Promise<Answers> {
  const say = (text: string) => io.err(`${plain(text)}\n`);

  /** Asks until the answer will do. */
  async function needed<T>(question: string, read: (text: string) => T | string): Promise<T> {
    for (;;) {
      const value = read((await ask(`${question} `)).trim());
      if (typeof value !== 'string') return value;
      say(`  ${value}`);
    }
  }
  /** The same; undefined for Enter. */
  const wanted = async <T>(question: string, read: (text: string) => T | string): Promise<T | undefined> =>
    (await needed(question, (text) => (text === '' ? { it: undefined } : wrappedIn(read(text))))).it;
  const wrappedIn = <T>(value: T | string): { it: T | undefined } | string =>
    typeof value === 'string' ? value : { it: value };

  const number =
    (check: Check) =>
    (text: string): number | string => {
      const value = text === '' ? Number.NaN : Number(decimalPoint(text));
      if (Number.isNaN(value)) return 'a number is needed';
      return check.safeParse(value).error?.issues[0]?.message ?? value;
    };
  const word =
    (check: Check) =>
    (text: string): { text: string } | string =>
      check.safeParse(text).error?.issues[0]?.message ?? { text };
  const numbers =
    (counts: readonly number[]) =>
    (text: string): number[] | string =>
      readNumbers(text, counts);

  const { shape } = site;
  const name = await wanted('Name of the site (Enter: the example, with its weather):', word(shape.name));
  const isMoved = name !== undefined;
  const place = isMoved && {
    name: name.text,
    latitude_deg: await needed('Latitude in degrees, north positive:', number(shape.latitude_deg)),
    longitude_deg: await needed('Longitude in degrees, east positive:', number(shape.longitude_deg)),
    elevation_m: await needed('Metres above sea level:', number(shape.elevation_m)),
    time_zone: (await needed('Time zone, such as Europe/Oslo:', word(shape.time_zone))).text,
  };
  const weather = isMoved && (await askForWeather());
  const load_kWh_day = await wanted(
    "Energy that all loads take on a mean day, kWh (Enter: the example's appliances):",
    number({
      safeParse: (value) =>
        (value as number) > 0 ? {} : { error: { issues: [{ message: 'more than 0 is needed' }] } },
    }),
  );

  const parts =
    (await wanted('A file of parts to choose from (Enter: none):', (file) => partsIn(file, io))) ?? [];
  const choose = async (kind: PartKind, what: string): Promise<Named | undefined> => {
    const ofKind = parts.filter(({ part }) => part.kind === kind);
    if (ofKind.length === 0) return undefined;
    const names = ofKind.map(({ part }) => part.name);
    return wanted(`${what}, one of ${names.join(', ')} (Enter: the example's):`, (text) => {
      const found = ofKind.find(({ part }) => part.name === text);
      return found === undefined ? `one of ${names.join(', ')} is needed` : { name: text, part: found.part };
    });
  };
  const panel = await choose('panel', 'Panels');
  const isCounted = panel?.part?.values.panel_kWp !== undefined;
  const panels = isCounted ? await needed('How many panels?', number(array.panels)) : undefined;
  const size_kWp = isCounted
    ? undefined
    : await wanted("Size of the array, kWp (Enter: the example's):", number(array.size_kWp));
  // The example's array faces the sun of the example's place.
  const angle = (what: string, check: Check) =>
    isMoved ? needed(`${what}:`, number(check)) : wanted(`${what} (Enter: the example's):`, number(check));
  const tilt_deg = await angle('Its tilt from horizontal, degrees', array.tilt_deg);
  const azimuth_deg = await angle(
    'Where it faces, degrees clockwise from north, 180 for south',
    array.azimuth_deg,
  );
  const size = given({ panels, size_kWp, tilt_deg, azimuth_deg });

  const module = await choose('module', 'Battery modules');
  const modules_parallel = await wanted(
    "How many battery modules (Enter: the example's):",
    number(bank.shape.modules_parallel),
  );
  const inverter = await choose('inverter', 'Inverter');
  const engine = await wanted('A generator, yes or no (Enter: no)?', (text) =>
    /^y(es)?$/i.test(text) ? { is: true } : /^no?$/i.test(text) ? { is: false } : 'yes or no is needed',
  );
  const answers = given({
    site: place || undefined,
    weather: weather || undefined,
    load_kWh_day,
    parts_files: parts.length > 0 ? [...new Set(parts.map(({ file }) => file))] : undefined,
    array: Object.keys(size).length > 0 ? size : undefined,
    modules_parallel,
    panel,
    module,
    inverter,
  });
  // Enter to every question is the example, which is told with one.
  const isWithout = engine?.is === false || (engine === undefined && Object.keys(answers).length > 0);
  const generatorPart = isWithout ? undefined : await choose('generator', 'Generator');
  return given({ ...answers, generator: isWithout ? false : undefined, generatorPart });

  async function askForWeather(): Promise<NonNullable<Answers['weather']>> {
    const ghi = await wanted(
      'Sun on the horizontal by month, twelve figures in kWh/m² on a mean day, January first\n' +
        '(Enter: a sky without clouds, which is no forecast and no answer):',
      numbers([12]),
    );
    const air_temperature_C = await needed(
      ghi === undefined
        ? 'Air temperature in °C, one figure or twelve:'
        : 'Mean air temperature by month, twelve figures in °C, January first:',
      numbers(ghi === undefined ? [1, 12] : [12]),
    );
    return { ghi_kWh_m2_day: ghi ?? null, air_temperature_C };
  }
}

/** Without the keys that nobody gave. */
export const given = (values: Readonly<Record<string, unknown>>): Answers =>
  Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined));

/** Half of the world writes 61,3. */
const decimalPoint = (text: string): string => (/^[^.,]*,[^.,]*$/.test(text) ? text.replace(',', '.') : text);

/**
 * Figures between blanks, commas or semicolons.
 *
 * @returns what is wrong, if they are not numbers or not as many as they should be
 */
export function readNumbers(text: string, counts: readonly number[]): number[] | string {
  const words = text.split(/[\s;,]+/).filter((word) => word !== '');
  const values = words.map(Number);
  const odd = words.find((_, k) => !Number.isFinite(values[k]));
  if (odd !== undefined)
    return `"${odd}" is no number; write a point for decimals and blanks or commas between figures`;
  return counts.includes(values.length)
    ? values
    : `${counts.join(' or ')} figures are needed, found ${values.length}`;
}

function partsIn(file: string, io: Io): readonly FoundPart[] | string {
  try {
    return readPartsOf(io.cwd, [file]);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.issues.map(issueText).join('\n');
  }
}
