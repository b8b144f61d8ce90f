import { InputError, issueText } from '@longnight/core';
import { EXIT } from './exit-codes.ts';
import type { Io } from './io.ts';
import { plain } from './render/document/plain-text.ts';

/** More than this many issues at once help nobody; the first ones usually explain the rest. */
const MOST_ISSUES = 20;

/**
 * Turns whatever was thrown into lines on stderr and an exit code. The only place that does.
 *
 * @returns 2 for what the user can mend, 1 for a fault of ours
 */
export function explainFailure(error: unknown, io: Io): number {
  if (error instanceof InputError) {
    const shown = error.issues
      .slice(0, MOST_ISSUES)
      .map((issue) => plain(issueText(issue), { keepLines: true }));
    const more = error.issues.length - shown.length + error.more;
    if (more > 0) shown.push(`… and ${more} more`);
    io.err(`${shown.join('\n')}\n`);
    return EXIT.badInput;
  }
  const what = error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  io.err(
    `longnight: ${plain(what)}\n` +
      '    This is a fault of Longnight, not of your files.\n' +
      '    Please report it with the scenario and the command: README.md, "When it is our fault".\n',
  );
  if (io.env.LONGNIGHT_DEBUG === '1') io.err(`${error instanceof Error ? error.stack : what}\n`);
  else io.err('    LONGNIGHT_DEBUG=1 shows where it happened.\n');
  return EXIT.ourFault;
}
