/** Colour for the terminal: three meanings, and nothing is said by colour alone. */
export interface Paint {
  heading(text: string): string;
  good(text: string): string;
  bad(text: string): string;
}

const code =
  (on: number, off: number) =>
  (text: string): string =>
    `\u001b[${on}m${text}\u001b[${off}m`;

const same = (text: string): string => text;

export const paint = (colour: boolean): Paint =>
  colour
    ? { heading: code(1, 22), good: code(32, 39), bad: code(31, 39) }
    : { heading: same, good: same, bad: same };
