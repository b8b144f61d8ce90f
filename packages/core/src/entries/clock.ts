/** The grid of steps: local wall clock, daylight saving, leap years. */

export * from '../clock/clock.ts';
