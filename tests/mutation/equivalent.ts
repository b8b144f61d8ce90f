/** Changes after which the program does the same: no test can notice them. */
export const EQUIVALENT: readonly {
  readonly file: string;
  readonly was: string;
  readonly made: string;
  readonly why: string;
}[] = [
  {
    file: 'array/perez.ts',
    was: 'row < CLASS_FROM.length',
    made: 'row <= CLASS_FROM.length',
    why: 'beyond the last class there is undefined, and no clearness is at least that',
  },
  {
    file: 'array/perez.ts',
    was: 'row < CLASS_FROM.length',
    made: 'true',
    why: 'beyond the last class there is undefined, and no clearness is at least that',
  },
  {
    file: 'static/dangers.ts',
    was: 'most_A > max_A + 1e-9',
    made: 'most_A >= max_A + 1e-9',
    why: 'they differ where the amps are a billionth above the limit to the last bit',
  },
  {
    file: 'wiring/bank-conductor.ts',
    was: 'ampacity_A < needed_A - 1e-9',
    made: 'ampacity_A <= needed_A - 1e-9',
    why: 'they differ where the amps are a billionth below the need to the last bit',
  },
];
