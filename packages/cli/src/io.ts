import type { Interface } from 'node:readline';
import { Ending, EXIT } from './exit-codes.ts';

/** Everything the CLI touches besides files, so that tests can run it in process. */
export interface Io {
  /** The result. */
  out(text: string): void;
  /** Notes and errors. */
  err(text: string): void;
  /** True if `out` may carry colour. */
  readonly colour: boolean;
  /** The terminal that progress is drawn on; absent in a pipe. */
  readonly progress?: NodeJS.WriteStream;
  /** Asks the person at the terminal and returns the line they type; absent where nobody can answer. */
  readonly ask?: (question: string) => Promise<string>;
  /** Folder that relative paths start from. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/**
 * An io that can be hushed: then no note, progress or question gets out of it, and no result unless `keepsResult` says
 * so. Errors take the way around it.
 */
export function quietable(io: Io): { readonly io: Io; hush(keepsResult: boolean): void } {
  let [isQuiet, hasResult] = [false, true];
  return {
    io: {
      ...io,
      out: (text) => {
        if (hasResult) io.out(text);
      },
      err: (text) => {
        if (!isQuiet) io.err(text);
      },
      get progress() {
        return isQuiet ? undefined : io.progress;
      },
      get ask() {
        return isQuiet ? undefined : io.ask;
      },
    } as Io,
    hush: (keepsResult) => {
      isQuiet = true;
      hasResult = keepsResult;
    },
  };
}

/** Colour is for terminals that have it. https://no-color.org: any value but the empty one switches it off. */
export const colourWanted = (env: Io['env'], terminal: boolean): boolean =>
  terminal && !env.NO_COLOR && env.TERM !== 'dumb';

/**
 * Whether bars may be drawn with block characters. A locale that names another encoding than UTF-8 can't show them;
 * where none is set, as in many containers and on Windows, terminals can.
 */
export function blocksWanted(env: Io['env']): boolean {
  const locale = env.LC_ALL || env.LC_CTYPE || env.LANG;
  return !locale || /utf-?8/i.test(locale);
}

/** The io of a real process. */
export function processIo(): Io {
  const { env, stdin, stdout, stderr } = process;
  // `longnight … | head` closes the pipe when it has seen enough: that is no failure of anybody's.
  stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    const what =
      error.code === 'ENOSPC' || error.code === 'EDQUOT' ? 'the disk is full' : "it can't be written";
    stderr.write(
      `standard output: ${what} (${error.code ?? error.message})\n    fix: make room, or send it to another place\n`,
    );
    process.exit(EXIT.badInput);
  });
  return {
    out: (text) => void stdout.write(text),
    err: (text) => void stderr.write(text),
    colour: colourWanted(env, stdout.isTTY === true),
    ...(stderr.isTTY === true ? { progress: stderr } : {}),
    // Questions go where notes go: standard output is for the result.
    ...(stdin.isTTY === true && stderr.isTTY === true ? { ask: asker(stdin, stderr) } : {}),
    cwd: process.cwd(),
    env,
  };
}

/**
 * Questions on a terminal. One reader serves them all, so that lines pasted at once answer one question each. Whoever
 * closes the input or presses Ctrl-C ends the command.
 */
function asker(input: NodeJS.ReadStream, output: NodeJS.WriteStream): NonNullable<Io['ask']> {
  const typed: string[] = [];
  let waiting: { resolve(line: string): void; reject(error: Error): void } | undefined;
  let lines: Interface | undefined;
  let isClosed = false;
  const givenUp = () => new Ending(EXIT.interrupted, '\nNothing was written.');
  return async (question) => {
    if (lines === undefined) {
      const { createInterface } = await import('node:readline');
      lines = createInterface({ input, output });
      lines.on('line', (line) => {
        if (waiting === undefined) typed.push(line);
        else waiting.resolve(line);
        waiting = undefined;
      });
      lines.on('close', () => {
        isClosed = true;
        waiting?.reject(givenUp());
      });
    }
    const early = typed.shift();
    if (early !== undefined) return early;
    if (isClosed) throw givenUp();
    return new Promise<string>((resolve, reject) => {
      waiting = { resolve, reject };
      lines!.setPrompt(question);
      lines!.prompt();
    }).finally(() => lines!.pause());
  };
}
