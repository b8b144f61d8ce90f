import type { GeneratorSpec } from '../schema/schema.ts';

/** A line of a data sheet. */
export interface FuelPoint {
  readonly load_share: number;
  readonly L_per_h: number;
}

/** The points of a data sheet, in whichever form it was given, load ascending. */
export const fuelPoints = (fuel: GeneratorSpec['fuel']): readonly FuelPoint[] =>
  'points' in fuel
    ? fuel.points
    : [
        { load_share: 0.5, L_per_h: fuel.half_load_L_per_h },
        { load_share: 1, L_per_h: fuel.full_load_L_per_h },
      ];

/** Fuel at no load, L/h: the first two points' line carried on down to it. */
export function idleFuel_L_per_h(points: readonly FuelPoint[]): number {
  const [low, next] = [points[0]!, points[1]!];
  return low.L_per_h - (low.load_share / (next.load_share - low.load_share)) * (next.L_per_h - low.L_per_h);
}
