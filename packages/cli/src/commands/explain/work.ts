import type { Io } from '../../io.ts';
import { jsonText } from '../../render/document/json.ts';
import { allTermsDocument, TERMS, termsDocument, termsNamed } from '../../render/help/explain.ts';
import { type Given, tell } from '../tell.ts';

/** `longnight explain`: what a word, a figure, a column or a key means; without any, all there are. */
export async function explain(words: readonly string[], given: Given, io: Io): Promise<void> {
  const terms = words.length === 0 ? TERMS : termsNamed(words.join(' '));
  const document = words.length === 0 ? allTermsDocument() : termsDocument(terms);
  await tell(io, given, [], { document, json: jsonText('explain', terms) });
}
