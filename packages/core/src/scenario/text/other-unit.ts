import { splitUnit } from '../../basis/nearest.ts';

/** A unit that a figure may have come in, and what brings it to ours. */
interface OtherUnit {
  readonly name: string;
  /** How it is converted, in words. */
  readonly how: string;
  readonly convert: (value: number) => number;
}

const CELSIUS: readonly OtherUnit[] = [
  { name: '°F', how: 'subtract 32 and divide by 1.8', convert: (f) => (f - 32) / 1.8 },
  { name: 'K', how: 'subtract 273.15', convert: (k) => k - 273.15 },
];
const METRES: readonly OtherUnit[] = [
  { name: 'feet', how: 'multiply by 0.3048', convert: (ft) => ft * 0.3048 },
];
const METRES_PER_SECOND: readonly OtherUnit[] = [
  { name: 'km/h', how: 'divide by 3.6', convert: (speed) => speed / 3.6 },
];

const MEGAJOULES: OtherUnit = { name: 'MJ/m² a day', how: 'divide by 3.6', convert: (mj) => mj / 3.6 };
const MONTH_SUM: OtherUnit = {
  name: 'the sum of a month',
  how: 'divide by its days',
  convert: (sum) => sum / 30.4,
};
const MEAN_POWER: OtherUnit = { name: 'W/m²', how: 'multiply by 0.024', convert: (w) => w * 0.024 };
const WATT_HOURS: OtherUnit = { name: 'Wh/m² a day', how: 'divide by 1000', convert: (wh) => wh / 1000 };

/**
 * What irradiation of a day may be meant by a list whose largest figure is too large: no summer is so dull that its
 * month's sum stays below `MEGAJOULES_most`, and none so bright that its sum or mean power is above `SUM_most`.
 */
const MEGAJOULES_most = 46.8;
const SUM_most = 403;

function ofDay(largest: number): readonly OtherUnit[] {
  if (largest <= MEGAJOULES_most) return [MEGAJOULES];
  return largest <= SUM_most ? [MONTH_SUM, MEAN_POWER] : [WATT_HOURS];
}

/**
 * The unit that a figure outside its range looks like, as a fix: only one that brings it within the range.
 *
 * @param unit the unit that it is wanted in, as keys write it
 * @param all the list that it stands in, or the figure alone: the largest of it tells more than one month does
 * @returns undefined if it looks like none
 */
export function otherUnit(
  value: number,
  unit: string | undefined,
  least: number,
  most: number,
  all: readonly unknown[] = [value],
): string | undefined {
  const numbers = all.filter((v): v is number => typeof v === 'number' && Number.isFinite(v));
  const candidates =
    unit === 'C'
      ? CELSIUS
      : unit === 'm'
        ? METRES
        : unit === 'm_s'
          ? METRES_PER_SECOND
          : unit === 'kWh_m2_day'
            ? ofDay(Math.max(value, ...numbers))
            : [];
  const fitting = candidates.filter(({ convert }) => convert(value) >= least && convert(value) <= most);
  if (value <= most || fitting.length === 0) return undefined;
  const looks = fitting.map(({ name, how, convert }) => `${name} (${how}: ${rounded(convert(value))})`);
  return `it looks like ${looks.join(' or ')}`;
}

/** The same for the value of a key, whose ending says the unit. */
export function otherUnitOfKey(
  value: number,
  key: string,
  { min, max }: { readonly min: number; readonly max: number },
  holder: unknown,
): string | undefined {
  const { unit } = splitUnit(key);
  // A cable longer than any is no length in feet.
  if (unit === 'm' && key !== 'elevation_m') return undefined;
  return otherUnit(value, unit, min, max, Array.isArray(holder) ? holder : undefined);
}

const rounded = (value: number): number => Number(value.toPrecision(3));
