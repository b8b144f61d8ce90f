import { refused } from '@longnight/core/scenario';

/**
 * Says what a disk refused. That is the user's to mend; whatever else goes wrong stays as it is.
 *
 * @param file what was written, as messages show it
 * @param state what there is of it
 */
export function diskError(error: unknown, file: string, state: string, fix: string): unknown {
  const { code, syscall } = error as NodeJS.ErrnoException;
  if (code === undefined || syscall === undefined) return error;
  const what = code === 'ENOSPC' || code === 'EDQUOT' ? 'the disk is full' : "it can't be written";
  return refused('disk', { file })`${what} (${code}); ${state} | ${fix} | a folder with room that may be
    written to`;
}
