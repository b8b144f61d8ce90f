import {
  type Document,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  LineCounter,
  type Node,
  type Pair,
  type ParsedNode,
  parseDocument,
  visit,
  type YAMLMap,
} from 'yaml';
import { InputError, type Issue, inFileOrder, type Place } from '../../basis/errors.ts';
import { type Path, parsePath } from './path.ts';
import { syntaxTrouble, tooDeepAt } from './syntax.ts';

/** A parsed scenario text that still knows where everything stands. */
export interface SourceDocument {
  /** Plain data: mappings, lists, texts, numbers, booleans, nulls. */
  readonly data: unknown;
  /** Place of the key at a path (of the item, in a list); the nearest parent if there is none. */
  readonly keyPlace: (path: Path) => Place;
  /** Place of the value at a path; of its key if the value is left empty; the nearest parent if there is none. */
  readonly valuePlace: (path: Path) => Place;
  /** As `valuePlace`, for a path written as text: `bank.module.capacity_Ah`. */
  readonly place: (path: string) => Place;
}

/**
 * Parses YAML 1.2 (core schema) or JSON, which is a part of it.
 *
 * @param text the file's text; a byte order mark and any line ending are fine
 * @throws InputError with every syntax error; also if the file is empty, not a mapping, or several documents
 */
export function parseText(text: string, file: string): SourceDocument {
  // YAML allows lone carriage returns, the parser doesn't; the length stays the same, so that places stay right.
  const source = text.replace(/^\uFEFF/, '').replace(/\r(?!\n)/g, '\n');
  const lines = new LineCounter();
  lines.addNewLine(0);
  for (let i = source.indexOf('\n'); i >= 0; i = source.indexOf('\n', i + 1)) lines.addNewLine(i + 1);
  const at = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { file, line, column: col };
  };
  const refuse = (code: string, message: string, fix: string, offset = 0): never => {
    throw new InputError([{ code, path: '', message, fix, place: at(offset) }]);
  };

  const deep = tooDeepAt(source);
  if (deep !== undefined) refuse('syntax', 'far too many levels', 'close the brackets, or indent less', deep);
  const document = parseDocument(source, {
    prettyErrors: false,
    logLevel: 'error',
    resolveKnownTags: false,
    stringKeys: true,
    // The parser holds each key against all before it, which takes minutes for a long list of them.
    uniqueKeys: false,
  });
  const broken = syntaxError(document, at);
  if (broken !== undefined) throw broken;
  const { explicit, version } = document.directives.yaml;
  if (explicit && version !== '1.2')
    refuse('syntax', `YAML ${version} is asked for; scenarios are YAML 1.2`, 'remove the %YAML line');
  const root = document.contents;
  if (root === null || (isScalar(root) && root.value === null))
    refuse('empty-file', 'the file is empty', 'write a scenario; `longnight init` gives one to start from');
  if (!isMap(root)) {
    const what = isSeq(root) ? 'a list' : 'a single value';
    const fix = 'begin with keys such as site:, weather:, arrays:';
    return refuse('not-a-mapping', `the file holds ${what}, not a scenario`, fix, root?.range[0]);
  }
  let data: unknown;
  try {
    data = document.toJS();
  } catch (error) {
    // The parser's guard against aliases of aliases that grow without bound.
    if (!(error instanceof ReferenceError)) throw error;
    refuse('syntax', 'aliases of aliases grow too large', 'write the values out');
  }
  return { data, ...places(document, root, at) };
}

/** So many of what is wrong are told: a file of another kind has one in each of its lines. */
const MOST_TOLD = 200;

function syntaxError(document: Document.Parsed, at: (offset: number) => Place): InputError | undefined {
  const issues: Issue[] = [];
  let more = 0;
  const add = (code: string, offset: number, message: string, fix: string): void => {
    if (issues.length < MOST_TOLD) issues.push({ code, path: '', message, fix, place: at(offset) });
    else more++;
  };
  let lastLine = Number.NEGATIVE_INFINITY;
  for (const trouble of [...document.errors, ...document.warnings]) {
    let offset = trouble.pos[0];
    const isTold = issues.length < MOST_TOLD;
    if (isTold && trouble.code === 'MISSING_CHAR' && /quote/.test(trouble.message))
      offset = openQuote(document, offset) ?? offset;
    const { line } = at(offset);
    // One slip makes the parser complain about its line and those that follow.
    const isEcho = line! <= lastLine + 1;
    lastLine = Math.max(lastLine, line!);
    if (!isEcho) add(...syntaxTrouble(trouble.code, trouble.message, offset));
  }
  const isParsed = issues.length === 0;
  const anchors = new Set<string>();
  visit(document, {
    Value: (_, { anchor }) => {
      if (anchor !== undefined) anchors.add(anchor);
    },
    Map: (_, map) => {
      if (map.anchor !== undefined) anchors.add(map.anchor);
      const before = new Set<unknown>();
      for (const { key } of map.items) {
        if (!isScalar(key)) continue;
        if (before.has(key.value))
          add(
            'duplicate-key',
            key.range?.[0] ?? 0,
            `"${key.value}" stands here for the second time`,
            'keep one of them',
          );
        before.add(key.value);
      }
    },
    Alias: (_, { source, range }) => {
      const fix = `mark the value it stands for with &${source}, further up`;
      if (isParsed && !anchors.has(source))
        add('syntax', range?.[0] ?? 0, `*${source} stands for nothing`, fix);
    },
  });
  if (issues.length > 0) return new InputError(inFileOrder(issues), more);
  return undefined;
}

/** Where the text in quotes begins that reaches an offset: the parser notices a missing quote at its end only. */
function openQuote(document: Document.Parsed, offset: number): number | undefined {
  let start: number | undefined;
  visit(document, {
    Scalar: (_, scalar) => {
      if (scalar.type?.startsWith('QUOTE_') && scalar.range && scalar.range[1] >= offset)
        start ??= scalar.range[0];
    },
  });
  return start;
}

function places(document: Document.Parsed, root: YAMLMap.Parsed, at: (offset: number) => Place) {
  /** Walks down as far as the path exists. */
  const walk = (path: Path) => {
    let value: Node | null = root;
    let key: Node | null = null;
    for (const [depth, step] of path.entries()) {
      const inside: Node | null = isAlias(value) ? (value.resolve(document) ?? null) : value;
      if (isMap<ParsedNode, ParsedNode | null>(inside)) {
        const pair: Pair<ParsedNode, ParsedNode | null> | undefined = inside.items.find(
          (p) => isScalar(p.key) && p.key.value === step,
        );
        if (!pair) return { depth, key, value };
        key = pair.key;
        value = pair.value;
      } else if (isSeq<ParsedNode>(inside) && typeof step === 'number' && step < inside.items.length) {
        key = null;
        value = inside.items[step] ?? null;
      } else return { depth, key, value };
    }
    return { depth: path.length, key, value };
  };
  const placeOf = (node: Node | null): Place => at(node?.range?.[0] ?? 0);
  const keyPlace = (path: Path): Place => {
    const { key, value } = walk(path);
    return placeOf(key ?? value);
  };
  const valuePlace = (path: Path): Place => {
    const { depth, key, value } = walk(path);
    const isBlank = value === null || (isScalar(value) && value.value === null && value.source === '');
    return placeOf(depth < path.length || isBlank ? (key ?? value) : value);
  };
  return { keyPlace, valuePlace, place: (path: string) => valuePlace(parsePath(path)) };
}
