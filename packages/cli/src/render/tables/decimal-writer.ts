import { stepsInOne, written } from '../document/written.ts';

/**
 * Writes the rows of hours.csv as bytes. A year has some 300,000 numbers; making a string of each and joining them
 * takes three times as long as playing, finding and reporting the year together.
 */

/** The twelve decimals that are written at most: a year of rounding stays below 1e-8 in any sum of kWh. */
const SCALE = 1e12;
/** Every group of three digits, `000` to `999`, one after the other. */
const GROUPS = Uint8Array.from({ length: 3000 }, (_, k) => {
  const group = Math.floor(k / 3);
  return 48 + (Math.floor(group / [100, 10, 1][k % 3]!) % 10);
});
/** Longest text of one number: sign, ten digits, point, decimals. Larger ones are written by `String`. */
const LONGEST = 32;
const LARGEST = 1e9;

/** How the cells of a file are parted and what stands before their decimals, one byte each. */
export interface Marks {
  readonly delimiter: string;
  readonly decimal: string;
}

/** RFC 4180's comma, and a point. */
export const PLAIN_MARKS: Marks = { delimiter: ',', decimal: '.' };

export class DecimalWriter {
  #bytes: Uint8Array;
  #at = 0;
  readonly #delimiter: number;
  readonly #decimal: number;

  /** @param size_bytes a guess; it grows as needed */
  constructor(size_bytes: number, marks: Marks = PLAIN_MARKS) {
    this.#bytes = new Uint8Array(Math.max(size_bytes, 64));
    this.#delimiter = marks.delimiter.charCodeAt(0);
    this.#decimal = marks.decimal.charCodeAt(0);
  }

  /** Text of any kind, as UTF-8. */
  text(text: string): void {
    this.#makeRoom(3 * text.length);
    this.#at += new TextEncoder().encodeInto(text, this.#bytes.subarray(this.#at)).written;
  }

  /** Text of which every character is one byte: digits, signs, letters. */
  ascii(text: string): void {
    this.#makeRoom(text.length);
    for (let k = 0; k < text.length; k++) this.#bytes[this.#at++] = text.charCodeAt(k);
  }

  /**
   * A delimiter and a number as `written` has it: a plain decimal, which every spreadsheet reads alike, no exponent, no minus zero, no
   * zeros at the end.
   *
   * @throws Error if it is no finite number: that is ours to mend, not the reader's to find
   */
  cell(value: number): void {
    this.#makeRoom(LONGEST);
    this.#bytes[this.#at++] = this.#delimiter;
    this.number(value);
  }

  /**
   * The number alone.
   *
   * @param steps into which a unit is divided at most: a power of ten, 1e12 at most
   */
  number(value: number, steps = stepsInOne(Math.abs(value))): void {
    this.#makeRoom(LONGEST);
    const bytes = this.#bytes;
    // Most cells of a year: columns of causes and of parts that rest.
    if (value === 0) {
      bytes[this.#at++] = 48;
      return;
    }
    const size = value < 0 ? -value : value;
    if (!(size < LARGEST)) {
      this.#large(value);
      return;
    }
    // As `written` rounds, in whole numbers: both are exact below 2^53.
    const count = Math.round(size * steps);
    const whole = Math.floor(count / steps);
    const fraction = (count - whole * steps) * (SCALE / steps);
    if (value < 0 && (whole > 0 || fraction > 0)) bytes[this.#at++] = 45;
    if (whole < 10) bytes[this.#at++] = 48 + whole;
    else this.ascii(String(whole));
    if (fraction === 0) return;
    bytes[this.#at++] = this.#decimal;
    const high = Math.floor(fraction / 1e6);
    this.#sixDigits(high);
    this.#sixDigits(fraction - high * 1e6);
    while (bytes[this.#at - 1] === 48) this.#at--;
  }

  /** What was written so far. */
  bytes(): Uint8Array {
    return this.#bytes.subarray(0, this.#at);
  }

  #sixDigits(value: number): void {
    const bytes = this.#bytes;
    const first = 3 * ((value / 1000) | 0);
    const second = 3 * (value % 1000);
    for (let k = 0; k < 3; k++) bytes[this.#at++] = GROUPS[first + k]!;
    for (let k = 0; k < 3; k++) bytes[this.#at++] = GROUPS[second + k]!;
  }

  #large(value: number): void {
    if (!Number.isFinite(value)) throw new Error(`hours.csv: a column holds ${value}`);
    const text = Math.abs(value) < 1e21 ? String(written(value)) : BigInt(value).toString();
    this.text(text.replace('.', String.fromCharCode(this.#decimal)));
  }

  #makeRoom(length: number): void {
    if (this.#at + length <= this.#bytes.length) return;
    const larger = new Uint8Array(2 * (this.#at + length));
    larger.set(this.#bytes.subarray(0, this.#at));
    this.#bytes = larger;
  }
}
