/** Where the sun stands, and the light from space. */

export { type SunPosition, sunPosition } from '../sun/position.ts';
export * from '../sun/year.ts';
