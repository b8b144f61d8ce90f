import { SWUNG, type Swayed, type SwayPlay, type SwungName } from '@longnight/core/study';
import { type Cell, cellsCsv } from '../tables/cells.ts';
import { guessName, type SwayShown } from './words.ts';

interface Row {
  readonly rank: number | null;
  readonly guess: Swayed;
  readonly play: SwayPlay;
}

/** sway.csv: a row for each guess and each value that it was moved to. */
export function swayCsv({ sway, scenario }: SwayShown): string {
  const rowsOf = (guess: Swayed, rank: number | null): readonly Row[] =>
    guess.plays.map((play) => ({ rank, guess, play }));
  const rows = [
    ...sway.guesses.flatMap((guess, k) => rowsOf(guess, k + 1)),
    ...sway.idle.flatMap((guess) => rowsOf(guess, null)),
  ];
  const figure = (name: SwungName) =>
    [
      [`${name}.today`, () => sway.now[name]],
      [name, ({ play }: Row) => play.figures[name]],
    ] as const;
  return cellsCsv<Row>(rows, [
    ['rank', ({ rank }): Cell => rank],
    ['key', ({ guess }) => guess.key],
    ['guess', ({ guess }) => guessName(guess, scenario)],
    ['stated', ({ guess }) => guess.stated],
    ['scale', ({ guess }) => guess.scale],
    ['today', ({ guess }) => guess.today],
    ['value', ({ play }) => play.value],
    ['holds', ({ play }) => play.holds],
    ['holds_at', ({ guess }) => guess.turns[0]?.holds_at ?? null],
    ['fails_at', ({ guess }) => guess.turns[0]?.fails_at ?? null],
    ['turn_reach', ({ guess }) => guess.turns[0]?.reach ?? null],
    ...SWUNG.flatMap(figure),
    ['why', ({ guess }) => guess.why],
  ]);
}
