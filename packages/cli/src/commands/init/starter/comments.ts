import { type Key, scenarioKeys } from '@longnight/core/scenario';
import { wrapped } from '../../../render/document/plain-text.ts';
import { COLUMN } from './lines.ts';

const WIDTH = 110;

/** A mapping or list of the text around a line, with the key that opens it. */
interface Around {
  readonly indent: number;
  readonly path: string;
  /** What its `kind` or `fill` says, once it is said. */
  kind?: string | undefined;
  isList?: boolean;
}

/**
 * The lines of a scenario with what each key means behind it, where a key stands for the first time: above it if there
 * is no room. Keys that are commented out are explained alike. A comment that stands behind a key already stays.
 */
export function commented(lines: readonly string[]): string[] {
  const keys = scenarioKeys();
  const said = new Set<Key>();
  const around: Around[] = [];
  return lines.flatMap((line) => {
    const [, lead, off = '', deeper = '', dash = '', name, rest] =
      /^( *)(# )?( *)(- )?(\w+):((?: .*)?)$/.exec(line) ?? [];
    if (name === undefined) return [line];
    const at = lead!.length + deeper.length;
    while (around.length > 0 && around.at(-1)!.indent >= at + dash.length) around.pop();
    const parent = around.at(-1);
    if (parent !== undefined && dash !== '') Object.assign(parent, { isList: true, kind: undefined });
    if (parent !== undefined && (name === 'kind' || name === 'fill')) parent.kind = rest!.trim();
    const path = parent === undefined ? name : `${parent.path}${parent.isList ? '[]' : ''}.${name}`;
    around.push({ indent: at + dash.length, path });
    const key = keys.find(
      ({ path: where, rule: { kinds } }) =>
        where === path && (kinds.length === 0 || around.some(({ kind }) => kinds.includes(kind!))),
    );
    if (key === undefined || said.has(key) || / # /.test(rest!)) return [line];
    said.add(key);
    const text = shortText(key, off !== '');
    const behind = `${line.length < COLUMN ? line.padEnd(COLUMN) : `${line}  `}# ${text}`;
    if (behind.length <= WIDTH) return [behind];
    const before = `${lead}${off}${deeper}# `;
    return [...wrapped(text, WIDTH - before.length).map((words) => before + words), line];
  });
}

/** The beginning of what a key means, the words that it takes, and what holds where it is left out. */
function shortText({ meaning, rule: { takes, without } }: Key, isOff: boolean): string {
  const text = meaning.split(/; |\. /)[0]!;
  const choices = takes.split(/, | or /);
  const isChoice = choices.length > 1 && !/\ba /.test(takes) && !choices.every((word) => text.includes(word));
  const leftOut = isOff && without !== undefined ? `; left out: ${without}` : '';
  return `${text}${isChoice ? ` (${takes})` : ''}${leftOut}`;
}
