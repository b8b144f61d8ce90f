/** The pages of the project: every Markdown file of the repository, and what a reader of one would try. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { ROOT } from './process.ts';

const LEFT_OUT = /^(\.git|node_modules|dist|demo-out|api|coverage)$/;

/** Paths of all Markdown files, from the root, with slashes. */
export function pages(folder = ROOT): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    if (LEFT_OUT.test(entry.name)) return [];
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return pages(path);
    return entry.name.endsWith('.md') ? [relative(ROOT, path).replaceAll('\\', '/')] : [];
  });
}

export const pageText = (page: string): string =>
  readFileSync(join(ROOT, page), 'utf8').replaceAll('\r\n', '\n');

/** Holds a piece of a page to what it should be; UPDATE_README=1 writes that instead, for the author to read over. */
export function refreshed(page: string, is: string, expected: string): string {
  if (process.env.UPDATE_README !== '1') return is;
  writeFileSync(
    join(ROOT, page),
    pageText(page).replace(is, () => expected),
  );
  return expected;
}

/** A command and the block that shows what it prints. */
interface Shown {
  readonly page: string;
  readonly command: string;
  readonly block: string;
}

/** Blocks of text that begin with `$ longnight ...`. */
export const outputsShown = (): Shown[] =>
  pages().flatMap((page) =>
    [...pageText(page).matchAll(/^```text\n\$ longnight (.*)\n[\s\S]*?^```$/gm)].map(([block, command]) => ({
      page,
      command: command!,
      block,
    })),
  );

/** An example of the library, and the block behind it if it shows what is printed. */
interface Example {
  readonly page: string;
  readonly code: string;
  readonly block: string | undefined;
}

export const libraryExamples = (): Example[] =>
  pages().flatMap((page) =>
    [...pageText(page).matchAll(/^```ts\n([\s\S]*?)^```$(?:\n\n(^```text\n(?!\$)[\s\S]*?^```$))?/gm)].map(
      ([, code, block]) => ({ page, code: code!, block }),
    ),
  );

/** A command that a page tells its reader to call, as a shell takes it apart. */
interface Called {
  readonly page: string;
  readonly line: string;
  readonly args: readonly string[];
}

/** Lines of shell blocks that call the program, broken lines joined; install and pnpm scripts are not among them. */
export const commandsCalled = (): Called[] =>
  pages().flatMap((page) =>
    [...pageText(page).matchAll(/^```sh\n([\s\S]*?)^```$/gm)].flatMap(([, block]) =>
      [...block!.replaceAll('\\\n', ' ').matchAll(/^npx (?:-y pnpm@\S+ (?:-s )?)?longnight (.*)$/gm)].map(
        ([line, words]) => ({ page, line, args: argumentsOf(words!.replace(/ (#|\|\|) .*/, '')) }),
      ),
    ),
  );

/** Quotes keep blanks, brackets and `<` from the shell. */
export const argumentsOf = (command: string): string[] =>
  command.match(/'[^']*'|\S+/g)!.map((word) => word.replaceAll("'", ''));
