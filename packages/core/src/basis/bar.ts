/**
 * The two halves of a template such as `meaning | reason`. It may run over lines; what is inserted is kept as it is, bars
 * and blanks too.
 *
 * @returns the second half is undefined if there is no bar
 */
export function atBar(
  text: TemplateStringsArray,
  inserted: readonly unknown[],
): [string, string | undefined] {
  let [before, behind]: [string, string | undefined] = ['', undefined];
  for (const [i, piece] of text.entries()) {
    const [first = '', second] = piece.replace(/\s+/g, ' ').split(' | ');
    const end = i < inserted.length ? String(inserted[i]) : '';
    if (second !== undefined) {
      before += first;
      behind = second + end;
    } else if (behind === undefined) before += first + end;
    else behind += first + end;
  }
  return [before.trim(), behind];
}
