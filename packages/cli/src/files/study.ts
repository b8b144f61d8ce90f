import { dirname, resolve } from 'node:path';
import { type Axis, type FileTexts, prepareYear } from '@longnight/core';
import { openStudy, type Study } from '@longnight/core/study';
import { readText, SERIES_LIMIT_bytes } from './read.ts';
import { type ReadFiles, readFiles } from './scenario.ts';

/** A scenario, the keys of it that vary, and every file that any design needs. */
export interface StudyFiles extends ReadFiles {
  readonly study: Study;
}

/** True for a key that names a series file. */
const namesFile = (axis: Axis): boolean => /^(weather|loads\[(\d+|\*)\])\.file$/.test(axis.path);

/**
 * Reads a study and finds out whether it can be played: the scenario as it stands, each value of each axis on its own,
 * and each series file that an axis names.
 *
 * @param file as the user wrote it; the files it names are looked for beside it
 * @throws InputError with every issue of the first of these that has any
 */
export function readStudy(
  cwd: string,
  file: string,
  axes: readonly Axis[],
  set?: readonly string[],
): StudyFiles {
  const files = readFiles(cwd, file, set);
  const study = openStudy(files.source, axes);
  const folder = dirname(resolve(cwd, file));
  const texts = new Map(files.texts);
  for (const name of axes.filter(namesFile).flatMap((axis) => axis.values.map(String)))
    if (!texts.has(name)) texts.set(name, readText(folder, name, SERIES_LIMIT_bytes));
  tryYears(files, texts, axes.filter(namesFile));
  const added = [...texts.keys()].filter((name) => !files.texts.has(name));
  return {
    ...files,
    study,
    texts,
    paths: [...files.paths, ...added.map((name) => resolve(folder, name))],
  };
}

/** Prepares a year of every series once, so that what is wrong with a file is said with its rows, before any work. */
function tryYears(files: ReadFiles, texts: FileTexts, axes: readonly Axis[]): void {
  prepareYear(files.read, files.source.file, texts);
  for (const axis of axes)
    for (const value of axis.values) {
      const { scenario } = openStudy(files.source, [{ path: axis.path, values: [value] }]).design(0);
      if (scenario !== null) prepareYear({ ...files.read, scenario }, files.source.file, texts);
    }
}
