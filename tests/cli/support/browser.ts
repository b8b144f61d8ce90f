import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliDecompressSync } from 'node:zlib';
import { type Browser, chromium } from 'playwright-core';
import { ROOT } from './process.ts';

/** Where systems put Chromium. */
const PLACES = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/**
 * The browser that the lock file pins, with the libraries and the font that it needs, so that a page is laid out alike
 * on every machine. It is packed by the registry's package and unpacked once a clone, under a name that a half-written
 * one never has. The package has it for Linux on x64 alone.
 */
function registrysChromium(): string | undefined {
  if (process.platform !== 'linux' || process.arch !== 'x64') return;
  const home = join(ROOT, 'node_modules/@sparticuz/chromium');
  const { version } = JSON.parse(readFileSync(join(home, 'package.json'), 'utf8'));
  const cache = join(ROOT, 'node_modules/.cache');
  const there = join(cache, `chromium-${version}`);
  if (!existsSync(there)) {
    mkdirSync(cache, { recursive: true });
    const making = mkdtempSync(`${there}.`);
    const bytes = (name: string): Buffer => brotliDecompressSync(readFileSync(join(home, 'bin', name)));
    writeFileSync(join(making, 'chromium'), bytes('chromium.br'), { mode: 0o755 });
    for (const name of ['al2023.tar.br', 'fonts.tar.br']) {
      const { status, stderr } = spawnSync('tar', ['-x', '-C', making], { input: bytes(name) });
      if (status !== 0) throw new Error(`tar, ${name}: ${stderr}`);
    }
    const fonts = `<dir>${join(there, 'fonts')}</dir><cachedir>${join(there, 'fonts-cache')}</cachedir>`;
    writeFileSync(join(making, 'fonts.conf'), `<?xml version="1.0"?><fontconfig>${fonts}</fontconfig>`);
    try {
      renameSync(making, there);
    } catch (error) {
      // Another worker was quicker.
      if (!existsSync(there)) throw error;
      rmSync(making, { recursive: true });
    }
  }
  return join(there, 'chromium');
}

/** Named, or else the pinned one, or else the system's. */
const CHROMIUM =
  process.env.LONGNIGHT_CHROMIUM || registrysChromium() || PLACES.find((path) => existsSync(path));

/** Tests in a browser are skipped where there is none: but never by a CI on Linux, where there has to be one. */
export const noBrowser =
  CHROMIUM === undefined && !(process.env.CI === 'true' && process.platform === 'linux');

if (noBrowser)
  console.log(
    `no Chromium in LONGNIGHT_CHROMIUM nor at ${PLACES.join(', ')}: tests of pages in one are skipped`,
  );

export async function launchBrowser(): Promise<Browser> {
  if (CHROMIUM === undefined)
    throw new Error(`no Chromium at ${PLACES.join(', ')}; name it in LONGNIGHT_CHROMIUM`);
  const beside = join(CHROMIUM, '..');
  const own = existsSync(join(beside, 'fonts.conf'))
    ? { LD_LIBRARY_PATH: join(beside, 'lib'), FONTCONFIG_FILE: join(beside, 'fonts.conf') }
    : {};
  return await chromium.launch({
    executablePath: CHROMIUM,
    args: ['--no-sandbox'],
    env: { ...process.env, ...own } as Record<string, string>,
  });
}
