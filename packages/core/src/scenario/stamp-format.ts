/** Letters of a Luxon format, text in quotes left out: each is a token or a part of one. */
export const formatLetters = (format: string): string => format.replace(/'[^']*'/g, '');

/** True if stamps of a Luxon format have a year: a year, a week year, or a whole date. */
export const hasYear = (format: string): boolean => /[ykDfF]/.test(formatLetters(format));
