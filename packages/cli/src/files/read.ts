import { closeSync, constants, fstatSync, openSync, readdirSync, readSync } from 'node:fs';
import { basename, dirname, resolve } from 'node:path';
import { InputError, type Place } from '@longnight/core';
import { refused } from '@longnight/core/scenario';

/** A scenario is some kilobytes of text; anything near this is another file. */
export const SCENARIO_LIMIT_bytes = 2 * 2 ** 20;
/**
 * A year of 1-minute rows is some 20 MB, ten years of 5-minute rows 40 MB. Reading and playing a table of this length
 * takes up to 430 MB of memory; one that is no table is refused by its first long line, at 260 MB.
 */
export const SERIES_LIMIT_bytes = 64 * 2 ** 20;

/**
 * Reads a text file that the user named.
 *
 * @param cwd folder that a relative name starts from
 * @param name as the user wrote it: this is what messages show
 * @param limit_bytes longest file that is accepted
 * @throws InputError if it isn't there, isn't a readable file, is empty, too long or not UTF-8 text
 */
export function readText(cwd: string, name: string, limit_bytes: number): string {
  const path = resolve(cwd, name);
  const bytes = readBytes(path, name, limit_bytes);
  if (bytes.length === 0) throw refuse(name, 'empty-file')`the file is empty | | a file with text in it`;
  if (bytes[0] === 0xff && bytes[1] === 0xfe)
    throw refuse(name, 'not-utf-8')`the text is UTF-16 | save it again with the encoding UTF-8 | UTF-8 text`;
  const zero = bytes.indexOf(0);
  if (zero >= 0) throw refuse(name, 'binary-file')`not a text file: byte ${zero + 1} is zero | | UTF-8 text`;
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw refuse({ file: name, line: firstBadLine(bytes) }, 'not-utf-8')`the text is not UTF-8 | save it
      again with the encoding UTF-8 | UTF-8 text`;
  }
}

function readBytes(path: string, name: string, limit_bytes: number): Buffer {
  const given = GIVEN.exec(path);
  let handle: number;
  try {
    // A pipe that nobody writes to must not be waited for.
    handle =
      given === null
        ? openSync(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0))
        : Number(given[1] ?? 0);
  } catch (error) {
    throw unreadable(error, path, name);
  }
  try {
    const stat = fstatSync(handle);
    if (stat.isDirectory())
      throw refuse(name, 'is-directory')`this is a folder | name a file inside it | a file`;
    if (given === null && !stat.isFile())
      throw refuse(name, 'no-file')`this is a pipe or a device | save what it gives as a file, or give it
        as /dev/stdin | a file`;
    if (stat.size > limit_bytes) throw tooLong(name, `${megabytes(stat.size)} MB`, limit_bytes);
    // Pipes and devices have no size: read up to the limit and no further.
    const parts: Buffer[] = [];
    let length = 0;
    for (;;) {
      const part = Buffer.allocUnsafe(Math.max(stat.size + 1 - length, 65_536));
      const read = readSync(handle, part);
      if (read === 0) return Buffer.concat(parts);
      length += read;
      if (length > limit_bytes) throw tooLong(name, `over ${megabytes(limit_bytes)} MB`, limit_bytes);
      parts.push(part.subarray(0, read));
    }
  } catch (error) {
    throw error instanceof InputError ? error : unreadable(error, path, name);
  } finally {
    if (given === null) closeSync(handle);
  }
}

/** What the process was given open: standard input, or what a shell puts in for <(…). Opened again it might be waited for. */
const GIVEN = /^\/dev\/(?:stdin|fd\/(\d+))$/;

const megabytes = (bytes: number): string => (bytes / 2 ** 20).toFixed(1);

function tooLong(name: string, size: string, limit_bytes: number): InputError {
  const most = `at most ${limit_bytes / 2 ** 20} MB`;
  return refuse(name, 'file-too-long')`the file is too long (${size}) |
    ${limit_bytes === SERIES_LIMIT_bytes ? 'average its rows to 5 minutes or more, leave columns out, or cut it into years' : 'check that this is the file you mean'}
    | ${most}`;
}

function unreadable(error: unknown, path: string, name: string): InputError {
  const code = (error as NodeJS.ErrnoException).code;
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    const near = neighbour(path);
    return refuse(name, 'no-such-file')`no such file |
      ${near === null ? 'check the name and the folder' : `did you mean ${near}?`} | a file that exists`;
  }
  if (code === 'EACCES' || code === 'EPERM')
    return refuse(name, 'unreadable-file')`the file may not be read | check its permissions | a readable
      file`;
  return refuse(name, 'unreadable-file')`the file can't be read (${code ?? String(error)}) | | a readable
    file`;
}

/** The file in the same folder whose name, without its ending, begins like the missing one or the other way round. */
function neighbour(path: string): string | null {
  const stem = (name: string): string => name.toLowerCase().replace(/\.[^.]*$/, '');
  const wanted = stem(basename(path));
  let names: string[];
  try {
    names = readdirSync(dirname(path));
  } catch {
    return null;
  }
  const lengthApart = (name: string): number => Math.abs(stem(name).length - wanted.length);
  const near = names
    .filter((name) => /\.(ya?ml|json|csv|txt)$/i.test(name))
    .filter((name) => stem(name).startsWith(wanted) || wanted.startsWith(stem(name)))
    .sort((a, b) => lengthApart(a) - lengthApart(b) || (a < b ? -1 : 1));
  return near[0] ?? null;
}

/** Line of the first byte sequence that is not UTF-8: a line break is one byte in UTF-8, so lines can be tried alone. */
function firstBadLine(bytes: Buffer): number {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let line = 1;
  for (let from = 0; from < bytes.length; line++) {
    const end = bytes.indexOf(10, from);
    const to = end < 0 ? bytes.length : end + 1;
    try {
      decoder.decode(bytes.subarray(from, to));
    } catch {
      return line;
    }
    from = to;
  }
  return line;
}

const refuse = (place: string | Place, code: string) =>
  refused(code, typeof place === 'string' ? { file: place } : place);
