/** Where the sun stands, and the light from space. */

export * from '../sun/air-mass.ts';
export * from '../sun/extraterrestrial.ts';
export * from '../sun/position.ts';
export * from '../sun/year.ts';
