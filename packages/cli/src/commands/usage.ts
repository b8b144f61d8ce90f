import type { Command } from 'commander';

/** Tells errors of usage as all others are told: where, what, what was expected, and on its own line what to do. */
export function styleUsage(program: Command): void {
  for (const command of [program, ...program.commands]) {
    const name = command === program ? 'longnight' : `longnight ${command.name()}`;
    command.configureOutput({ outputError: (text, write) => write(usageText(text, name)) });
  }
}

/**
 * A message of the parser in our words.
 *
 * @param text as the parser writes it, `error: …`
 * @param command whose line it is about: `longnight run`
 */
function usageText(text: string, command: string): string {
  const [line = '', ...rest] = text
    .trim()
    .replace(/^error: /, '')
    .split('\n');
  const meant = /^\(Did you mean (.+)\?\)$/.exec(rest.join(' '))?.[1];
  const help = `${command} --help ${command === 'longnight' ? 'lists the commands' : 'shows what it takes'}`;
  const value =
    /^option '(?<what>.+?)' argument '(?<given>.*)' is invalid\. (?<wanted>.+?)\.?$/.exec(line) ??
    /^command-argument value '(?<given>.*)' is invalid for argument '(?<what>.+?)'\. (?<wanted>.+?)\.?$/.exec(
      line,
    );
  if (value !== null) {
    const { what, given, wanted } = value.groups as { what: string; given: string; wanted: string };
    const option = /--[\w-]+/.exec(what)?.[0] ?? what;
    const expected = wanted.replace(/^expected /, '').replace(/^Allowed choices are /, 'one of ');
    return `${command} ${option} '${given}': this value can't be taken; expected ${expected}\n    fix: ${help}\n`;
  }
  const fix = meant === undefined ? help : `did you mean ${meant.replace('one of ', '')}? ${help}`;
  return `${command}: ${line.replace(/\.$/, '').replace('. Expected', '; expected')}\n    fix: ${fix}\n`;
}
