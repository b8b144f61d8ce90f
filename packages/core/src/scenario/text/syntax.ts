import { CST, Lexer } from 'yaml';

/** What to do about the parser's complaints; codes as the `yaml` library gives them. */
const ADVICE: Readonly<Record<string, { readonly message?: string; readonly fix: string }>> = {
  TAB_AS_INDENT: { message: 'a tab is used to indent', fix: 'indent with spaces' },
  BAD_INDENT: { fix: 'close the bracket, or line this up with the lines around it' },
  BLOCK_AS_IMPLICIT_KEY: {
    message: 'a key begins inside a value',
    fix: 'put each key on its own line, indented as its neighbours; put a text that holds ": " in quotes',
  },
  MULTILINE_IMPLICIT_KEY: {
    message: 'a key runs over two lines',
    fix: 'write key: value, and line it up with its neighbours',
  },
  BLOCK_IN_FLOW: {
    message: 'a comma is missing inside { } or [ ]',
    fix: 'put a comma between the entries',
  },
  MISSING_CHAR: { fix: 'write key: value, and close quotes and brackets' },
  BAD_SCALAR_START: { fix: 'put the text in quotes' },
  BAD_DQ_ESCAPE: {
    message: 'a backslash in double quotes begins no known sign',
    fix: 'write \\\\ for a backslash, or use single quotes',
  },
  TAG_RESOLVE_FAILED: { message: 'tags such as !this are not read', fix: 'remove the tag' },
  NON_STRING_KEY: { message: 'a key must be a plain word', fix: 'write a key of the scenario here' },
};

/** A complaint of the YAML parser in our words: code, where, what is wrong, what to do. */
export function syntaxTrouble(
  code: string,
  message: string,
  offset: number,
): [code: string, offset: number, message: string, fix: string] {
  if (code === 'MULTIPLE_DOCS')
    return ['multiple-documents', offset, 'a second document begins here', 'keep one scenario in a file'];
  if (code === 'MISSING_CHAR' && /closing .*quote/.test(message))
    return ['syntax', offset, 'a text in quotes begins here and is never closed', 'close the quotes'];
  const advice = ADVICE[code];
  const plain = advice?.message ?? message.charAt(0).toLowerCase() + message.slice(1);
  return ['syntax', offset, plain, advice?.fix ?? 'check quotes, brackets and indentation around here'];
}

/** Nothing in a scenario nests deeper than about ten levels. */
const DEEPEST = 64;
const WIDEST_INDENT = 200;

/**
 * Offset at which a text nests too deep to be a scenario; undefined if it doesn't. The parser recurses, and a file of
 * 20,000 opening brackets kills the whole process with it, past any `catch`.
 */
export function tooDeepAt(source: string): number | undefined {
  let offset = 0;
  let flow = 0;
  let onThisLine = 0;
  let isLineStart = true;
  for (const token of new Lexer().lex(source)) {
    const type = CST.tokenType(token);
    // Marks of the lexer's own that stand for no text.
    if (type === 'doc-mode' || type === 'flow-error-end' || type === 'scalar') continue;
    if (type === 'newline') {
      onThisLine = 0;
      isLineStart = true;
    } else {
      if (type === 'flow-seq-start' || type === 'flow-map-start') flow++;
      else if (type === 'flow-seq-end' || type === 'flow-map-end') flow = Math.max(0, flow - 1);
      // In a block each of these opens a level; entries of a flow collection stand side by side.
      else if (flow === 0 && /^(seq-item|explicit-key|map-value)-ind$/.test(type ?? '')) onThisLine++;
      if (isLineStart && type === 'space' && flow === 0 && token.length > WIDEST_INDENT) return offset;
      if (flow > DEEPEST || onThisLine > DEEPEST) return offset;
      isLineStart = false;
    }
    offset += token.length;
  }
  return undefined;
}
