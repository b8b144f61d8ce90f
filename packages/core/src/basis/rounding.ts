/** A number to so many significant digits, for a message about what was read: three are enough to know a unit or a slip. */
export const rounded = (value: number, digits = 3): number => Number(value.toPrecision(digits));

/** Without the dust of binary fractions: 0.1 + 0.2 is 0.3. */
export const tidy = (value: number): number => rounded(value, 12);
