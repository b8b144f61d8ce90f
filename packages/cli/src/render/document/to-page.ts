import { type Block, type Document, type Section, shownOn } from './document.ts';
import { details, escaped, list, paragraph, table, terms } from './html.ts';
import { PAGE_STYLE } from './style.ts';

/** Nothing may be fetched: not even a style sheet or a picture, unless it is within the file. */
const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";

/** A document as one HTML file that asks for nothing from anywhere and runs nothing. */
export function toPage({ title, dangers = [], about, sections, foot }: Document): string {
  const shown = [...dangers, ...shownOn(sections, 'page')];
  const contents = shown.map(({ id, title: name }) => `<li><a href="#${id}">${escaped(name)}</a></li>`);
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
    ...shown.flatMap(sectionHtml),
    '</main>',
    `<footer>${paragraph(foot)}</footer>`,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** Where no sentence answers a section, the first text of it stands in its place. */
function sectionHtml({ id, title, sentence, tone, blocks }: Section): string[] {
  const [first, ...others] = shownOn(blocks, 'page');
  const isSaid = sentence === undefined && first?.kind === 'text';
  const said = isSaid ? first.text : sentence;
  return [
    `<section id="${id}" aria-labelledby="${id}-title">`,
    `<h2 id="${id}-title">${escaped(title)}</h2>`,
    ...(said === undefined ? [] : [paragraph(said, tone === undefined ? 'seen' : VERDICT[tone])]),
    ...(isSaid || first === undefined ? others : [first, ...others]).flatMap((block) =>
      blockHtml(block, title),
    ),
    '</section>',
  ];
}

const VERDICT = { good: 'verdict', bad: 'verdict fails' };

function blockHtml(block: Block, title: string): readonly string[] {
  switch (block.kind) {
    case 'text':
      return [paragraph(block.text)];
    case 'heading':
      return [`<h3>${escaped(block.text)}</h3>`];
    case 'list':
      return [list(block.items)];
    case 'terms':
      return [terms(block.terms)];
    case 'answers':
      return block.answers.map(([asked, told]) => `<h3>${escaped(asked)}</h3>\n${paragraph(told)}`);
    case 'table':
      return [
        block.folded === undefined
          ? table(block, title)
          : details(block.caption, table(block), block.folded === 'till_printed' ? 'printed' : ''),
      ];
    case 'command':
      return [`<pre>${escaped(block.text)}</pre>`];
    case 'drawing':
      return block.draw();
    case 'strip':
      return [];
  }
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
