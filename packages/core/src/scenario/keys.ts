import * as z from 'zod';
import { partsSchema } from './parts/file.ts';
import { KEY_TEXTS, type KeyText } from './schema/key.ts';
import { scenarioSchema } from './schema/schema.ts';
import { expectedText } from './text/expected.ts';
import { everyField, type Field, inner } from './text/shape.ts';

/** A key of a file and what is said of it, read off the schema that checks it. */
export interface Key {
  /** Lists are marked `[]`: `arrays[].tracker.max_power_kW`. */
  readonly path: string;
  /** `°`, `kWh`, `1` for a share; null for what has none. */
  readonly unit: string | null;
  readonly meaning: string;
  readonly rule: KeyRule;
}

/** What may be written under a key, and what holds where it is left out. */
export interface KeyRule extends Omit<KeyText, 'meaning'> {
  /** The kinds of its mapping that have it so; empty where all do, or where there are no kinds. */
  readonly kinds: readonly string[];
  /** What may be written, in words. */
  readonly takes: string;
  /** True if its mapping can't do without it. */
  readonly required: boolean;
  /** The value that stands in for it; absent if none does, or if its own keys have defaults. */
  readonly default?: unknown;
}

/** Every key of a scenario, in the order of the schema: one entry for each thing that is to be said of a path. */
export const scenarioKeys = (): readonly Key[] => keysOf(scenarioSchema);
/** Every key of a parts file. */
export const partsKeys = (): readonly Key[] => keysOf(partsSchema);

function keysOf(root: z.ZodType): Key[] {
  const groups: { readonly field: Field; readonly kinds: Set<string> }[] = [];
  for (const field of everyField(root)) {
    const { home, name, schema, kind } = field;
    const same = groups.find(({ field: f }) => f.schema === schema && f.name === name && f.home === home);
    const group = same ?? { field, kinds: new Set<string>() };
    if (same === undefined) groups.push(group);
    if (kind !== undefined) group.kinds.add(kind);
  }
  return groups.map(({ field: { home, name, schema, kinds: siblings }, kinds }) => {
    // A test makes sure that every key has its text.
    const { meaning = '', ...reason }: Partial<KeyText> = KEY_TEXTS.get(schema) ?? {};
    return {
      path: home === '' ? name : `${home}.${name}`,
      unit: unitOf(name),
      meaning,
      rule: {
        kinds: kinds.size === siblings ? [] : [...kinds],
        // Costs a JSON Schema of its own, and most readers want that of a few keys.
        get takes() {
          return expectedText(schema);
        },
        required: schema === inner(schema),
        ...(schema instanceof z.ZodDefault ? { default: schema.def.defaultValue } : {}),
        ...reason,
      },
    };
  });
}

/** Units by the endings of keys, longer ones before those that they end in. */
const UNITS: readonly (readonly [ending: string, unit: string])[] = [
  ['kWh_m2_day', 'kWh/m² a day'],
  ['share_per_month', '1 a month'],
  ['share_per_year', '1 a year'],
  ['price_per_kWh', 'money/kWh'],
  ['price_per_L', 'money/L'],
  ['h_per_day', 'h a day'],
  ['L_per_h', 'L/h'],
  ['W_per_K', 'W/K'],
  ['per_K', '1/K'],
  ['kWh_day', 'kWh a day'],
  ['A_at_temperature', 'A'],
  ['m_s', 'm/s'],
  ['mOhm', 'mΩ'],
  ['mm2', 'mm²'],
  ['deg', '°'],
  ['C', '°C'],
  ['soc', '1'],
  ['share', '1'],
  ['back_days', 'd'],
  ['every_days', 'd'],
  ['life_years', 'a'],
  ['price', 'money'],
  ...['kWp', 'kWh', 'kW', 'Ah', 'AWG', 'min', 'A', 'V', 'W', 'K', 'L', 'h', 'm'].map(
    (unit) => [unit, unit] as const,
  ),
];

/** The unit that the name of a key carries: `°` of `tilt_deg`; null if none. */
export function unitOf(key: string): string | null {
  return UNITS.find(([ending]) => key === ending || key.endsWith(`_${ending}`))?.[1] ?? null;
}
