/**
 * Writes leanest-week.svg beside it: the chart of the leanest days out of the report of a plant that goes dark.
 * A file of its own needs what the report's page gives the chart: its style, its hatchings, a ground.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const PICTURE = join(import.meta.dirname, 'leanest-week.svg');
export const PICTURE_OF = 'data/demo/short-of-bank.yaml';

/** The picture out of a report.html. */
export function picture(html: string): string {
  const chart = only(html, /id="leanest"[\s\S]*?(<svg class="wide"[\s\S]*?<\/svg>)/);
  const patterns = only(html, /<svg class="patterns"[^>]*>(.*?)<\/svg>/);
  const [, width, height] = chart.match(/viewBox="0 0 (\d+) (\d+)"/)!;
  const classes = [...`${chart}${patterns}`.matchAll(/class="([^"]+)"/g)].flatMap(([, names]) =>
    names!.split(' '),
  );
  const used = new Set(classes.filter((name) => name !== 'wide'));
  const rules = [...only(html, /<style>([\s\S]*?)<\/style>/).matchAll(/^@media.*$|[^{}\n]+\{[^{}]*\}/gm)]
    .map(([rule]) => rule)
    .filter((rule) =>
      rule.startsWith('@media')
        ? rule.includes('prefers-color-scheme')
        : /^:root|^svg\{/.test(rule) ||
          [...rule.matchAll(/\.([a-z][\w-]*)(?=[^{}]*\{)/g)].some(([, name]) => used.has(name!)),
    );
  return chart
    .replace('<svg class="wide"', '<svg xmlns="http://www.w3.org/2000/svg"')
    .replace(
      /viewBox="[^"]*" width="[^"]*" height="[^"]*"/,
      `viewBox="-10 -6 ${+width! + 20} ${+height! + 12}"`,
    )
    .replace(
      '</desc>\n',
      () =>
        `</desc>\n<style>${rules.join('\n')}</style>\n${patterns}\n` +
        '<path d="M-10 -6h2000v2000h-2000z" style="fill:var(--paper)"/>\n',
    )
    .concat('\n');
}

function only(html: string, pattern: RegExp): string {
  const found = html.match(pattern)?.[1];
  if (found === undefined) throw new Error(`the report has nothing like ${pattern}`);
  return found;
}

if (process.argv[1] === import.meta.filename) {
  const root = join(import.meta.dirname, '../../..');
  const folder = mkdtempSync(join(tmpdir(), 'longnight-picture-'));
  const main = join(root, 'packages/cli/src/main.ts');
  const args = [
    '--import',
    'tsx',
    '--conditions=@longnight/source',
    main,
    'run',
    PICTURE_OF,
    '--out',
    folder,
  ];
  const { status, stderr } = spawnSync(process.execPath, args, { cwd: root, encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  writeFileSync(PICTURE, picture(readFileSync(join(folder, 'report.html'), 'utf8')));
  rmSync(folder, { recursive: true });
}
