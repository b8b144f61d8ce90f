import { readSetting } from '@longnight/core/study';
import { type Output, writeOutputs } from '../files/write.ts';
import type { Io } from '../io.ts';
import type { Document } from '../render/document/document.ts';
import { jsonText } from '../render/document/json.ts';
import { settingWords } from '../render/document/key-words.ts';
import { paint } from '../render/document/paint.ts';
import { plain } from '../render/document/plain-text.ts';
import { toScreen } from '../render/document/to-screen.ts';

/** How a command's findings are asked for. */
export interface Given {
  /** Folder for the outputs; without it none is written. */
  readonly out?: string;
  readonly json?: true;
  /** Keys that are played with other values than the file says, as the user wrote them. */
  readonly set?: readonly string[];
}

/** What a command found, in every form that it may be asked for in. */
export interface Findings {
  readonly document: Document;
  /** The figures themselves. */
  readonly json: string;
  /** Files of `--out` beside those of the document and the figures. */
  readonly tables?: readonly Output[];
  readonly notes?: readonly string[];
  /** Gives files that were written on the way their names, once the others are there. */
  readonly finish?: (() => void) | undefined;
}

/**
 * Writes what `--out` asks for, prints the document, or with `--json` the figures, then the notes: every command ends
 * with it.
 *
 * @param names files of `--out`: the document as .html and .md, the figures as .json, and the tables
 */
export async function tell(
  io: Io,
  given: Given,
  names: readonly string[],
  { document: told, json: figures, tables = [], notes = [], finish }: Findings,
): Promise<void> {
  const { out: folder } = given;
  const set = (given.set ?? []).map(readSetting);
  const document = { ...told, about: [...told.about, ...settingWords(set)] };
  const json = set.length === 0 ? figures : jsonText('--set', { set, ...JSON.parse(figures) });
  if (folder !== undefined) {
    const { toMarkdown } = await import('../render/document/to-markdown.ts');
    const { toPage } = await import('../render/document/to-page.ts');
    const as: Readonly<Record<string, () => string>> = {
      html: () => toPage(document),
      md: () => toMarkdown(document),
      json: () => json,
    };
    const made = names.flatMap((name) => {
      const text = as[name.slice(name.lastIndexOf('.') + 1)];
      return text === undefined ? [] : [{ name, text: text() }];
    });
    writeOutputs(io.cwd, folder, [...made, ...tables]);
    finish?.();
  }
  const written = folder === undefined ? null : { folder, names };
  io.out(given.json ? json : toScreen(document, written, paint(io.colour)));
  for (const note of notes) io.err(`note: ${plain(note)}\n`);
}
