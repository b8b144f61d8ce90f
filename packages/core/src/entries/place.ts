/** A first guess of the sun and air of any place, from a table of the whole Earth: some 70 kB, in nothing else of core. */

export * from '../place/beside.ts';
export * from '../place/first-guess.ts';
export * from '../place/site-of-file.ts';
