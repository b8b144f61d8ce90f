import { IANAZone } from 'luxon';
import { kindOf } from '../basis/kind.ts';
import { HOUR_ms, MINUTE_ms } from '../basis/units.ts';

/** Where stamps live: at a fixed offset from UTC, or on the wall clock of an IANA zone. */
export type Zone =
  | { readonly kind: 'fixed'; readonly offset_min: number }
  | { readonly kind: 'iana'; readonly name: string };

/**
 * Refuses what is no zone.
 *
 * @throws RangeError naming the argument
 */
export function expectZone(where: string, name: string, zone: string): void {
  if (typeof zone === 'string' && isTimeZone(zone)) return;
  const found = typeof zone === 'string' ? `"${zone}"` : kindOf(zone);
  throw new RangeError(`${where}: ${name} is ${found}; expected the IANA name of a time zone`);
}

/** True if the name is an IANA zone that this machine knows; an offset, which Intl takes as one from Node 22 on, is none. */
export const isTimeZone = (name: string): boolean =>
  !/^[+-]/.test(name) &&
  // create() keeps what it made: asking Intl anew costs milliseconds.
  IANAZone.create(name).isValid;

/**
 * Reads `UTC`, `Z`, an offset such as `+01:00`, or an IANA name.
 *
 * @returns undefined if it is none of them
 */
export function parseZone(text: string): Zone | undefined {
  if (/^(utc|z)$/i.test(text)) return { kind: 'fixed', offset_min: 0 };
  const offset = /^(?:utc)?([+-])(\d\d):?([0-5]\d)$/i.exec(text);
  if (offset) {
    const size = Number(offset[2]) * 60 + Number(offset[3]);
    // The widest offsets in use are -12:00 and +14:00.
    if (size > 14 * 60) return undefined;
    return { kind: 'fixed', offset_min: offset[1] === '-' ? -size : size };
  }
  return isTimeZone(text) ? { kind: 'iana', name: text } : undefined;
}

/** Offsets of a zone over a span: `offset_min[k]` holds from `from_ms[k]` until the next entry. */
export interface OffsetTable {
  /** UTC epoch ms, ascending; the first entry is the start of the span. */
  readonly from_ms: readonly number[];
  /** Minutes east of UTC. */
  readonly offset_min: readonly number[];
}

/**
 * Lists the offsets of a zone between two instants. Asking luxon costs about 10 µs, so a span is probed every fourth day
 * and a change is then bisected to the minute, instead of asking at every step or row. No zone has changed its clocks
 * and changed them back within four days (the shortest stretches, around Ramadan, last weeks; recalled).
 *
 * @param from_ms start of the span, UTC epoch ms
 * @param until_ms end of the span, UTC epoch ms
 */
export function offsetTable(zone: Zone, from_ms: number, until_ms: number): OffsetTable {
  if (zone.kind === 'fixed') return { from_ms: [from_ms], offset_min: [zone.offset_min] };
  const iana = IANAZone.create(zone.name);
  const probe_ms = 4 * 24 * HOUR_ms;
  const starts = [from_ms];
  let offset = iana.offset(from_ms);
  const offsets = [offset];
  let low = from_ms;
  while (low < until_ms) {
    if (iana.offset(low + probe_ms) === offset) {
      low += probe_ms;
      continue;
    }
    let same = low;
    let changed = low + probe_ms;
    while (changed - same > MINUTE_ms) {
      const middle = same + Math.floor((changed - same) / 2 / MINUTE_ms) * MINUTE_ms;
      if (iana.offset(middle) === offset) same = middle;
      else changed = middle;
    }
    offset = iana.offset(changed);
    starts.push(changed);
    offsets.push(offset);
    low = changed;
  }
  return { from_ms: starts, offset_min: offsets };
}

/** `+01:00` for 60 minutes. */
export function offsetText(offset_min: number): string {
  const size = Math.abs(offset_min);
  const two = (n: number) => String(Math.floor(n)).padStart(2, '0');
  return `${offset_min < 0 ? '-' : '+'}${two(size / 60)}:${two(size % 60)}`;
}

/** Entry of an offset table that holds at an instant; the first one for instants before the span. */
export function offsetIndex(table: OffsetTable, at_ms: number): number {
  let k = table.from_ms.length - 1;
  while (k > 0 && table.from_ms[k]! > at_ms) k--;
  return k;
}

/** Angle between two longitudes, 0 to 180. */
export const longitudesApart_deg = (a: number, b: number): number =>
  Math.abs(((((a - b) % 360) + 540) % 360) - 180);

/** Hours between a clock and the mean sun at a longitude, 0 to 12: across the date line too. */
export const offSun_h = (offset_min: number, longitude_deg: number): number =>
  longitudesApart_deg(offset_min / 4, longitude_deg) / 15;

/** Standard offset of an IANA zone in a year, minutes east: the lesser of January's and July's. */
export function standardOffset_min(time_zone: string, year: number): number {
  const zone = IANAZone.create(time_zone);
  return Math.min(zone.offset(Date.UTC(year, 0, 1)), zone.offset(Date.UTC(year, 6, 1)));
}
