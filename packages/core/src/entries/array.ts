/** Light on a plane, temperature of the cells, DC power, volts and amps of strings. */

export * from '../array/cell.ts';
export * from '../array/incidence.ts';
export * from '../array/perez.ts';
export * from '../array/plane.ts';
export * from '../array/power.ts';
export * from '../array/prepare.ts';
export * from '../findings/static/strings.ts';
export * from '../plant/panel-string.ts';
