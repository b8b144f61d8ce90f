import { panelsOf } from '../../../money/of-scenario.ts';
import type { Mapping } from '../../../scenario/parts/file.ts';
import type { ArraySpec } from '../../../scenario/schema/schema.ts';
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

const TILT_STEP_deg = 10;

/** Array over the power that its tracker takes, beyond which none is added; common practice, no source. */
const MOST_OVER_TRACKER = 1.5;

/** What can be changed about the arrays and their trackers, each array on its own. */
export const changesOfArrays = (plant: Changeable): readonly Change[] =>
  plant.scenario.arrays.flatMap((array, k) => [
    ...more(plant, array, k),
    ...tracker(plant, array, k),
    ...tilts(array, k),
  ]);

/** Of several arrays the name says which. */
const at = ({ scenario }: Changeable, array: ArraySpec): string =>
  scenario.arrays.length === 1 ? '' : ` on ${array.name}`;

/** One more panel, one more string where panels hang in strings, or a tenth more where they are not counted. */
function more(plant: Changeable, array: ArraySpec, k: number): readonly Change[] {
  const written = sectionOf(sectionOf(plant.written, 'arrays'), k);
  const where = `arrays[${k}]`;
  const { panels, panel_kWp, size_kWp, panels_in_series, strings_parallel } = array;
  if (panels === undefined && panel_kWp === undefined && size_kWp === 0) return [];
  const values: ChangedValue[] = [];
  const { max_power_kW } = array.tracker;
  // A string of another length would be another voltage: the tracker gets whole ones.
  const added = panels_in_series ?? 1;
  const inStrings = panels_in_series !== undefined && panel_kWp !== undefined;
  if (panels !== undefined) values.push({ path: `${where}.panels`, value: panels + added });
  if (inStrings && strings_parallel !== undefined)
    values.push({ path: `${where}.strings_parallel`, value: strings_parallel + 1 });
  // Four digits: what a tenth more is, again and again, nobody types to the milliwatt.
  const size =
    panel_kWp === undefined ? Number((size_kWp * 1.1).toPrecision(4)) : tidy(size_kWp + added * panel_kWp);
  if (panels === undefined || written.size_kWp !== undefined)
    values.push({ path: `${where}.size_kWp`, value: size });
  const what = inStrings
    ? `one more string of ${panels_in_series}`
    : panel_kWp === undefined
      ? 'a tenth more array'
      : 'one more panel';
  return [
    change({
      id: `${where} more`,
      words: `${what}${at(plant, array)}`,
      values,
      // The price of an array that is not counted in panels is that of the whole of it as it is.
      priced: panelsOf(array) !== null,
      repeats: true,
      refused:
        size > MOST_OVER_TRACKER * max_power_kW
          ? `${Number(size.toPrecision(4))} kWp on a tracker that takes ${max_power_kW} kW is more than ${MOST_OVER_TRACKER} times its power: it needs another tracker, on an input of its own`
          : null,
    }),
  ];
}

function tracker(plant: Changeable, array: ArraySpec, k: number): readonly Change[] {
  const { max_power_kW, max_charge_A = 0, efficiency_share } = array.tracker;
  if (array.coupling === 'ac') return acInverter(plant, array, k);
  const voltages = inputOf(array);
  const written = sectionOf(sectionOf(sectionOf(plant.written, 'arrays'), k), 'tracker');
  const own = sectionOf(sectionOf(plant.written, 'arrays'), k).tracker !== undefined;
  const where = `arrays[${k}].tracker`;
  const typed = written.max_power_kW !== undefined || written.max_charge_A !== undefined;
  const next = nextPart(plant.shelf, 'tracker', 'max_power_kW', (part) => {
    const [power, amps] = [figureOf(part, 'max_power_kW'), figureOf(part, 'max_charge_A')];
    return power >= max_power_kW && amps >= max_charge_A && (power > max_power_kW || amps > max_charge_A);
  });
  const common = { id: where, repeats: false } as const;
  if (next !== undefined && !typed) {
    const words = `tracker ${next.name}${at(plant, array)}`;
    return [
      own
        ? change({
            ...common,
            words,
            values: [{ path: `${where}.part`, value: next.name }],
            priced: written.price === undefined,
          })
        : change({ ...common, words, values: [{ path: where, value: { part: next.name } }] }),
    ];
  }
  const [power, amps] = [tidy(max_power_kW * LARGER), tidy(max_charge_A * LARGER)];
  return [
    change({
      ...common,
      words: `a tracker of ${power} kW, ${amps} A${at(plant, array)}`,
      values: own
        ? [
            { path: `${where}.max_power_kW`, value: power },
            { path: `${where}.max_charge_A`, value: amps },
          ]
        : // One of its own beside the all-in-one that brought the old one.
          [
            {
              path: where,
              value: { ...voltages, max_power_kW: power, max_charge_A: amps, efficiency_share },
            },
          ],
      priced: false,
    }),
  ];
}

/** An array on the AC side gets a larger inverter of its own; both its limits grow. */
function acInverter(plant: Changeable, array: ArraySpec, k: number): readonly Change[] {
  const where = `arrays[${k}].tracker`;
  const { max_power_kW, max_output_kW = 0 } = array.tracker;
  const [power, output] = [tidy(max_power_kW * LARGER), tidy(max_output_kW * LARGER)];
  return [
    change({
      id: where,
      words: `an inverter of ${output} kW for the array on the AC side${at(plant, array)}`,
      values: [
        { path: `${where}.max_power_kW`, value: power },
        { path: `${where}.max_output_kW`, value: output },
      ],
      priced: false,
    }),
  ];
}

/** What the input of a tracker stands, as far as the scenario says: one in its place is taken to stand the same. */
function inputOf({ tracker }: ArraySpec): Mapping {
  const { max_input_V, min_input_V, max_input_A, max_operating_A } = tracker;
  const given = { max_input_V, min_input_V, max_input_A, max_operating_A };
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
}

function tilts({ name, tilt_deg }: ArraySpec, k: number): readonly Change[] {
  const turned = (id: string, words: string, by_deg: number): readonly Change[] => {
    const turn = (tilt: number): number => tidy(Math.min(90, Math.max(0, tilt + by_deg)));
    const value = typeof tilt_deg === 'number' ? turn(tilt_deg) : tilt_deg.map(turn);
    if (String(value) === String(tilt_deg)) return [];
    const how =
      typeof value === 'number' ? `at ${value}°` : `by ${Math.abs(by_deg)}° in every month, from 0 to 90°`;
    return [
      change({
        id: `arrays[${k}] ${id}`,
        knob: `arrays[${k}].tilt_deg`,
        words: `${words}: ${name} ${how}`,
        values: [{ path: `arrays[${k}].tilt_deg`, value }],
        kind: 'setting',
        caution: 'another rack may cost more; the bill does not know it',
      }),
    ];
  };
  return [...turned('steeper', 'steeper', TILT_STEP_deg), ...turned('flatter', 'flatter', -TILT_STEP_deg)];
}
