import cliProgress from 'cli-progress';
import type { Io } from '../io.ts';

/** How far a piece of work has got. */
export interface Progress {
  /** @param done of the whole, since it was first begun */
  at(done: number): void;
  /** Takes it off the screen. */
  end(): void;
}

const NONE: Progress = { at: () => {}, end: () => {} };

/** Not more often than this: drawing must not cost what it measures. */
const DRAW_ms = 100;

/**
 * Draws how far the work has got, how fast it goes and what is left, on a terminal; in a pipe nothing at all.
 *
 * @param what is counted: `designs`
 * @param total of it
 * @param done before this process began
 */
export function progressOf(io: Io, what: string, total: number, done = 0): Progress {
  if (io.progress === undefined) return NONE;
  const began_ms = performance.now();
  const grouped = (value: number): string => value.toLocaleString('en-US');
  const bar = new cliProgress.SingleBar({
    stream: io.progress,
    clearOnComplete: true,
    hideCursor: null,
    fps: 1000 / DRAW_ms,
    gracefulExit: false,
    format: (_, { value }) => {
      const spent_s = (performance.now() - began_ms) / 1000;
      const rate = (value - done) / Math.max(spent_s, 1e-3);
      const left = rate > 0 ? `, ${spanWords((total - value) / rate)} left` : '';
      const share = total > 0 ? Math.floor((100 * value) / total) : 100;
      return `${String(share).padStart(3)} %  ${grouped(value)} of ${grouped(total)} ${what}, ${grouped(
        rate < 10 ? Math.round(rate * 10) / 10 : Math.round(rate),
      )} a second${left}`;
    },
  });
  bar.start(total, done);
  return { at: (value) => bar.update(value), end: () => bar.stop() };
}

/** `40 s`, `12 min`, `3 h 20 min`. */
export function spanWords(span_s: number): string {
  if (span_s < 100) return `${Math.ceil(span_s)} s`;
  const minutes = Math.ceil(span_s / 60);
  return minutes < 100 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
