import type { GeneratorSpec } from '../../scenario/schema.ts';
import {
  type Change,
  type Changeable,
  type ChangedValue,
  change,
  figureOf,
  LARGER,
  nextPart,
  sectionOf,
  tidy,
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
  const { part, rating_kW, surge_kW, standing_W, units } = scenario.inverter;
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
        words: `inverter ${next.name}${brings ? ' with what it brings' : ''}`,
        values: [{ path: 'inverter.part', value: next.name }],
        priced: typed.price === undefined,
      }),
    ];
  }
  return [
    change({
      id: 'inverter',
      words:
        units === 1
          ? `an inverter of ${tidy(rating_kW * LARGER)} kW`
          : `${units} inverters of ${tidy(rating_kW * LARGER)} kW instead of ${tidy(rating_kW)} kW`,
      values: [
        { path: 'inverter.rating_kW', value: tidy(rating_kW * LARGER) },
        { path: 'inverter.surge_kW', value: tidy(surge_kW * LARGER) },
        { path: 'inverter.standing_W', value: tidy(standing_W * LARGER) },
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
      words: legs === 1 ? 'one more inverter' : 'one more inverter on each leg',
      values: [{ path: 'inverter.units', value: units + legs }],
      repeats: true,
      caution: 'needs inverters that are made to be stacked in this number',
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
          words: `${load.name} on leg ${leg}`,
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
        words: `charger ${next.name}`,
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
      words: `a charger of ${larger} A${own ? '' : ' in a case of its own'}`,
      values: own
        ? [{ path: 'charger.max_charge_A', value: tidy(larger / inUnits) }]
        : [{ path: 'charger', value: { max_charge_A: larger, efficiency_share } }],
      priced: false,
    }),
  ];
}

const SOC_STEP = 0.1;

function generator({ scenario, written, shelf }: Changeable): readonly Change[] {
  const { generator: spec } = scenario;
  if (spec === undefined) return [];
  const typed = sectionOf(written, 'generator');
  const next =
    spec.part === undefined || typed.rating_kW !== undefined || typed.fuel !== undefined
      ? undefined
      : nextPart(shelf, 'generator', 'rating_kW', (part) => figureOf(part, 'rating_kW') > spec.rating_kW);
  const changes: Change[] = [
    next !== undefined
      ? change({
          id: 'generator',
          words: `generator ${next.name}`,
          values: [{ path: 'generator.part', value: next.name }],
          priced: typed.price === undefined,
        })
      : change({
          id: 'generator',
          words: `a generator of ${tidy(spec.rating_kW * LARGER)} kW`,
          values: [
            { path: 'generator.rating_kW', value: tidy(spec.rating_kW * LARGER) },
            ...largerFuel(spec.fuel),
          ],
          priced: false,
        }),
  ];
  const setting = (id: string, words: string, path: string, value: unknown): void => {
    changes.push(
      change({
        id: `generator ${id}`,
        words,
        values: [{ path: `generator.${path}`, value }],
        kind: 'setting',
      }),
    );
  };
  if (spec.max_run_h_per_day < 24)
    setting(
      'hours',
      'an hour more of the generator a day',
      'max_run_h_per_day',
      tidy(Math.min(24, spec.max_run_h_per_day + 1)),
    );
  if (spec.quiet_windows.length > 0)
    setting('quiet', 'no quiet hours for the generator', 'quiet_windows', []);
  const earlier =
    spec.start_soc === undefined || spec.starts.kind === 'on_shortfall'
      ? Number.POSITIVE_INFINITY
      : tidy(spec.start_soc + SOC_STEP);
  if (earlier < spec.stop_soc) setting('earlier', 'the generator starts earlier', 'start_soc', earlier);
  if (spec.tank !== undefined)
    changes.push(
      change({
        id: 'generator tank',
        words: `a tank of ${tidy(spec.tank.capacity_L * LARGER)} L`,
        values: [{ path: 'generator.tank.capacity_L', value: tidy(spec.tank.capacity_L * LARGER) }],
        priced: false,
      }),
    );
  if (spec.connection === 'transfer') changes.push(sideBySide('generator'));
  return changes;
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
    words: `inverter and ${source === 'shore' ? 'socket' : source} carry loads side by side`,
    values: [{ path: `${source}.connection`, value: 'parallel' }],
    priced: false,
    caution: 'needs an inverter that is made for it',
  });

function shore({ scenario }: Changeable): readonly Change[] {
  const { shore: socket, engine_charging } = scenario;
  const changes: Change[] = [];
  const larger = (id: string, words: string, path: string, amps: number): void => {
    changes.push(
      change({ id, words: `${words} of ${amps} A`, values: [{ path, value: amps }], priced: false }),
    );
  };
  if (socket !== undefined) {
    larger('shore', 'a socket', 'shore.max_A', tidy(socket.max_A * LARGER));
    if (socket.connection === 'transfer') changes.push(sideBySide('shore'));
  }
  if (engine_charging !== undefined)
    larger(
      'engine',
      'a charger at the engine',
      'engine_charging.max_charge_A',
      tidy(engine_charging.max_charge_A * LARGER),
    );
  return changes;
}
