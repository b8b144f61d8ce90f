/** The grid of steps: local wall clock, daylight saving, leap years. */

export { buildClock, type Clock, localDate, localTime, utcTime } from '../clock/clock.ts';
