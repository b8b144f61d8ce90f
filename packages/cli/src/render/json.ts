import type { Report } from '@longnight/core';

/**
 * The report as JSON text. JSON has no word for NaN and writes null, which means "no such figure" here: a number that
 * isn't one is a fault of ours and must not get out looking like an answer.
 *
 * @throws Error naming the key
 */
export function reportJson(report: Report): string {
  const finite = (key: string, value: unknown): unknown => {
    if (typeof value === 'number' && !Number.isFinite(value))
      throw new Error(`report.json: ${key} is ${value}`);
    return value;
  };
  return `${JSON.stringify(report, finite, 2)}\n`;
}
