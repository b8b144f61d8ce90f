import { expectArguments } from '../../basis/arguments.ts';
import { InputError, refusal } from '../../basis/errors.ts';
import { shelve } from '../../scenario/parts/parts.ts';
import { checkedScenario, type ReadScenario } from '../../scenario/read.ts';
import { parseText } from '../../scenario/text/document.ts';
import { type Axis, combinations, digitsOf, type Setting } from './axes.ts';
import { checkAxes, newPuts } from './check-axes.ts';
import { type Design, newDesigner, withValues } from './designer.ts';

/** All text that a study is made from: enough to make it anew in another thread or on another machine. */
export interface StudyText {
  /** The scenario's text and the name of its file. */ readonly text: string;
  /** Name of the scenario's file. */ readonly file: string;
  /** Text of each parts file, by the name the scenario uses. */ readonly partsTexts: ReadonlyMap<
    string,
    string
  >;
  /** Keys that are played with other values than the file says; left out, none. */
  readonly set?: readonly Setting[];
}

/** A scenario and the keys of it that vary. */
export interface Study {
  readonly axes: readonly Axis[];
  /** All combinations. */
  readonly designs: number;
  /** Values of the axes in a design, in the order of the axes. */
  readonly valuesOf: (index: number) => readonly (number | string)[];
  readonly design: (index: number) => Design;
}

/**
 * Reads the scenario of a study: as `readScenario` does, its settings put in as if the file said so.
 *
 * @throws InputError as `readScenario`; for an unknown path (with the nearest), a path twice, a value that the key
 *   can't take, or settings that contradict the rest
 */
export function readSource(source: StudyText): ReadScenario {
  expectArguments('readSource', { source });
  const { text, file, partsTexts, set = [] } = source;
  // The scenario as it stands must be sound: then whatever fails below is the fault of a setting.
  const read = checkedScenario(parseText(text, file), shelve(partsTexts));
  if (set.length === 0) return read;
  const axes = set.map(({ path, value }) => ({ path, values: [value] }));
  const { written, shelf } = read.source;
  try {
    checkAxes(read, axes, '--set');
    const values = newPuts(read, axes)(axes.map(() => 0));
    const { contradiction } = newDesigner(written, shelf)(values);
    if (contradiction !== null)
      throw refusal('axis', '--set', contradiction, 'set what goes together, or a value that fits the rest');
    return checkedScenario(withValues(written, values), shelf);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    // Of several files that are given the same settings, one may not take them.
    throw new InputError(error.issues.map((issue) => ({ place: { file }, ...issue })));
  }
}

/**
 * Lays out a study. Each value of each axis is checked on its own here; values that only contradict each other are
 * found when their design is made.
 *
 * @throws InputError as `readSource`, and for an axis as for its settings
 */
export function openStudy(source: StudyText, axes: readonly Axis[]): Study {
  expectArguments('openStudy', { source, axes });
  checkAxes(readSource(source), axes, '--vary');
  return layOut(source, axes);
}

/** The same for a study that was opened before: its axes are not checked again. */
export function layOut(source: StudyText, axes: readonly Axis[]): Study {
  const read = readSource(source);
  const designed = newDesigner(read.source.written, read.source.shelf);
  const puts = newPuts(read, axes);
  return {
    axes,
    designs: combinations(axes),
    valuesOf: (index) => digitsOf(axes, index).map((digit, k) => axes[k]!.values[digit]!),
    design: (index) => designed(puts(digitsOf(axes, index))),
  };
}
