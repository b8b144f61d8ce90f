import { expectArgument } from '../../basis/arguments.ts';
import type { OneOf } from '../../basis/notices.ts';
import { cautions } from '../../findings/static/cautions.ts';
import { type Danger, isNewDanger } from '../../findings/static/dangers.ts';
import { plantOf } from '../../plant/plant.ts';
import type { Mapping } from '../../scenario/parts/file.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import { parsePath } from '../../scenario/text/path.ts';
import type { FileTexts } from '../../series/types.ts';
import { newDesigner, setAt } from '../designs/designer.ts';
import { readSource, type StudyText } from '../designs/study.ts';
import type { OnPlayed } from '../on-played.ts';
import { type Judge, type JudgeAsk, judgeOf } from '../size/judge.ts';
import type { Change, Changeable, OverTracker } from './changes/change.ts';
import { changesOfMachines } from './changes/machines.ts';
import { BANK_MORE, changesOfBank, changesOfLoads } from './changes/store.ts';
import { changesOfArrays } from './changes/sun.ts';
import { newTrial, type Outcome } from './outcome.ts';
import {
  bringsEngine,
  cheapest,
  compareTries,
  helps,
  isNoChange,
  outdoes,
  type RankedBy,
  SAME_missed,
} from './rank.ts';
import { type State, type TriedChange, triedOf } from './tried.ts';

/** A plant as it is, and what each change to it does. */
export interface Improvement {
  /** The plant as it is. */ readonly now: Outcome;
  /** What it is judged by, and in which years. */ readonly judge: Judge;
  /** True if it keeps what is required as it is: nothing unmet, unless other bounds were given. */
  readonly holds: boolean;
  /** Null without a money section. */ readonly currency: string | null;
  /**
   * What the best comes first by: unmet energy removed, how much nearer it brings the plant to bounds that were given,
   * or for a plant that holds generator hours and lowest SoC.
   */
  readonly ranked_by: RankedBy;
  /** Changes that help, best first. */ readonly helping: readonly TriedChange[];
  /** Changes that make no difference to the figures, or make them worse. */
  readonly idle: readonly TriedChange[];
  /** Changes that make it worse; of a plant that holds, those that gain nothing. */ readonly harming: readonly TriedChange[];
  /** Changes that contradict the rest of the scenario and were not played. */
  readonly left_out: readonly { readonly change: Change; readonly why: Unplayed }[];
  /** If no single change makes it hold: changes that can be repeated, as often as it takes. */
  readonly repeated: readonly TriedChange[];
  /** If no single change makes it hold: pairs that do more than either of the two, best first. */
  readonly pairs: readonly TriedChange[];
  /** If no single change makes it hold: array and bank grown by turns, whichever brings more for its price. */
  readonly together: readonly TriedChange[];
  /** Changes, alone or with others, that were dropped because they would make the plant a danger. */
  readonly dropped_dangerous: number;
  /** The usual cautions, of the plant as it is and of what the changes that help would add. */
  readonly cautions: readonly string[];
  /** What makes it hold for the least money, or the best of what does where no prices are known; null if nothing does. */
  readonly holds_with: TriedChange | null;
  /** How many plants were played for the answer. */ readonly played_plants: number;
  /** How many years, each of them in all that it is judged by. */ readonly played_years: number;
}

/** Why a change was not played, or not taken: a contradiction is told in the words of the check of the scenario. */
export type Unplayed =
  | OverTracker
  | OneOf<{ danger: { danger: Danger }; contradiction: { message: string } }>;

/** How many of the best single changes are paired: some that do nothing alone too, for limits that bind together. */
const PAIRED = 12;
/** How often a change is repeated at most, and how often in a row without bringing anything. */
const MOST_REPEATS = 60;
const IDLE_REPEATS = 5;

/**
 * What the next part buys: plays each change to one part of a plant over the same years and ranks them. If no single
 * one keeps what is required, it plays the best ones again and again, in pairs, and array and bank by turns. Nothing is
 * proposed that brings a danger, or makes one worse. Every plant is played in every year: its place rests on all of them.
 *
 * @param texts text of every series file that the scenario names
 * @param ask in which years the plant is judged, and by what; left out, in its own, by nothing unmet
 * @param onPlayed told how many years have been played, after each
 * @throws InputError if the scenario is not sound or a series can't be used
 */
export function improvePlant(
  source: StudyText,
  texts: FileTexts,
  ask: JudgeAsk = {},
  onPlayed: OnPlayed = () => {},
): Improvement {
  expectArgument('improvePlant', 'source', source, 'source');
  expectArgument('improvePlant', 'texts', texts, 'map');
  const {
    scenario,
    source: { written, shelf },
  } = readSource(source);
  const design = newDesigner(written, shelf);
  const judge = judgeOf(ask);
  const trial = newTrial(source.file, texts, judge);
  const years = Math.max(1, judge.years.length);
  let played = 0;
  const play = (changed: Scenario): Outcome => {
    const outcome = trial(changed);
    onPlayed(++played * years);
    return outcome;
  };
  const base: State = { changes: [], values: [], scenario, outcome: play(scenario) };
  const holds = base.outcome.keeps;

  const changesTo = (state: State): readonly Change[] =>
    changesOf({
      written: state.values.reduce<unknown>(
        (data, v) => setAt(data, v.path, v.value),
        written.data,
      ) as Mapping,
      scenario: state.scenario,
      shelf,
      coldest_bank_C: state.outcome.coldest_bank_C,
    });
  const dangerous = new Set<string>();
  const make = (state: State, change: Change): State | Unplayed => {
    if (change.refused !== null) return change.refused;
    const values = [
      ...state.values,
      ...change.values.map(({ path, value }) => ({ path: parsePath(path), value })),
    ];
    const made = design(values);
    if (made.scenario === null) return { id: 'contradiction', message: made.contradiction };
    const outcome = play(made.scenario);
    const danger = outcome.dangers.find((one) => isNewDanger(one, base.outcome.dangers));
    if (danger !== undefined) {
      dangerous.add(JSON.stringify([...state.changes, change].map(({ id }) => id).sort()));
      return { id: 'danger', danger };
    }
    return { changes: [...state.changes, change], values, scenario: made.scenario, outcome };
  };
  /** The same change once more, or another one beside those made: what it says depends on what there is by then. */
  const makeById = (state: State, id: string): State | null => {
    const change = changesTo(state).find((other) => other.id === id);
    const made = change === undefined ? null : make(state, change);
    return made === null || 'id' in made ? null : made;
  };

  const left_out: { change: Change; why: Unplayed }[] = [];
  const states = changesTo(base).flatMap((change) => {
    const made = make(base, change);
    if (!('id' in made)) return [made];
    left_out.push({ change, why: made });
    return [];
  });
  const ranked_by: RankedBy = holds ? 'margin' : judge.all_served ? 'unmet' : 'requirement';
  const order = compareTries(ranked_by, base.outcome);
  const singles = states.map((state) => ({ state, tried: triedOf(base, state) }));
  singles.sort((a, b) => order(a.tried, b.tried));
  const tries = singles.map(({ tried }) => tried);
  const helping = tries.filter((tried) => helps(tried, base.outcome, holds));
  const others = tries.filter((tried) => !helping.includes(tried));

  // An engine mends nearly everything: what parts would do is worth knowing all the same.
  const isHeld = holds || helping.some((tried) => tried.holds_then && !bringsEngine(tried));
  const candidates = isHeld ? [] : singles.slice(0, PAIRED);
  const repeated = candidates.flatMap(({ state, tried }): TriedChange[] => {
    const [change] = state.changes;
    if (!change!.repeats || !helping.includes(tried)) return [];
    const end = repeat(state, (from) => makeById(from, change!.id));
    return end === state ? [] : [triedOf(base, end)];
  });
  const pairs = candidates.flatMap((one, k) =>
    candidates.slice(k + 1).flatMap((other): TriedChange[] => {
      const [a, b] = [one.state.changes[0]!, other.state.changes[0]!];
      const made = a.knob === b.knob ? null : makeById(one.state, b.id);
      const tried = made === null ? null : triedOf(base, made);
      return tried !== null && outdoes(tried, one.tried, other.tried) ? [tried] : [];
    }),
  );
  repeated.sort(order);
  pairs.sort(order);
  const most = Math.max(0, ...[...helping, ...repeated, ...pairs].map((tried) => tried.nearer));
  const together = (isHeld ? [] : changesTo(base)).flatMap(({ id, repeats }): TriedChange[] => {
    if (!repeats || !id.startsWith('arrays[')) return [];
    const end = growTogether(base, [id, BANK_MORE], makeById);
    const isMixed = new Set(end.changes.map((change) => change.id)).size > 1;
    const tried = triedOf(base, end);
    return isMixed && (tried.holds_then || tried.nearer > most) ? [tried] : [];
  });
  together.sort(order);
  return {
    now: base.outcome,
    judge,
    holds,
    currency: scenario.money?.currency ?? null,
    ranked_by,
    helping,
    idle: others.filter((tried) => isNoChange(tried, base.outcome, holds)),
    harming: others.filter((tried) => !isNoChange(tried, base.outcome, holds)),
    left_out,
    repeated,
    pairs,
    together,
    dropped_dangerous: dangerous.size,
    cautions: [
      ...new Set(
        [base, ...singles.filter(({ tried }) => helping.includes(tried)).map(({ state }) => state)].flatMap(
          (state) => cautions(plantOf(state.scenario)),
        ),
      ),
    ],
    holds_with: holds
      ? null
      : cheapest([...helping, ...pairs, ...repeated, ...together].filter((tried) => tried.holds_then)),
    played_plants: played,
    played_years: played * years,
  };
}

/**
 * Grows several things by turns: each time by the one that brings it nearest for its price, or nearest where a price is
 * missing, and by all of them where none alone brings it nearer.
 *
 * @returns the best state on the way
 */
function growTogether(
  from: State,
  ids: readonly string[],
  more: (state: State, id: string) => State | null,
): State {
  let best = from;
  let state = from;
  let open = ids;
  while (!best.outcome.keeps && state.changes.length < MOST_REPEATS) {
    const tried = open.map((id) => ({ id, next: more(state, id) }));
    // What can't be made now can't be made of a larger plant either.
    open = tried.filter(({ next }) => next !== null).map(({ id }) => id);
    const steps = tried.flatMap(({ next }) => (next === null ? [] : [next]));
    const gained = steps
      .map((next) => ({ next, ...triedOf(state, next) }))
      .filter(({ nearer }) => nearer > SAME_missed);
    const isPriced = gained.every(({ extra_money }) => extra_money !== null);
    gained.sort((a, b) =>
      isPriced ? a.extra_money! / a.nearer - b.extra_money! / b.nearer : b.nearer - a.nearer,
    );
    const all = (): State | null =>
      open.reduce<State | null>((grown, id) => (grown === null ? null : more(grown, id)), state);
    const next = gained[0]?.next ?? all();
    if (next === null || next === state) break;
    state = next;
    if (isBetter(state.outcome, best.outcome)) best = state;
    else if (state.changes.length - best.changes.length >= IDLE_REPEATS * ids.length) break;
  }
  return best;
}

/**
 * Goes on with a change until the plant holds, it brings nothing more, or it was made often enough. With a generator
 * one step may bring nothing and the next one something: it takes several to give up.
 *
 * @returns the best state on the way, the earliest of equal ones
 */
function repeat(from: State, again: (state: State) => State | null): State {
  let best = from;
  let state = from;
  while (!best.outcome.keeps && state.changes.length < MOST_REPEATS) {
    const next = again(state);
    if (next === null) break;
    state = next;
    if (isBetter(state.outcome, best.outcome)) best = state;
    else if (state.changes.length - best.changes.length >= IDLE_REPEATS) break;
  }
  return best;
}

const isBetter = (a: Outcome, b: Outcome): boolean =>
  a.keeps ||
  a.missed < b.missed - SAME_missed ||
  (a.missed <= b.missed + SAME_missed && a.years_held > b.years_held);

/**
 * Changes to one part of a plant that make sense for it, in the order of the scenario. Left out is only what has no
 * place in the plant: what makes no difference is found by playing it.
 */
const changesOf = (plant: Changeable): readonly Change[] => [
  ...changesOfArrays(plant),
  ...changesOfBank(plant),
  ...changesOfMachines(plant),
  ...changesOfLoads(plant),
];
