import { type Block, columnTitle, type Document, type Section, shownOn, type Table } from './document.ts';
import { bullets, escaped, table } from './markdown-text.ts';

/** A document as CommonMark with pipe tables. */
export function toMarkdown({ title, dangers = [], about, sections, foot }: Document): string {
  const parts = [
    `# ${escaped(title)}`,
    ...dangers.flatMap(sectionParts),
    ...about.map(escaped),
    ...shownOn(sections, 'markdown').flatMap(sectionParts),
    escaped(foot),
  ];
  return `${parts.join('\n\n')}\n`;
}

const sectionParts = ({ title, sentence, tone, blocks }: Section): string[] => [
  ...(title === '' ? [] : [`## ${escaped(title)}`]),
  ...(sentence === undefined ? [] : [tone === undefined ? escaped(sentence) : `**${escaped(sentence)}**`]),
  ...shownOn(blocks, 'markdown').flatMap((block) => [
    ...(block.kind === 'table' && block.caption !== title ? [`${escaped(block.caption)}:`] : []),
    ...blockParts(block),
  ]),
];

function blockParts(block: Block): string[] {
  switch (block.kind) {
    case 'text':
      return [escaped(block.text)];
    case 'heading':
      return [`### ${escaped(block.text)}`];
    case 'list':
      return [bullets(block.items.map(escaped))];
    case 'terms':
      return [bullets(block.terms.map(([term, said]) => `${escaped(term)}: ${escaped(said)}`))];
    case 'answers':
      return block.answers.map(([asked, told]) => `**${escaped(asked)}** ${escaped(told)}`);
    case 'table':
      return [tableText(block)];
    case 'command':
      return [`    ${block.text}`];
    case 'strip':
    case 'drawing':
      return [];
  }
}

function tableText({ columns, rows, sums }: Table): string {
  const cell = (text: string, k: number) =>
    columns[k]!.holds === 'code' ? (text === '' ? '' : `\`${text}\``) : escaped(text);
  return table(
    columns.map((column) => ({
      title: escaped(columnTitle(column)),
      ...(column.holds === 'figures' ? { figures: true as const } : {}),
    })),
    (sums === undefined ? rows : [...rows, sums]).map((row) => row.map(cell)),
  );
}
