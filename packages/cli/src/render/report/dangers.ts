import type { Danger } from '@longnight/core';
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
