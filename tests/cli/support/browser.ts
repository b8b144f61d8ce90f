import { existsSync } from 'node:fs';

/** Where systems put Chromium; `LONGNIGHT_CHROMIUM` names another. */
const PLACES = [
  process.env.LONGNIGHT_CHROMIUM ?? '',
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
];

/** The browser that pages are looked at with; undefined where there is none, and then those tests are skipped. */
export const CHROMIUM: string | undefined = PLACES.find((path) => path !== '' && existsSync(path));

if (CHROMIUM === undefined)
  console.log(`no Chromium at ${PLACES.slice(1).join(', ')}: tests of pages in a browser are skipped`);
