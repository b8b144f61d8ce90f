/** Changes after which the program does the same: no test can notice them. */
export const EQUIVALENT: readonly {
  readonly file: string;
  readonly was: string;
  readonly made: string;
  readonly why: string;
}[] = [];
