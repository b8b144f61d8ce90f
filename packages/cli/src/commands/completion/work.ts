import type { Command, Option } from 'commander';
import type { Io } from '../../io.ts';
import { SCRIPTS } from '../../render/help/completion-scripts.ts';
import type { Shell } from './declare.ts';

/** `longnight completion`: the script of a shell. */
export function completion(shell: Shell, io: Io): void {
  io.out(SCRIPTS[shell]);
}

/** What may stand in a place, and what it is. */
interface Candidate {
  readonly value: string;
  readonly meaning: string;
}

/**
 * What those scripts ask: one line for each word that may stand where the cursor is, its meaning behind a tab. No line
 * at all means that a file may.
 *
 * @param words what stands on the line behind the program's name; the last is the one being written
 */
export async function complete(program: Command, words: readonly string[], io: Io): Promise<void> {
  const candidates = await candidatesFor(program, words);
  io.out(candidates.map(({ value, meaning }) => `${value}\t${meaning}\n`).join(''));
}

async function candidatesFor(program: Command, words: readonly string[]): Promise<readonly Candidate[]> {
  // Some shells drop an empty word, so their scripts send a space for it.
  const current = (words.at(-1) ?? '').trim();
  const before = words.slice(0, -1);
  const helper = program.createHelp();
  const commands = helper.visibleCommands(program);
  const at = before.findIndex((word) => !word.startsWith('-'));
  const command = at < 0 ? program : commands.find((one) => one.name() === before[at]);
  if (command === undefined) return [];

  const options = [
    ...helper.visibleOptions(command),
    ...(command === program ? [] : program.options.filter((option) => option.long !== '--version')),
  ];
  const named = (word: string): Option | undefined =>
    options.find((option) => option.long === word || option.short === word);
  const open = named(before.at(-1) ?? '');
  const starting = (all: readonly Candidate[]) => all.filter(({ value }) => value.startsWith(current));
  if (open !== undefined && (open.required || open.optional))
    return starting((open.argChoices ?? []).map((value) => ({ value, meaning: open.description })));
  if (current.startsWith('-'))
    return starting(
      options.flatMap(({ long, description }) =>
        long == null ? [] : [{ value: long, meaning: description }],
      ),
    );
  if (command === program)
    return starting(
      commands.map((one) => ({ value: one.name(), meaning: one.summary() || one.description() })),
    );

  const given = before.slice(at + 1).filter((word, k, all) => {
    const option = named(all[k - 1] ?? '');
    return !word.startsWith('-') && !(option !== undefined && (option.required || option.optional));
  }).length;
  if (command.name() === 'explain' && given === 0) {
    const { TERMS, withoutPlaces } = await import('../../render/help/explain.ts');
    // Brackets are the shell's own.
    const terms = new Map(TERMS.map(({ name, meaning }) => [withoutPlaces(name), meaning]));
    return starting([...terms].map(([value, meaning]) => ({ value, meaning })));
  }
  const argument = command.registeredArguments[given];
  return starting((argument?.argChoices ?? []).map((value) => ({ value, meaning: argument!.description })));
}
