/**
 * Every Markdown file that is written, as a reader of CommonMark takes it apart: CommonMark 0.31 and the tables of
 * GitHub Flavored Markdown 0.29, section 4.10, both as mdast-util-from-markdown reads them.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { gfmTableFromMarkdown } from 'mdast-util-gfm-table';
import { gfmTable } from 'micromark-extension-gfm-table';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DEMO, longnight, ROOT, removeFolder, temporaryFolder } from './support/process.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

type Tree = ReturnType<typeof fromMarkdown>;
type Block = Tree['children'][number];
interface Node {
  readonly type: string;
  readonly value?: string;
  readonly url?: string;
  readonly children?: readonly Node[];
}

const treeOf = (text: string): Tree =>
  fromMarkdown(text, { extensions: [gfmTable()], mdastExtensions: [gfmTableFromMarkdown()] });

const all = (node: Node): Node[] => [node, ...(node.children ?? []).flatMap(all)];

/** What is read of a node, without its marks. */
const textOf = (node: Node): string => node.value ?? (node.children ?? []).map(textOf).join('');

/** What is wrong with a file, as lines. */
function faultsOf(text: string): string[] {
  const tree = treeOf(text);
  const nodes = all(tree);
  const faults: string[] = [];
  let depth = 0;
  for (const block of tree.children) {
    if (block.type === 'heading') {
      if (depth === 0 ? block.depth !== 1 : block.depth > depth + 1 || block.depth === 1)
        faults.push(`heading ${block.depth} after ${depth}: ${textOf(block)}`);
      depth = block.depth;
      if (textOf(block).trim() === '') faults.push('an empty heading');
    } else if (depth === 0) faults.push('something stands before the first heading');
    faults.push(...tableFaults(block));
  }
  for (const node of nodes) {
    if (['html', 'image', 'imageReference', 'linkReference', 'definition'].includes(node.type))
      faults.push(`${node.type}: ${(node.value ?? textOf(node)).slice(0, 80)}`);
    if (node.type === 'code' && !/^longnight [^\n]+ --out DIR[^\n]*$/.test(node.value ?? ''))
      faults.push(`a block that is no command: ${node.value}`);
    if (node.type === 'link') faults.push(`a link that leads nowhere: ${node.url}`);
    // A name that has such marks of its own is read with them.
    if (node.type === 'paragraph' && /^\||\|$|\\[|<>*_]|&#?\w+;/m.test(textOf(node).replaceAll(NAME, '')))
      faults.push(`marks that are read as text: ${textOf(node).slice(0, 80)}`);
    if (node.type === 'break') faults.push('a broken line');
  }
  return faults;
}

function tableFaults(block: Block): string[] {
  if (block.type !== 'table') return [];
  const [head, ...rows] = block.children.map((row) => row.children.length);
  const name = textOf(block.children[0]!.children[0]!);
  return [
    ...(rows.length === 0 ? [`table ${name} has no rows`] : []),
    ...rows.filter((count) => count !== head).map((count) => `table ${name}: ${count} cells under ${head}`),
    ...block.children[0]!.children.filter((cell) => textOf(cell).trim() === '').map(
      () => `table ${name}: a column has no name`,
    ),
  ];
}

const demo = (name: string): string => join(DEMO, `${name}.yaml`);
const plant = (name: string): string => join(ROOT, 'data/plants', `${name}.yaml`);
/** A name with every mark that CommonMark and HTML know. */
const NAME = '<b>*A* | `b` [c](d) &amp; ![e](f) # _g_ ~~h~~ \\\\ </b>';

/** Makes a file and reads it. */
function made(name: string, ...args: string[]): string {
  const out = join(folder, args.join('-').replace(/\W/g, ''));
  const ended = longnight([...args, '--out', out]);
  expect([0, 3]).toContain(ended.status);
  return readFileSync(join(out, name), 'utf8');
}

describe('the checker itself finds', () => {
  test.each([
    ['# A\n\n<b>b</b>\n', /html/],
    ['# A\n\n### B\n', /heading 3 after 1/],
    ['# A\n\n| a | b |\n| - | - |\n| 1 |\n', /1 cells under 2/],
    ['# A\n\n| a | b |\n| - |\n| 1 | 2 |\n', /read as text/],
    ['# A\n\n[a](b.md)\n', /leads nowhere/],
    ['# A\n\n    text\n', /no command/],
    ['text\n', /before the first heading/],
  ])('%j', (text, fault) => {
    expect(faultsOf(text).join('\n')).toMatch(fault);
  });
});

describe('files', () => {
  test.each<[string, string, ...string[]]>([
    ['report.md', 'run', demo('short-of-bank')],
    ['report.md', 'run', demo('parts-with-generator'), '--years', '3', '--seeds', '3'],
    ['report.md', 'run', plant('heat-pump-and-car')],
    ['report.md', 'run', plant('stacked')],
    ['report.md', 'run', plant('mobile')],
    ['week.md', 'week', demo('holds-with-generator'), '--days', '5'],
    ['week.md', 'week', demo('short-of-bank')],
    ['compare.md', 'compare', demo('parts-with-generator'), demo('parts-sun-alone')],
    ['improve.md', 'improve', demo('short-of-bank')],
    ['sway.md', 'sway', demo('short-of-bank')],
    [
      'size.md',
      'size',
      demo('parts-with-generator'),
      '--vary',
      'arrays[0].panels=20:24:2',
      '--require',
      'generator.run_hours<=90',
    ],
  ])('%s of %s %s', (name, ...args) => {
    expect(faultsOf(made(name, ...args))).toEqual([]);
  });
});

describe('a name full of marks', () => {
  const scenario = join(folder, 'marks.yaml');
  beforeAll(() => {
    const text = readFileSync(demo('short-of-bank'), 'utf8');
    const at = /^( {2}name: ).*$/m;
    expect(text).toMatch(at);
    writeFileSync(
      scenario,
      text.replace(at, (_, start) => `${start}'${NAME}'`),
    );
  });

  test.each<[string, string, ...string[]]>([
    ['report.md', 'run'],
    ['week.md', 'week'],
    ['compare.md', 'compare', demo('holds')],
    ['improve.md', 'improve'],
    ['sway.md', 'sway'],
    [
      'size.md',
      'size',
      '--vary',
      'bank.modules_parallel=4,6',
      '--require',
      'unmet.hours<=900',
      '--least',
      'bank.usable_kWh',
    ],
  ])('is read in %s as it stands in the scenario', (name, command, ...more) => {
    const text = made(name, command, scenario, ...more);
    expect(faultsOf(text)).toEqual([]);
    const headings = treeOf(text).children.filter(({ type }) => type === 'heading');
    expect(textOf(headings[0]!)).toContain(NAME);
  });
});
