import { type Block, columnTitle, type Document, type Section, shownOn, type Table } from './document.ts';
import { details, escaped, list, type Section as PageSection, paragraph, table, terms } from './html.ts';
import { pageDocument } from './page.ts';

/** A document as one HTML file that asks for nothing from anywhere and runs nothing. */
export const toPage = ({ title, dangers = [], about, sections, foot }: Document): string =>
  pageDocument({ title, about, sections: [...dangers, ...shownOn(sections, 'page')].map(sectionHtml), foot });

const VERDICT = { good: 'verdict', bad: 'verdict fails' };

/** Where no sentence answers a section, the first text of it stands in its place. */
export function sectionHtml({ id, title, sentence, tone, blocks }: Section): PageSection {
  const [first, ...others] = shownOn(blocks, 'page');
  const isSaid = sentence === undefined && first?.kind === 'text';
  const said = isSaid ? first.text : sentence;
  return {
    id,
    title,
    ...(said === undefined ? {} : { sentence: said }),
    ...(tone === undefined ? {} : { tone: VERDICT[tone] }),
    body: (isSaid || first === undefined ? others : [first, ...others]).flatMap(blockHtml),
  };
}

function blockHtml(block: Block): readonly string[] {
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
      return [tableHtml(block)];
    case 'command':
      return [`<pre>${escaped(block.text)}</pre>`];
    case 'drawing':
      return block.draw();
    case 'strip':
      return [];
  }
}

function tableHtml({ caption, columns, rows, sums, folded }: Table): string {
  const html = table({
    caption,
    columns: columns.map((column) => ({
      title: columnTitle(column),
      ...(column.holds === undefined ? {} : { [column.holds]: true as const }),
    })),
    rows,
    ...(sums === undefined ? {} : { sums }),
  });
  return folded === undefined ? html : details(caption, html, folded === 'till_printed' ? 'printed' : '');
}
