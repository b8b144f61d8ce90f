import { digitsOf, type Growth, type GrowthStep, growthSteps } from '@longnight/core/study';
import type { SweepDigest } from '../../sweep/digest.ts';
import type { Row } from '../../sweep/growing.ts';
import type { SweepManifest } from '../../sweep/manifest.ts';
import {
  type Block,
  type ColumnOf,
  figures,
  present,
  type Section,
  type Table,
  tableOf,
  textsOf,
} from '../document/document.ts';
import { amount, counted, digits, kWh, percent, price } from '../document/figures.ts';
import { axisValue, type NamedAxis, valueText } from '../document/key-words.ts';
import { sentenceCase } from '../document/words.ts';
import { curveFamily } from '../drawing/family.ts';
import { drawing } from '../drawing/page-svg.ts';

/** Rows of the table that a terminal shows. */
const FEW = 12;

interface Curve extends Row, Growth {}

/** A step, the curve it is of, and which of its steps it is. */
interface Step extends GrowthStep {
  readonly curve: Curve;
  readonly k: number;
}

/** What each further kWp of array saves of the generator, and up to where it pays; none where no array grows. */
export function growthSections(made: SweepManifest, { growing, dangerous }: SweepDigest): readonly Section[] {
  const rows = growing.rows();
  if (rows.length === 0) return [];
  const { terms, hour_worth, axes } = made;
  const rule = growing.rule === null ? null : axes[growing.rule]!;
  const curves = rows.map((row): Curve => ({ ...row, ...growthSteps(row.designs, terms, hour_worth) }));
  const said = curves.map((curve) => {
    const sentence = kneeSentence(made, curve, axes[growing.size!]!);
    return rule === null ? sentence : `${sentenceCase(axisValue(rule, curve.rule!))}. ${sentence}`;
  });
  const steps = curves.flatMap((curve) => curve.steps.map((step, k): Step => ({ ...step, curve, k })));
  const table: Table = tableOf('What each further kWp brings in a year', steps, [
    rule !== null && [rule.short, ({ curve, k }) => (k === 0 ? valueText(curve.rule!) : '')],
    ...stepColumns(made, steps),
  ]);
  const more = dangerous > 0 && 'Designs that are dangers are left out.';
  return [
    {
      id: 'growth',
      title: 'What a further kWp saves',
      label: 'A further kWp',
      sentence: rule === null ? said[0]! : headline(curves, rule),
      blocks: present<Block>([
        rule !== null && { kind: 'list', items: said, ...(said.length > 3 ? { on: ['page'] } : {}) },
        ...textsOf([restsOn(made, curves), more]),
        familyFigure(curves, rule),
        steps.length <= FEW ? table : { ...table, on: ['page'], folded: true },
      ]),
    },
  ];
}

/** Of several curves: from where to where their knees lie. */
function headline(curves: readonly Curve[], rule: NamedAxis): string {
  const knees = curves.flatMap(({ designs, knee }) => (knee === null ? [] : [designs[knee]!.size_kWp]));
  if (knees.length < curves.length) return `A line for each value of: ${rule.words}.`;
  const [least, most] = [Math.min(...knees), Math.max(...knees)];
  return least === most
    ? `The array pays up to ${kWp(least)}, whatever this is: ${rule.words}.`
    : `The array pays up to between ${digits(least, 4)} and ${kWp(most)}, and that depends on: ${rule.words}.`;
}

const kWp = (size: number): string => `${digits(size, 4)} kWp`;

/** How far an array pays along one curve, and what the steps beside that save. */
function kneeSentence(
  { axes, currency }: SweepManifest,
  { designs, steps, knee }: Curve,
  size: NamedAxis,
): string {
  const saves = ({ saved_hours, saved_fuel_L }: GrowthStep): string => {
    const said = [`${amount(Math.abs(saved_hours))} h`, `${amount(Math.abs(saved_fuel_L))} L`] as const;
    if (saved_hours < 0 && saved_fuel_L < 0) return `takes ${said.join(' and ')} a year more`;
    if (saved_hours < 0) return `takes ${said[0]} a year more and saves ${said[1]}`;
    return saved_fuel_L < 0
      ? `saves ${said[0]} a year and takes ${said[1]} more`
      : `saves ${said.join(' and ')} a year`;
  };
  const held = (step: GrowthStep): string =>
    `${saves(step)}, worth ${price(step.worth!)} ${currency} for a cost of ${price(step.cost!)}`;
  const [first, last] = [steps[0]!, steps.at(-1)!];
  if (knee === null)
    return `From ${kWp(designs[0]!.size_kWp)} on a further kWp ${saves(first)}; at ${kWp(designs.at(-1)!.size_kWp)} it ${saves(last)}.`;
  const { size_kWp, unmet_kWh, index } = designs[knee]!;
  const value = size.values[digitsOf(axes, index)[axes.indexOf(size)]!]!;
  const at = size.unit === 'kWp' ? kWp(size_kWp) : `${kWp(size_kWp)} (${axisValue(size, value)})`;
  const beyond = present([
    steps.some(({ to, pays }) => pays !== to <= knee) && ' Steps are uneven: the sum up to there decides.',
    unmet_kWh > 1e-9 && ` Load goes unmet there, ${kWh(unmet_kWh)} a year, and that has no price here.`,
  ]).join('');
  if (knee === 0)
    return `No array larger than ${at} pays, the smallest played: a first kWp more ${held(first)}.${beyond}`;
  if (knee === designs.length - 1)
    return `The array pays up to ${at}, the largest played: each kWp of the last step ${held(last)}. A larger one may pay too.${beyond}`;
  return `The array pays up to ${at}: each kWp of the last step ${held(steps[knee - 1]!)}; one more ${held(steps[knee]!)}.${beyond}`;
}

/** What worth and cost are, or why nothing is marked. */
function restsOn(
  { terms, hour_worth, currency, years: played }: SweepManifest,
  curves: readonly Curve[],
): string {
  if (curves.some(({ knee }) => knee === null))
    return 'No size is marked: that takes a price of every part, and of fuel or of a saved hour (--hour-worth).';
  const total = curves.every(({ designs }) => designs.every(({ total }) => total !== null));
  const { years, discount_share_per_year: discount } = terms!;
  const worth = present([
    total &&
      `fuel and service at the prices of the file${terms!.fuel_price_growth_share_per_year === 0 ? '' : ', fuel as it gets dearer over the years'}`,
    hour_worth !== null && `${price(hour_worth)} ${currency} for each hour saved, as stated`,
  ]).join(', and ');
  const cost = total ? 'buying, and parts bought again' : 'buying alone';
  return (
    `Worth is ${worth}; cost is ${cost}, spread evenly over ${counted(years, 'year')} at ${percent(discount)} a year. ` +
    (played === null
      ? 'One year was played: another may save more or less.'
      : `Hours, fuel and costs are medians of ${played.count} years.`)
  );
}

/** What the table tells of each step: what is known, and not nothing in all. */
function stepColumns(
  { currency }: SweepManifest,
  steps: readonly Step[],
): readonly (ColumnOf<Step> | false)[] {
  type Value = (step: GrowthStep) => number | null;
  const known = (title: string, unit: string, value: Value, as = amount): ColumnOf<Step> | false =>
    steps.some((step) => Math.abs(value(step) ?? 0) > 1e-9) && [
      figures(title, unit),
      (step) => as(value(step)),
    ];
  return [
    [figures('array up to', 'kWp'), ({ to, curve }) => digits(curve.designs[to]!.size_kWp, 4)],
    known('run time saved', 'h', (step) => step.saved_hours),
    known('fuel saved', 'L', (step) => step.saved_fuel_L),
    known('less unmet', 'kWh', (step) => step.saved_unmet_kWh),
    known('worth', currency ?? '', (step) => step.worth, price),
    known('cost', currency ?? '', (step) => step.cost, price),
    steps.some(({ pays }) => pays !== null) && [
      'pays',
      ({ to, pays, curve }) =>
        pays === null ? 'n/a' : `${pays ? 'yes' : 'no'}${to === curve.knee ? ', last' : ''}`,
    ],
  ];
}

/** Run time over the size of the array, a curve for each value of the other key. */
function familyFigure(curves: readonly Curve[], rule: NamedAxis | null): Block {
  const shown = curves.map(({ rule: value, designs, knee }) => ({
    name: value === null ? '' : valueText(value),
    points: designs.map(({ size_kWp, run_hours }) => [size_kWp, run_hours] as const),
    marked: knee,
  }));
  const [x, y] = ['Arrays, kWp', 'Generator run time, h a year'] as const;
  const ends = shown.map(({ name, points }) => {
    const [first, last] = [points[0]!, points.at(-1)!];
    return `${name === '' ? '' : `${name}: `}${amount(first[1])} h at ${kWp(first[0])}, ${amount(last[1])} h at ${kWp(last[0])}`;
  });
  const caption = present([
    rule !== null && `Beside each curve: ${rule.words}.`,
    shown.some(({ marked }) => marked !== null) && 'A ring is the size up to which the array pays.',
  ]).join(' ');
  const chart = { id: 'growth-chart', title: `${y}, over ${x}`, description: ends.join('; '), caption };
  return drawing(chart, (room) => curveFamily(shown, x, y, room));
}
