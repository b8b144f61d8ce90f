/** The one place that rounds: every figure a person reads, on the terminal and in report.md, is made here. */

/** Groups of three with a comma from five digits on, whatever the machine's language. */
const grouped = (digits: string): string =>
  digits.length < 5 ? digits : digits.replace(/\B(?=(\d{3})+(?!\d))/g, ',');

/**
 * A number with a fixed count of decimals, for tables.
 *
 * @returns `n/a` for null: missing is not zero
 */
export function fixed(value: number | null, decimals: number): string {
  if (value === null) return 'n/a';
  const [whole = '0', fraction] = Math.abs(value).toFixed(decimals).split('.');
  const text = fraction === undefined ? grouped(whole) : `${grouped(whole)}.${fraction}`;
  return value < 0 && /[1-9]/.test(text) ? `-${text}` : text;
}

/** A number as people say it: about three digits, more only to keep whole ones. Never 0 for what is not 0. */
export function amount(value: number | null): string {
  if (value === null) return 'n/a';
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size < 0.01) return value < 0 ? 'just under 0' : 'under 0.01';
  return fixed(value, size < 9.995 ? 2 : size < 99.95 ? 1 : 0);
}

export const kWh = (value: number | null): string => withUnit(value, 'kWh');
export const kW = (value: number | null): string => withUnit(value, 'kW');
export const litres = (value: number | null): string => withUnit(value, 'L');

/** Money: whole from a hundred on, hundredths below where there are any. The currency is said beside it. */
export const price = (value: number | null): string =>
  value === null
    ? 'n/a'
    : fixed(value, Math.abs(value) >= 99.5 || Number.isInteger(value) ? 0 : Math.abs(value) < 0.1 ? 3 : 2);

/** Volts of strings, whole from a hundred on; amps and degrees with a tenth. */
export const V = (value: number): string => `${fixed(value, value < 100 ? 1 : 0)} V`;
export const A = (value: number): string => `${fixed(value, 1)} A`;
export const C = (value: number): string => `${fixed(value, 1)} °C`;

/** So many digits at most and no zeros behind them: figures that stand beside what somebody typed. */
export const digits = (value: number, most = 3): string => String(Number(value.toPrecision(most)));

const withUnit = (value: number | null, unit: string): string =>
  value === null ? 'n/a' : `${amount(value)} ${unit}`;

/** Hours without their unit: whole ones as such, others with one decimal. */
export const hourCount = (value: number): string =>
  fixed(value, Number.isInteger(Math.round(value * 1e6) / 1e6) ? 0 : 1);

export const hours = (value: number): string => `${hourCount(value)} h`;

/** Hours, with the days they make once there are more than two of them. */
export const hoursAndDays = (value: number): string =>
  value <= 48 ? hours(value) : `${fixed(value, 0)} h (${fixed(value / 24, 1)} days)`;

/** Days with the hours they came from left to the reader: two figures are enough. */
export const days = (value: number | null): string =>
  value === null ? 'n/a' : `${fixed(value, value < 10 ? 1 : 0)} days`;

/**
 * A share as a percentage. A share that is not 0 or 1 is never shown as 0 % or 100 %: "100 % served" with an hour
 * missing would be the one rounding error that matters.
 */
export function percent(share: number | null): string {
  if (share === null) return 'n/a';
  const value = share * 100;
  if (value === 0 || value === 100) return `${value} %`;
  for (let decimals = value < 9.95 || (value > 99 && value < 100) ? 1 : 0; decimals <= 3; decimals++) {
    const text = value.toFixed(decimals);
    if (Number(text) !== 0 && Number(text) !== 100) return `${text} %`;
  }
  return value < 50 ? 'under 0.001 %' : 'over 99.999 %';
}

/** State of charge as whole percent: finer is beyond what any gauge shows. */
export const socPercent = (soc: number): string => fixed(soc * 100, 0);

/** `2025-12-19T07:00:00+01:00` as `2025-12-19 07:00`: local time, as the plant's clock on the wall shows it. */
export const clockTime = (iso: string): string => iso.slice(0, 16).replace('T', ' ');

/** `1 start`, `2 starts`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${fixed(count, 0)} ${count === 1 ? one : many}`;

export const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** What the books miss: far below any digit that the other figures show. */
export const imbalance = (value_kWh: number): string =>
  value_kWh < 1e-9 ? 'below 1e-9 kWh' : `${value_kWh.toExponential(0)} kWh`;

/** A number as the shortest plain decimal that reads back as itself: no exponent, which spreadsheets read unlike. */
export function decimal(value: number): string {
  const text = String(value);
  const at = text.indexOf('e');
  if (at < 0) return text;
  const exponent = Number(text.slice(at + 1));
  if (exponent > 0) return BigInt(value).toString();
  const digits = text.slice(0, at).replace(/^-?\d\.?/, '').length;
  return value.toFixed(Math.min(100, digits - exponent));
}
