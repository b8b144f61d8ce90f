import * as z from 'zod';
import { WEEK } from '../../clock/wall.ts';
import { between, key, leftOut, list, money, optional, positive, text, whole } from './key.ts';

/** What a charger of any kind is limited by. */
export const CHARGE_CURRENT = "Highest current into the bank, at the bank's nominal voltage";

export const name = key(text())`Name, shown in reports`;
export const file = key(text())`File, relative to the scenario file`;
export const column = key(text())`Name of the column in the CSV file`;
export const part = optional(text())`Name of a part in one of parts_files; its values stand in for keys that
  are left out here`;
export const price = (ofWhat = 'one piece') =>
  optional(money())`Price of ${ofWhat}, in the currency of money; 0 for what is paid for with another part |
    money adds nothing up until every part has a price`;
export const life_years = (meaning = 'Years after which it is bought again') =>
  optional(positive(200))`${meaning} | it is not bought again by age`;

const horizonPoint = z.strictObject({
  azimuth_deg: key(between(0, 360))`Clockwise from north`,
  height_deg: key(between(0, 89))`Above the horizontal, as seen from the array`,
});
export const horizon = () => list(horizonPoint, 1, 720);

export const clockWindow = () =>
  z.string().regex(/^([01]\d|2[0-3]):[0-5]\d-(([01]\d|2[0-3]):[0-5]\d|24:00)$/, {
    error: 'not a window of local clock time like "17:30-23:00"',
  });
export const clockTime = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, {
  error: 'not a local clock time like "17:30"',
});
const WINDOWS = 'Windows of local clock time; "22:00-06:00" runs past midnight';
export const windows = key(list(clockWindow(), 1, 50))`${WINDOWS}`;
export const windowsAllDay = leftOut(list(clockWindow(), 1, 50), ['00:00-24:00'])`${WINDOWS} | all day`;

export const days = leftOut(list(z.enum(WEEK), 1, 7), [
  ...WEEK,
])`Days of the week on which it applies | every day
  of the week`;
const EVERY_MONTH = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
export const months = leftOut(
  list(whole(1, 12), 1, 12),
  EVERY_MONTH,
)`Months in which it applies | every month`;
