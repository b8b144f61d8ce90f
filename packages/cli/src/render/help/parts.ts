import { PART_KINDS } from '@longnight/core/scenario';
import type { FoundPart } from '../../files/parts.ts';
import { type Block, type Document, textsOf } from '../document/document.ts';
import { counted } from '../document/figures.ts';

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
export const partsDocument = (found: readonly FoundPart[]): Document => ({
  title: '',
  about: [],
  sections: PART_KINDS.flatMap((kind) => {
    const blocks = found.filter(({ part }) => part.kind === kind).flatMap(entry);
    return blocks.length === 0 ? [] : [{ id: kind, title: HEADINGS[kind], blocks }];
  }),
  foot: '',
});

function entry({ file, part }: FoundPart): Block[] {
  const { values, brings } = part;
  const price = typeof values.price === 'number' ? `, price ${values.price}` : '';
  return [
    { kind: 'heading', text: `${part.name}${price}` },
    ...textsOf([
      part.about,
      pairs(values).join('; '),
      brought('a charger', brings.charger),
      brought(counted(brings.trackers, 'tracker'), brings.tracker),
      `in ${file}:${part.source.valuePlace(part.path).line}`,
    ]),
  ];
}

const brought = (what: string, values: Readonly<Record<string, unknown>> | undefined): string | null =>
  values === undefined ? null : `brings ${what}: ${pairs(values).join('; ')}`;

/** Keys as a scenario writes them, so that their units are with them; key and value stay on one line. */
function pairs(values: Readonly<Record<string, unknown>>, under = ''): string[] {
  return Object.entries(values).flatMap(([key, value]) => {
    const path = `${under}${key}`;
    if (path === 'price') return [];
    if (Array.isArray(value)) return [`${path}${HELD}${listText(value)}`];
    return isMapping(value) ? pairs(value, `${path}.`) : [`${path}${HELD}${String(value)}`];
  });
}

const isMapping = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Points of a curve are figures in the order of their keys. */
function listText(list: readonly unknown[]): string {
  const [first] = list;
  if (!isMapping(first)) return list.join(', ');
  const points = list.map((point) => (isMapping(point) ? Object.values(point).join(HELD) : String(point)));
  return `(${Object.keys(first).join(', ')}) ${points.join(', ')}`;
}
