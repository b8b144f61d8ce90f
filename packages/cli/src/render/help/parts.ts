import { PART_KINDS } from '@longnight/core/scenario';
import type { FoundPart } from '../../files/parts.ts';
import { counted } from '../document/figures.ts';
import type { Paint } from '../document/paint.ts';
import { plain, wrapped } from '../document/plain-text.ts';

const WIDTH = 80;
const HELD = '\u00a0';
const HEADINGS = {
  panel: 'Panels, for arrays',
  module: 'Modules, for bank',
  inverter: 'Inverters',
  charger: 'Chargers',
  tracker: 'Trackers, for arrays',
  generator: 'Generators',
} as const;

/** The parts by kind, each with its file and its values under the names that a scenario has for them. */
export function partsText(found: readonly FoundPart[], style: Paint): string {
  const blocks = PART_KINDS.flatMap((kind) => {
    const ofKind = found.filter(({ part }) => part.kind === kind);
    return ofKind.length === 0 ? [] : [`${style.heading(HEADINGS[kind])}\n${ofKind.map(entry).join('')}`];
  });
  return blocks.join('\n');
}

function entry({ file, part }: FoundPart): string {
  const { values, brings } = part;
  const price = typeof values.price === 'number' ? `, price ${values.price}` : '';
  const lines = [
    `  ${part.name}${price}`,
    ...(part.about === null ? [] : indented(plain(part.about))),
    ...indented(pairs(values).join('; ')),
    ...(brings.charger === undefined
      ? []
      : indented(`brings a charger: ${pairs(brings.charger).join('; ')}`)),
    ...(brings.tracker === undefined
      ? []
      : indented(`brings ${counted(brings.trackers, 'tracker')}: ${pairs(brings.tracker).join('; ')}`)),
    ...indented(`in ${file}:${part.source.valuePlace(part.path).line}`),
  ];
  return `${lines.map((line) => plain(line, { keepLines: true })).join('\n')}\n`;
}

const indented = (text: string): string[] => wrapped(text, WIDTH - 6).map((line) => `      ${line}`);

/** Keys as a scenario writes them, so that their units are with them; key and value stay on one line. */
function pairs(values: Readonly<Record<string, unknown>>, under = ''): string[] {
  return Object.entries(values).flatMap(([key, value]) => {
    const path = `${under}${key}`;
    if (path === 'price') return [];
    if (Array.isArray(value)) return [`${plain(path)}${HELD}${listText(value)}`];
    if (isMapping(value)) return pairs(value, `${path}.`);
    return [`${plain(path)}${HELD}${plain(String(value))}`];
  });
}

const isMapping = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Points of a curve are figures in the order of their keys. */
function listText(list: readonly unknown[]): string {
  const [first] = list;
  if (!isMapping(first)) return plain(list.join(', '));
  const points = list.map((point) => (isMapping(point) ? Object.values(point).join(HELD) : String(point)));
  return plain(`(${Object.keys(first).join(', ')}) `) + points.join(', ');
}
