import type { Io } from '../../../packages/cli/src/io.ts';

/** An io that remembers, for runs in process. */
export function memoryIo(over: Partial<Io> = {}): Io & { printed: string; said: string } {
  const io = {
    printed: '',
    said: '',
    out: (text: string) => {
      io.printed += text;
    },
    err: (text: string) => {
      io.said += text;
    },
    colour: false,
    cwd: '.',
    env: {},
    ...over,
  };
  return io;
}
