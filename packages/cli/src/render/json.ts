import type { Report } from '@longnight/core';

/**
 * Plain data as JSON text. JSON has no word for NaN and writes null, which means "no such figure" here: a number that
 * isn't one is a fault of ours and must not get out looking like an answer.
 *
 * @param file its name, for the message
 * @throws Error naming the key
 */
export function jsonText(file: string, data: unknown): string {
  const finite = (key: string, value: unknown): unknown => {
    if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`${file}: ${key} is ${value}`);
    return value;
  };
  return `${JSON.stringify(data, finite, 2)}\n`;
}

export const reportJson = (report: Report): string => jsonText('report.json', report);
