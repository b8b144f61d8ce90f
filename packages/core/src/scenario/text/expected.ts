import * as z from 'zod';

/** A schema said in plain English, read off its JSON Schema so that the text can't drift from the check. */
export function expectedText(schema: z.ZodType): string {
  return text(z.toJSONSchema(schema, { io: 'input' }) as Part);
}

/** Lowest and highest allowed number, where a schema has them. */
export function numberRange(schema: z.ZodType): { readonly min: number; readonly max: number } | undefined {
  const part = z.toJSONSchema(schema, { io: 'input' }) as Part;
  const number = [part, ...(part.anyOf ?? [])].find((p) => p.type === 'number' || p.type === 'integer');
  if (!number) return undefined;
  return {
    min: number.minimum ?? Number.NEGATIVE_INFINITY,
    max: number.maximum ?? Number.POSITIVE_INFINITY,
  };
}

/** The part of JSON Schema that the scenario's schema makes use of. */
interface Part {
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Part>>;
  readonly items?: Part;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly pattern?: string;
  readonly anyOf?: readonly Part[];
  readonly oneOf?: readonly Part[];
}

/** `a, b or c`. */
export function orList(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

function text(part: Part): string {
  // Signs, such as the comma between columns, in quotes.
  if (part.enum)
    return orList(part.enum.map((word) => (/\w/.test(String(word)) ? String(word) : JSON.stringify(word))));
  if (part.const !== undefined) return String(part.const);
  const options = part.oneOf ?? part.anyOf;
  if (options) {
    const chooser = ['kind', 'fill'].find((key) =>
      options.every((o) => o.properties?.[key]?.const !== undefined),
    );
    if (chooser !== undefined)
      return `a mapping with ${chooser}: ${orList(options.map((o) => String(o.properties?.[chooser]?.const)))}`;
    const [one, other] = options;
    if (options.length === 2 && other?.items && one && text(one) === text(other.items)) {
      const { minItems, maxItems } = other;
      return `${text(one)}, or a list of ${minItems}${maxItems === minItems ? '' : ` to ${maxItems}`} of them`;
    }
    return options.every((o) => o.const !== undefined)
      ? orList(options.map(text))
      : options.map(text).join(', or ');
  }
  if (part.type === 'array') return listText(part);
  if (part.type === 'object') return `a mapping with ${Object.keys(part.properties ?? {}).join(', ')}`;
  if (part.type === 'number' || part.type === 'integer') return numberText(part);
  if (part.pattern === undefined) return 'a text';
  return part.pattern.includes('24:00') ? 'a window such as "17:30-23:00"' : 'a clock time such as "17:30"';
}

function numberText(part: Part): string {
  const noun = part.type === 'integer' ? 'a whole number' : 'a number';
  const { minimum, maximum } = part;
  // Integers carry the range of exact doubles where no other is given.
  const top = maximum === Number.MAX_SAFE_INTEGER ? undefined : maximum;
  if (minimum === undefined) return top === undefined ? noun : `${noun} up to ${top}`;
  return top === undefined ? `${noun} of at least ${minimum}` : `${noun} from ${minimum} to ${top}`;
}

function listText(part: Part): string {
  const each = part.items ? text(part.items) : 'values';
  const many = each.replace(/^a (whole )?(number|mapping|text|window)/, '$1$2s');
  const { minItems, maxItems } = part;
  if (part.items?.enum) return `a list of ${each}`;
  return `a list of ${minItems === maxItems ? '' : `${minItems} to `}${maxItems} ${many}`;
}
