/**
 * The pieces of a template such as `meaning | reason`. It may run over lines; what is inserted is kept as it is, bars
 * and blanks too.
 *
 * @returns those behind the last bar are undefined
 */
export function atBar(text: TemplateStringsArray, inserted: readonly unknown[]): [string, string?, string?] {
  const said: [string, string?, string?] = [''];
  for (const [i, piece] of text.entries()) {
    const [first = '', ...more] = piece.replace(/\s+/g, ' ').split(/ \|(?= )/);
    said[said.length - 1] += first;
    said.push(...more.map((next) => next.slice(1)));
    if (i < inserted.length) said[said.length - 1] += String(inserted[i]);
  }
  said[0] = said[0].trim();
  return said;
}
