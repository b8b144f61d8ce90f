import { InputError, issueText } from '@longnight/core';
import { scenarioSchema } from '@longnight/core/scenario';
import { readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import { plain } from '../../render/document/plain-text.ts';
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
const WORDS: readonly string[] = ['siteName', 'siteTimeZone'];

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

  async function tell(asked: Asked, isNeeded = false, question: string = ASKED[asked][1]): Promise<void> {
    const [section, key] = ASKED[asked][0].split('.') as [string, string];
    const isWord = WORDS.includes(asked);
    const text = await answered(
      question,
      (given) => {
        const value = isWord ? given : numberOf(given);
        if (Number.isNaN(value)) return 'a number is needed';
        return CHECKS[section]![key]!.safeParse(value).error?.issues[0]?.message;
      },
      isNeeded,
    );
    if (text !== undefined) flags[asked] = isWord ? text : numberOf(text);
  }

  const numbers =
    (counts: readonly number[]) =>
    (text: string): string | undefined => {
      const read = readNumbers(text, counts);
      return typeof read === 'string' ? read : undefined;
    };

  await tell('siteName');
  const isMoved = flags.siteName !== undefined;
  if (isMoved) {
    for (const asked of ['siteLatitude', 'siteLongitude', 'siteElevation', 'siteTimeZone'] as const)
      await tell(asked, true);
    const ghi = await answered(
      'Sun on the horizontal by month, twelve figures in kWh/m² on a mean day, January first\n' +
        '(Enter: a sky without clouds, which is no forecast and no answer):',
      numbers([12]),
    );
    if (ghi === undefined) flags.clearSky = true;
    else flags.ghi = ghi;
    flags.airTemperature = (await answered(
      ghi === undefined
        ? 'Air temperature in °C, one figure or twelve:'
        : 'Mean air temperature by month, twelve figures in °C, January first:',
      numbers(ghi === undefined ? [1, 12] : [12]),
      true,
    ))!;
  }
  await tell('loadKwhDay');

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
  await tell(isCounted ? 'panels' : 'arrayKwp', isCounted);
  // The example's array faces the sun of the example's place.
  for (const asked of ['arrayTilt', 'arrayAzimuth'] as const)
    await tell(asked, isMoved, ASKED[asked][1].replace(/:$/, isMoved ? ':' : " (Enter: the example's):"));
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
