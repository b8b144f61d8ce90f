import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/** LibreOffice, if this machine has one: the tests that ask it are skipped without, and say so. */
export const OFFICE = ['soffice', 'libreoffice'].find(
  (name) => spawnSync(name, ['--version'], { encoding: 'utf8' }).status === 0,
);

export const OFFICE_MISSING = 'no LibreOffice on this machine';

/**
 * Opens a file in LibreOffice and saves it as something else.
 *
 * @param format such as `xlsx`
 * @param reading its import filter with options, where the name does not say enough
 * @returns path of what it saved
 */
export function converted(folder: string, file: string, format: string, reading?: string): string {
  const out = join(folder, 'converted');
  mkdirSync(out, { recursive: true });
  const ended = spawnSync(
    OFFICE!,
    [
      `-env:UserInstallation=${pathToFileURL(join(folder, 'office-profile'))}`,
      '--headless',
      ...(reading === undefined ? [] : [`--infilter=${reading}`]),
      ...['--convert-to', format, '--outdir', out, file],
    ],
    { encoding: 'utf8', timeout: 110_000 },
  );
  if (ended.status !== 0) throw new Error(`LibreOffice: ${ended.stderr}${ended.stdout}`);
  const name = file.slice(file.lastIndexOf('/') + 1).replace(/\.[^.]+$/, '');
  return join(out, `${name}.${format}`);
}
