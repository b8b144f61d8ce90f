import * as z from 'zod';

/**
 * What is said of a key of the files, said here once: JSON Schema, `explain`, the comments of the starter file and the
 * reference page are made from it. What a key takes stands in its schema, and its name carries its unit.
 */
export interface KeyText {
  /** Without a full stop. What stands before the first semicolon is enough where there is little room. */
  readonly meaning: string;
  /** Why its default is what it is: the report says it too. */
  readonly why?: string;
  /** What holds where a key without a default is left out; absent where that is plain from the meaning. */
  readonly without?: string;
}

/** The texts by the schema of their key. Nothing of them is looked up while a scenario is read. */
export const KEY_TEXTS = z.registry<KeyText>();

/** A key with its meaning. */
export function key<S extends z.ZodType>(schema: S, meaning: string): S {
  KEY_TEXTS.add(schema, { meaning });
  return schema;
}

/** A key that may be left out, with its meaning and what holds then. */
export function optional<S extends z.ZodType>(schema: S, meaning: string, without?: string) {
  const made = schema.optional();
  KEY_TEXTS.add(made, without === undefined ? { meaning } : { meaning, without });
  return made;
}

/** A key with its meaning and a default that the report will list with its reason. */
export function assumed<S extends z.ZodType, D extends z.util.NoUndefined<z.output<S>>>(
  schema: S,
  meaning: string,
  value: D,
  why: string,
) {
  const made = schema.default(value as never);
  KEY_TEXTS.add(made, { meaning, why });
  return made;
}

/** The key that chooses one of several kinds, with what that kind is. */
export const kind = <K extends string>(value: K, meaning: string) => key(z.literal(value), meaning);

export const share = () => z.number().min(0).max(1);
export const positive = () => z.number().positive();
export const twelve = <S extends z.ZodType>(each: S) => z.array(each).length(12);
export const byMonth = (each: z.ZodNumber) => z.union([each, twelve(each)]);
export const text = () => z.string().trim().min(1).max(200);
export const seed = () => z.int().min(0).max(4_294_967_295);
export const money = () => z.number().min(0).max(1e9);

/** What a charger of any kind is limited by. */
export const CHARGE_CURRENT = "Highest current into the bank, at the bank's nominal voltage";

export const name = key(text(), 'Name, shown in reports');
export const file = key(text(), 'File, relative to the scenario file');
export const column = key(text(), 'Name of the column in the CSV file');
export const part = optional(
  text(),
  'Name of a part in one of parts_files; its values stand in for keys that are left out here',
);
export const price = (ofWhat = 'one piece') =>
  optional(
    money(),
    `Price of ${ofWhat}, in the currency of money; 0 for what is paid for with another part`,
    'money adds nothing up until every part has a price',
  );
export const life_years = (meaning = 'Years after which it is bought again') =>
  optional(positive().max(200), meaning, 'it is not bought again by age');

const horizonPoint = z.strictObject({
  azimuth_deg: key(z.number().min(0).max(360), 'Clockwise from north'),
  height_deg: key(z.number().min(0).max(89), 'Above the horizontal, as seen from the array'),
});
export const horizon = (meaning: string, without: string) =>
  optional(z.array(horizonPoint).min(1).max(720), meaning, without);

export const clockWindow = () =>
  z.string().regex(/^([01]\d|2[0-3]):[0-5]\d-(([01]\d|2[0-3]):[0-5]\d|24:00)$/, {
    error: 'not a window of local clock time like "17:30-23:00"',
  });
export const clockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, {
  error: 'not a local clock time like "17:30"',
});
const WINDOWS = 'Windows of local clock time; "22:00-06:00" runs past midnight';
export const windows = key(z.array(clockWindow()).min(1), WINDOWS);
export const windowsAllDay = assumed(z.array(clockWindow()).min(1), WINDOWS, ['00:00-24:00'], 'all day');

const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export const days = assumed(
  z.array(z.enum(DAYS)).min(1),
  'Days of the week on which it applies',
  [...DAYS],
  'every day of the week',
);
export const months = assumed(
  z.array(z.int().min(1).max(12)).min(1),
  'Months in which it applies',
  [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
  'every month',
);
