import { rounded, tidy } from '../../../basis/rounding.ts';
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
const at = ({ scenario }: Changeable, { name }: ArraySpec): { readonly array: string | null } => ({
  array: scenario.arrays.length === 1 ? null : name,
});

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
  const size = panel_kWp === undefined ? rounded(size_kWp * 1.1, 4) : tidy(size_kWp + added * panel_kWp);
  if (panels === undefined || written.size_kWp !== undefined)
    values.push({ path: `${where}.size_kWp`, value: size });
  const what = inStrings
    ? ({ id: 'one_more_string', in_series: panels_in_series } as const)
    : ({ id: panel_kWp === undefined ? 'a_tenth_more_array' : 'one_more_panel' } as const);
  return [
    change({
      id: `${where} more`,
      what: { ...what, ...at(plant, array) },
      values,
      // The price of an array that is not counted in panels is that of the whole of it as it is.
      priced: panelsOf(array) !== null,
      repeats: true,
      refused:
        size > MOST_OVER_TRACKER * max_power_kW
          ? { id: 'over_tracker', size_kWp: size, power_kW: max_power_kW, times: MOST_OVER_TRACKER }
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
    const what = { id: 'tracker_part', part: next.name, ...at(plant, array) } as const;
    return [
      own
        ? change({
            ...common,
            what,
            values: [{ path: `${where}.part`, value: next.name }],
            priced: written.price === undefined,
          })
        : change({ ...common, what, values: [{ path: where, value: { part: next.name } }] }),
    ];
  }
  const [power, amps] = [tidy(max_power_kW * LARGER), tidy(max_charge_A * LARGER)];
  return [
    change({
      ...common,
      what: { id: 'tracker', power_kW: power, amps_A: amps, ...at(plant, array) },
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
      what: { id: 'array_inverter', output_kW: output, ...at(plant, array) },
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
  const turned = (id: 'steeper' | 'flatter', by_deg: number): readonly Change[] => {
    const turn = (tilt: number): number => tidy(Math.min(90, Math.max(0, tilt + by_deg)));
    const value = typeof tilt_deg === 'number' ? turn(tilt_deg) : tilt_deg.map(turn);
    if (String(value) === String(tilt_deg)) return [];
    return [
      change({
        id: `arrays[${k}] ${id}`,
        knob: `arrays[${k}].tilt_deg`,
        what:
          typeof value === 'number'
            ? { id, array: name, tilt_deg: value }
            : { id: `${id}_by`, array: name, by_deg: Math.abs(by_deg) },
        values: [{ path: `arrays[${k}].tilt_deg`, value }],
        kind: 'setting',
        caution: 'rack',
      }),
    ];
  };
  return [...turned('steeper', TILT_STEP_deg), ...turned('flatter', -TILT_STEP_deg)];
}
