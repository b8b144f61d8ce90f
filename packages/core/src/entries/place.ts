/** A first guess of the sun and air of any place, from a table of the whole Earth: some 70 kB, in nothing else of core. */

export { zoneNotices } from '../place/beside.ts';
export { type FirstGuess, firstGuess, landHeight_m } from '../place/first-guess.ts';
export * from '../place/site-of-file.ts';
