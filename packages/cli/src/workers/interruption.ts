/** Whether the work has been asked to stop. */
interface Interruption {
  came(): boolean;
  /** Stops listening. */
  end(): void;
}

/** Listens for Ctrl-C and for a scheduler's polite end, once: a second one ends the process as always. */
export function watchInterruption(): Interruption {
  let came = false;
  const note = (): void => {
    came = true;
    end();
  };
  const end = (): void => {
    process.off('SIGINT', note);
    process.off('SIGTERM', note);
  };
  process.on('SIGINT', note);
  process.on('SIGTERM', note);
  return { came: () => came, end };
}
