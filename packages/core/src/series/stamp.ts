import { DateTime } from 'luxon';
import { DAY_ms, MINUTE_ms } from '../basis/units.ts';
import type { SeriesTime } from '../scenario/schema/schema.ts';
import { formatLetters, hasYear } from '../scenario/schema/weather.ts';

/** A stamp as it is written. */
export interface Stamp {
  /** What the wall clock says, as if it were UTC, epoch ms. */
  readonly wall_ms: number;
  /** Offset from UTC that the stamp itself gives, minutes east; NaN if it gives none. */
  readonly offset_min: number;
}

/** Stamps outside of these years are slips of the pen. */
export const FIRST_YEAR = 1900;
export const LAST_YEAR = 2200;

/** Reads one stamp; undefined for a text of another form. */
type ReadStamp = (text: string) => Stamp | undefined;

/**
 * A reader of stamps as a file writes them. It knows 24:00 as the end of a day.
 *
 * @param time its `format` is Luxon's; without one stamps are ISO 8601, a date and a time to the minute, the second or
 *   below it. With a `year` every stamp is read as of that year, whatever year it has, or if it has none
 * @throws RangeError if neither format nor `year` gives a year: Luxon would take the current one. The scenario's check
 *   makes sure of it
 */
export function stampReader(time: SeriesTime): ReadStamp {
  const { format, year } = time;
  if (year === undefined) {
    if (format !== undefined && !hasYear(format)) throw new RangeError(`stampReader: no year in ${format}`);
    return format === undefined ? readIso : formatReader(format.trim());
  }
  const read = format === undefined ? readIso : hasYear(format) ? formatReader(format.trim()) : undefined;
  // Luxon would take the year of today where there is none, and with it or without its 29 February.
  const withYear = formatReader(`yyyy ${(format ?? '').trim()}`);
  let isFirst = true;
  return (text) => {
    const stamp = read ? read(text) : withYear(`${year} ${text.trim()}`);
    const moved = stamp && ofYear(stamp, year, time.label === 'end' && !isFirst);
    isFirst = false;
    return moved;
  };
}

function formatReader(format: string): ReadStamp {
  const parser = DateTime.buildFormatParser(format, { locale: 'en-US' });
  const givesOffset = /[Zz]/.test(formatLetters(format));
  return (text) => {
    const parsed = DateTime.fromFormatParser(text.trim(), parser, { zone: 'utc', setZone: true });
    if (!parsed.isValid || parsed.year < FIRST_YEAR || parsed.year > LAST_YEAR) return undefined;
    const wall_ms = parsed.toMillis() + parsed.offset * MINUTE_ms;
    return { wall_ms, offset_min: givesOffset ? parsed.offset : Number.NaN };
  };
}

/** The stamp as of another year; undefined for a 29 February that the year doesn't have. */
function ofYear({ wall_ms, offset_min }: Stamp, year: number, isDayEnd: boolean): Stamp | undefined {
  // The end of a day's last interval is midnight: it goes with the day that it closes, be that the year's last, or a
  // 28 February that had a 29th after it where the stamp comes from.
  const day = new Date(isDayEnd && wall_ms % DAY_ms === 0 ? wall_ms - DAY_ms : wall_ms);
  const month = day.getUTCMonth();
  const date = day.getUTCDate();
  if (month === 1 && date === 29 && daysIn(year, 2) === 28) return undefined;
  const moved_ms = Date.UTC(year, month, date) - Date.UTC(day.getUTCFullYear(), month, date);
  return { wall_ms: wall_ms + moved_ms, offset_min };
}

const ISO =
  /^\s*(\d{4})-(\d\d)-(\d\d)(?:[T ](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d{1,9}))?)?)?\s*(?:(Z)|([+-])(\d\d):?(\d\d)?)?\s*$/i;

type Six = [number, number, number, number, number, number];

/** By hand: Luxon takes some 15 µs a stamp, which is 8 s for a year of minutes. */
function readIso(text: string): Stamp | undefined {
  const part = ISO.exec(text);
  if (!part) return undefined;
  const [year, month, day, hour, minute, second] = part
    .slice(1, 7)
    .map((digits) => Number(digits ?? 0)) as Six;
  const ms = part[7] === undefined ? 0 : Math.round(Number(`0.${part[7]}`) * 1000);
  const isMidnightEnd = hour === 24 && minute === 0 && second === 0 && ms === 0;
  if (year < FIRST_YEAR || year > LAST_YEAR || month < 1 || month > 12 || day < 1) return undefined;
  if (day > daysIn(year, month) || minute > 59 || second > 59 || (hour > 23 && !isMidnightEnd))
    return undefined;
  const wall_ms = Date.UTC(year, month - 1, day, hour, minute, second, ms);
  if (part[8] !== undefined) return { wall_ms, offset_min: 0 };
  if (part[9] === undefined) return { wall_ms, offset_min: Number.NaN };
  const size = Number(part[10]) * 60 + Number(part[11] ?? 0);
  return { wall_ms, offset_min: part[9] === '-' ? -size : size };
}

/** The last day of a month, which is the day before the first of the next. */
const daysIn = (year: number, month: number): number => new Date(Date.UTC(year, month, 0)).getUTCDate();

/** `2016-03-27 02:30` for a wall clock. */
export const wallText = (wall_ms: number): string =>
  new Date(wall_ms).toISOString().slice(0, 16).replace('T', ' ');
