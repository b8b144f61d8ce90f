import cliProgress from 'cli-progress';
import type { Io } from '../io.ts';

/** How far a piece of work has got. */
export interface Progress {
  /**
   * @param done of the whole, since it was first begun
   * @param of how much that is, where it is only known now
   */
  at(done: number, of?: number): void;
  /** Takes it off the screen. */
  end(): void;
}

const NONE: Progress = { at: () => {}, end: () => {} };

const UNKNOWN = Number.POSITIVE_INFINITY;

/** Not more often than this: drawing must not cost what it measures. */
const DRAW_ms = 100;

/**
 * Draws how far the work has got, how fast it goes and what is left, on a terminal; in a pipe nothing at all.
 *
 * @param what is counted: `designs`
 * @param total of it; null as long as nobody knows
 * @param done before this process began
 */
export function progressOf(io: Io, what: string, total: number | null, done = 0): Progress {
  if (io.progress === undefined) return NONE;
  const began_ms = performance.now();
  const grouped = (value: number): string => value.toLocaleString('en-US');
  const bar = new cliProgress.SingleBar({
    stream: io.progress,
    clearOnComplete: true,
    hideCursor: null,
    fps: 1000 / DRAW_ms,
    gracefulExit: false,
    format: (_, { value, total }) => {
      const spent_s = (performance.now() - began_ms) / 1000;
      const rate = (value - done) / Math.max(spent_s, 1e-3);
      const speed = `${what}, ${grouped(rate < 10 ? Math.round(rate * 10) / 10 : Math.round(rate))} a second`;
      if (total === UNKNOWN) return `${grouped(value)} ${speed}`;
      const left = rate > 0 ? `, ${spanWords((total - value) / rate)} left` : '';
      const share = total > 0 ? Math.floor((100 * value) / total) : 100;
      return `${String(share).padStart(3)} %  ${grouped(value)} of ${grouped(total)} ${speed}${left}`;
    },
  });
  let isDrawn = false;
  return {
    at: (value, of) => {
      if (!isDrawn) bar.start(total ?? UNKNOWN, done);
      isDrawn = true;
      if (of !== undefined) bar.setTotal(of);
      bar.update(value);
    },
    end: () => {
      if (isDrawn) bar.stop();
    },
  };
}

/** Does some work that tells how far it has got, and takes that off the screen whatever comes of it. */
export function watched<T>(io: Io, what: string, total: number | null, work: (at: Progress['at']) => T): T {
  const progress = progressOf(io, what, total);
  try {
    return work(progress.at);
  } finally {
    progress.end();
  }
}

/** `40 s`, `12 min`, `3 h 20 min`. */
export function spanWords(span_s: number): string {
  if (span_s < 100) return `${Math.ceil(span_s)} s`;
  const minutes = Math.ceil(span_s / 60);
  return minutes < 100 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
