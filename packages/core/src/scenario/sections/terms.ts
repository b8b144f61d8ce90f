import * as z from 'zod';

/** A default that the report will list with its reason. */
export function assumed<S extends z.ZodType, D extends z.util.NoUndefined<z.output<S>>>(
  schema: S,
  value: D,
  why: string,
) {
  return schema.default(value as never).meta({ description: why });
}

export const share = () => z.number().min(0).max(1);
export const positive = () => z.number().positive();
export const twelve = <S extends z.ZodType>(each: S) => z.array(each).length(12);
export const byMonth = (each: z.ZodNumber) => z.union([each, twelve(each)]);
export const name = () => z.string().trim().min(1).max(200);

/** What stands around and higher than the array, by azimuth clockwise from north; absent means a flat horizon. */
export const horizon = z
  .array(
    z.strictObject({
      azimuth_deg: z.number().min(0).max(360),
      /** Above the horizontal, as seen from the array. */
      height_deg: z.number().min(0).max(89),
    }),
  )
  .min(1)
  .max(720)
  .optional();

/** Name of a part in one of `parts_files`; its values stand in for keys that are left out here. */
export const part = name().optional();
/** Price of one piece, in the currency of `money`. */
export const price = z.number().min(0).max(1e9).optional();
/** Years after which it is bought again. */
export const life_years = positive().max(200).optional();

export const clockWindow = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d-(([01]\d|2[0-3]):[0-5]\d|24:00)$/, {
  error: 'not a window of local clock time like "17:30-23:00"',
});
export const clockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, {
  error: 'not a local clock time like "17:30"',
});
const dayName = z.enum(['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun']);
const everyDay = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const monthNumber = z.int().min(1).max(12);
const everyMonth = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
export const loadDays = assumed(z.array(dayName).min(1), [...everyDay], 'every day of the week');
export const loadMonths = assumed(z.array(monthNumber).min(1), everyMonth, 'every month');
