import * as z from 'zod';
import { nearest, splitUnit } from '../../basis/nearest.ts';
import { rounded, tidy } from '../../basis/rounding.ts';
import { numberRange } from './expected.ts';
import { otherUnitOfKey } from './other-unit.ts';
import { inner, variantOf } from './shape.ts';

/** A value as it is quoted in a message, short. */
export function foundText(value: unknown): string {
  if (value === null) return 'no value';
  if (typeof value === 'string') return `the text "${value.length > 40 ? `${value.slice(0, 37)}…` : value}"`;
  if (typeof value === 'number') {
    if (Number.isNaN(value)) return 'not a number (.nan)';
    return Number.isFinite(value) ? String(value) : 'an infinite number (.inf)';
  }
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : `a list of ${value.length}`;
  return typeof value === 'object' ? 'a mapping' : value === undefined ? 'nothing' : String(value);
}

/**
 * What to do about a value that the schema refuses.
 *
 * @param schema what it was held against, defaults and unions still around it
 * @param key the last key of its path: its ending says the unit
 * @param holder the list or mapping that it stands in
 */
export function fixFor(value: unknown, schema: z.ZodType, key: string, holder?: unknown): string {
  const range = numberRange(schema);
  const choices = choicesOf(schema);
  const plain = variantOf(schema, value) ?? inner(schema);
  if (value === null) {
    const canLeave = schema.safeParse(undefined).success;
    return canLeave ? 'write a value, or remove the key' : 'write a value after the colon';
  }
  if (typeof value === 'string') {
    if (choices.length > 0) return wordFix(value, choices);
    if (range) return numberInTextFix(value, range, key);
    if (/windows?$/.test(key) && plain instanceof z.ZodString) return windowFix(value);
    if (value === '') return 'write a text';
  }
  if (typeof value === 'number') {
    if (range) return otherUnitOfKey(value, key, range, holder) ?? numberFix(value, range, key);
    if (plain instanceof z.ZodString && Number.isFinite(value)) return `put it in quotes: "${value}"`;
  }
  const list = [inner(schema), plain].find((s) => s instanceof z.ZodArray);
  if (list) return listFix(value, list);
  if (choices.length > 0) return `write ${choices[0]}, or another of these words`;
  if (range) return 'write a plain number, without quotes or unit';
  if (plain instanceof z.ZodString) return 'write a text';
  return 'write its keys on the lines below it, indented';
}

/** Words of an enum, wherever in the schema they stand. */
function choicesOf(schema: z.ZodType): string[] {
  const plain = inner(schema);
  if (plain instanceof z.ZodEnum) return plain.options.map(String);
  if (plain instanceof z.ZodUnion && !(plain instanceof z.ZodDiscriminatedUnion))
    return plain.options.flatMap((o) => choicesOf(o as z.ZodType));
  return [];
}

export function wordFix(value: string, choices: readonly string[]): string {
  const meant = nearest(value, choices);
  return meant === undefined ? 'write one of these words' : `did you mean "${meant}"?`;
}

interface Range {
  readonly min: number;
  readonly max: number;
}
const isWithin = (value: number, { min, max }: Range): boolean => value >= min && value <= max;
/** Shares and coefficients per kelvin: where a value a hundred times too large is a percentage. */
const isShare = ({ min, max }: Range): boolean => min >= -1 && max <= 1;
/** 0.95 for 95, without binary dust. */
const hundredth = (value: number): number => tidy(value / 100);

function numberFix(value: number, range: Range, key: string): string {
  if (!Number.isFinite(value)) return 'write a finite number';
  if (!isWithin(value, range) && isShare(range) && isWithin(hundredth(value), range))
    return `this is a share, not a percentage: write ${hundredth(value)}`;
  if (value > range.max) return `lower it to ${range.max} or less${otherUnit(value, range, key)}`;
  if (value < range.min) return `raise it to ${range.min} or more`;
  return Number.isInteger(value) ? 'write one of these numbers' : `write ${Math.round(value)}`;
}

/** Units that people write where a key asks for another, the likeliest first, and what makes that of them. */
const OTHER_UNITS: Readonly<Record<string, readonly (readonly [string, (value: number) => number])[]>> = {
  kW: [['W', (W) => W / 1000]],
  kWp: [['W', (W) => W / 1000]],
  kWh: [['Wh', (Wh) => Wh / 1000]],
  kWh_day: [['Wh', (Wh) => Wh / 1000]],
  Ah: [['mAh', (mAh) => mAh / 1000]],
  A: [['mA', (mA) => mA / 1000]],
  V: [['mV', (mV) => mV / 1000]],
  h: [['min', (min) => min / 60]],
  min: [['s', (s) => s / 60]],
  L: [['mL', (mL) => mL / 1000]],
  L_per_h: [['mL', (mL) => mL / 1000]],
};

/** `; it looks like W: then write 5`: where a figure too large for a key fits it in another unit. */
function otherUnit(value: number, range: Range, key: string): string {
  const units = OTHER_UNITS[splitUnit(key).unit ?? ''] ?? [];
  const meant = units.find(([, convert]) => isWithin(convert(value), range));
  return meant === undefined ? '' : `; it looks like ${meant[0]}: then write ${rounded(meant[1](value), 4)}`;
}

function numberInTextFix(text: string, range: Range, key: string): string {
  const value = text.trim();
  const unit = splitUnit(key).unit;
  if (/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(value)) return `remove the quotes: ${Number(value)}`;
  if (/^[+-]?\d+,\d+$/.test(value)) return `use a decimal point: ${value.replace(',', '.')}`;
  const percent = /^([+-]?(?:\d+\.?\d*|\.\d+))\s*%$/.exec(value);
  if (percent) {
    const number = Number(percent[1]);
    return isShare(range) ? `write the share: ${hundredth(number)}` : `write the bare number: ${number}`;
  }
  const withUnit = /^([+-]?(?:\d+\.?\d*|\.\d+))\s*([^\d\s.].*)$/.exec(value);
  if (withUnit) {
    if (unit === undefined || withUnit[2] === unit) return `write the bare number: ${Number(withUnit[1])}`;
    return `the unit is in the key: give the value in ${unit}, as a bare number`;
  }
  return 'write a plain number, without quotes or unit';
}

/** Puts a near miss such as `8:00 – 10` into the form of a window. */
function windowFix(value: string): string {
  const near = /^\s*(\d{1,2})(?:[:.](\d\d))?\s*(?:-|–|—|to)\s*(\d{1,2})(?:[:.](\d\d))?\s*$/.exec(value);
  if (!near) return 'write it like "17:30-23:00"';
  const clock = (hour: string, minute: string | undefined) => `${hour.padStart(2, '0')}:${minute ?? '00'}`;
  const from = clock(near[1]!, near[2]).replace(/^24:00$/, '00:00');
  const to = clock(near[3]!, near[4]);
  const isClock = (time: string) => /^(([01]\d|2[0-3]):[0-5]\d|24:00)$/.test(time);
  return isClock(from) && isClock(to) ? `write "${from}-${to}"` : 'hours run from 00:00 to 24:00';
}

function listFix(value: unknown, list: z.ZodArray): string {
  if (!Array.isArray(value)) {
    const element = inner(list.element as z.ZodType);
    if (element instanceof z.ZodObject || element instanceof z.ZodDiscriminatedUnion)
      return 'write the items on the lines below, each beginning with "- "';
    if (typeof value === 'string') return `write a list: ["${value}"]`;
    return Number.isFinite(value) ? `write a list: [${value}]` : 'write a list in brackets, [first, second]';
  }
  if (value.length === 0) return 'write at least one';
  const ofAll = list.safeParse(value).error?.issues.find(({ path }) => path.length === 0);
  if (ofAll?.code === 'too_small') return `add ${Number(ofAll.minimum) - value.length}`;
  return ofAll?.code === 'too_big' ? `remove ${value.length - Number(ofAll.maximum)}` : 'remove some items';
}

/** What to write for a time zone that doesn't exist. */
export function timeZoneFix(value: string, allowsOffset: boolean): string {
  const offset = /^(?:utc|gmt)?\s*([+-])(\d{1,2})(?::?(\d\d))?$/i.exec(value.trim());
  if (offset && allowsOffset)
    return `write the offset as "${offset[1]}${offset[2]!.padStart(2, '0')}:${offset[3] ?? '00'}"`;
  if (offset && (offset[3] ?? '00') === '00' && Number(offset[2]) <= 12) {
    // The Etc zones count the other way round: Etc/GMT-1 is an hour east.
    const sign = offset[1] === '+' ? '-' : '+';
    return `use a place, such as "Europe/Oslo"; for a fixed offset write "Etc/GMT${sign}${Number(offset[2])}"`;
  }
  const zones = Intl.supportedValuesOf('timeZone');
  const wanted = value.trim().replaceAll(' ', '_');
  const city = wanted.split('/').at(-1)!;
  const meant = nearest(wanted, zones) ?? zones.find((zone) => nearest(city, [zone.split('/').at(-1)!]));
  const other = allowsOffset ? ', "UTC" or an offset such as "+01:00"' : '';
  return meant === undefined ? `write a name such as "Europe/Oslo"${other}` : `did you mean "${meant}"?`;
}
