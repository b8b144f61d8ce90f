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
  /** Folder that relative paths start from. */
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** An io that can be hushed: then nothing more gets out of it. Errors take the way around it. */
export function quietable(io: Io): { readonly io: Io; hush(): void } {
  let quiet = false;
  return {
    io: {
      ...io,
      out: (text) => {
        if (!quiet) io.out(text);
      },
      err: (text) => {
        if (!quiet) io.err(text);
      },
      get progress() {
        return quiet ? undefined : io.progress;
      },
    } as Io,
    hush: () => {
      quiet = true;
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
  const { env, stdout, stderr } = process;
  // `longnight … | head` closes the pipe when it has seen enough: that is no failure of anybody's.
  stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE') process.exit(0);
    stderr.write(`longnight: can't write to standard output: ${error.message}\n`);
    process.exit(1);
  });
  return {
    out: (text) => void stdout.write(text),
    err: (text) => void stderr.write(text),
    colour: colourWanted(env, stdout.isTTY === true),
    ...(stderr.isTTY === true ? { progress: stderr } : {}),
    cwd: process.cwd(),
    env,
  };
}
