/** A window of local clock time. `end_min` is after `start_min`, beyond 1440 if the window runs past midnight. */
interface ClockWindow {
  /** Minutes since local midnight, 0 to 1439. */
  readonly start_min: number;
  readonly end_min: number;
}

export const DAY_min = 1440;

/** Reads a window that the schema has accepted: `22:00-06:00` runs from 1320 to 1800. */
export function parseWindow(text: string): ClockWindow {
  const minute = (from: number) =>
    Number(text.slice(from, from + 2)) * 60 + Number(text.slice(from + 3, from + 5));
  const start_min = minute(0);
  const end_min = minute(6);
  return { start_min, end_min: end_min > start_min ? end_min : end_min + DAY_min };
}

/** Minutes that two spans have in common. */
export const overlap_min = (from_a: number, to_a: number, from_b: number, to_b: number): number =>
  Math.max(0, Math.min(to_a, to_b) - Math.max(from_a, from_b));
