import { escaped, paragraph, type Section } from './html.ts';
import { PAGE_STYLE } from './style.ts';

/** A whole page: one file that asks for nothing from anywhere and runs nothing. */
interface Page {
  readonly title: string;
  /** What was played, under the title. */
  readonly about: readonly string[];
  readonly sections: readonly Section[];
  readonly foot: string;
}

/** Nothing may be fetched: not even a style sheet or a picture, unless it is within the file. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

export function pageDocument({ title, about, sections, foot }: Page): string {
  const contents = sections.map(({ id, title: name }) => `<li><a href="#${id}">${escaped(name)}</a></li>`);
  return [
    '<!DOCTYPE html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${POLICY}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="color-scheme" content="light dark">',
    `<title>${escaped(title)}</title>`,
    `<style>${PAGE_STYLE}</style>`,
    '</head>',
    '<body>',
    '<header>',
    `<h1>${escaped(title)}</h1>`,
    ...about.map((text) => paragraph(text)),
    `<nav aria-label="Contents"><ol>\n${contents.join('\n')}\n</ol></nav>`,
    '</header>',
    '<main>',
    PATTERNS,
    ...sections.flatMap(sectionHtml),
    '</main>',
    `<footer>${paragraph(foot)}</footer>`,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

function sectionHtml({ id, title, sentence, tone = 'seen', body }: Section): string[] {
  return [
    `<section id="${id}" aria-labelledby="${id}-title">`,
    `<h2 id="${id}-title">${escaped(title)}</h2>`,
    ...(sentence === undefined ? [] : [paragraph(sentence, tone)]),
    ...body,
    '</section>',
  ];
}

/** Hatchings that the charts of a page share, so that no meaning rests on colour alone. */
const PATTERNS = [
  '<svg class="patterns" width="0" height="0" aria-hidden="true" focusable="false"><defs>',
  '<pattern id="p-unmet" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="bg-unmet" d="M0 0h5v5h-5z"/><path class="ln-unmet" d="M0 0h5M0 0v5"/></pattern>',
  '<pattern id="p-engine" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="bg-engine" d="M0 0h4v4h-4z"/><path class="ln-engine" d="M0 0v4"/></pattern>',
  '<pattern id="p-unused" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path class="ln-unused" d="M0 0v6"/></pattern>',
  '<pattern id="p-socket" width="5" height="5" patternUnits="userSpaceOnUse"><path class="bg-socket" d="M0 0h5v5h-5z"/><path class="ln-socket" d="M1 1h1.5v1.5h-1.5z"/></pattern>',
  '</defs></svg>',
].join('');
