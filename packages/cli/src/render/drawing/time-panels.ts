import { scaleLinear } from 'd3-scale';
import { MONTHS } from '../document/figures.ts';
import { areaUnder, type Linear, line, path, px1, rules, text, ticksOf, top } from './marks.ts';
import type { Drawing } from './page-svg.ts';
import type { Stretched } from './stretched.ts';

/** Tops of the scales, so that several stretches can be drawn to the same. */
interface Tops {
  readonly sun_kW: number;
  readonly load_kW: number;
  readonly sources_kW: readonly number[];
}

export const topsOf = (stretches: readonly Stretched[]): Tops => ({
  sun_kW: top(stretches.map(({ offered_kW }) => top(offered_kW))),
  load_kW: top(stretches.map(({ wanted_kW }) => top(wanted_kW))),
  sources_kW: (stretches[0]?.sources ?? []).map((_, k) =>
    top(stretches.map(({ sources }) => top(sources[k]!.power_kW))),
  ),
});

const LEFT = 38;
const GAP = 30;

interface Panel {
  readonly title: string;
  readonly top: number;
  readonly draw: (y: Linear) => readonly string[];
}

/** Panels below each other over one axis of days: sun, load, other sources, charge; each with a scale of its own. */
export function timePanels(shown: Stretched, tops: Tops, width: number, panel: number): Drawing {
  const right = width - 6;
  const x = scaleLinear([0, shown.count], [LEFT, right]);
  const outlined = (words: string): string => (width > 500 ? `${words} (outline), ` : '');
  const unmet = shown.wanted_kW.some((wanted, k) => wanted - shown.served_kW[k]! > 1e-9);
  const panels: Panel[] = [
    {
      title: `Sun, kW: ${outlined('offered') || 'offered, '}used (filled)`,
      top: tops.sun_kW,
      draw: (y) => [
        path(stepArea(shown.used_kW, null, x, y), 'f-sun'),
        path(stepLine(shown.offered_kW, x, y), 'line e-sun'),
      ],
    },
    {
      title: unmet
        ? `Load, kW: ${outlined('wanted')}served${width > 500 ? ' (filled)' : ''}, unmet (hatched)`
        : 'Load, kW: all served',
      top: tops.load_kW,
      draw: (y) => [
        path(stepArea(shown.served_kW, null, x, y), 'f-served'),
        unmet ? path(stepArea(shown.wanted_kW, shown.served_kW, x, y), 'f-unmet') : '',
        path(stepLine(shown.wanted_kW, x, y), 'line e-ink'),
      ],
    },
    ...shown.sources.map(({ title, fill, power_kW }, k) => {
      const never = top(power_kW) === 0;
      return {
        title: `${title}, kW${never ? ': never in these days' : ''}`,
        top: tops.sources_kW[k]!,
        draw: (y: Linear) => (never ? [] : [path(stepArea(power_kW, null, x, y), fill)]),
      };
    }),
    {
      title: 'State of charge, %; dotted: the floor',
      top: 100,
      draw: (y) => {
        // Charge is what it is at the end of an interval, and before the first.
        const soc = [shown.initial_soc, ...shown.soc].map((share, k) => [x(k), y(100 * share)] as const);
        const floor = y(100 * shown.floor_soc);
        return [
          ...areaUnder(soc, y(0), 'f-bank-soft', 'e-bank'),
          line([LEFT, floor], [right, floor], 'mark'),
        ];
      },
    },
  ];
  const starts = shown.days.length > 40 ? [] : shown.days.slice(1).map(({ at }) => x(at));
  let foot = -8;
  const body = panels.flatMap(({ title, top: highest, draw }) => {
    const head = foot + GAP;
    foot += GAP + panel;
    const y = scaleLinear([0, highest > 0 ? highest : 1], [foot, head]).nice(2);
    return [
      text(LEFT, head - 8, title, 't-bold'),
      ...rules(ticksOf(y, 2), LEFT, right),
      ...starts.map((at) => line([at, head], [at, foot], 'hair')),
      ...draw(y),
      line([LEFT, foot], [right, foot], 'axis'),
    ];
  });
  return { width, height: foot + 22, body: [...body, ...dayNames(shown, x, foot, width)] };
}

const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'];

/** Dates under the days they belong to, as many as there is room for. */
function dayNames({ days, count }: Stretched, x: Linear, foot: number, width: number): string[] {
  const each = (width - LEFT) / days.length;
  const every = Math.ceil((each < 30 ? 46 : 30) / each);
  return days.flatMap(({ at, date, weekday }, k) => {
    if (k % every !== 0) return [];
    const [month, day] = [MONTHS[Number(date.slice(5, 7)) - 1]!, Number(date.slice(8))];
    const words = `${each > 80 ? `${WEEKDAYS[weekday - 1]} ` : ''}${day}${each > 46 || every > 1 ? ` ${month}` : ''}`;
    return every === 1
      ? text(x((at + (days[k + 1]?.at ?? count)) / 2), foot + 16, words, 't-mid t-faint')
      : text(x(at), foot + 16, words, 't-faint');
  });
}

/**
 * Steps: a value holds until the next. Written with H and V where it changes and nothing where it does not, a third of
 * what a general curve would take: nights are long.
 *
 * @param back from the last to the first, from a point at the end
 */
function steps(values: Float64Array, x: Linear, y: Linear, back: boolean): string {
  const order = back ? [...values.keys()].reverse() : [...values.keys()];
  let d = '';
  let before = '';
  order.forEach((k, n) => {
    const now = px1(y(values[k]!));
    if (n === 0) d = back ? `V${now}` : '';
    else if (now !== before) d += `H${px1(x(back ? k + 1 : k))}V${now}`;
    before = now;
  });
  return `${d}H${px1(x(back ? 0 : values.length))}`;
}

const stepLine = (values: Float64Array, x: Linear, y: Linear): string =>
  `M${px1(x(0))} ${px1(y(values[0]!))}${steps(values, x, y, false)}`;

const stepArea = (values: Float64Array, base: Float64Array | null, x: Linear, y: Linear): string =>
  `${stepLine(values, x, y)}${base === null ? `V${px1(y(0))}H${px1(x(0))}` : steps(base, x, y, true)}Z`;
