import type { Setting } from '@longnight/core/study';
import type { Section } from './document.ts';
import { settingOptions } from './key-words.ts';

/** The files a document was made from, and by which version. */
export interface ReadFrom {
  readonly version: string;
  /** Keys that were played with other values than the files say. */
  readonly set: readonly Setting[];
  readonly read: readonly { readonly name: string; readonly sha256: string }[];
}

/** How a document is made again; `beside` says what lies beside it. */
export const againSection = (command: string, { version, read, set }: ReadFrom, beside: string): Section => ({
  id: 'again',
  title: 'How to make this again',
  sentence: `Longnight ${version} makes the same bytes from the same ${read.length === 1 ? 'file' : `${read.length} files`}, on any machine.`,
  on: ['markdown', 'page'],
  blocks: [
    { kind: 'command', text: [command, ...settingOptions(set)].join(' ') },
    {
      kind: 'table',
      caption: 'What was read, with its SHA-256',
      columns: [{ title: 'file' }, { title: 'SHA-256', holds: 'code' }],
      rows: read.map(({ name, sha256 }) => [name, sha256]),
    },
    { kind: 'text', text: beside },
  ],
});
