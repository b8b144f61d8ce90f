import { InputError, issueText } from '@longnight/core';
import { landHeight_m } from '@longnight/core/place';
import { scenarioSchema } from '@longnight/core/scenario';
import { readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import { plain } from '../../render/document/plain-text.ts';
import { zoneAt } from '../place.ts';
import { type Place, readHeight_m, readPlace } from './coordinates.ts';
import { ASKED, type Asked, type InitFlags, PARTS, type PartOption, readNumbers } from './flags.ts';

/** Asks one question; empty for Enter alone. */
type Ask = (question: string) => Promise<string>;

/** What a value is held against: the same schema that the file will be read by. */
interface Check {
  safeParse(value: unknown): {
    readonly error?: { readonly issues: readonly { readonly message: string }[] } | undefined;
  };
}

const { site, arrays, bank } = scenarioSchema.shape;
const CHECKS: Readonly<Record<string, Readonly<Record<string, Check>>>> = {
  site: site.shape,
  arrays: arrays.element.shape,
  bank: bank.shape,
  loads: {
    energy_kWh_day: {
      safeParse: (value) =>
        (value as number) > 0 ? {} : { error: { issues: [{ message: 'more than 0 is needed' }] } },
    },
  },
};

/**
 * Asks what a scenario can't be without: where the plant stands, its sun, its loads, its parts. Enter keeps the
 * example's figure wherever that is not of another place.
 *
 * @returns the options that the answers amount to
 */
export async function askForFlags(ask: Ask, io: Io): Promise<InitFlags> {
  const flags: { -readonly [K in keyof InitFlags]: InitFlags[K] } = {};

  /** Asks until the answer will do: `wrong` says why one won't. Undefined for Enter, where that is allowed. */
  async function answered(
    question: string,
    wrong: (text: string) => string | undefined,
    isNeeded = false,
  ): Promise<string | undefined> {
    for (;;) {
      const text = (await ask(`${question} `)).trim();
      if (text === '' && !isNeeded) return undefined;
      const why = wrong(text);
      if (why === undefined) return text;
      io.err(`${plain(`  ${why}`)}\n`);
    }
  }

  async function tell(asked: Asked, isNeeded = false, question: string = ASKED[asked][2]): Promise<void> {
    const [section, key] = ASKED[asked][1].split('.') as [string, string];
    const text = await answered(
      question,
      (given) =>
        Number.isNaN(numberOf(given))
          ? 'a number is needed'
          : CHECKS[section]![key]!.safeParse(numberOf(given)).error?.issues[0]?.message,
      isNeeded,
    );
    if (text !== undefined) flags[asked] = numberOf(text);
  }

  const numbers =
    (counts: readonly number[]) =>
    (text: string): string | undefined => {
      const read = readNumbers(text, counts);
      return typeof read === 'string' ? read : undefined;
    };

  const name = await answered('Name of the site (Enter: the example, with its weather):', () => undefined);
  const isMoved = name !== undefined;
  if (isMoved) {
    flags.siteName = name;
    const wrongOf = (value: unknown): string | undefined => (typeof value === 'string' ? value : undefined);
    flags.at = (await answered(
      'Latitude and longitude in degrees, such as 44.5,-71.3 or 44.5N 71.3W:',
      (text) => wrongOf(readPlace(text)),
      true,
    ))!;
    const { latitude_deg, longitude_deg } = readPlace(flags.at) as Place;
    const land_m = landHeight_m(latitude_deg, longitude_deg);
    const height = await answered(
      `Height above the sea, 366 or 1200ft (Enter: ${land_m} m, as the land around):`,
      (text) => {
        const height_m = readHeight_m(text);
        return wrongOf(height_m) ?? site.shape.elevation_m.safeParse(height_m).error?.issues[0]?.message;
      },
    );
    if (height !== undefined) flags.elevationM = height;
    const zone = await answered(
      `Time zone (Enter: ${zoneAt(latitude_deg, longitude_deg)}):`,
      (text) => site.shape.time_zone.safeParse(text).error?.issues[0]?.message,
    );
    if (zone !== undefined) flags.timeZone = zone;
    const ghi = await answered(
      'Sun on the horizontal by month, twelve figures in kWh/m² on a mean day, January first\n' +
        '(Enter: a first guess of sun and air from the coordinates):',
      numbers([12]),
    );
    if (ghi !== undefined) {
      flags.ghi = ghi;
      flags.airTemperature = (await answered(
        'Mean air temperature by month, twelve figures in °C, January first:',
        numbers([12]),
        true,
      ))!;
    }
  }
  await tell('dailyKWh');

  const file = await answered('A file of parts to choose from (Enter: none):', (name) => {
    const read = partsIn(name, io);
    return typeof read === 'string' ? read : undefined;
  });
  const found = file === undefined ? [] : readPartsOf(io.cwd, [file]);
  if (file !== undefined) flags.parts = [file];
  async function choose(option: PartOption): Promise<void> {
    const names = found.filter(({ part }) => part.kind === option).map(({ part }) => part.name);
    if (names.length === 0) return;
    const said = names.join(', ');
    const name = await answered(`${PARTS[option].ask}, one of ${said} (Enter: the example's):`, (text) =>
      names.includes(text) ? undefined : `one of ${said} is needed`,
    );
    if (name !== undefined) flags[option] = name;
  }
  await choose('panel');
  const isCounted = found.some(
    ({ part }) => part.name === flags.panel && part.values.panel_kWp !== undefined,
  );
  await tell(isCounted ? 'panels' : 'arrayKWp', isCounted);
  const unless = [isMoved ? 'by the latitude' : "the example's", isMoved ? 'the equator' : "the example's"];
  for (const [k, asked] of (['arrayTilt', 'arrayAzimuth'] as const).entries())
    await tell(asked, false, `${ASKED[asked][2]} (Enter: ${unless[k]}):`);
  await choose('module');
  await tell('modules');
  await choose('inverter');
  const engine = await answered('A generator, yes or no (Enter: no)?', (text) =>
    /^(y(es)?|no?)$/i.test(text) ? undefined : 'yes or no is needed',
  );
  if (engine !== undefined) flags.generator = /^y/i.test(engine);
  if (flags.generator === true) await choose('generator');
  return flags;
}

/** Half of the world writes 61,3. */
const numberOf = (text: string): number =>
  text === '' ? Number.NaN : Number(/^[^.,]*,[^.,]*$/.test(text) ? text.replace(',', '.') : text);

function partsIn(file: string, io: Io): ReturnType<typeof readPartsOf> | string {
  try {
    return readPartsOf(io.cwd, [file]);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.issues.map(issueText).join('\n');
  }
}
