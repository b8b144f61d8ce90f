import type { Danger } from '@longnight/core';
import type { Section } from '../document/document.ts';
import { plain } from '../document/plain-text.ts';

/** Over the dangers of a plant. */
export const dangersTitle = (dangers: readonly Danger[]): string =>
  dangers.length === 1 ? 'Danger' : `${dangers.length} dangers`;

/** What was found, what can come of it, what to do. */
export const dangerSentence = ({ found, consequence, remedy }: Danger): string =>
  `${found} ${consequence} ${remedy}`;

/** What standard error says when a command ends with them, one line each. */
export const dangersText = (dangers: readonly Danger[]): string =>
  dangers.map(({ path, found }) => `danger: ${path}: ${plain(found)}`).join('\n');

/** The one line that every screen carries which recommends parts. */
export const PARTS_CAUTION =
  'A model of a year: it chooses no cable, fuse or breaker and finds no plant free of danger. Local code and a licensed electrician decide what is wired.';

/** What can destroy or burn, above all else; none where none was found. */
export const dangersSection = (dangers: readonly Danger[]): Section[] => {
  const [first, ...others] = dangers.map(dangerSentence);
  if (first === undefined) return [];
  const blocks = others.map((text) => ({ kind: 'text' as const, text }));
  return [{ id: 'dangers', title: dangersTitle(dangers), sentence: first, tone: 'bad', blocks }];
};

/** The cautions of a plant, whole where there is room, in one line on a terminal. */
export const cautionSection = (cautions: readonly string[]): Section[] => [
  { id: 'caution', title: '', on: ['screen'], blocks: [{ kind: 'text', text: PARTS_CAUTION }] },
  {
    id: 'cautions',
    title: 'Cautions',
    sentence: 'The figures above are a model; whoever wires a plant needs these as well.',
    on: ['markdown', 'page'],
    blocks: [{ kind: 'list', items: cautions }],
  },
];
