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

  /** Asks until the answer will do; undefined for Enter, where that is allowed. */
  async function answered<T>(
    question: string,
    read: (text: string) => T | string,
    isNeeded = false,
  ): Promise<T | undefined> {
    for (;;) {
      const text = (await ask(`${question} `)).trim();
      if (text === '' && !isNeeded) return undefined;
      const value = read(text);
      if (typeof value !== 'string') return value;
      say(`  ${value}`);
    }
  }
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

  const answers: { -readonly [K in keyof Answers]: Answers[K] } = {};
  const name = await answered(
    'Name of the site (Enter: the example, with its weather):',
    word(site.shape.name),
  );
  if (name !== undefined) {
    answers.site = {
      name: name.text,
      latitude_deg: (await answered(
        'Latitude in degrees, north positive:',
        number(site.shape.latitude_deg),
        true,
      ))!,
      longitude_deg: (await answered(
        'Longitude in degrees, east positive:',
        number(site.shape.longitude_deg),
        true,
      ))!,
      elevation_m: (await answered('Metres above sea level:', number(site.shape.elevation_m), true))!,
      time_zone: (await answered('Time zone, such as Europe/Oslo:', word(site.shape.time_zone), true))!.text,
    };
    const ghi = await answered(
      'Sun on the horizontal by month, twelve figures in kWh/m² on a mean day, January first\n' +
        '(Enter: a sky without clouds, which is no forecast and no answer):',
      numbers([12]),
    );
    const air = await answered(
      ghi === undefined
        ? 'Air temperature in °C, one figure or twelve:'
        : 'Mean air temperature by month, twelve figures in °C, January first:',
      numbers(ghi === undefined ? [1, 12] : [12]),
      true,
    );
    answers.weather = { ghi_kWh_m2_day: ghi ?? null, air_temperature_C: air! };
  }
  const load = await answered(
    "Energy that all loads take on a mean day, kWh (Enter: the example's appliances):",
    number({
      safeParse: (value) =>
        (value as number) > 0 ? {} : { error: { issues: [{ message: 'more than 0 is needed' }] } },
    }),
  );
  if (load !== undefined) answers.load_kWh_day = load;

  const parts =
    (await answered('A file of parts to choose from (Enter: none):', (file) => partsIn(file, io))) ?? [];
  const choose = async (kind: PartKind, what: string): Promise<Named | undefined> => {
    const ofKind = parts.filter(({ part }) => part.kind === kind);
    if (ofKind.length === 0) return undefined;
    const names = ofKind.map(({ part }) => part.name);
    return answered(`${what}, one of ${names.join(', ')} (Enter: the example's):`, (text) => {
      const found = ofKind.find(({ part }) => part.name === text);
      return found === undefined ? `one of ${names.join(', ')} is needed` : { name: text, part: found.part };
    });
  };
  if (parts.length > 0) answers.parts_files = [...new Set(parts.map(({ file }) => file))];
  const panel = await choose('panel', 'Panels');
  const size: { -readonly [K in keyof NonNullable<Answers['array']>]: number } = {};
  if (panel?.part?.values.panel_kWp !== undefined) {
    size.panels = (await answered('How many panels?', number(array.panels), true))!;
  } else {
    const kWp = await answered("Size of the array, kWp (Enter: the example's):", number(array.size_kWp));
    if (kWp !== undefined) size.size_kWp = kWp;
  }
  // The example's array faces the sun of the example's place.
  const keep = answers.site === undefined ? " (Enter: the example's)" : '';
  const isMoved = answers.site !== undefined;
  const tilt = await answered(`Its tilt from horizontal, degrees${keep}:`, number(array.tilt_deg), isMoved);
  if (tilt !== undefined) size.tilt_deg = tilt;
  const azimuth = await answered(
    `Where it faces, degrees clockwise from north, 180 for south${keep}:`,
    number(array.azimuth_deg),
    isMoved,
  );
  if (azimuth !== undefined) size.azimuth_deg = azimuth;
  if (Object.keys(size).length > 0) answers.array = size;

  const module = await choose('module', 'Battery modules');
  const count = await answered(
    "How many battery modules (Enter: the example's):",
    number(bank.shape.modules_parallel),
  );
  const inverter = await choose('inverter', 'Inverter');
  const engine = await answered('A generator, yes or no (Enter: no)?', (text) =>
    /^y(es)?$/i.test(text) ? { is: true } : /^no?$/i.test(text) ? { is: false } : 'yes or no is needed',
  );
  // Enter to every question is the example, which is told with one.
  const saidAny = Object.keys(answers).length > 0 || [count, panel, module, inverter].some(Boolean);
  if (engine?.is === false || (engine === undefined && saidAny)) answers.generator = false;
  const generator = answers.generator === false ? undefined : await choose('generator', 'Generator');
  return {
    ...answers,
    ...(count === undefined ? {} : { modules_parallel: count }),
    ...(panel && { panel }),
    ...(module && { module }),
    ...(inverter && { inverter }),
    ...(generator && { generatorPart: generator }),
  };
}

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
