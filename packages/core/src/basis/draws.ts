import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { mersenne } from 'pure-rand/generator/mersenne';

/**
 * Uniform numbers in [0, 1), the same for the same seed. Mersenne twister: the first draws of the shift-register
 * generators hardly depend on small seeds.
 */
export function uniformDraws(seed: number, count: number): Float64Array {
  const generator = mersenne(seed);
  return Float64Array.from({ length: count }, () => uniformFloat64(generator));
}
