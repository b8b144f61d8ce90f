import { max } from 'd3-array';
import { scaleLinear } from 'd3-scale';
import { area, line as lineShape } from 'd3-shape';
import { MONTHS } from '../document/figures.ts';
import { px, tickText } from './chart-svg.ts';
import { type Drawing, line, path, text } from './page-svg.ts';
import type { Stretched } from './stretched.ts';

/** Tops of the scales, so that several stretches can be drawn to the same. */
interface Tops {
  readonly sun_kW: number;
  readonly load_kW: number;
  readonly sources_kW: readonly number[];
}

const top = (values: Iterable<number>): number => max(values) ?? 0;

export const topsOf = (stretches: readonly Stretched[]): Tops => ({
  sun_kW: top(stretches.map(({ offered_kW }) => top(offered_kW))),
  load_kW: top(stretches.map(({ wanted_kW }) => top(wanted_kW))),
  sources_kW: (stretches[0]?.sources ?? []).map((_, k) =>
    top(stretches.map(({ sources }) => top(sources[k]!.power_kW))),
  ),
});

const LEFT = 38;
const GAP = 30;

/** Panels below each other over one axis of days: sun, load, other sources, charge; each with a scale of its own. */
export function timePanels(shown: Stretched, tops: Tops, width: number, panel: number): Drawing {
  const x = scaleLinear([0, shown.count], [LEFT, width - 6]);
  const unmet = shown.wanted_kW.some((wanted, k) => wanted - shown.served_kW[k]! > 1e-9);
  const panels: Panel[] = [
    {
      title: width > 500 ? 'Sun, kW: offered (outline), used (filled)' : 'Sun, kW: offered, used (filled)',
      top: tops.sun_kW,
      draw: (y) => [
        path(stepArea(shown.used_kW, null, x, y), 'f-sun'),
        path(stepLine(shown.offered_kW, x, y), 'line e-sun'),
      ],
    },
    {
      title: unmet
        ? width > 500
          ? 'Load, kW: wanted (outline), served (filled), unmet (hatched)'
          : 'Load, kW: served, unmet (hatched)'
        : 'Load, kW: all served',
      top: tops.load_kW,
      draw: (y) => [
        path(stepArea(shown.served_kW, null, x, y), 'f-served'),
        unmet ? path(stepArea(shown.wanted_kW, shown.served_kW, x, y), 'f-unmet') : '',
        path(stepLine(shown.wanted_kW, x, y), 'line e-ink'),
      ],
    },
    ...shown.sources.map(({ title, fill, power_kW }, k) => ({
      title: top(power_kW) === 0 ? `${title}, kW: never in these days` : `${title}, kW`,
      top: tops.sources_kW[k]!,
      draw: (y: Scale) => (top(power_kW) === 0 ? [] : [path(stepArea(power_kW, null, x, y), fill)]),
    })),
    {
      title: 'State of charge, %; dotted: the floor',
      top: 100,
      draw: (y) => {
        const soc = [shown.initial_soc, ...shown.soc].map((value) => 100 * value);
        const floor = y(100 * shown.floor_soc);
        return [
          path(chargeArea(soc, x, y), 'f-bank-soft'),
          path(chargeLine(soc, x, y), 'line e-bank'),
          line([LEFT, floor], [width - 6, floor], 'mark'),
        ];
      },
    },
  ];
  const body: string[] = [];
  let at = -8;
  for (const { title, top: highest, draw } of panels) {
    const [head, foot] = [at + GAP - 8, at + GAP + panel];
    const y = scaleLinear([0, highest > 0 ? highest : 1], [foot, at + GAP]).nice(2);
    body.push(text(LEFT, head, title, 't-bold'), ...grid(shown, x, y, at + GAP, foot, width), ...draw(y));
    body.push(line([LEFT, foot], [width - 6, foot], 'axis'));
    at = foot;
  }
  body.push(...dayNames(shown, x, at, width));
  return { width, height: at + 22, body };
}

interface Panel {
  readonly title: string;
  readonly top: number;
  readonly draw: (y: Scale) => readonly string[];
}
type Scale = ReturnType<typeof scaleLinear<number>>;

function grid(shown: Stretched, x: Scale, y: Scale, head: number, foot: number, width: number): string[] {
  const ticks = y.ticks(2);
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  return [
    ...ticks.flatMap((tick) => [
      line([LEFT, y(tick)], [width - 6, y(tick)], 'hair'),
      text(LEFT - 6, y(tick) + 4, tickText(tick, step), 't-end t-faint'),
    ]),
    ...(shown.days.length > 40
      ? []
      : shown.days.slice(1).map(({ at }) => line([x(at), head], [x(at), foot], 'hair'))),
  ];
}

const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];

/** Dates under the days they belong to, as many as there is room for. */
function dayNames({ days, count }: Stretched, x: Scale, foot: number, width: number): string[] {
  const each = (width - LEFT) / days.length;
  const every = Math.ceil((each < 30 ? 46 : 30) / each);
  return days.flatMap(({ at, date, weekday }, k) => {
    if (k % every !== 0) return [];
    const [month, day] = [MONTHS[Number(date.slice(5, 7)) - 1]!, Number(date.slice(8))];
    const words =
      each > 80
        ? `${WEEKDAYS[weekday - 1]} ${day} ${month}`
        : each > 46 || every > 1
          ? `${day} ${month}`
          : `${day}`;
    const next = days[k + 1]?.at ?? count;
    const middle = every === 1 ? x((at + next) / 2) : x(at);
    return [text(middle, foot + 16, words, every === 1 ? 't-mid t-faint' : 't-faint')];
  });
}

/**
 * Steps: a value holds until the next. Written with H and V where it changes and nothing where it does not, a third of
 * what a general curve would take: nights are long.
 */
function stepsThrough(values: Float64Array, x: Scale, y: Scale): string {
  let d = '';
  let before = '';
  values.forEach((value, k) => {
    const now = px1(y(value));
    if (k > 0 && now !== before) d += `H${px1(x(k))}V${now}`;
    before = now;
  });
  return `${d}H${px1(x(values.length))}`;
}

function stepsBack(values: Float64Array, x: Scale, y: Scale): string {
  let d = '';
  let before = '';
  for (let k = values.length - 1; k >= 0; k--) {
    const now = px1(y(values[k]!));
    if (now !== before) d += d === '' ? `V${now}` : `H${px1(x(k + 1))}V${now}`;
    before = now;
  }
  return `${d}H${px1(x(0))}`;
}

/** A coordinate to a tenth of a pixel. */
const px1 = (value: number): string => px(Math.round(value * 10) / 10);

const stepLine = (values: Float64Array, x: Scale, y: Scale): string =>
  `M${px1(x(0))} ${px1(y(values[0]!))}${stepsThrough(values, x, y)}`;

const stepArea = (values: Float64Array, base: Float64Array | null, x: Scale, y: Scale): string =>
  `${stepLine(values, x, y)}${base === null ? `V${px1(y(0))}H${px1(x(0))}` : stepsBack(base, x, y)}Z`;

/** Charge is what it is at the end of an interval, and before the first. */
const chargeLine = (soc: readonly number[], x: Scale, y: Scale): string =>
  lineShape<number>(
    (_, k) => x(k),
    (value) => y(value),
  ).digits(1)(soc)!;

const chargeArea = (soc: readonly number[], x: Scale, y: Scale): string =>
  area<number>(
    (_, k) => x(k),
    y(0),
    (value) => y(value),
  ).digits(1)(soc)!;
