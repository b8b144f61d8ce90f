import { rounded, tidy } from '../../../basis/rounding.ts';
import type { Shelf } from '../../../scenario/parts/parts.ts';
import type { GeneratorSpec, Scenario } from '../../../scenario/schema/schema.ts';
import {
  type Change,
  type Changeable,
  type ChangedValue,
  change,
  figureOf,
  LARGER,
  nextPart,
  sectionOf,
} from './change.ts';

/** What can be changed about inverter, charger, generator, shore power and a charging engine. */
export const changesOfMachines = (plant: Changeable): readonly Change[] => [
  ...inverter(plant),
  ...stack(plant),
  ...charger(plant),
  ...generator(plant),
  ...shore(plant),
];

function inverter({ scenario, written, shelf }: Changeable): readonly Change[] {
  const { part, rating_kW, surge_kW, idle_W, units } = scenario.inverter;
  const typed = sectionOf(written, 'inverter');
  const next =
    part === undefined || typed.rating_kW !== undefined
      ? undefined
      : nextPart(shelf, 'inverter', 'rating_kW', (other) => figureOf(other, 'rating_kW') > rating_kW);
  if (next !== undefined) {
    const brings = next.brings.charger !== undefined || next.brings.tracker !== undefined;
    return [
      change({
        id: 'inverter',
        what: { id: 'inverter_part', part: next.name, brings_others: brings },
        values: [{ path: 'inverter.part', value: next.name }],
        priced: typed.price === undefined,
      }),
    ];
  }
  return [
    change({
      id: 'inverter',
      what: { id: 'inverter', units, rating_kW: tidy(rating_kW * LARGER), now_kW: tidy(rating_kW) },
      values: [
        { path: 'inverter.rating_kW', value: tidy(rating_kW * LARGER) },
        { path: 'inverter.surge_kW', value: tidy(surge_kW * LARGER) },
        { path: 'inverter.idle_W', value: tidy(idle_W * LARGER) },
      ],
      priced: false,
    }),
  ];
}

/** More units of a stack, as many as it has legs; and loads that hang on one leg put onto another. */
function stack({ scenario: { inverter, loads } }: Changeable): readonly Change[] {
  const { units, legs } = inverter;
  if (units === 1) return [];
  const changes: Change[] = [
    change({
      id: 'inverter stack',
      knob: 'inverter',
      what: { id: 'one_more_inverter', on_each_leg: legs > 1 },
      values: [{ path: 'inverter.units', value: units + legs }],
      repeats: true,
      caution: 'stackable',
    }),
  ];
  loads.forEach((load, k) => {
    const own = 'leg' in load ? load.leg : undefined;
    if (own === undefined) return;
    for (let leg = 1; leg <= legs; leg++) {
      if (leg === own) continue;
      changes.push(
        change({
          id: `loads[${k}] leg ${leg}`,
          knob: `loads[${k}] leg`,
          what: { id: 'load_leg', load: load.name, leg },
          values: [{ path: `loads[${k}].leg`, value: leg }],
          kind: 'setting',
        }),
      );
    }
  });
  return changes;
}

function charger({ scenario, written, shelf }: Changeable): readonly Change[] {
  // Without a source behind it a charger stands idle, whatever its size.
  const acArray = scenario.arrays.some(({ coupling }) => coupling === 'ac');
  if (scenario.generator === undefined && scenario.shore === undefined && !acArray) return [];
  const inUnits = scenario.charger?.built_in === true ? scenario.inverter.units : 1;
  const amps = (scenario.charger?.max_charge_A ?? 0) * inUnits;
  const typed = sectionOf(written, 'charger');
  const own = written.charger !== undefined;
  const next =
    typed.max_charge_A === undefined
      ? nextPart(shelf, 'charger', 'max_charge_A', (part) => figureOf(part, 'max_charge_A') > amps)
      : undefined;
  if (next !== undefined)
    return [
      change({
        id: 'charger',
        what: { id: 'charger_part', part: next.name },
        values: own
          ? [{ path: 'charger.part', value: next.name }]
          : [{ path: 'charger', value: { part: next.name } }],
        priced: typed.price === undefined,
      }),
    ];
  if (scenario.charger === undefined) return [];
  const larger = tidy(amps * LARGER);
  const { efficiency_share } = scenario.charger;
  return [
    change({
      id: 'charger',
      what: { id: 'charger', amps_A: larger, separate: !own },
      values: own
        ? [{ path: 'charger.max_charge_A', value: tidy(larger / inUnits) }]
        : [{ path: 'charger', value: { max_charge_A: larger, efficiency_share } }],
      priced: false,
    }),
  ];
}

const SOC_STEP = 0.1;

type SettingId = 'generator_hour' | 'no_quiet_hours' | 'generator_earlier';

function generator({ scenario, written, shelf }: Changeable): readonly Change[] {
  const { generator: spec } = scenario;
  if (spec === undefined) return [newGenerator(scenario, shelf)];
  const typed = sectionOf(written, 'generator');
  const next =
    spec.part === undefined || typed.rating_kW !== undefined || typed.fuel !== undefined
      ? undefined
      : nextPart(shelf, 'generator', 'rating_kW', (part) => figureOf(part, 'rating_kW') > spec.rating_kW);
  const changes: Change[] = [
    next !== undefined
      ? change({
          id: 'generator',
          what: { id: 'generator_part', part: next.name },
          values: [{ path: 'generator.part', value: next.name }],
          priced: typed.price === undefined,
        })
      : change({
          id: 'generator',
          what: { id: 'generator', rating_kW: tidy(spec.rating_kW * LARGER) },
          values: [
            { path: 'generator.rating_kW', value: tidy(spec.rating_kW * LARGER) },
            ...largerFuel(spec.fuel),
          ],
          priced: false,
        }),
  ];
  const setting = (id: string, what: SettingId, path: string, value: unknown): void => {
    changes.push(
      change({
        id: `generator ${id}`,
        what: { id: what },
        values: [{ path: `generator.${path}`, value }],
        kind: 'setting',
      }),
    );
  };
  if (spec.max_run_h_per_day < 24)
    setting('hours', 'generator_hour', 'max_run_h_per_day', tidy(Math.min(24, spec.max_run_h_per_day + 1)));
  if (spec.quiet_windows.length > 0) setting('quiet', 'no_quiet_hours', 'quiet_windows', []);
  const earlier =
    spec.start_soc === undefined || spec.starts.kind === 'on_shortfall'
      ? Number.POSITIVE_INFINITY
      : tidy(spec.start_soc + SOC_STEP);
  if (earlier < spec.stop_soc) setting('earlier', 'generator_earlier', 'start_soc', earlier);
  if (spec.tank !== undefined)
    changes.push(
      change({
        id: 'generator tank',
        what: { id: 'generator_tank', capacity_L: tidy(spec.tank.capacity_L * LARGER) },
        values: [{ path: 'generator.tank.capacity_L', value: tidy(spec.tank.capacity_L * LARGER) }],
        priced: false,
      }),
    );
  if (spec.connection === 'transfer') changes.push(sideBySide('generator'));
  return changes;
}

/** The change that brings an engine where there is none. */
export const NEW_GENERATOR = 'generator new';

/** Of a generator that no part describes: litres a kWh at full and at half load. Common practice, no source. */
const FUEL_L_per_kWh = { full: 0.4, half: 0.5 } as const;
/** Between floor and full: where a new generator starts, and where it stops. Invented. */
const NEW_STARTS_share = 0.1;
const NEW_STOPS_share = 0.6;
/** Of its rating, what a charger bought with it puts into the bank at most. Invented. */
const NEW_CHARGER_share = 0.8;

/**
 * A generator for a plant that has none: the smallest part that carries what the inverter does, or one of the
 * inverter's rating; and a charger, where it would not reach the bank without.
 */
function newGenerator({ bank, inverter, charger }: Scenario, shelf: Shelf): Change {
  const whole_kW = tidy(inverter.rating_kW * inverter.units);
  const part = nextPart(shelf, 'generator', 'rating_kW', (one) => figureOf(one, 'rating_kW') >= whole_kW);
  const rating_kW = part === undefined ? whole_kW : figureOf(part, 'rating_kW');
  const between = (share: number): number => rounded(bank.floor_soc + share * (1 - bank.floor_soc));
  const { nominal_voltage_V, max_charge_A } = bank.module;
  const charger_A = Math.floor(
    Math.min(
      (1000 * NEW_CHARGER_share * rating_kW) / nominal_voltage_V,
      bank.modules_parallel * max_charge_A,
    ),
  );
  const itself =
    part === undefined
      ? {
          rating_kW,
          fuel: {
            full_load_L_per_h: tidy(FUEL_L_per_kWh.full * rating_kW),
            half_load_L_per_h: tidy((FUEL_L_per_kWh.half * rating_kW) / 2),
          },
        }
      : { part: part.name };
  const voltage_V = charger?.input_at_voltage === undefined ? undefined : inverter.output_voltage_V;
  const soc = { start_soc: between(NEW_STARTS_share), stop_soc: between(NEW_STOPS_share) };
  const value = { ...itself, ...(voltage_V === undefined ? {} : { voltage_V }), ...soc };
  return change({
    id: NEW_GENERATOR,
    knob: 'generator',
    what: {
      id: 'new_generator',
      part: part?.name ?? null,
      rating_kW,
      charger_A: charger === undefined ? charger_A : null,
    },
    values: [
      { path: 'generator', value },
      ...(charger === undefined
        ? [{ path: 'charger', value: { max_charge_A: Math.max(1, charger_A) } }]
        : []),
    ],
    priced: part !== undefined && charger !== undefined,
    caution: 'engine',
  });
}

/** What a larger one burns: as much more as it gives. */
const largerFuel = (fuel: GeneratorSpec['fuel']): readonly ChangedValue[] =>
  'points' in fuel
    ? [
        {
          path: 'generator.fuel.points',
          value: fuel.points.map(({ load_share, L_per_h }) => ({
            load_share,
            L_per_h: tidy(L_per_h * LARGER),
          })),
        },
      ]
    : [
        { path: 'generator.fuel.full_load_L_per_h', value: tidy(fuel.full_load_L_per_h * LARGER) },
        { path: 'generator.fuel.half_load_L_per_h', value: tidy(fuel.half_load_L_per_h * LARGER) },
      ];

const sideBySide = (source: 'generator' | 'shore'): Change =>
  change({
    id: `${source} parallel`,
    what: { id: 'side_by_side', source },
    values: [{ path: `${source}.connection`, value: 'parallel' }],
    priced: false,
    caution: 'side_by_side',
  });

function shore({ scenario }: Changeable): readonly Change[] {
  const { shore: socket, alternator } = scenario;
  const changes: Change[] = [];
  const larger = (id: string, what: 'socket' | 'engine_charger', path: string, amps_A: number): void => {
    changes.push(
      change({ id, what: { id: what, amps_A }, values: [{ path, value: amps_A }], priced: false }),
    );
  };
  if (socket !== undefined) {
    larger('shore', 'socket', 'shore.max_A', tidy(socket.max_A * LARGER));
    if (socket.connection === 'transfer') changes.push(sideBySide('shore'));
  }
  if (alternator !== undefined)
    larger('engine', 'engine_charger', 'alternator.max_charge_A', tidy(alternator.max_charge_A * LARGER));
  return changes;
}
