import type { Io } from '../../io.ts';
import { jsonText } from '../../render/document/json.ts';
import { paint } from '../../render/document/paint.ts';
import { allTerms, explained, TERMS, termsNamed } from '../../render/help/explain.ts';

/**
 * `longnight explain`: what a figure of report.json, a column of hours.csv or a key of a scenario means.
 *
 * @param term null lists all there are
 */
export function explain(term: string | null, options: { readonly json: boolean }, io: Io): void {
  const terms = term === null ? TERMS : termsNamed(term);
  if (options.json) io.out(jsonText('explain', terms));
  else io.out(term === null ? allTerms(paint(io.colour)) : explained(terms, paint(io.colour)));
}
