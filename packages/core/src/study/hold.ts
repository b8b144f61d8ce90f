import { InputError } from '../basis/errors.ts';
import type { Report, Spread } from '../findings/report.ts';
import { nearest } from '../scenario/nearest.ts';

/** A bound on one figure of the report. */
export interface Hold {
  readonly text: string;
  /** Dotted name as in report.json: `unmet.share`. */
  readonly name: string;
  readonly relation: '<=' | '>=' | '<' | '>';
  readonly bound: number;
}

const HOLD = /^\s*([A-Za-z_][\w.]*)\s*(<=|>=|<|>)\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*$/;

/** More names than this are no help in a message. */
const NAMED = 24;

/**
 * Reads a bound such as `unmet.share<=0.001`.
 *
 * @param known names that can be bound
 * @throws InputError naming the nearest known name
 */
export function readHold(text: string, known: readonly string[]): Hold {
  const match = HOLD.exec(text);
  if (match === null) {
    throw new InputError([
      {
        code: 'hold',
        path: `--hold ${text}`,
        message: 'is not a bound',
        expected: 'NAME<=NUMBER, or with >=, < or >',
        fix: 'quote it for the shell: --hold "unmet.share<=0.001"',
      },
    ]);
  }
  const [, name, relation, bound] = match;
  if (!known.includes(name!)) {
    const near = nearestFigure(name!, known);
    const some = known.filter((figure) => !/^(longnight|site|run)\./.test(figure));
    throw new InputError([
      {
        code: 'hold',
        path: `--hold ${text}`,
        message: `there is no figure "${name}" here`,
        expected:
          near === undefined
            ? `one of ${some.slice(0, NAMED).join(', ')}${some.length > NAMED ? ' and more' : ''}`
            : 'a figure by its dotted name',
        fix: near === undefined ? 'take a name from this list' : `did you mean "${near}"?`,
      },
    ]);
  }
  return { text: text.trim(), name: name!, relation: relation as Hold['relation'], bound: Number(bound) };
}

/** The figure that is most likely meant: by spelling, or by its last words where the section was left out or is wrong. */
export function nearestFigure(name: string, known: readonly string[]): string | undefined {
  const near = nearest(name, known);
  if (near !== undefined) return near;
  const last = (dotted: string): string => dotted.slice(dotted.lastIndexOf('.') + 1);
  const meant = nearest(last(name), known.map(last));
  const sharing = known.filter((dotted) => last(dotted) === meant);
  return sharing.length === 1 ? sharing[0] : undefined;
}

/**
 * True if the figure is within the bound.
 *
 * A figure that the plant does not have (null) counts as 0: a plant without a generator runs it for no hours, which
 * keeps every cap and misses every floor above 0. Money is the exception: there null is a price that nobody has told,
 * not a price of nothing, and it keeps no bound.
 *
 * @param figure in the unit of the figure that the bound names
 */
export function holds({ name, relation, bound }: Hold, figure: number | null): boolean {
  if (figure === null && name.startsWith('money.')) return false;
  const value = figure ?? 0;
  switch (relation) {
    case '<=':
      return value <= bound;
    case '>=':
      return value >= bound;
    case '<':
      return value < bound;
    case '>':
      return value > bound;
  }
}

/** Figures of sections that are null in the report of a plant that lacks the part, so that they can be bound all the same. */
const MAY_LACK: {
  readonly [K in 'generator' | 'shore' | 'engine_charging' | 'money']: readonly (keyof NonNullable<
    Report[K]
  >)[];
} & {
  readonly 'bank.wear': readonly (keyof NonNullable<Report['bank']['wear']>)[];
  readonly 'ensemble.generator_run_hours': readonly (keyof Spread)[];
  readonly 'limits.bank_conductor.voltage_drop': readonly (keyof NonNullable<
    Report['limits']['bank_conductor']['voltage_drop']
  >)[];
  readonly 'load.waiting': readonly (keyof NonNullable<Report['load']['waiting']>)[];
} = {
  'limits.bank_conductor.voltage_drop': ['drop_V', 'drop_share', 'length_m'],
  'load.waiting': ['wanted_kWh', 'unmet_kWh'],
  'ensemble.generator_run_hours': ['p10', 'p50', 'p90'],
  'bank.wear': ['cycle_life_used_share', 'calendar_life_used_share', 'years_to_end_of_life'],
  shore: ['energy_kWh', 'hours'],
  engine_charging: ['energy_kWh', 'hours'],
  generator: [
    'run_hours',
    'starts',
    'fuel_L',
    'energy_kWh',
    'spilled_kWh',
    'mean_load_share',
    'services_due',
  ],
  money: [
    'years',
    'discount_share_per_year',
    'capital',
    'replacements',
    'fuel',
    'shore',
    'service',
    'total',
    'per_served_kWh',
    'per_usable_kWh',
    'per_output_kW',
  ],
};

/** Words and lists that may be null: no figures, though a null does not show it. */
const WORDS = new Set([
  'bank.wear.worst',
  'generator.first_service',
  'years',
  'ensemble',
  'years.first_failure',
  'every_year',
  'gives_out_first.first_cause',
  'gives_out_first.first_time',
  'gives_out_first.main_cause',
]);

/** Every single number of a report by its dotted name, as it stands in report.json; lists are left out. */
export function figuresOfReport(report: Report): ReadonlyMap<string, number | null> {
  const figures = new Map<string, number | null>();
  const walk = (value: unknown, name: string): void => {
    if (typeof value === 'number') figures.set(name, value);
    else if (name in MAY_LACK && value === null) {
      for (const key of MAY_LACK[name as keyof typeof MAY_LACK]) figures.set(`${name}.${key}`, null);
    } else if (value === null) {
      if (!WORDS.has(name)) figures.set(name, null);
    } else if (typeof value === 'object' && !Array.isArray(value)) {
      for (const [key, inside] of Object.entries(value as object))
        walk(inside, name === '' ? key : `${name}.${key}`);
    }
  };
  walk(report, '');
  // A list, of which the length is a figure.
  figures.set('dangers', report.dangers.length);
  return figures;
}
