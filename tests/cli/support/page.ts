/** Reads a page the way a reader does: its sentences and its tables, without a browser. */

const ENTITIES: Readonly<Record<string, string>> = {
  '&#38;': '&',
  '&#60;': '<',
  '&#62;': '>',
  '&#34;': '"',
  '&#39;': "'",
};

/** The text of a piece of HTML, spaces as a reader sees them. */
export const textOf = (html: string): string =>
  html
    .replace(/<[^>]*>/g, '')
    .replace(/&#\d+;/g, (entity) => ENTITIES[entity] ?? entity)
    .replace(/\s+/g, ' ')
    .trim();

/** A section of a page by its id. */
export function sectionOf(html: string, id: string): string {
  const from = html.indexOf(`<section id="${id}"`);
  if (from < 0) throw new Error(`the page has no section ${id}`);
  return html.slice(from, html.indexOf('</section>', from));
}

/** The sentence that a section begins with. */
export const sentenceOf = (html: string, id: string): string =>
  textOf(sectionOf(html, id).match(/<p class="(?:seen|verdict|verdict fails)">([\s\S]*?)<\/p>/)![1]!);

export const sectionIds = (html: string): string[] =>
  [...html.matchAll(/<section id="([^"]+)"/g)].map(([, id]) => id!);

export interface ReadTable {
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
  /** Empty where there is none. */
  readonly sums: readonly string[];
}

/** The table of a page whose caption begins so. */
export function tableOf(html: string, caption: string): ReadTable {
  for (const [, table] of html.matchAll(/<table>([\s\S]*?)<\/table>/g)) {
    if (!textOf(table!.match(/<caption>([\s\S]*?)<\/caption>/)![1]!).startsWith(caption)) continue;
    const cells = (part: string): string[] =>
      [...part.matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map(([, cell]) => textOf(cell!));
    const rowsIn = (tag: string): string[][] =>
      [
        ...(table!.match(new RegExp(`<${tag}>([\\s\\S]*?)</${tag}>`))?.[1] ?? '').matchAll(
          /<tr>([\s\S]*?)<\/tr>/g,
        ),
      ].map(([, row]) => cells(row!));
    return { heads: rowsIn('thead')[0]!, rows: rowsIn('tbody'), sums: rowsIn('tfoot')[0] ?? [] };
  }
  throw new Error(`the page has no table "${caption}"`);
}

/** A column of a table as numbers. */
export function columnOf({ heads, rows }: ReadTable, head: string): number[] {
  const k = heads.indexOf(head);
  if (k < 0) throw new Error(`no column "${head}" among ${heads.join(', ')}`);
  return rows.map((row) => Number(row[k]!.replaceAll(',', '')));
}

/** Terms and figures of a page's list of them. */
export const termsOf = (html: string): Record<string, string> =>
  Object.fromEntries(
    [...html.matchAll(/<dt>([\s\S]*?)<\/dt><dd>([\s\S]*?)<\/dd>/g)].map(([, term, said]) => [
      textOf(term!),
      textOf(said!),
    ]),
  );

/** What no page may have: anything that is fetched, runs or sends. */
export function reachesOut(html: string): string[] {
  const found = [
    ...html.matchAll(/<(?:script|link|iframe|object|embed|img|form|base|video|audio)\b[^>]*>/gi),
    ...html.matchAll(/\b(?:https?:)?\/\/[a-z0-9]/gi),
    ...html.matchAll(/\son[a-z]+\s*=/gi),
    ...html.matchAll(/@import|url\((?!#)/gi),
    ...html.matchAll(/javascript:/gi),
  ];
  return found.map(([text]) => text);
}
